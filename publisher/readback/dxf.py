"""Reads a sheet's DXF with ezdxf's loader, and has it audited."""

from __future__ import annotations

import io
import math

import ezdxf
from ezdxf.entities import DXFEntity, LWPolyline
from ezdxf.math import ConstructionArc

from publisher.geometry.measure import Bounds
from publisher.geometry.path import Point
from publisher.readback.found import FoundPath, FoundSheet, joined

MILLIMETRES = 4
METRIC = 1
R2010 = "AC1024"


def read_dxf(data: bytes) -> FoundSheet:
    """Raises whatever the loader raises on bytes that are no DXF."""
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    faults = [f"the audit says: {error.message}" for error in document.audit().errors]
    for name, wanted in (("$INSUNITS", MILLIMETRES), ("$MEASUREMENT", METRIC)):
        if document.header.get(name) != wanted:
            faults.append(f"{name} is {document.header.get(name)}, not {wanted}")
    if document.dxfversion != R2010:
        faults.append(f"the version is {document.dxfversion}, not {R2010}")
    space = document.modelspace()
    low, high = space.dxf.extmin, space.dxf.extmax
    height = float(high[1])
    owner = {entity.dxf.handle: name for name, group in document.groups for entity in group}
    layers = {layer.dxf.name for layer in document.layers}
    paths: list[FoundPath] = []
    for entity in space:
        if entity.dxf.layer not in layers:
            faults.append(f"there is no layer {entity.dxf.layer}")
        if isinstance(entity, LWPolyline):
            paths.append(_path(entity, owner.get(entity.dxf.handle, ""), height))
        else:
            faults.append(f"a {entity.dxftype()} stands among the polylines")
    size = ("the extents", float(high[0] - low[0]), float(high[1] - low[1]))
    return FoundSheet((size,), tuple(paths), tuple(faults))


def _path(line: LWPolyline, copy: str, height: float) -> FoundPath:
    length = curved = 0.0
    boxes: list[Bounds] = []
    points: list[Point] = []
    for part in line.virtual_entities():
        part_length, arc, box, marks = _measured(part)
        length += part_length
        curved += part_length if arc else 0.0
        boxes.append((box[0], height - box[3], box[2], height - box[1]))
        points += [(x, height - y) for x, y in marks]
    return FoundPath(
        copy=copy,
        role=str(line.dxf.layer),
        closed=bool(line.closed),
        length_mm=length,
        curved_mm=curved,
        bounds=joined(boxes) if boxes else (0.0, 0.0, 0.0, 0.0),
        points=tuple(points),
    )


def _measured(part: DXFEntity) -> tuple[float, bool, Bounds, list[Point]]:
    """Length, whether it is an arc, bounds, and the ends and middle; y up."""
    if part.dxftype() == "LINE":
        (x1, y1, _), (x2, y2, _) = part.dxf.start, part.dxf.end
        box = (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
        middle = ((x1 + x2) / 2, (y1 + y2) / 2)
        return math.dist((x1, y1), (x2, y2)), False, box, [(x1, y1), middle, (x2, y2)]
    arc = ConstructionArc(
        part.dxf.center, part.dxf.radius, part.dxf.start_angle, part.dxf.end_angle
    )
    low, high = arc.bounding_box.extmin, arc.bounding_box.extmax
    span = (arc.end_angle - arc.start_angle) % 360.0
    turns = [arc.start_angle + span * share for share in (0.0, 0.5, 1.0)]
    marks = [(p.x, p.y) for p in arc.vertices(turns)]
    return math.radians(span) * arc.radius, True, (low.x, low.y, high.x, high.y), marks
