"""Characters that the theme's faces cannot print, found before the typesetter meets them."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.drawing.text import face
from publisher.drawing.theme import Theme
from publisher.model.prose import Block
from publisher.model.types import Pattern

CODE = "letter-not-in-face"


def missing_letters(pattern: Pattern, theme: Theme) -> tuple[Diagnostic, ...]:
    """One finding for every place whose words hold a character that neither face has.

    A character of the text in any of the theme's two families will do; control characters
    and spaces are left aside.
    """
    known = _characters(str(theme.tables["type"]["text"]))
    known |= _characters(str(theme.tables["type"]["title"]))
    found = []
    for text, span in _words(pattern):
        lacking = [c for c in dict.fromkeys(text) if ord(c) not in known and _is_printed(c)]
        if lacking:
            found.append(_finding(lacking, span))
    return tuple(found)


def _characters(family: str) -> frozenset[int]:
    return frozenset(face(family).glyphs)


def _is_printed(character: str) -> bool:
    return unicodedata.category(character) not in ("Cc", "Cf", "Zs", "Zl", "Zp")


def _finding(lacking: list[str], span: Span) -> Diagnostic:
    shown = ", ".join(f"‘{c}’ ({unicodedata.name(c, 'no name').lower()})" for c in lacking)
    return Diagnostic(
        CODE,
        "error",
        f"the booklet’s faces cannot print {shown}",
        (Place(span, "leave it out or write it in words"),),
        notes=("The theme chooses the faces, in [type] of its theme.toml.",),
    )


def _words(pattern: Pattern) -> Iterator[tuple[str, Span]]:
    meta = pattern.meta
    top = Span(pattern.file, 0, 0, 1, 1)
    for text in (meta.title, meta.summary, meta.version, meta.time, meta.author):
        yield text, top
    for size in pattern.sizes:
        yield f"{size.name} {size.note}", size.span
    for piece in pattern.pieces:
        yield piece.name, piece.span
    yield from _prose(pattern.body)


def _prose(blocks: Iterable[Block]) -> Iterator[tuple[str, Span]]:
    for block in blocks:
        for run in block.runs:
            yield run.text, run.span
        yield from _prose(block.children)
