"""What the files of a sheet must hold, from the model and the placing alone."""

from __future__ import annotations

from msgspec import Struct

from publisher.geometry.canonical import canonical_path
from publisher.geometry.measure import Bounds, path_bounds
from publisher.geometry.path import Arc, Line, Path, Point
from publisher.layout import Placed, Sheet
from publisher.model.types import Pattern, Piece

CLOSE_MM = 0.05
"""No two nodes of a written line are closer."""
CHORDS = 5
"""So many short lines one after another may have been written as an arc."""
CHORD_MM = 4.0


class WantedPath(Struct, frozen=True):
    """One line of a copy, in mm from the sheet's top left. ``rough`` where the model has nodes
    too close to be written, or a curve as many short lines that may be written as arcs."""

    role: str
    path: Path
    bounds: Bounds
    length_mm: float
    curved_mm: float
    rough: bool = False


class WantedCopy(Struct, frozen=True):
    """One copy: its id, where its box must lie, and its lines."""

    id: str
    piece: Piece
    bounds: Bounds
    paths: tuple[WantedPath, ...]


def wanted_copies(pattern: Pattern, sheet: Sheet, glue: bool = False) -> tuple[WantedCopy, ...]:
    """What is wanted of each copy, in the order of their placing; each outline is the last."""
    return tuple(_copy(pattern.piece(p.piece), p, glue) for p in sheet.placed)


def _copy(piece: Piece, placed: Placed, glue: bool) -> WantedCopy:
    x_min, y_min, x_max, y_max = piece.bounds
    width, height = x_max - x_min, y_max - y_min
    if placed.turn_deg % 180.0:
        width, height = height, width
    lines = [(f"score-{s.bend}", s.path) for s in piece.scores]
    lines += [
        ("engrave" if m.kind == "engrave" else "draw", p) for m in piece.marks for p in m.paths
    ]
    lines += [("perforation", o.path) for o in piece.openings if o.kind == "perforation"]
    lines += [("cut", o.path) for o in piece.openings if o.kind == "slit"]
    if glue:
        zones = [zone.region for zone in piece.glue_zones]
        lines += [("glue", ring) for zone in zones for ring in (zone.outer, *zone.holes)]
    lines += [*(("cut", hole) for hole in piece.outline.holes), ("cut", piece.outline.outer)]
    return WantedCopy(
        id=f"{'-'.join(placed.piece.split())}-{placed.copy}",
        piece=piece,
        bounds=(placed.x_mm, placed.y_mm, placed.x_mm + width, placed.y_mm + height),
        paths=tuple(_wanted(role, _laid(path, piece, placed)) for role, path in lines),
    )


def _wanted(role: str, path: Path) -> WantedPath:
    curved = sum(s.length_mm for s in path.segments if isinstance(s, Arc))
    return WantedPath(role, path, path_bounds(path), path.length_mm, curved, _is_rough(path))


def _is_rough(path: Path) -> bool:
    run = 0
    for segment in path.segments:
        if segment.length_mm < CLOSE_MM:
            return True
        run = 0 if isinstance(segment, Arc) or segment.length_mm > CHORD_MM else run + 1
        if run >= CHORDS:
            return True
    return False


def single_segments(wanted: WantedPath) -> tuple[WantedPath, ...]:
    """The line as lines of one segment each, for formats that know no paths. Runs that a
    writer joins are joined, whole circles are two halves from the leftmost point."""
    path = canonical_path(wanted.path)
    return tuple(_wanted(wanted.role, Path((s,), False)) for s in path.segments)


def _laid(path: Path, piece: Piece, placed: Placed) -> Path:
    def laid(point: Point) -> Point:
        return _laid_point(point, piece, placed)

    return Path(
        tuple(
            Arc(laid(s.start), laid(s.end), laid(s.centre), s.clockwise)
            if isinstance(s, Arc)
            else Line(laid(s.start), laid(s.end))
            for s in path.segments
        ),
        path.closed,
    )


def _laid_point(point: Point, piece: Piece, placed: Placed) -> Point:
    """Quarter turns by hand: which corner of the piece's box comes to the top left."""
    x_min, y_min, x_max, y_max = piece.bounds
    quarter = round(placed.turn_deg / 90.0) % 4
    if abs(placed.turn_deg - 90.0 * round(placed.turn_deg / 90.0)) > 1e-9:
        raise ValueError(f"{placed.turn_deg} is no quarter turn")
    x, y = point[0] - x_min, point[1] - y_min
    width, height = x_max - x_min, y_max - y_min
    across, down = ((x, y), (height - y, x), (width - x, height - y), (y, width - x))[quarter]
    return (placed.x_mm + across, placed.y_mm + down)
