"""What every check is given, and small helpers that several of them need."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from publisher.assembly.types import Story
from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic, Place, Severity, Span, WayOut
from publisher.model.types import Pattern
from publisher.trade import Trade
from publisher.units import Kind, both

Numbers = tuple[tuple[str, float], ...]


class Context(Struct, frozen=True):
    """A pattern that has been assembled and laid on sheets."""

    pattern: Pattern
    story: Story
    trade: Trade

    def practice(self, name: str) -> float:
        """A threshold of ``shared/practice.toml``; a name that is not there is our bug."""
        return self.trade.practice[name].value

    def say(self, mm: float, kind: Kind = "thin") -> str:
        """A length in both units, the author's first."""
        return both(mm, kind=kind, first=self.pattern.meta.first_unit)


def passed(
    code: str, subject: str, numbers: Numbers, sentence: str, slack: Numbers = ()
) -> CheckResult:
    return CheckResult(code, subject, "pass", numbers, sentence, slack=slack)


def failed(
    code: str,
    subject: str,
    numbers: Numbers,
    sentence: str,
    *places: Place | Span,
    notes: tuple[str, ...] = (),
    ways_out: tuple[str | WayOut, ...] = (),
    severity: Severity = "error",
    slack: Numbers = (),
) -> CheckResult:
    """A check that did not pass, with its finding."""
    finding = Diagnostic(
        code,
        severity,
        sentence,
        tuple(p if isinstance(p, Place) else Place(p) for p in places),
        numbers,
        notes,
        tuple(w if isinstance(w, WayOut) else WayOut(w) for w in ways_out),
    )
    result: Literal["fail", "warning"] = "fail" if severity == "error" else "warning"
    return CheckResult(code, subject, result, numbers, sentence, finding, slack)


Results = Iterator[CheckResult]
