"""One piece on its page: lines by role, glue zones, words, the grain arrow."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.cutfiles.clean import cleaned
from publisher.cutfiles.roles import (
    CUT,
    DRAW,
    ENGRAVE,
    GLUE,
    PERFORATION,
    SCORE_MOUNTAIN,
    SCORE_VALLEY,
    Role,
)
from publisher.drawing.hatch import hatch_lines
from publisher.geometry.measure import Bounds
from publisher.geometry.path import Line, Path, Point, polygon
from publisher.layout import Placed, on_sheet
from publisher.model.types import Face, Piece
from publisher.templates.canvas import Canvas
from publisher.templates.faces import Line as Words
from publisher.templates.spots import find_spot, without
from publisher.templates.words import BELOW, CAPITALS, LEADING, Grain, Label, block_mm
from publisher.units import MM_PER_POINT

CUT_MM = 0.35
SCORE_MM = 0.25
HATCH_MM = 0.13
HATCH_GREY = 0.45
HATCH_STEP_MM = {"front": 1.6, "back": 2.4}
HATCH_DASH_MM = {"front": (), "back": (1.2, 0.9)}
ARROWS_MM = (40.0, 24.0, 14.0)
ARROW_WIDE_MM = 5.0


def draw_lines(canvas: Canvas, piece: Piece, placed: Placed) -> None:
    """All lines of a piece in the order of work, each under its layer and the copy's id."""
    for zone in piece.glue_zones:
        region = on_sheet(zone.region, piece, placed)
        draw_hatch(canvas, (region.outer, *region.holes), zone.face)
    groups: dict[Role, list[Path]] = {}
    for zone in piece.glue_zones:
        groups.setdefault(GLUE, []).extend((zone.region.outer, *zone.region.holes))
    for score in piece.scores:
        role = SCORE_VALLEY if score.bend == "valley" else SCORE_MOUNTAIN
        groups.setdefault(role, []).append(score.path)
    for mark in piece.marks:
        role = ENGRAVE if mark.kind == "engrave" else DRAW
        groups.setdefault(role, []).extend(mark.paths)
    for opening in piece.openings:
        if opening.kind == "perforation":
            groups.setdefault(PERFORATION, []).append(opening.path)
    slits = [o.path for o in piece.openings if o.kind == "slit"]
    groups[CUT] = [*slits, *piece.outline.holes, piece.outline.outer]
    with canvas.marked("Piece", placed.id):
        for role, paths in groups.items():
            with canvas.layer(role.layer):
                draw_role(canvas, role, [on_sheet(path, piece, placed) for path in paths])


def draw_outline(canvas: Canvas, piece: Piece, placed: Placed) -> None:
    """The cuts alone, the outline last."""
    slits = [o.path for o in piece.openings if o.kind == "slit"]
    paths = [*slits, *piece.outline.holes, piece.outline.outer]
    with canvas.marked("Piece", placed.id), canvas.layer(CUT.layer):
        draw_role(canvas, CUT, [on_sheet(path, piece, placed) for path in paths])


def draw_role(canvas: Canvas, role: Role, paths: list[Path]) -> None:
    """Lines as their role is drawn on every page, in black."""
    if role is GLUE:
        canvas.stroke(paths, 0.3, (0.0, 1.1), grey=0.2, round_ends=True)
    else:
        lines = [cleaned(path) for path in paths]
        canvas.stroke(lines, CUT_MM if role is CUT else SCORE_MM, role.dash_mm)


def draw_hatch(canvas: Canvas, rings: tuple[Path, ...], face: Face) -> None:
    """A glue zone: whole lines on the face that is seen, broken ones through from behind."""
    turn = 45.0 if face == "front" else -45.0
    lines = hatch_lines(rings, HATCH_STEP_MM[face], turn)
    canvas.stroke([Path((line,), False) for line in lines], HATCH_MM, HATCH_DASH_MM[face], 0.45)


def draw_label(canvas: Canvas, label: Label) -> None:
    """The words in their box."""
    x0, y0, x1, y1 = label.box
    width, height = block_mm(label.lines)
    spare = ((y1 - y0) - width if label.turned else (x1 - x0) - width) / 2
    down = CAPITALS * label.lines[0].size_pt * MM_PER_POINT
    for line in label.lines:
        if line is not label.lines[0]:
            down += LEADING * line.size_pt * MM_PER_POINT
        with canvas.tagged("P"):
            if label.turned:
                canvas.line(line, (x0 + down, y1 - spare), turn_deg=-90.0)
            else:
                canvas.line(line, (x0 + spare, y0 + down))
    del height


def draw_lines_of_words(
    canvas: Canvas,
    lines: list[Words],
    at: Point,
    grey: float = 0.0,
    kind: str = "P",
    attributes: str = "",
) -> float:
    """Lines one below the other from a top left corner, as one element; gives where they
    end."""
    down = at[1]
    with canvas.tagged(kind, attributes=attributes):
        for index, line in enumerate(lines):
            size = line.size_pt * MM_PER_POINT
            down += (CAPITALS if index == 0 else LEADING) * size
            canvas.line(line, (at[0], down), grey=grey)
    return down + BELOW * lines[-1].size_pt * MM_PER_POINT if lines else down


def place_grain(room: BaseGeometry, grain: Grain) -> Bounds | None:
    """Where the arrow goes: as long as it fits."""
    for length in ARROWS_MM:
        size = (ARROW_WIDE_MM, length) if grain == "down" else (length, ARROW_WIDE_MM)
        box = find_spot(room, *size)
        if box is not None:
            return box
    return None


def draw_grain(canvas: Canvas, box: Bounds, grain: Grain, word: bool = True) -> None:
    """An arrow with a head at both ends, along the grain, its word beside it."""
    x0, y0, x1, y1 = box
    if grain == "down":
        middle = x0 + 1.3
        ends = ((middle, y0), (middle, y1))
    else:
        middle = y1 - 1.3
        ends = ((x0, middle), (x1, middle))
    alt = "Arrow: the grain runs " + ("up and down" if grain == "down" else "from side to side")
    with canvas.tagged("Figure", alt, box):
        canvas.stroke([Path((Line(*ends),), False)], 0.2)
        canvas.fill([_head(ends[0], ends[1]), _head(ends[1], ends[0])])
    if word and (y1 - y0 if grain == "down" else x1 - x0) >= ARROWS_MM[1]:
        with canvas.tagged("P"):
            if grain == "down":
                at = (middle + 3.2, (y0 + y1) / 2)
                canvas.words("grain", at, size_pt=8.0, anchor="middle", turn_deg=-90.0)
            else:
                at = ((x0 + x1) / 2, middle - 1.2)
                canvas.words("grain", at, size_pt=8.0, anchor="middle")


def _head(tip: Point, away: Point) -> Path:
    length, half = 2.6, 0.75
    dx, dy = away[0] - tip[0], away[1] - tip[1]
    size = (dx * dx + dy * dy) ** 0.5
    ux, uy = dx / size, dy / size
    foot = (tip[0] + ux * length, tip[1] + uy * length)
    return polygon(
        [
            tip,
            (foot[0] - uy * half, foot[1] + ux * half),
            (foot[0] + uy * half, foot[1] - ux * half),
        ]
    )


def within(room: BaseGeometry, clip: Bounds | None, taken: list[Bounds]) -> BaseGeometry:
    """What is left of a room on a tile, and beside what stands there."""
    if clip is not None:
        room = room.intersection(shapely.box(*clip))
    for box in taken:
        room = without(room, box)
    return room
