"""Everything a booklet needs, drawn and counted from the stages before it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.types import Story
from publisher.booklet.cautions import cautions_for, small_in
from publisher.booklet.facts import titled
from publisher.booklet.orders import order
from publisher.booklet.supplies import supplies_for
from publisher.booklet.types import (
    BookletInput,
    Caution,
    Picture,
    SheetMap,
    Sign,
    StepPictures,
    picture_of,
)
from publisher.checks.types import CheckResult
from publisher.cutfiles import Work, work_words
from publisher.drawing.legend import draw_sign
from publisher.drawing.piece_drawing import draw_piece
from publisher.drawing.sheet_map import draw_sheet
from publisher.drawing.signs import SIGNS
from publisher.drawing.space_view import draw_cover, draw_told, shown_action
from publisher.drawing.svg import to_svg
from publisher.drawing.theme import Theme
from publisher.drawing.types import Drawing
from publisher.layout.types import Sheet
from publisher.model.types import Pattern
from publisher.trade import Licence, Machine, Trade

PROVEN = (
    "border-uneven",
    "closed-size-differs",
    "does-not-clear",
    "does-not-cover",
    "does-not-go-in",
    "does-not-open",
    "does-not-reach",
    "does-not-slide-on",
    "not-as-post",
    "not-tucked-under",
    "sticks-out",
)
"""The checks whose verdicts interest a maker, by their codes."""
MANY = 3
"""So many of a kind are spoken of together."""

_NUMBERED = re.compile(r" \d+\b")
_NUMBERED_NAME = re.compile(r"(\D+?) \d+\b")

LARGEST = 0.5
"""Pieces are drawn no larger than half their size, so that those of one pattern look alike; a
scale shared by all would change the drawing of one piece with the size of another."""


def draw_finished(pattern: Pattern, story: Story, theme: Theme) -> Picture:
    """The finished thing, for the cover."""
    told = story.handled or pattern
    return _pen(told, theme)(draw_cover(told, story))


class Still(Struct, frozen=True):
    """The pictures that show no step: the finished thing for the cover, and each piece lying
    flat, in the order of the pattern."""

    cover: Picture
    pieces: tuple[Picture, ...]


def draw_still(pattern: Pattern, story: Story, theme: Theme) -> Still:
    """The cover and the pieces."""
    drawn = _pen(story.handled or pattern, theme)
    flat = (draw_piece(pattern, piece, largest=LARGEST) for piece in pattern.pieces)
    return Still(draw_finished(pattern, story, theme), tuple(drawn(drawing) for drawing in flat))


def _pen(pattern: Pattern, theme: Theme) -> Callable[..., Picture]:
    stocks = {piece.stock.name: piece.stock for piece in pattern.pieces}

    def drawn(drawing: Drawing, said: str = "") -> Picture:
        return picture_of(drawing, to_svg(drawing, theme, stocks), said)

    return drawn


def gather(
    pattern: Pattern,
    story: Story,
    sheets: tuple[Sheet, ...],
    checks: Iterable[CheckResult],
    *,
    theme: Theme,
    template: str,
    licence: Licence,
    cautions: Iterable[Caution],
    sheet_files: Mapping[str, tuple[str, ...]] | None = None,
    photographs: Mapping[str, bytes] | None = None,
    workshop: str = "",
    language: str = "en",
    still: Callable[[], Still] | None = None,
    on_cutting: tuple[str, ...] = (),
    parts: Pattern | None = None,
    trade: Trade | None = None,
) -> BookletInput:
    """Draw every picture and count the supplies.

    ``sheet_files`` are the cut files of each sheet by the sheet's name. Diagrams go to the
    step of the frame that they show. ``still`` gives cover and pieces where they are drawn
    elsewhere; it is asked last. ``on_cutting`` are sentences about the cut files; with the
    ``trade``, papers that do in place of others are named.
    """
    told = story.handled or pattern
    drawn = _pen(told, theme)
    diagrams: dict[int, list[Picture]] = {step.number: [] for step in pattern.steps}
    for frame, drawing in draw_told(told, story):
        diagrams[frame.step].append(drawn(drawing, order(shown_action(told, frame))))
    small = small_in(pattern, story, trade) if trade is not None else ()
    supplies = supplies_for(pattern, sheets, trade)
    paper = pattern.pieces[0].stock.name if pattern.pieces else ""
    files = sheet_files or {}
    maps = tuple(
        SheetMap(sheet, drawn(draw_sheet(parts or pattern, sheet)), files.get(sheet.name, ()))
        for sheet in sheets
    )
    own = still() if still else draw_still(pattern, story, theme)
    pictures = (*own.pieces, *(m.picture for m in maps), *chain(*diagrams.values()), own.cover)
    used = {sign for picture in pictures for sign in picture.signs}
    return BookletInput(
        pattern=pattern,
        theme=theme,
        template=template,
        cover=own.cover,
        piece_pictures=tuple(zip((p.name for p in pattern.pieces), own.pieces, strict=True)),
        steps=tuple(StepPictures(number, tuple(found)) for number, found in diagrams.items()),
        sheets=maps,
        signs=tuple(Sign(k, SIGNS[k], drawn(draw_sign(k, paper))) for k in SIGNS if k in used),
        supplies=supplies,
        cautions=cautions_for(cautions, supplies, small),
        licence=licence,
        proven=proven(checks),
        workshop=workshop,
        language=language,
        photographs=tuple(sorted((photographs or {}).items())),
        on_cutting=(*on_cutting, *parted(pattern, parts or pattern)),
        parts=parts,
    )


def parted(pattern: Pattern, parts: Pattern) -> Iterator[str]:
    """What to do with pieces that are cut in parts."""
    names = [part.name for part in parts.pieces]
    for piece in pattern.pieces:
        count = sum(name.startswith(f"{piece.name} part ") for name in names)
        if piece.name not in names:
            yield (
                f"The {piece.name} is larger than a sheet and is cut in {count} parts. Each but "
                "the last has a tab at its end: before you begin, glue the next part on it, so "
                "that their outlines go on in one line."
            )


def with_work(
    book: BookletInput, work: Iterable[tuple[str, Work]], machine: Machine | None
) -> BookletInput:
    """The same with a sentence about the work on each sheet, from it by the sheet's name."""
    first = book.pattern.meta.first_unit
    said = {sheet: work_words(done, machine, first) for sheet, done in work}
    sheets = (replace(entry, work=said.get(entry.sheet.name, "")) for entry in book.sheets)
    return replace(book, sheets=tuple(sheets))


def proven(checks: Iterable[CheckResult]) -> tuple[str, ...]:
    """What was shown to fit, each as a sentence, in the order of the checks."""
    kept: dict[tuple[str, str], list[CheckResult]] = {}
    for check in checks:
        if check.result == "pass" and check.code in PROVEN and check.sentence:
            kept.setdefault((check.code, _NUMBERED.sub("", check.subject)), []).append(check)
    return tuple(
        f"{titled(sentence)}." for alike in kept.values() for sentence in _said_once(alike)
    )


def _said_once(alike: Sequence[CheckResult]) -> list[str]:
    """What is proven of many of a kind, said of each, with the figure of the tightest; of what
    each has one of its own: "each star stays inside its pane"."""
    tightest = min(alike, key=lambda c: dict(c.numbers).get("spare_mm", 0.0))
    names = [_NUMBERED_NAME.match(name) for name in tightest.subject.split(" and ")]
    sides = zip(*(check.subject.split(" and ") for check in alike), strict=True)
    kinds = [len(set(side)) for side in sides]
    said = tightest.sentence
    each = 0
    for name, kind in zip(names, kinds, strict=True):
        if name is None or kind == 1:
            continue
        word = "its" if each == kind == len(alike) else "each"
        said, found = re.subn(rf"\b{re.escape(name[0])}\b", f"{word} {name[1]}", said)
        if found:
            each = each or kind
    if len(alike) < MANY or not each:
        return [check.sentence for check in alike]
    return [f"{said}, or more"]


def diagrams(book: BookletInput) -> dict[str, bytes]:
    """Every picture of the booklet but the legend's as a file of its own.

    ``cover.svg``, ``piece-NAME.svg``, ``sheet-NAME.svg``, and ``step-01a.svg`` and so on for
    the actions of the steps.
    """
    found = [("", book.cover)]
    found += [("piece-", picture) for _, picture in book.piece_pictures]
    found += [("", entry.picture) for entry in book.sheets]
    found += [("", picture) for step in book.steps for picture in step.pictures]
    return {
        f"{before}{picture.name.replace(' ', '-')}.svg": picture.svg.encode("utf-8")
        for before, picture in found
    }
