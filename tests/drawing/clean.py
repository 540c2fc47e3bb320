"""What a flat drawing must never do, looked for without the code that lays it out."""

from __future__ import annotations

from itertools import combinations

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from publisher.drawing.text import label_corners
from publisher.drawing.types import Drawing, Fill, Label, Stroke
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path

MARKS = ("dimension", "extension", "leader")


def line_of(path: Path) -> shapely.LineString:
    points = flattened(path)
    return shapely.LineString([*points, points[0]] if path.closed else points)


def area_of(fill: Fill) -> BaseGeometry:
    area: BaseGeometry = shapely.Polygon()
    for ring in fill.rings:
        area = area.symmetric_difference(shapely.Polygon(flattened(ring)).buffer(0))
    return area


def rooms(drawing: Drawing) -> list[tuple[Label, shapely.Polygon]]:
    labels = [item for item in drawing.items if isinstance(item, Label)]
    return [(label, shapely.Polygon(label_corners(label))) for label in labels]


def strokes(drawing: Drawing, *roles: str) -> list[tuple[str, shapely.LineString]]:
    return [
        (item.role, line_of(path))
        for item in drawing.items
        if isinstance(item, Stroke) and (not roles or item.role in roles)
        for path in item.paths
    ]


def shortened(line: shapely.LineString, by_mm: float = 0.25) -> BaseGeometry:
    if line.length <= 2 * by_mm:
        return line.interpolate(0.5, normalized=True)
    return substring(line, by_mm, line.length - by_mm)


def faults(drawing: Drawing) -> list[str]:
    """Everything that overlaps, crosses, or leaves the picture."""
    found: list[str] = []
    page = shapely.box(0, 0, drawing.width_mm, drawing.height_mm)
    labels = rooms(drawing)
    for label, room in labels:
        if not page.buffer(-5.9).contains(room):
            found.append(f"{label.text!r} has no white space round it")
        if not -90.0 <= label.turn_deg < 90.0:
            found.append(f"{label.text!r} stands on its head")
        if label.size_pt < 8.0:
            found.append(f"{label.text!r} is set too small")
    for (a, room_a), (b, room_b) in combinations(labels, 2):
        if room_a.distance(room_b) < 0.1:
            found.append(f"{a.text!r} and {b.text!r} overlap")
    lines = strokes(drawing)
    grown = [(label, room.buffer(0.1)) for label, room in labels]
    for role, line in lines:
        if not page.contains(line):
            found.append(f"a line ({role}) leaves the picture")
        for label, room in grown:
            if room.intersects(line):
                found.append(f"{label.text!r} lies on a line ({role})")
    for item in drawing.items:
        if isinstance(item, Fill) and item.role in ("glue", "glue-through", "pattern"):
            area = area_of(item)
            for label, room in labels:
                if area.intersection(room).area > 0.01:
                    found.append(f"{label.text!r} lies on a hatch ({item.role})")
    return found + _crossings(lines)


def _crossings(lines: list[tuple[str, shapely.LineString]]) -> list[str]:
    """Lines of measures that cross each other or a line of the piece.

    A dimension line may end on a line, and it may begin on the one that it starts from and run
    on over the edge of a hatch.
    """
    found: list[str] = []
    ticks = [(r, ln) for r, ln in lines if r == "dimension" and _is_tick(ln)]
    rest = [(r, ln) for r, ln in lines if not (r == "dimension" and _is_tick(ln))]
    short = {id(line): shortened(line) for _, line in rest}
    for (role_a, a), (role_b, b) in combinations(rest, 2):
        if role_a not in MARKS and role_b not in MARKS:
            continue
        if {role_a, role_b} & {"glue-border", "hidden"} and "dimension" in (role_a, role_b):
            continue
        if role_a == role_b == "extension" and _parallel(a, b):
            continue
        if "leader" in (role_a, role_b) and not {role_a, role_b} & set(MARKS[:2]):
            continue  # words that have no room in a small panel are led out over its edge
        if short[id(a)].intersects(short[id(b)]):
            found.append(f"a line ({role_a}) crosses another ({role_b})")
    assert ticks or not [r for r, _ in rest if r == "dimension"]
    return found


def _is_tick(line: shapely.LineString) -> bool:
    (x1, y1), (x2, y2) = line.coords[0], line.coords[-1]
    return abs(abs(x1 - x2) - abs(y1 - y2)) < 1e-9 and abs(x1 - x2) > 0


def _parallel(a: shapely.LineString, b: shapely.LineString) -> bool:
    (ax1, ay1), (ax2, ay2) = a.coords
    (bx1, by1), (bx2, by2) = b.coords
    return abs((ax2 - ax1) * (by2 - by1) - (ay2 - ay1) * (bx2 - bx1)) < 1e-9
