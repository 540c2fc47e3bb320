"""The values a booklet and a site page are made of."""

from __future__ import annotations

from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.drawing.theme import Theme
from publisher.drawing.types import Drawing
from publisher.layout.types import Sheet
from publisher.model.types import Pattern
from publisher.trade import Licence

PaperName: TypeAlias = Literal["a4", "letter"]
Signal: TypeAlias = Literal["danger", "warning", "caution", "notice"]


class Picture(Struct, frozen=True):
    """One drawing as SVG, ``width_mm`` x ``height_mm`` on paper.

    ``scale`` is paper mm per model mm, ``signs`` the legend entries it uses, ``alt`` its
    complete alternative text, ``name`` the drawing's. ``order`` is what a diagram shows, as an
    order to the maker.
    """

    svg: str
    alt: str
    width_mm: float
    height_mm: float
    scale: float = 1.0
    signs: tuple[str, ...] = ()
    name: str = ""
    order: str = ""


def picture_of(drawing: Drawing, svg: str, order: str = "") -> Picture:
    """The picture that ``svg`` was written from."""
    return Picture(
        svg,
        drawing.alt,
        drawing.width_mm,
        drawing.height_mm,
        drawing.scale,
        drawing.signs,
        drawing.name,
        order,
    )


class StepPictures(Struct, frozen=True):
    """The diagrams of one step in the order they are looked at."""

    number: int
    pictures: tuple[Picture, ...]


class SheetMap(Struct, frozen=True):
    """Where the pieces lie on one sheet, and the cut files of that sheet, as named in the
    bundle (forward slashes). ``work`` says how much there is to cut on it."""

    sheet: Sheet
    picture: Picture
    files: tuple[str, ...]
    work: str = ""


class Sign(Struct, frozen=True):
    """One entry of the legend: ``name`` as drawings list it, ``title`` as a maker reads it."""

    name: str
    title: str
    picture: Picture


class Supply(Struct, frozen=True):
    """One thing to lay ready. ``amount`` is "" where one is enough; ``name`` is what the
    cautions know it by ("knife", "glue", ...)."""

    name: str
    kind: Literal["paper", "tool", "glue"]
    what: str
    amount: str
    note: str


class Caution(Struct, frozen=True):
    """One safety message: signal word, what can happen, how to avoid it, and the supply
    that calls for it ("always" for none)."""

    name: str
    signal: Signal
    hazard: str
    avoid: str
    when: str


class Node(Struct, frozen=True):
    """A node of the text as booklet and site print it.

    ``kind``: "paragraph", "bullets", "numbered", "item", "heading", "quote", "tip",
    "caution", "table", "row", "cell", "picture", "rule". ``runs`` are (text, styles, href).
    ``name`` is a caution's signal word or a picture's file.
    """

    kind: str
    runs: tuple[tuple[str, tuple[str, ...], str], ...] = ()
    children: tuple[Node, ...] = ()
    level: int = 0
    name: str = ""


class Attachment(Struct, frozen=True):
    """A file carried inside the PDF. ``name`` is its path in the bundle."""

    name: str
    media_type: str
    description: str
    data: bytes


class BookletInput(Struct, frozen=True):
    """Everything that a booklet says and shows.

    ``piece_pictures`` pairs a piece's name with its drawing, in the order of the pattern.
    ``proven`` are statements of what fits, in a maker's words. ``signs`` may hold more than
    the drawings use; only those used are printed. ``workshop`` is who made the pattern.
    ``template`` is the text of the theme's ``booklet.typ``; of the theme's tables "type" and
    "page" are read here. ``photographs`` are the author's pictures by file name; those that
    the text shows must be there. ``on_cutting`` are further sentences about the cut
    files; ``parts`` is the pattern as it lies on the sheets, where a piece goes on none whole.
    """

    pattern: Pattern
    theme: Theme
    template: str
    cover: Picture
    piece_pictures: tuple[tuple[str, Picture], ...]
    steps: tuple[StepPictures, ...]
    sheets: tuple[SheetMap, ...]
    signs: tuple[Sign, ...]
    supplies: tuple[Supply, ...]
    cautions: tuple[Caution, ...]
    licence: Licence
    proven: tuple[str, ...] = ()
    workshop: str = ""
    language: str = "en"
    photographs: tuple[tuple[str, bytes], ...] = ()
    on_cutting: tuple[str, ...] = ()
    parts: Pattern | None = None
