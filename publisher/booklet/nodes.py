"""From the blocks of a pattern's document to the nodes that are printed."""

from __future__ import annotations

import re
from collections.abc import Iterable

from publisher.booklet.types import Node
from publisher.model.prose import Block, Run

_SIGNAL = re.compile(r"\s*(danger|warning|caution|notice)\s*:\s*", re.IGNORECASE)
_FENCES = frozenset({"sizes", "piece", "step", "fits"})


def nodes_of(blocks: Iterable[Block]) -> tuple[Node, ...]:
    """The prose among the blocks; what the fences say is printed elsewhere."""
    return tuple(_node(block) for block in blocks if block.kind not in _FENCES)


def paragraphs(text: str) -> tuple[Node, ...]:
    """Plain text whose paragraphs stand apart by blank lines."""
    parts = (" ".join(part.split()) for part in re.split(r"\n\s*\n", text))
    return tuple(Node("paragraph", ((part, (), ""),)) for part in parts if part)


def _node(block: Block) -> Node:
    if block.kind == "caution":
        return _caution(block)
    runs = _runs(block.runs)
    return Node(block.kind, runs, nodes_of(block.children), block.level, block.name)


def _runs(runs: Iterable[Run]) -> tuple[tuple[str, tuple[str, ...], str], ...]:
    return tuple((run.text, run.style, run.href) for run in runs)


def _caution(block: Block) -> Node:
    """A caution without its signal word, which is printed beside it; the word as name."""
    children = nodes_of(block.children)
    if block.runs:
        children = (Node("paragraph", _runs(block.runs)), *children)
    if not children or not children[0].runs:
        return Node("caution", children=children, name="caution")
    first = children[0]
    (text, style, href), *rest = first.runs
    found = _SIGNAL.match(text)
    signal = found.group(1).lower() if found else "caution"
    text = text[found.end() :] if found else text
    text = text[:1].upper() + text[1:]
    first = Node(first.kind, ((text, style, href), *rest), first.children, first.level)
    return Node("caution", children=(first, *children[1:]), name=signal)
