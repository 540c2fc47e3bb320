"""What the pages say, as plain values for the templates; no markup, no links."""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup
from msgspec import Struct

from publisher.booklet.arrange import StepWords, arrange
from publisher.booklet.document import WORDS, captions_of, cutting_words, said_in, used_signs
from publisher.booklet.facts import (
    UNIT_TITLES,
    facts,
    file_words,
    piece_rows,
    second_unit,
    sheet_titles,
    size_rows,
    time_in_all,
    titled,
)
from publisher.booklet.nodes import paragraphs
from publisher.booklet.types import BookletInput, Picture
from publisher.website.types import SitePattern

POST_PICTURE = "pictures/cover.png"
"""The cover as a picture of points: for posts, whose sites show no SVG."""
MOVING = {"play": "See it move", "pause": "Pause", "scrub": "Move it by hand"}
PX_PER_MM = 96.0 / 25.4
"""CSS Values and Units, level 4, 6.2: 1in = 96px = 2.54cm."""


class Shown(Struct, frozen=True):
    """A picture on a page: its file beside the page, alternative text, size in px."""

    file: str
    alt: str
    width: int
    height: int


class Card(Struct, frozen=True):
    """A pattern on the front page."""

    name: str
    title: str
    summary: str
    facts: tuple[tuple[str, str], ...]
    cover: Shown
    ground: str


def shown(file: str, picture: Picture) -> Shown:
    width = max(1, round(picture.width_mm * PX_PER_MM))
    return Shown(file, picture.alt, width, max(1, round(picture.height_mm * PX_PER_MM)))


def card(entry: SitePattern) -> Card:
    """Level, time and sheets under the drawn thing, on the colour of its paper's back."""
    book = entry.book
    meta = book.pattern.meta
    stock = book.pattern.pieces[0].stock if book.pattern.pieces else None
    return Card(
        book.pattern.name,
        meta.title,
        meta.summary,
        (
            ("Level", titled(meta.level)),
            ("Time", time_in_all(book.pattern)),
            ("Paper", sheets_in_all(book)),
        ),
        shown(f"patterns/{book.pattern.name}/pictures/cover.svg", book.cover),
        book.theme.paper_colour("back", stock),
    )


def sheets_in_all(book: BookletInput) -> str:
    count = len(book.sheets)
    return f"{count} {'sheet' if count == 1 else 'sheets'}"


def pictures_of(book: BookletInput) -> dict[str, Picture]:
    """Every picture of the pattern's page, by its file beside the page."""
    found = {"pictures/cover.svg": book.cover}
    for name, picture in book.piece_pictures:
        found[f"pictures/piece-{name.replace(' ', '-')}.svg"] = picture
    for sheet_map in book.sheets:
        found[f"pictures/sheet-{sheet_map.sheet.name}.svg"] = sheet_map.picture
    for step in book.steps:
        for index, picture in enumerate(step.pictures, 1):
            found[f"pictures/step-{step.number}-{index}.svg"] = picture
    used = set(used_signs(book))
    for sign in book.signs:
        if sign.name in used:
            found[f"pictures/sign-{sign.name}.svg"] = sign.picture
    return found


def pattern_view(entry: SitePattern) -> dict[str, Any]:
    """Everything on a pattern's page."""
    book = entry.book
    pattern, first = book.pattern, book.pattern.meta.first_unit
    arranged = arrange(pattern)
    pictures = dict(book.piece_pictures)
    used = set(used_signs(book))
    return {
        "name": pattern.name,
        "meta": pattern.meta,
        "words": {**WORDS, **MOVING},
        "facts": (*facts(pattern), ("Paper", sheets_in_all(book))),
        "ground": card(entry).ground,
        "cover": shown("pictures/cover.svg", book.cover),
        "post_picture": POST_PICTURE,
        "opening": arranged.opening,
        "supplies": book.supplies,
        "units": (UNIT_TITLES[first], UNIT_TITLES[second_unit(first)]),
        "units_short": (first, second_unit(first)),
        "sizes": size_rows(pattern),
        "size_words": arranged.sizes,
        "piece_words": arranged.pieces,
        "pieces": [
            (row, shown(f"pictures/piece-{piece.name.replace(' ', '-')}.svg", pictures[piece.name]))
            for piece, row in zip(pattern.pieces, piece_rows(pattern), strict=True)
        ],
        "cutting": cutting_words(book),
        "sheets": [
            (
                title,
                file_words(sheet_map.files),
                shown(f"pictures/sheet-{sheet_map.sheet.name}.svg", sheet_map.picture),
            )
            for title, sheet_map in zip(
                sheet_titles(m.sheet for m in book.sheets), book.sheets, strict=True
            )
        ],
        "signs": [
            (titled(sign.title), shown(f"pictures/sign-{sign.name}.svg", sign.picture))
            for sign in book.signs
            if sign.name in used
        ],
        "chapters": [
            {
                "title": chapter.title,
                "words": chapter.words,
                "steps": [_step_view(words, entry) for words in chapter.steps],
            }
            for chapter in arranged.chapters
        ],
        "closing": arranged.closing,
        "proven": book.proven,
        "cautions": book.cautions,
        "own_cautions": arranged.cautions,
        "licence": book.licence.title,
        "licence_text": paragraphs(book.licence.text),
        "moves": bool(entry.motions),
        "bundle": entry.bundle_name,
        "bundle_size": _weight(len(entry.bundle)),
        "makers": [
            {"maker": maker, "bundle": name, "size": _weight(len(data))}
            for maker, name, data in entry.makers
        ],
    }


def _step_view(words: StepWords, entry: SitePattern) -> dict[str, Any]:
    step, book = words.step, entry.book
    pictures = next((s.pictures for s in book.steps if s.number == step.number), ())
    captions = captions_of(pictures)
    return {
        "number": step.number,
        "title": step.title,
        "words": said_in(words, captions),
        "pictures": [
            (
                shown(f"pictures/step-{step.number}-{index}.svg", picture),
                caption,
                _motion(picture, entry),
            )
            for index, (picture, caption) in enumerate(zip(pictures, captions, strict=True), 1)
        ],
    }


def _motion(picture: Picture, entry: SitePattern) -> dict[str, Any] | None:
    """The clip of a picture, ready to stand in a page."""
    data = entry.motions.get(picture.name)
    if data is None:
        return None
    moments = int(json.loads(data)["moments"])
    return {
        "data": Markup(data.replace("<", "\\u003c")),
        "last": moments - 1,
        "width_mm": picture.width_mm,
    }


def _weight(count: int) -> str:
    """A file's size as shops write it: ``340 kB``, ``1.2 MB``."""
    if count < 1_000_000:
        return f"{max(1, round(count / 1000))} kB"
    return f"{count / 1_000_000:.1f} MB"
