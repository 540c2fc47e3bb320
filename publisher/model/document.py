"""The document as blocks: prose with its spoken figures, and where each fence stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Span
from publisher.model.prose import Block, Run
from publisher.source import types as source

Speak = Callable[[source.Spoken], tuple[str, tuple[float, ...], str] | None]
"""A spoken figure's text, and what it is worth in which unit; None where it could not be worked
out (and is reported)."""

_CAUTIONS = ("caution", "warning", "danger")
_TIPS = ("tip",)


class Reader(Struct, frozen=True):
    """Turns the source's blocks into the model's.

    ``pieces`` and ``steps`` give the name of a piece, or the number of a step, by the span of
    its fence.
    """

    speak: Speak
    pieces: Mapping[Span, str]
    steps: Mapping[Span, str]

    def blocks(self, blocks: Sequence[source.Block]) -> tuple[Block, ...]:
        found = (self.block(b) for b in blocks)
        return tuple(b for b in found if b is not None)

    def block(self, block: source.Block) -> Block | None:
        """One block; None for a fence that is not the design's."""
        if isinstance(block, source.Heading):
            return Block("heading", block.span, self.runs(block.inlines), level=block.level)
        if isinstance(block, source.Paragraph):
            return Block("paragraph", block.span, self.runs(block.inlines))
        if isinstance(block, source.ItemList):
            items = tuple(Block("item", i.span, (), self.blocks(i.blocks)) for i in block.items)
            if block.numbered:
                return Block("numbered", block.span, (), items, level=block.first)
            return Block("bullets", block.span, (), items)
        if isinstance(block, source.Quote):
            inner = self.blocks(block.blocks)
            return Block(_quote_kind(inner), block.span, (), inner)
        if isinstance(block, source.Fence):
            return self.fence(block)
        if isinstance(block, source.CodeBlock):
            return Block("paragraph", block.span, (Run(block.text, block.span, ("code",)),))
        if isinstance(block, source.Table):
            rows = (block.header, *block.rows)
            return Block("table", block.span, (), tuple(self.row(r) for r in rows))
        if isinstance(block, source.Picture):
            image = block.image
            return Block("picture", block.span, self.runs(image.alt), name=image.src)
        return Block("rule", block.span)

    def fence(self, fence: source.Fence) -> Block | None:
        if fence.kind == "piece":
            return Block("piece", fence.span, name=self.pieces.get(fence.span, ""))
        if fence.kind == "step" and fence.span in self.steps:
            return Block("step", fence.span, name=self.steps.get(fence.span, ""))
        if fence.kind in ("sizes", "fits"):
            return Block(fence.kind, fence.span)
        return None

    def row(self, row: source.Row) -> Block:
        cells = tuple(Block("cell", c.span, self.runs(c.inlines)) for c in row.cells)
        return Block("row", row.span, (), cells)

    def runs(self, inlines: Sequence[source.Inline]) -> tuple[Run, ...]:
        return tuple(run for inline in inlines for run in self.inline(inline))

    def inline(self, inline: source.Inline) -> tuple[Run, ...]:
        span = inline.span
        if isinstance(inline, source.Text):
            return (Run(inline.text, span),)
        if isinstance(inline, source.Emph):
            return _styled(self.runs(inline.inlines), "emph")
        if isinstance(inline, source.Strong):
            return _styled(self.runs(inline.inlines), "strong")
        if isinstance(inline, source.Code):
            return (Run(inline.text, span, ("code",)),)
        if isinstance(inline, source.Link):
            return tuple(replace(r, href=inline.href) for r in self.runs(inline.inlines))
        if isinstance(inline, source.Image):
            return self.runs(inline.alt)
        if isinstance(inline, source.Break):
            return (Run("\n" if inline.hard else " ", span),)
        text, amounts, unit = self.speak(inline) or ("?", (), "")
        return (Run(text, span, spoken=True, amounts=amounts, unit=unit),)


def _styled(runs: tuple[Run, ...], style: str) -> tuple[Run, ...]:
    return tuple(replace(r, style=(*r.style, style)) for r in runs)


def _quote_kind(inner: tuple[Block, ...]) -> str:
    first = "".join(r.text for r in inner[0].runs).strip().lower() if inner else ""
    word = first.split(":")[0].split(" ")[0].rstrip(".!:")
    if word in _CAUTIONS:
        return "caution"
    return "tip" if word in _TIPS else "quote"


def plain_text(runs: Sequence[Run]) -> str:
    """The words alone."""
    return "".join(r.text for r in runs)
