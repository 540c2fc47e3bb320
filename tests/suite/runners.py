"""How a pattern of the suite is run, by the folder it lies in.

``language`` goes as far as the language: text, document, program, sizes. ``whole`` are checked
as ``publisher check`` does.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic
from publisher.language import Library, Outside, evaluate_sizes, parse
from publisher.language.ast import Ref
from publisher.language.values import Value
from publisher.pipeline import check_text
from publisher.source import decode, read_document
from publisher.workshop.beside import Beside
from tests.compiled import workshop

SOURCES = Path(__file__).parent / "language" / "sources"
KNOWN = Outside(
    stocks=frozenset({"card", "paper", "patterned paper", "tracing paper"}),
    objects=frozenset({"tea light"}),
)
FORMS = {
    f"forms/{p.name.removeprefix('form-')}": p.read_text(encoding="utf-8")
    for p in sorted(SOURCES.glob("form-*.md"))
}
"""The forms that the suite's own sources call for."""
OUTSIDE = replace(KNOWN, forms=Library(FORMS, KNOWN))


class NothingKnown:
    """A scope without a model: what is no size has no value, and nobody complains."""

    def __init__(self) -> None:
        self.reports: list[Diagnostic] = []

    def lookup(self, ref: Ref) -> Value | None:
        return None

    def report(self, finding: Diagnostic) -> None:
        self.reports.append(finding)


def language(path: Path, shown: str) -> list[Diagnostic]:
    """Source and language alone."""
    text, findings = decode(path.read_bytes(), shown)
    if text is None:
        return findings
    document, more = read_document(text, shown)
    findings.extend(more)
    assert document is not None
    program, more = parse(document, OUTSIDE)
    findings.extend(more)
    scope = NothingKnown()
    evaluate_sizes(program, scope)
    return [*findings, *scope.reports]


def whole(path: Path, shown: str) -> list[Diagnostic]:
    """Everything that a check does, with the shared forms and data of the project, and the files
    in the folder ``beside``."""
    opened = workshop()
    beside = Beside(path.parent / "beside")
    name, trade = path.stem, opened.trade
    outcome = check_text(path.read_bytes(), shown, name, trade, forms=opened.forms, beside=beside)
    return list(outcome.diagnostics)


RUNNERS: dict[str, Callable[[Path, str], list[Diagnostic]]] = {
    "language": language,
    "whole": whole,
}
"""By the first folder under ``tests/suite``."""
