"""How a pattern of the suite is run, by the folder it lies in.

``language`` goes as far as the language: text, document, program, sizes. A folder for whole
checks needs one more function here and its line in ``RUNNERS``.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from publisher.diagnostics import Diagnostic
from publisher.language import Outside, evaluate_sizes, parse
from publisher.language.ast import Ref
from publisher.language.values import Value
from publisher.source import decode, read_document

OUTSIDE = Outside(
    stocks=frozenset({"card", "paper", "patterned paper", "tracing paper"}),
    objects=frozenset({"tea light"}),
)


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


RUNNERS: dict[str, Callable[[Path, str], list[Diagnostic]]] = {"language": language}
"""By the first folder under ``tests/suite``."""
