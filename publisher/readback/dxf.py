"""Reads a sheet's DXF, R2010 with polylines and R12 with lines and arcs."""

from __future__ import annotations

import math

from msgspec import Struct

from publisher.geometry.measure import Bounds
from publisher.geometry.path import Point
from publisher.readback.dxf_tags import DxfFile, Record, audit, read_tags
from publisher.readback.found import FoundPath, FoundSheet, joined

MILLIMETRES = 4
METRIC = 1
R2010, R12 = "AC1024", "AC1009"


class _Part(Struct, frozen=True):
    """A stretch with y up: its length, whether it is an arc, its box, its ends and middle."""

    length: float
    arc: bool
    box: Bounds
    marks: tuple[Point, ...]


def read_dxf(data: bytes) -> FoundSheet:
    """R2010. Raises ValueError, or what Python raises, on bytes that are no DXF."""
    file = read_tags(data)
    faults = [*_version(file, R2010), *audit(file)]
    for name, wanted in (("$INSUNITS", MILLIMETRES), ("$MEASUREMENT", METRIC)):
        if file.variable(name) != (wanted,):
            faults.append(f"{name} is {file.variable(name)}, not {wanted}")
    sizes = [_extents(file)]
    for layout in file.records("OBJECTS", "LAYOUT"):
        if "Model" in layout.every(1):
            width = layout.number(15) - layout.number(14)
            height = layout.number(25) - layout.number(24)
            sizes.append(("the extents of the model's layout", width, height))
    owner = {handle: name for name, group in _groups(file).items() for handle in group.every(340)}
    height = sizes[0][2]
    paths: list[FoundPath] = []
    layers = _layers(file)
    for entity in file.sections.get("ENTITIES", ()):
        if entity.first(8) not in layers:
            faults.append(f"there is no layer {entity.first(8)}")
        if entity.kind == "LWPOLYLINE":
            paths.append(_polyline(entity, owner.get(entity.first(5), ""), height))
        else:
            faults.append(f"a {entity.kind} stands among the polylines")
    return FoundSheet(tuple(sizes), tuple(paths), tuple(faults))


def read_dxf_r12(data: bytes) -> FoundSheet:
    """R12. Raises as ``read_dxf`` does."""
    file = read_tags(data)
    faults = _version(file, R12)
    size = _extents(file)
    layers = _layers(file)
    paths: list[FoundPath] = []
    for entity in file.sections.get("ENTITIES", ()):
        if entity.first(8) not in layers:
            faults.append(f"there is no layer {entity.first(8)}")
        if entity.kind == "LINE":
            ends = [(entity.number(10 + i), entity.number(20 + i)) for i in (0, 1)]
            part = _line(ends[0], ends[1])
        elif entity.kind == "ARC":
            centre = (entity.number(10), entity.number(20))
            turn = (entity.number(51) - entity.number(50)) % 360.0
            part = _arc(centre, entity.number(40), entity.number(50), turn)
        else:
            faults.append(f"a {entity.kind} stands among the lines and arcs")
            continue
        paths.append(_found([part], "", entity.first(8), False, size[2]))
    return FoundSheet((size,), tuple(paths), tuple(faults), loose=True)


def _version(file: DxfFile, wanted: str) -> list[str]:
    version = "".join(value for _, value in file.header.get("$ACADVER", ()))
    return [] if version == wanted else [f"the version is {version or 'not said'}, not {wanted}"]


def _extents(file: DxfFile) -> tuple[str, float, float]:
    low, high = file.variable("$EXTMIN"), file.variable("$EXTMAX")
    return ("the extents", high[0] - low[0], high[1] - low[1])


def _layers(file: DxfFile) -> set[str]:
    """The layers, as far as their line types are there too."""
    line_types = {r.first(2).upper() for r in file.records("TABLES", "LTYPE")}
    return {
        layer.first(2)
        for layer in file.records("TABLES", "LAYER")
        if layer.first(6).upper() in line_types
    }


def _groups(file: DxfFile) -> dict[str, Record]:
    """Groups by the names that their dictionary gives them."""
    named: dict[str, str] = {}
    for dictionary in file.records("OBJECTS", "DICTIONARY"):
        named |= dict(zip(dictionary.every(350), dictionary.every(3), strict=False))
    return {named.get(g.first(5), ""): g for g in file.records("OBJECTS", "GROUP")}


def _polyline(entity: Record, copy: str, height: float) -> FoundPath:
    corners: list[list[float]] = []
    for code, value in entity.tags:
        if code == 10:
            corners.append([float(value), 0.0, 0.0])
        elif code in (20, 42) and corners:
            corners[-1][1 if code == 20 else 2] = float(value)
    if len(corners) != int(entity.number(90)):
        raise ValueError(f"a polyline says {entity.first(90)} corners and has {len(corners)}")
    closed = bool(int(entity.number(70)) & 1)
    nexts = [*corners[1:], corners[0]] if closed else corners[1:]
    parts = []
    for (x1, y1, bulge), (x2, y2, _) in zip(corners, nexts, strict=False):
        part = _bulged((x1, y1), (x2, y2), bulge) if bulge else _line((x1, y1), (x2, y2))
        if part.length > 0.0:
            parts.append(part)
    return _found(parts, copy, entity.first(8), closed, height)


def _found(parts: list[_Part], copy: str, role: str, closed: bool, height: float) -> FoundPath:
    boxes = [(p.box[0], height - p.box[3], p.box[2], height - p.box[1]) for p in parts]
    return FoundPath(
        copy=copy,
        role=role,
        closed=closed,
        length_mm=sum(p.length for p in parts),
        curved_mm=sum(p.length for p in parts if p.arc),
        bounds=joined(boxes) if boxes else (0.0, 0.0, 0.0, 0.0),
        points=tuple((x, height - y) for p in parts for x, y in p.marks),
        shortest_mm=min((p.length for p in parts), default=math.inf),
    )


def _line(start: Point, end: Point) -> _Part:
    (x1, y1), (x2, y2) = start, end
    box = (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
    return _Part(math.dist(start, end), False, box, (start, ((x1 + x2) / 2, (y1 + y2) / 2), end))


def _bulged(start: Point, end: Point, bulge: float) -> _Part:
    """An arc by its ends and its bulge, the tangent of a quarter of its angle."""
    angle = 4.0 * math.atan(bulge)
    chord = math.dist(start, end)
    (x1, y1), (x2, y2) = start, end
    # The centre lies off the chord's middle, to the left of it for a small positive angle.
    off = (1.0 - bulge * bulge) / (4.0 * bulge)
    centre = ((x1 + x2) / 2 - (y2 - y1) * off, (y1 + y2) / 2 + (x2 - x1) * off)
    radius = chord * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
    first = math.degrees(math.atan2(y1 - centre[1], x1 - centre[0]))
    part = _arc(centre, radius, first, math.degrees(angle))
    return _Part(part.length, True, part.box, (start, part.marks[1], end))


def _arc(centre: Point, radius: float, first_deg: float, turn_deg: float) -> _Part:
    """An arc from an angle on, counter-clockwise for a positive turn."""

    def point(angle_deg: float) -> Point:
        angle = math.radians(angle_deg)
        return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))

    marks = [point(first_deg + turn_deg * share) for share in (0.0, 0.5, 1.0)]
    low, high = sorted((first_deg, first_deg + turn_deg))
    quarters = range(math.ceil(low / 90.0), math.floor(high / 90.0) + 1)
    reached = [*marks, *(point(90.0 * quarter) for quarter in quarters)]
    xs, ys = [p[0] for p in reached], [p[1] for p in reached]
    return _Part(
        length=radius * math.radians(abs(turn_deg)),
        arc=True,
        box=(min(xs), min(ys), max(xs), max(ys)),
        marks=tuple(marks),
    )
