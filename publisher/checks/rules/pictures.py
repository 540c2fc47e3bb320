"""Every picture says in words what it shows."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.checks.context import Context, Results, failed, passed
from publisher.model.prose import Block

CODE = "picture-without-words"


def check(context: Context) -> Results:
    for block in _pictures(context.pattern.body):
        words = " ".join(r.text for r in block.runs).split()
        numbers = (("words", float(len(words))),)
        if words:
            yield passed(CODE, block.name, numbers, f"{block.name} is told in words")
        else:
            yield failed(
                CODE,
                block.name,
                numbers,
                f"the picture {block.name} says nothing to those who cannot see it",
                block.span,
                severity="warning",
                ways_out=(f"write what it shows: ![The finished thing]({block.name})",),
            )


def _pictures(blocks: tuple[Block, ...]) -> Iterator[Block]:
    for block in blocks:
        if block.kind == "picture":
            yield block
        yield from _pictures(block.children)
