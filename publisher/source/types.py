"""The values of the source stage: the document as it was written."""

from __future__ import annotations

from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.source.text import MappedText, SourceText
from publisher.trade import Cutting, Own

Edition: TypeAlias = Literal["free", "patrons"]
FirstUnit: TypeAlias = Literal["mm", "in"]
Level: TypeAlias = Literal["easy", "medium", "hard"]

# ---------------------------------------------------------------- front matter


class Entry(Struct, frozen=True):
    """One ``key: value`` of the front matter, the value as text without its quotes."""

    key: str
    value: str
    key_span: Span
    value_span: Span


class FrontMatter(Struct, frozen=True):
    """Front matter of a pattern, every value checked. ``date`` is ISO 8601 (``2026-01-31``),
    ``version`` three numbers; ``units`` print first; ``sheet`` names a sheet size or is "",
    ``cutting`` is what is chosen about it and the cut files, ``own`` about the checks."""

    title: str
    summary: str
    version: str
    date: str
    edition: Edition
    units: FirstUnit
    level: Level
    time: str
    licence: str
    author: str = ""
    sheet: str = ""
    cutting: Cutting = Cutting()
    own: Own = Own()


class FormMatter(Struct, frozen=True):
    """Front matter of a form."""

    form: str
    summary: str


# ---------------------------------------------------------------- inlines


class Text(Struct, frozen=True):
    """Plain text. It stands in the source as it is, character for character, unless
    ``escaped`` (``\\{`` or ``&amp;``), when all of its span gives this one text."""

    text: str
    span: Span
    escaped: bool = False


class Emph(Struct, frozen=True):
    inlines: tuple[Inline, ...]
    span: Span


class Strong(Struct, frozen=True):
    inlines: tuple[Inline, ...]
    span: Span


class Code(Struct, frozen=True):
    text: str
    span: Span


class Link(Struct, frozen=True):
    href: str
    title: str
    inlines: tuple[Inline, ...]
    span: Span


class Image(Struct, frozen=True):
    """``alt`` may speak sizes too."""

    src: str
    title: str
    alt: tuple[Inline, ...]
    span: Span


class Break(Struct, frozen=True):
    """A line break in the source; ``hard`` where the author asked for one in print."""

    hard: bool
    span: Span


class Spoken(Struct, frozen=True):
    """``{expression}`` in prose; ``span`` covers the braces, ``expression`` is between them."""

    expression: MappedText
    span: Span


Inline: TypeAlias = Text | Emph | Strong | Code | Link | Image | Break | Spoken

# ---------------------------------------------------------------- blocks


class Heading(Struct, frozen=True):
    level: int
    inlines: tuple[Inline, ...]
    span: Span


class Paragraph(Struct, frozen=True):
    inlines: tuple[Inline, ...]
    span: Span


class ListItem(Struct, frozen=True):
    blocks: tuple[Block, ...]
    span: Span


class ItemList(Struct, frozen=True):
    """Bullets, or numbered from ``first``. ``tight`` where no blank lines stand between."""

    numbered: bool
    first: int
    tight: bool
    items: tuple[ListItem, ...]
    span: Span


class Quote(Struct, frozen=True):
    blocks: tuple[Block, ...]
    span: Span


class Fence(Struct, frozen=True):
    """A fenced block. ``kind`` is the first word of the line that opens it, lower case;
    ``header`` the rest of that line, ``body`` the lines within."""

    kind: str
    header: MappedText
    body: MappedText
    kind_span: Span
    span: Span


class CodeBlock(Struct, frozen=True):
    """Text set as it is, indented or fenced without a word."""

    text: str
    span: Span


class Cell(Struct, frozen=True):
    inlines: tuple[Inline, ...]
    span: Span


class Row(Struct, frozen=True):
    cells: tuple[Cell, ...]
    span: Span


class Table(Struct, frozen=True):
    """``aligns`` has "left", "center", "right" or "" for each column."""

    header: Row
    rows: tuple[Row, ...]
    aligns: tuple[str, ...]
    span: Span


class Picture(Struct, frozen=True):
    """An image that stands alone in its paragraph."""

    image: Image
    span: Span


class Rule(Struct, frozen=True):
    span: Span


Block: TypeAlias = (
    Heading | Paragraph | ItemList | Quote | Fence | CodeBlock | Table | Picture | Rule
)


class Document(Struct, frozen=True):
    """A whole file. ``front`` is set for a pattern, ``form`` for a form, neither where the
    front matter is missing or wrong; ``entries`` hold every key that was there."""

    source: SourceText
    entries: tuple[Entry, ...]
    front: FrontMatter | None
    form: FormMatter | None
    blocks: tuple[Block, ...]

    def entry(self, key: str) -> Entry | None:
        return next((e for e in self.entries if e.key == key), None)
