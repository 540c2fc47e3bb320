"""What stands on a template: the words of a piece and where they find room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, TypeAlias

from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.geometry.measure import Bounds
from publisher.layout.types import Sheet
from publisher.model.types import Piece
from publisher.templates.faces import FaceName, Line, shaped
from publisher.templates.spots import find_spot
from publisher.units import MM_PER_POINT, Ruler, both_sizes

Grain: TypeAlias = Literal["down", "across", ""]
LEADING = 1.32
"""From baseline to baseline, in sizes of the type."""
CAPITALS = 0.69
"""The height of capitals of both families, in sizes of the type, rounded up."""
BELOW = 0.22
CAPTION_PT = 8.0
CAPTION_MM = 2 * LEADING * CAPTION_PT * MM_PER_POINT + 2.5
"""What a caption below a piece takes."""


class Label(Struct, frozen=True):
    """Lines one below the other, the box they take, and whether they run upwards."""

    lines: tuple[Line, ...]
    box: Bounds
    turned: bool


def block_mm(lines: Iterable[Line]) -> tuple[float, float]:
    """Width and height of lines set one below the other."""
    all_lines = list(lines)
    high = CAPITALS * all_lines[0].size_pt + BELOW * all_lines[-1].size_pt
    high += sum(LEADING * line.size_pt for line in all_lines[1:])
    return max(line.width_mm for line in all_lines), high * MM_PER_POINT


def label_room(piece: Piece, room: BaseGeometry, first: Ruler) -> Label | None:
    """Where the words of a piece go within it: as large as they fit, level before upright."""
    for lines in _label_lines(piece, first):
        width, height = block_mm(lines)
        for turned in (False, True):
            box = find_spot(room, *((height, width) if turned else (width, height)))
            if box is not None:
                return Label(lines, box, turned)
    return None


def _label_lines(piece: Piece, first: Ruler) -> Iterator[tuple[Line, ...]]:
    size = both_sizes(blank_mm(piece), first=first)
    full: list[tuple[str, FaceName, float]] = [
        (piece.name, "strong", 13.0),
        (f"cut {piece.copies} from {piece.stock.title.lower()}", "text", 9.0),
        ("front face up", "text", 9.0),
        (size, "text", 9.0),
    ]
    small: list[tuple[str, FaceName, float]] = [
        (piece.name, "strong", 9.0),
        (f"cut {piece.copies}, front face up", "text", 8.0),
        (size, "text", 8.0),
    ]
    least: list[tuple[str, FaceName, float]] = [
        (piece.name, "strong", 8.0),
        (f"cut {piece.copies}, front up", "text", 8.0),
    ]
    one: list[tuple[str, FaceName, float]] = [
        (f"{piece.name}: cut {piece.copies}, front face up", "text", 8.0)
    ]
    for words in (full, small, least, one):
        yield tuple(shaped(text, face, size_pt) for text, face, size_pt in words)


def caption_lines(piece: Piece, first: Ruler, grain: Grain = "") -> tuple[Line, Line]:
    """The words below a piece that has no room for them."""
    size = both_sizes(blank_mm(piece), first=first)
    runs = {"down": ", grain up and down", "across": ", grain from side to side", "": ""}[grain]
    return (
        shaped(f"{piece.name}: cut {piece.copies}, front face up", "strong", CAPTION_PT),
        shaped(f"{size}{runs}", "text", CAPTION_PT),
    )


def caption_width_mm(piece: Piece, first: Ruler) -> float:
    """What a caption takes at the most."""
    return max(line.width_mm for line in caption_lines(piece, first, "across"))


def blank_mm(piece: Piece) -> tuple[float, float]:
    """Width and height of the rectangle that the piece is cut from."""
    x_min, y_min, x_max, y_max = piece.bounds
    return (x_max - x_min, y_max - y_min)


def grain_of(piece: Piece, sheets: Iterable[Sheet]) -> Grain:
    """How the grain runs in a piece as it is laid on its sheets; "" where it has none, where
    it lies both ways, or where the sheet is square and has no long side."""
    found: set[Grain] = set()
    for sheet in sheets:
        wide, high = sheet.size.width_mm, sheet.size.height_mm
        for placed in sheet.placed:
            if placed.piece != piece.name:
                continue
            if sheet.stock.grain == "none" or abs(wide - high) < 1.0:
                return ""
            down = (sheet.stock.grain == "long") == (high > wide)
            turned = round(placed.turn_deg / 90.0) % 2 == 1
            found.add("down" if down != turned else "across")
    return found.pop() if len(found) == 1 else ""


def turned_grain(grain: Grain, turn_deg: float) -> Grain:
    """The same where the piece lies turned."""
    if not grain or round(turn_deg / 90.0) % 2 == 0:
        return grain
    return "across" if grain == "down" else "down"
