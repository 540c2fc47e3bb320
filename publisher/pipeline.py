"""The order of the stages, on one screen.

Each function takes a workshop and a pattern's name and returns an ``Outcome``; nothing is
written here. Heavy stages are imported where they begin, so that a check stays quick.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from publisher.assembly import assemble
from publisher.assembly.types import Story
from publisher.checks import CheckResult, run_checks
from publisher.diagnostics import Diagnostic, has_errors
from publisher.language import parse
from publisher.layout import lay_out
from publisher.layout.types import Sheet
from publisher.model import build_pattern
from publisher.model.types import Pattern
from publisher.source import decode, read_document
from publisher.trade import Trade
from publisher.workshop import Workshop, missing_pattern, pattern_file, read_pattern

Progress = Callable[[str], None]


def quiet(_: str) -> None:
    """No progress."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one pattern; ``diagnostics`` tell all, in the order of the stages."""

    name: str
    diagnostics: tuple[Diagnostic, ...]
    sources: Mapping[str, str]
    pattern: Pattern | None = None
    story: Story | None = None
    sheets: tuple[Sheet, ...] = ()
    checks: tuple[CheckResult, ...] = ()
    files: Mapping[str, bytes] = field(default_factory=dict)
    zip_bytes: bytes = b""

    @property
    def failed(self) -> bool:
        return has_errors(self.diagnostics)


def check_text(data: bytes, shown: str, name: str, trade: Trade) -> Outcome:
    """Source -> language -> model -> assembly -> checks -> layout, of one file's bytes."""
    text, found = decode(data, shown)
    if text is None:
        return Outcome(name, tuple(found), {})
    sources = {shown: text}
    document, more = read_document(text, shown)
    found += more
    if document is None:
        return Outcome(name, tuple(found), sources)
    program, more = parse(document)
    found += more
    pattern, more = build_pattern(program, trade, name)
    found += more
    if pattern is None or has_errors(found):
        return Outcome(name, tuple(found), sources, pattern)
    story, more = assemble(pattern)
    found += more
    results = run_checks(pattern, story, trade)
    found += [r.finding for r in results if r.finding is not None]
    sheets, more = lay_out(pattern, trade)
    found += more
    return Outcome(name, tuple(found), sources, pattern, story, sheets, results)


def check_pattern(workshop: Workshop, name: str) -> Outcome:
    """Everything that can be said of a pattern without writing a file of it."""
    data = read_pattern(workshop, name)
    if data is None:
        return Outcome(name, (missing_pattern(workshop, name),), {})
    return check_text(data, pattern_file(name), name, workshop.trade)
