"""What every check is given, and small helpers that several of them need."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Literal, TypeVar

import shapely
from msgspec import Struct, field

from publisher.assembly.types import Story
from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic, Place, Severity, Span, WayOut
from publisher.geometry.shapely_bridge import path_to_shapely, to_shapely
from publisher.model.types import Pattern, Piece
from publisher.trade import Trade
from publisher.units import both, both_sizes, kind_for

T = TypeVar("T")
Numbers = tuple[tuple[str, float], ...]


class Context(Struct, frozen=True):
    """A pattern that has been assembled and laid on sheets."""

    pattern: Pattern
    story: Story
    trade: Trade
    kept: dict[str, Any] = field(default_factory=dict)
    """What several rules measure, measured once."""

    def paper(self, piece: Piece) -> shapely.Polygon:
        """A piece's outline with its holes, chords within 0.01 mm of its arcs."""
        return self._once(f"paper {piece.name}", lambda: to_shapely(piece.outline, 0.01))

    def handled(self, name: str) -> Piece:
        """A piece with the facets that the story's bodies have: bent panels in strips."""
        return (self.story.handled or self.pattern).piece(name)

    def sound(self) -> tuple[Piece, ...]:
        """The pieces whose outline is one clean line; of the others nothing can be measured."""
        return tuple(p for p in self.pattern.pieces if self.paper(p).is_valid)

    def scores(self, piece: Piece) -> tuple[shapely.LineString, ...]:
        """Its scores, in order."""
        return self._once(
            f"scores {piece.name}",
            lambda: tuple(path_to_shapely(s.path, 0.01) for s in piece.scores),
        )

    def slits(self, piece: Piece) -> tuple[shapely.LineString, ...]:
        """Its slits, in order."""
        lines = [o.path for o in piece.openings if o.kind == "slit"]
        return self._once(
            f"slits {piece.name}", lambda: tuple(path_to_shapely(p, 0.01) for p in lines)
        )

    def _once(self, name: str, measure: Callable[[], T]) -> T:
        if name not in self.kept:
            self.kept[name] = measure()
        return self.kept[name]  # type: ignore[no-any-return]

    def practice(self, name: str) -> float:
        """A threshold of ``shared/practice.toml``; a name that is not there is our bug."""
        return self.trade.practice[name].value

    def say(self, mm: float) -> str:
        """A length in both units, the author's first, as finely as a finding wants it."""
        return both(mm, kind="thin", first=self.pattern.meta.first_unit)

    def told(self, *mm: float) -> str:
        """A length, or several with a times sign, as a maker measures it: what fits is told in the
        booklet, and there a ruler's marks are what one reads."""
        ruler = self.pattern.meta.ruler
        if len(mm) == 1:
            return both(mm[0], kind=kind_for(mm[0]), first=ruler)
        return both_sizes(mm, first=ruler)

    def spot(self, x_mm: float, y_mm: float) -> str:
        """Where something is on a piece as it is drawn."""
        return f"near {self.say(x_mm)} across and {self.say(y_mm)} down"


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
