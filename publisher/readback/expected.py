"""What the files of a sheet must hold, from the model and the placing alone."""

from __future__ import annotations

from dataclasses import dataclass

from publisher.geometry.measure import Bounds, path_bounds
from publisher.geometry.path import Arc, Line, Path, Point
from publisher.layout import Placed, Sheet
from publisher.model.types import Pattern, Piece


@dataclass(frozen=True, slots=True)
class WantedPath:
    """One line of a copy, in mm from the sheet's top left."""

    role: str
    path: Path
    bounds: Bounds
    length_mm: float
    curved_mm: float


@dataclass(frozen=True, slots=True)
class WantedCopy:
    """One copy: its id, where its box must lie, and its lines."""

    id: str
    piece: Piece
    bounds: Bounds
    paths: tuple[WantedPath, ...]


def wanted_copies(pattern: Pattern, sheet: Sheet) -> tuple[WantedCopy, ...]:
    return tuple(_copy(pattern.piece(p.piece), p) for p in sheet.placed)


def _copy(piece: Piece, placed: Placed) -> WantedCopy:
    x_min, y_min, x_max, y_max = piece.bounds
    width, height = x_max - x_min, y_max - y_min
    if placed.turn_deg % 180.0:
        width, height = height, width
    lines = [("cut", piece.outline.outer), *(("cut", hole) for hole in piece.outline.holes)]
    lines += [("cut", o.path) for o in piece.openings if o.kind == "slit"]
    lines += [(f"score-{s.bend}", s.path) for s in piece.scores]
    return WantedCopy(
        id=f"{'-'.join(placed.piece.split())}-{placed.copy}",
        piece=piece,
        bounds=(placed.x_mm, placed.y_mm, placed.x_mm + width, placed.y_mm + height),
        paths=tuple(_wanted(role, _laid(path, piece, placed)) for role, path in lines),
    )


def _wanted(role: str, path: Path) -> WantedPath:
    curved = sum(s.length_mm for s in path.segments if isinstance(s, Arc))
    return WantedPath(role, path, path_bounds(path), path.length_mm, curved)


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
