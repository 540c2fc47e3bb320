"""A booklet as plain data for the template: words, figures and pictures, no layout."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, TypeAlias

from publisher.booklet.arrange import (
    PIECES,
    SIZES,
    Arrangement,
    Chapter,
    StepWords,
    arrange,
)
from publisher.booklet.facts import (
    UNIT_TITLES,
    blank_mm,
    facts,
    file_words,
    piece_rows,
    second_unit,
    sheet_titles,
    size_rows,
    titled,
)
from publisher.booklet.nodes import paragraphs
from publisher.booklet.orders import order
from publisher.booklet.types import Attachment, BookletInput, Caution, Node, PaperName, Picture
from publisher.drawing.signs import in_legend_order
from publisher.units import both_sizes

Json: TypeAlias = dict[str, Any]

WORDS = {
    "made_by": "from",
    "needs": "What you need",
    "needs_head": ["", "What", "How much", "Good to know"],
    "paper": "Paper",
    "tool": "Tools",
    "glue": "Glue",
    "sizes": SIZES,
    "size": "Size",
    "size_note": "What it is",
    "drawn": "drawn",
    "full_size": "full size",
    "cut_once": "Cut one from",
    "cut_more": "Cut {} from",
    "files": "Cut files:",
    "pieces": PIECES,
    "cutting": "Cut the pieces",
    "legend": "Signs in the drawings",
    "proven": "It fits",
    "proven_lead": "Worked out from the sizes in this booklet, paper thickness included:",
    "cautions": "Take care",
    "licence": "What you may do with it",
    "closing": "And then",
    "goes_on": "continued",
}
"""The booklet's own headings and lead words."""


def document(book: BookletInput, paper: PaperName, attachments: Iterable[Attachment] = ()) -> Json:
    """The data that the template reads, strings and numbers only."""
    pattern, meta = book.pattern, book.pattern.meta
    arranged = arrange(pattern)
    year, month, day = (int(part) for part in meta.date.split("-"))
    return {
        "paper": paper,
        "language": book.language,
        "look": {
            "type": dict(book.theme.tables["type"]),
            "page": dict(book.theme.tables["page"]),
            "colours": dict(book.theme.colours),
        },
        "words": WORDS,
        "title": meta.title,
        "summary": meta.summary,
        "version": meta.version,
        "date": {"year": year, "month": month, "day": day},
        "author": meta.author or book.workshop,
        "workshop": book.workshop or meta.author,
        "facts": [list(fact) for fact in facts(pattern)],
        "cover": _picture(book.cover),
        "opening": _nodes(arranged.opening),
        "supplies": [
            {"kind": s.kind, "what": s.what, "amount": s.amount, "note": s.note}
            for s in book.supplies
        ],
        "sizes": _sizes(book),
        "size_words": _nodes(arranged.sizes),
        "pieces": _pieces(book, arranged),
        "cutting": _cutting(book),
        "legend": _legend(book),
        "chapters": [_chapter(chapter, book) for chapter in arranged.chapters],
        "closing": _nodes(arranged.closing),
        "proven": list(book.proven),
        "cautions": [_caution(c) for c in book.cautions],
        "own_cautions": _nodes(arranged.cautions),
        "licence": {
            "title": book.licence.title,
            "text": _nodes(paragraphs(book.licence.text)),
        },
        "attachments": [
            {
                "name": a.name,
                "media_type": a.media_type,
                "description": a.description,
                "data": _carried(a.data),
            }
            for a in attachments
        ],
        "photographs": {name: _carried(data) for name, data in book.photographs},
    }


def cutting_words(book: BookletInput) -> tuple[str, ...]:
    """Which file is for what, and how a maker makes sure that it came in at its size."""
    pieces = {piece.name: piece for piece in (book.parts or book.pattern).pieces}
    on_sheets = {placed.piece for sheet in book.sheets for placed in sheet.sheet.placed}
    if not on_sheets:
        return ()
    largest = max(
        (pieces[name] for name in sorted(on_sheets)),
        key=lambda piece: blank_mm(piece)[0] * blank_mm(piece)[1],
    )
    size = both_sizes(blank_mm(largest), first=book.pattern.meta.ruler)
    return (
        *book.on_cutting,
        "Every sheet is in the folder of cut files: as SVG and DXF for a cutting machine, as PDF "
        "to print and cut by hand. Pieces are drawn with their good side up.",
        f"Before you cut good paper, measure: the {largest.name} is {size}, on the screen and on "
        "a print. If it is not, set the scale of your program or printer to 100 percent.",
    )


def _sizes(book: BookletInput) -> Json:
    first = book.pattern.meta.first_unit
    return {
        "units": [UNIT_TITLES[first], UNIT_TITLES[second_unit(first)]],
        "rows": [[r.name, r.note, r.first, r.second] for r in size_rows(book.pattern)],
    }


def _pieces(book: BookletInput, arranged: Arrangement) -> list[Json]:
    words = dict(arranged.by_piece)
    pictures = dict(book.piece_pictures)
    units = [book.pattern.meta.first_unit, second_unit(book.pattern.meta.first_unit)]
    rows = zip(book.pattern.pieces, piece_rows(book.pattern), strict=True)
    return [
        {
            "name": row.name,
            "words": _nodes(words.get(piece.name, ())),
            "count": row.count,
            "stock": row.stock,
            "sizes": [f"{row.first} {units[0]}", f"{row.second} {units[1]}"],
            "picture": _picture(pictures[piece.name]),
        }
        for piece, row in rows
    ]


def _cutting(book: BookletInput) -> Json:
    titles = sheet_titles(sheet_map.sheet for sheet_map in book.sheets)
    return {
        "words": list(cutting_words(book)),
        "sheets": [
            {
                "title": title,
                "files": file_words(sheet_map.files),
                "work": sheet_map.work,
                "picture": _picture(sheet_map.picture),
            }
            for title, sheet_map in zip(titles, book.sheets, strict=True)
        ],
    }


def used_signs(book: BookletInput) -> tuple[str, ...]:
    """The signs in all pictures of the booklet, in the legend's order."""
    pictures = [picture for _, picture in book.piece_pictures]
    pictures += [sheet_map.picture for sheet_map in book.sheets]
    pictures += [picture for step in book.steps for picture in step.pictures]
    return in_legend_order(sign for picture in pictures for sign in picture.signs)


def _legend(book: BookletInput) -> list[Json]:
    by_name = {sign.name: sign for sign in book.signs}
    return [
        {"title": titled(by_name[name].title), "picture": _picture(by_name[name].picture)}
        for name in used_signs(book)
        if name in by_name
    ]


def _chapter(chapter: Chapter, book: BookletInput) -> Json:
    return {
        "title": chapter.title,
        "words": _nodes(chapter.words),
        "steps": [_step(step, book) for step in chapter.steps],
    }


def captions_of(pictures: Sequence[Picture]) -> tuple[str, ...]:
    """The order under each of a step's diagrams, where there are several."""
    return tuple(picture.order if len(pictures) > 1 else "" for picture in pictures)


def said_in(words: StepWords, captions: tuple[str, ...]) -> tuple[Node, ...]:
    """The author's words for the step; where there are none and no captions, its orders."""
    if words.words or any(captions):
        return words.words
    orders = (order(action) for action in words.step.actions)
    return paragraphs("\n\n".join(f"{text}." for text in orders))


def _step(words: StepWords, book: BookletInput) -> Json:
    step = words.step
    pictures = next((s.pictures for s in book.steps if s.number == step.number), ())
    captions = captions_of(pictures)
    return {
        "number": step.number,
        "title": step.title,
        "words": _nodes(said_in(words, captions)),
        "pictures": [
            {**_picture(picture), "caption": caption}
            for picture, caption in zip(pictures, captions, strict=True)
        ],
    }


def _carried(data: bytes) -> str | list[int]:
    """Bytes as JSON can carry them: text as it is, anything else byte by byte."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return list(data)


def _caution(caution: Caution) -> Json:
    return {"signal": caution.signal, "hazard": caution.hazard, "avoid": caution.avoid}


def _picture(picture: Picture) -> Json:
    return {
        "svg": picture.svg,
        "alt": picture.alt,
        "width": picture.width_mm,
        "height": picture.height_mm,
        "scale": picture.scale,
    }


def _nodes(nodes: Iterable[Node]) -> list[Json]:
    return [
        {
            "kind": node.kind,
            "level": node.level,
            "name": node.name,
            "runs": [{"text": t, "style": list(s), "href": h} for t, s, h in node.runs],
            "children": _nodes(node.children),
        }
        for node in nodes
    ]
