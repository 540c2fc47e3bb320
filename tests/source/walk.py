"""Walking a document in tests."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from publisher.source import Document, MappedText, read_document
from publisher.source.types import (
    Block,
    Break,
    Cell,
    Code,
    CodeBlock,
    Emph,
    Fence,
    Heading,
    Image,
    Inline,
    ItemList,
    Link,
    ListItem,
    Paragraph,
    Picture,
    Quote,
    Row,
    Rule,
    Spoken,
    Strong,
    Table,
    Text,
)

FRONT = """---
title: Seed tray
summary: A tray for seed packets.
version: 1.0.0
date: 2026-03-01
edition: free
units: mm
level: easy
time: 40 min
licence: personal
---
"""


def document(body: str, front: str = FRONT) -> Document:
    found, findings = read_document(front + body, "content/tray/pattern.md")
    assert findings == []
    assert found is not None
    return found


def codes(text: str) -> list[str]:
    return [f.code for f in read_document(text, "content/tray/pattern.md")[1]]


def nodes(value: Any) -> Iterator[Any]:
    """Every block and inline in reading order."""
    yield value
    match value:
        case Document(blocks=inner) | Quote(blocks=inner) | ListItem(blocks=inner):
            parts: tuple[Any, ...] = inner
        case ItemList(items=inner):
            parts = inner
        case Table(header=header, rows=rows):
            parts = (header, *rows)
        case Row(cells=inner):
            parts = inner
        case (
            Heading(inlines=inner)
            | Paragraph(inlines=inner)
            | Cell(inlines=inner)
            | Emph(inlines=inner)
            | Strong(inlines=inner)
            | Link(inlines=inner)
        ):
            parts = inner
        case Picture(image=image):
            parts = (image,)
        case Image(alt=inner):
            parts = inner
        case _:
            parts = ()
    for part in parts:
        yield from nodes(part)


def all_of(value: Any, kind: type) -> list[Any]:
    return [n for n in nodes(value) if isinstance(n, kind)]


def written(found: Document, node: Any) -> str:
    span = node.span if hasattr(node, "span") and not isinstance(node, MappedText) else node
    return found.source.text[span.start : span.end]


def as_html(blocks: tuple[Block, ...]) -> str:
    """Enough of HTML to compare with markdown-it's own rendering."""
    return "".join(_block(b) for b in blocks)


def _block(block: Any) -> str:
    match block:
        case Heading(level=n, inlines=inner):
            return f"<h{n}>{_inlines(inner)}</h{n}>"
        case Paragraph(inlines=inner):
            return f"<p>{_inlines(inner)}</p>"
        case Picture(image=image):
            return f"<p>{_inline(image)}</p>"
        case Quote(blocks=inner):
            return f"<blockquote>{as_html(inner)}</blockquote>"
        case ItemList(numbered=numbered, items=items):
            tag = "ol" if numbered else "ul"
            inside = "".join(f"<li>{as_html(i.blocks)}</li>" for i in items)
            return f"<{tag}>{inside}</{tag}>"
        case Fence(body=body):
            return f"<pre>{body.text}</pre>"
        case CodeBlock(text=text):
            return f"<pre>{text}</pre>"
        case Table(header=header, rows=rows):
            return "<table>" + "".join(_row(r) for r in (header, *rows)) + "</table>"
        case Rule():
            return "<hr>"
    raise AssertionError(block)


def _row(row: Row) -> str:
    return "<tr>" + "".join(f"<td>{_inlines(c.inlines)}</td>" for c in row.cells) + "</tr>"


def _inlines(inlines: tuple[Inline, ...]) -> str:
    return "".join(_inline(i) for i in inlines)


def _inline(node: Inline) -> str:
    match node:
        case Text(text=text):
            return text
        case Code(text=text):
            return f"<code>{text}</code>"
        case Emph(inlines=inner):
            return f"<em>{_inlines(inner)}</em>"
        case Strong(inlines=inner):
            return f"<strong>{_inlines(inner)}</strong>"
        case Link(href=href, inlines=inner):
            return f"<a {href}>{_inlines(inner)}</a>"
        case Image(src=src, alt=alt):
            return f"<img {src} {_inlines(alt)}>"
        case Break(hard=hard):
            return "<br>" if hard else "\n"
        case Spoken(expression=expression):
            return "{" + expression.text + "}"
