"""The document's own words, block by block, with the figures of the design in them."""

from __future__ import annotations

from msgspec import Struct

from publisher.diagnostics import Span


class Run(Struct, frozen=True):
    """A run of text. ``style`` is any of "emph", "strong", "code"; ``spoken`` marks a figure
    that came from the design, and ``amounts`` what it is worth there, in ``unit``: "mm", "deg",
    "s" or "" (a plain number). ``href`` is a link's target or "". ``span`` is where it stands in
    the source."""

    text: str
    span: Span
    style: tuple[str, ...] = ()
    href: str = ""
    spoken: bool = False
    amounts: tuple[float, ...] = ()
    unit: str = ""


class Block(Struct, frozen=True):
    """A block of the document in reading order.

    ``kind``: "heading" (``level``), "paragraph", "bullets"/"numbered" (``children`` are
    "item" blocks), "quote", "caution" (a quote that starts with Caution or Warning), "tip",
    "sizes", "piece" (``name``), "step" (``name`` is the step's number), "fits", "rule",
    "table" (children "row" of "cell"), "picture" (``name`` is the file, runs the alt text).
    """

    kind: str
    span: Span
    runs: tuple[Run, ...] = ()
    children: tuple[Block, ...] = ()
    level: int = 0
    name: str = ""
