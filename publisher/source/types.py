"""The values of the source stage: the document as it was written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from publisher.diagnostics import Span
from publisher.source.text import MappedText, SourceText

Edition: TypeAlias = Literal["free", "patrons"]
FirstUnit: TypeAlias = Literal["mm", "in"]
Level: TypeAlias = Literal["easy", "medium", "hard"]

# ---------------------------------------------------------------- front matter


@dataclass(frozen=True, slots=True)
class Entry:
    """One ``key: value`` of the front matter, the value as text without its quotes."""

    key: str
    value: str
    key_span: Span
    value_span: Span


@dataclass(frozen=True, slots=True)
class FrontMatter:
    """Front matter of a pattern, every value checked. ``date`` is ISO 8601 (``2026-01-31``),
    ``version`` three numbers; ``units`` print first; ``sheet`` names a sheet size or is ""."""

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


@dataclass(frozen=True, slots=True)
class FormMatter:
    """Front matter of a form."""

    form: str
    summary: str


# ---------------------------------------------------------------- inlines


@dataclass(frozen=True, slots=True)
class Text:
    """Plain text. It stands in the source as it is, character for character, unless
    ``escaped`` (``\\{`` or ``&amp;``), when all of its span gives this one text."""

    text: str
    span: Span
    escaped: bool = False


@dataclass(frozen=True, slots=True)
class Emph:
    inlines: tuple[Inline, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Strong:
    inlines: tuple[Inline, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Code:
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Link:
    href: str
    title: str
    inlines: tuple[Inline, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Image:
    """``alt`` may speak sizes too."""

    src: str
    title: str
    alt: tuple[Inline, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Break:
    """A line break in the source; ``hard`` where the author asked for one in print."""

    hard: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Spoken:
    """``{expression}`` in prose; ``span`` covers the braces, ``expression`` is between them."""

    expression: MappedText
    span: Span


Inline: TypeAlias = Text | Emph | Strong | Code | Link | Image | Break | Spoken

# ---------------------------------------------------------------- blocks


@dataclass(frozen=True, slots=True)
class Heading:
    level: int
    inlines: tuple[Inline, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Paragraph:
    inlines: tuple[Inline, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class ListItem:
    blocks: tuple[Block, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class ItemList:
    """Bullets, or numbered from ``first``. ``tight`` where no blank lines stand between."""

    numbered: bool
    first: int
    tight: bool
    items: tuple[ListItem, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Quote:
    blocks: tuple[Block, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Fence:
    """A fenced block. ``kind`` is the first word of the line that opens it, lower case;
    ``header`` the rest of that line, ``body`` the lines within."""

    kind: str
    header: MappedText
    body: MappedText
    kind_span: Span
    span: Span


@dataclass(frozen=True, slots=True)
class CodeBlock:
    """Text set as it is, indented or fenced without a word."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Cell:
    inlines: tuple[Inline, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Row:
    cells: tuple[Cell, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Table:
    """``aligns`` has "left", "center", "right" or "" for each column."""

    header: Row
    rows: tuple[Row, ...]
    aligns: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Picture:
    """An image that stands alone in its paragraph."""

    image: Image
    span: Span


@dataclass(frozen=True, slots=True)
class Rule:
    span: Span


Block: TypeAlias = (
    Heading | Paragraph | ItemList | Quote | Fence | CodeBlock | Table | Picture | Rule
)


@dataclass(frozen=True, slots=True)
class Document:
    """A whole file. ``front`` is set for a pattern, ``form`` for a form, neither where the
    front matter is missing or wrong; ``entries`` hold every key that was there."""

    source: SourceText
    entries: tuple[Entry, ...]
    front: FrontMatter | None
    form: FormMatter | None
    blocks: tuple[Block, ...]

    def entry(self, key: str) -> Entry | None:
        return next((e for e in self.entries if e.key == key), None)
