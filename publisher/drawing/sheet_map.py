"""Which piece lies where on a sheet of paper, for the booklet."""

from __future__ import annotations

import shapely

from publisher.drawing.flat.blocks import SIZE_PT, Block
from publisher.drawing.flat.board import Board
from publisher.drawing.flat.leaders import Led, lead
from publisher.drawing.flat.naming import place_name
from publisher.drawing.flat.scaling import DENOMINATORS, Scale
from publisher.drawing.flat.scene import moved, points_box, span_path
from publisher.drawing.signs import in_legend_order
from publisher.drawing.text import cap_height_mm, label_corners
from publisher.drawing.types import Drawing, Fill, Item, Label, LineRole, Stroke
from publisher.geometry.measure import bounds_of
from publisher.geometry.path import Path, circle, polygon
from publisher.geometry.shapely_bridge import path_to_shapely, to_shapely
from publisher.layout import Placed, Sheet, on_sheet, placed_bounds
from publisher.model.types import Pattern, Piece
from publisher.units import FirstUnit, both, both_sizes

ROOM_MM = (76.0, 76.0)
"""The largest sheet on paper, its caption not counted."""

PAD_MM = 6.0
_LEADING_MM = 3.6


def copy_name(piece: Piece, placed: Placed) -> str:
    """What a copy is called on the map: by number where there are several."""
    return f"{piece.name} {placed.copy}" if piece.copies > 1 else piece.name


def draw_sheet(pattern: Pattern, sheet: Sheet) -> Drawing:
    """The sheet with its pieces, front faces up, to the largest scale that fits ``ROOM_MM``.

    Pieces are named inside, or beside the sheet with a leader where they are too small.
    """
    width, height = sheet.size.width_mm, sheet.size.height_mm
    denominator = next(
        (d for d in DENOMINATORS if width / d <= ROOM_MM[0] and height / d <= ROOM_MM[1]),
        DENOMINATORS[-1],
    )
    scale = Scale(denominator)
    ring = polygon(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)))
    copies = [(pattern.piece(p.piece), p) for p in sheet.placed]
    shapes = [(piece, placed, on_sheet(piece.outline, piece, placed)) for piece, placed in copies]
    stock = sheet.stock.name
    items: list[Item] = [Stroke("inner", (scale.path(ring),), id="sheet")]
    signs = {"front"}
    for piece, placed, region in shapes:
        stem = f"{piece.name}-{placed.copy}"
        rings = tuple(scale.path(p) for p in (region.outer, *region.holes))
        items.append(Fill("front", rings, stock, id=stem))
        for score in piece.scores:
            line = scale.path(on_sheet(score.path, piece, placed))
            items.append(Stroke(score.bend, (line,), id=f"{stem}-score-{score.name}"))
            signs.add(score.bend)
        for role, path in _other_lines(piece):
            line = scale.path(on_sheet(path, piece, placed))
            items.append(Stroke(role, (line,), id=f"{stem}-{role}"))
            signs.add(role)
        items.append(Stroke("outline", rings, id=f"{stem}-outline"))

    sheet_area = path_to_shapely(scale.path(ring))
    outlines = [i.paths for i in items if isinstance(i, Stroke)]
    drawn = shapely.union_all([path_to_shapely(p) for paths in outlines for p in paths])
    covered = shapely.Polygon(sheet_area.coords)
    board = Board(covered, covered, drawn)
    for piece, placed, region in shapes:
        items += _name(board, scale, piece, placed, to_shapely(region))

    box = bounds_of([(0.0, 0.0, *scale.point((width, height))), *board.labels])
    items += _caption(pattern, sheet, scale, box[0], box[3])
    labels = [points_box(label_corners(i)) for i in items if isinstance(i, Label)]
    whole = bounds_of([box, *labels])
    return Drawing(
        name=f"sheet-{sheet.name}",
        width_mm=whole[2] - whole[0] + 2 * PAD_MM,
        height_mm=whole[3] - whole[1] + 2 * PAD_MM,
        items=tuple(moved(i, PAD_MM - whole[0], PAD_MM - whole[1]) for i in items),
        scale=scale.factor,
        signs=in_legend_order(signs),
        alt=_alt(pattern, sheet),
    )


def _name(
    board: Board, scale: Scale, piece: Piece, placed: Placed, region: shapely.Polygon
) -> list[Item]:
    k = scale.factor
    area = shapely.affinity.affine_transform(region, [k, 0.0, 0.0, k, 0.0, 0.0])
    name = copy_name(piece, placed)
    stem = f"name-{piece.name}-{placed.copy}"
    label = place_name(board, area, name, stem)
    if label is not None:
        return [label]
    middle = area.representative_point()
    at = (middle.x, middle.y)
    ways = [(at, d) for d in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))]
    led = lead(board, ways, (Block((name,), "name"),))
    return [] if led is None else _led_items(led, stem)


def _led_items(led: Led, stem: str) -> list[Item]:
    path: Path = span_path(led.leader)
    return [
        Stroke("leader", (path,), id=f"{stem}-leader"),
        Fill("sign", (circle(led.leader[0], 0.45),), id=f"{stem}-foot"),
        *led.block.labels(led.centre, stem),
    ]


def _size(sheet: Sheet, first: FirstUnit) -> str:
    size = (sheet.size.width_mm, sheet.size.height_mm)
    return both_sizes(size, kind="standard", first=first)


def _kind(sheet: Sheet, first: FirstUnit) -> str:
    """Stock, sheet and size; a sheet that is called by its size is told once."""
    named = not sheet.size.title[:1].isdigit()
    titles = [sheet.stock.title, *([sheet.size.title] if named else [])]
    return ", ".join([*titles, _size(sheet, first)])


def grain_said(sheet: Sheet) -> str:
    """How the grain runs; a square sheet has no long side, so it is said as it is drawn."""
    side = sheet.stock.grain
    if side == "none":
        return ""
    if abs(sheet.size.width_mm - sheet.size.height_mm) < 1.0:
        return f"grain from {'top to bottom' if side == 'long' else 'left to right'}"
    return f"grain along the {side} side"


def _caption(
    pattern: Pattern, sheet: Sheet, scale: Scale, left: float, bottom: float
) -> list[Label]:
    first = pattern.meta.first_unit
    lines = [_kind(sheet, first)]
    lines.append(", ".join(w for w in (f"front face, {scale.spoken}", grain_said(sheet)) if w))
    top = bottom + 3.0 + cap_height_mm(SIZE_PT)
    return [
        Label(text, (left, top + _LEADING_MM * n), SIZE_PT, "start", id=f"caption-{n + 1}")
        for n, text in enumerate(lines)
    ]


def _alt(pattern: Pattern, sheet: Sheet) -> str:
    first = pattern.meta.first_unit
    places = []
    for placed in sheet.placed:
        piece = pattern.piece(placed.piece)
        box = placed_bounds(piece, placed)
        turned = f", turned by {placed.turn_deg:g}°" if placed.turn_deg else ""
        places.append(
            f"{copy_name(piece, placed)}: {both(box[0], first=first)} from the left and "
            f"{both(box[1], first=first)} from the top{turned}"
        )
    grain = grain_said(sheet)
    parts = [
        f"Sheet {sheet.name} with its pieces, front faces up",
        _kind(sheet, first),
        *([grain.capitalize()] if grain else []),
        "; ".join(places),
    ]
    return ". ".join(parts) + "."


def _other_lines(piece: Piece) -> list[tuple[LineRole, Path]]:
    """Slits, lines to tear along, and what is drawn or engraved."""
    found: list[tuple[LineRole, Path]] = [
        ("engrave", path) for mark in piece.marks for path in mark.paths
    ]
    for opening in piece.openings:
        if opening.kind == "perforation":
            found.append(("perforation", opening.path))
        elif opening.kind == "slit":
            found.append(("slit", opening.path))
    return found
