"""Which fence was meant by one with another word behind its backticks, or with none. Loaded only
for those: most booklets have none."""

from __future__ import annotations

import re

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest
from publisher.language.statements import STATEMENTS
from publisher.language.words import VERB
from publisher.source.types import CodeBlock, Fence

KINDS = ("sizes", "piece", "step", "fits")
_OF_OTHERS = frozenset(
    {"text", "txt", "plain", "markdown", "md", "console", "shell", "sh", "bash", "zsh", "fish"}
)
"""What is set as it stands, whatever its lines look like."""
_PAPER = re.compile(r",\s*in\s+\w")
_SIZE = re.compile(r"[a-z][\w '’-]*=.*\d\s*(?:mm|cm|in|pt|degrees)\b", re.IGNORECASE)


def meant_kind(fence: Fence) -> tuple[str, Diagnostic] | None:
    """The kind that was meant, with what is told; None of what is printed as it stands."""
    said, span = fence.kind, fence.kind_span
    if said in _OF_OTHERS:
        return None
    near = nearest(said, KINDS)
    if near is not None and _slips(said, near) <= (1 if len(said) < len("piece") else 2):
        message = f"there is no ‘{said}’ fence. Nearest: ‘{near}’"
    else:
        near = "piece" if _PAPER.search(fence.header.text) else _kind_of_lines(fence.body.text)
        if near is None:
            return None
        message = f"there is no ‘{said}’ fence. Its lines are those of a ‘{near}’"
    return near, _finding(message, span, WayOut(f"write ‘{near}’", Edit(span, near)))


def wordless(block: CodeBlock, source: str) -> tuple[Diagnostic, ...]:
    """The finding for a fence without a word whose lines are ours."""
    opening = re.compile(r"(?:`{3,}|~{3,})").match(source, block.span.start)
    kind = None if opening is None else _kind_of_lines(block.text)
    if opening is None or kind is None:
        return ()
    marks, at = opening.group(), block.span
    span = Span(at.file, at.start, opening.end(), at.line, at.column)
    message = f"this fence has no word behind its backticks. Its lines are those of a ‘{kind}’"
    return (_finding(message, span, WayOut(f"write ‘{marks}{kind}’", Edit(span, marks + kind))),)


def _finding(message: str, span: Span, way: WayOut) -> Diagnostic:
    return Diagnostic("unknown-fence", "error", message, (Place(span),), ways_out=(way,))


def _kind_of_lines(text: str) -> str | None:
    """The fence in which every line of a text could stand."""
    lines = [line for line in text.splitlines() if line.strip() and line[0] not in " \t#"]
    heads = {line.split()[0].lower() for line in lines}
    if not lines:
        return None
    for kind in ("step", "piece"):
        if heads <= set(STATEMENTS["step" if kind == "step" else "piece"]):
            return kind
    if all(_SIZE.match(line) for line in lines):
        return "sizes"
    return "fits" if all(VERB.search(line) for line in lines) else None


def _slips(a: str, b: str) -> int:
    """How many letters are too many, missing, wrong, or have changed places."""
    rows = [list(range(len(b) + 1))]
    for i, x in enumerate(a, 1):
        row = [i]
        for j, y in enumerate(b, 1):
            cost = min(row[-1] + 1, rows[-1][j] + 1, rows[-1][j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                cost = min(cost, rows[-2][j - 2] + 1)
            row.append(cost)
        rows.append(row)
    return rows[-1][-1]
