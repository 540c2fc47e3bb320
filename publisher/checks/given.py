"""What a design is drawn round: sizes that neither maker nor designer can change."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.language.ast import Ref
from publisher.language.program import Program
from publisher.model.types import Pattern, Target


def given(program: Program, pattern: Pattern) -> frozenset[str]:
    """Names of sizes that are the contents of something, and of those that they come from.

    What is put into a piece, by a statement of fit or by a step, is there before the design is.
    """
    lines = {size.name.text: size for size in program.sizes}
    waiting = [t.piece for t in _spoken_of(pattern) if t.kind == "object" and t.piece in lines]
    found: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            refs = (node for node in walked(lines[name].value) if isinstance(node, Ref))
            waiting += [s.name for ref in refs for s in ref.segments if s.name in lines]
    return frozenset(found)


def _spoken_of(pattern: Pattern) -> Iterator[Target]:
    for claim in pattern.claims:
        yield claim.subject
        if claim.object is not None:
            yield claim.object
    for step in pattern.steps:
        for action in step.actions:
            yield from (*action.subjects, *action.objects)


def walked(node: Any) -> Iterator[Any]:
    """A tree's nodes, parents before children; places are no part of it."""
    yield node
    if isinstance(node, tuple):
        for item in node:
            yield from walked(item)
    elif isinstance(node, Struct) and not isinstance(node, Span):
        for name in node.__struct_fields__:
            yield from walked(getattr(node, name))
