"""A proof sheet read back: its figures are those of the checks, and every fit is on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic
from publisher.model.types import Pattern
from publisher.readback.booklet_figures import figures_that_differ
from publisher.readback.figures import page_of, pages_of
from publisher.readback.known import Known, joined, known
from publisher.readback.told import finding

CODE = "printed-figure-differs"
RULERS = "ruler-breaks-fit"
Proved = tuple[Pattern, tuple[CheckResult, ...]]


def measure_proofs(
    files: Mapping[str, bytes], parts: Sequence[Proved], templates: Sequence[str]
) -> list[Diagnostic]:
    """What in the sheets is no figure of the checks, and what fits and is not told; ``parts`` are
    the pattern and its variants with their checks. What the ``templates`` say is the theme's."""
    may_say = joined([_known(pattern, checks, templates) for pattern, checks in parts])
    found: list[Diagnostic] = []
    for path, data in files.items():
        try:
            pages = [page_of(data)] if path.endswith(".html") else pages_of(data)
        except Exception as error:  # whatever a reader raises on a broken file
            found.append(finding(CODE, f"{path}: it cannot be read: {error}"))
            continue
        for number, text in enumerate(pages, 1):
            where = path if path.endswith(".html") else f"{path}, page {number}"
            found += figures_that_differ(where, text, may_say)
        whole = " ".join(" ".join(pages).split()).casefold()
        found += _untold(path, whole, [checks for _, checks in parts])
    return found


def _known(pattern: Pattern, checks: tuple[CheckResult, ...], templates: Sequence[str]) -> Known:
    # Of a ruler the verdict says what was measured again: no figure of the design.
    texts = [*templates, *(result.sentence for result in checks if result.code == RULERS)]
    return known(pattern, (), checks, (), texts, margins=True)


def _untold(
    path: str, whole: str, parts: Iterable[tuple[CheckResult, ...]]
) -> Iterator[Diagnostic]:
    for checks in parts:
        for result in checks:
            if result.slack and " ".join(result.sentence.split()).casefold() not in whole:
                yield finding(CODE, f"{path}: it does not say that {result.sentence}")
