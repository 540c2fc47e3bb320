"""“Top” and “bottom” in the text say of what: after a fold nobody knows which one is meant."""

from __future__ import annotations

import re
from collections.abc import Iterator

from publisher.checks.context import Context, Results, failed
from publisher.diagnostics import Place, Span
from publisher.model.prose import Block

CODE = "top-of-what"
PROSE = ("paragraph", "quote", "caution", "tip", "item", "cell")
BARE = re.compile(
    r"\b(?:the|its|at|to|on) (top|bottom)(?= *(?:[.,;:!?)]|$|and\b|or\b|so\b|then\b|first\b))",
    re.IGNORECASE,
)

SAID = re.compile(r"\b(?:top|bottom) (?:face |side )?of\b", re.IGNORECASE)
"""A paragraph that has said of what goes on to mean the same."""


def check(context: Context) -> Results:
    names = {p.name for piece in context.pattern.pieces for p in piece.panels}
    names |= {piece.name for piece in context.pattern.pieces}
    for block in _prose(context.pattern.body):
        if SAID.search("".join(r.text for r in block.runs)):
            continue
        for run in block.runs:
            if run.spoken or "code" in run.style:
                continue
            for match in BARE.finditer(run.text):
                if match[1].lower() in names:
                    continue
                yield failed(
                    CODE,
                    f"‘{match[0]}’",
                    (),
                    f"‘{match[0]}’: the {match[1].lower()} of what, and with which face up?",
                    Place(_span(run.span, match.start(1), match.end(1), len(run.text))),
                    severity="warning",
                    ways_out=(f"say ‘the {match[1].lower()} of the base’, or name the edge",),
                )


def _span(span: Span, start: int, end: int, length: int) -> Span:
    if span.end - span.start != length:
        return span
    return Span(span.file, span.start + start, span.start + end, span.line, span.column + start)


def _prose(blocks: tuple[Block, ...]) -> Iterator[Block]:
    for block in blocks:
        if block.kind in PROSE:
            yield block
        yield from _prose(block.children)
