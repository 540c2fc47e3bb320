"""Reads a sheet's SVG with svgelements, at 96 pixels to the inch."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator

from svgelements import SVG, Arc, Close, Group, Line, Move, Shape, SVGElement
from svgelements import Path as SvgPath

from publisher.readback.found import FoundPath, FoundSheet, joined

MM_PER_PX = 25.4 / 96.0
_MM = re.compile(r"([0-9.]+)mm")


def read_svg(data: bytes) -> FoundSheet:
    """Raises whatever the parser raises on bytes that are no SVG."""
    tree = SVG.parse(io.BytesIO(data), ppi=96.0, reify=True)
    sizes: list[tuple[str, float, float]] = []
    faults: list[str] = []
    stated = [_MM.fullmatch(str(tree.values["attributes"].get(k, ""))) for k in ("width", "height")]
    if stated[0] and stated[1]:
        sizes.append(("width and height", float(stated[0].group(1)), float(stated[1].group(1))))
    else:
        faults.append("width and height are not in mm")
    box = [float(v) for v in str(tree.values["attributes"].get("viewBox", "")).split()]
    if len(box) == 4 and box[:2] == [0.0, 0.0]:
        sizes.append(("the viewBox", box[2] * MM_PER_PX, box[3] * MM_PER_PX))
    else:
        faults.append("the viewBox does not start at 0 0")
    paths: list[FoundPath] = []
    for ids, element in _elements(tree, ()):
        if "transform" in element.values.get("attributes", {}):
            faults.append(f"a transform is left in {'/'.join(ids) or 'the drawing'}")
        if isinstance(element, SvgPath):
            paths.append(_path(ids, element))
        elif isinstance(element, Shape):
            faults.append(f"a {type(element).__name__.lower()} stands among the paths")
    return FoundSheet(tuple(sizes), tuple(paths), tuple(faults))


def _elements(group: Group, ids: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], SVGElement]]:
    """Every group and every element that is drawn, with the ids that it stands under."""
    for element in group:
        own = element.values.get("attributes", {}).get("id")
        inner = (*ids, own) if own and isinstance(element, Group) else ids
        yield inner, element
        if isinstance(element, Group):
            yield from _elements(element, inner)


def _path(ids: tuple[str, ...], path: SvgPath) -> FoundPath:
    copy, role = (*ids, "", "")[:2]
    # "drawer-1-cut" under "drawer-1" is the role "cut".
    role = role[len(copy) + 1 :] if role.startswith(f"{copy}-") else role
    parts = [p for p in path if isinstance(p, Line | Arc | Close) and p.length() > 0.0]
    curved = sum(p.length() for p in parts if isinstance(p, Arc))
    points = [p.point(share) for p in parts for share in (0.0, 0.5, 1.0)]
    return FoundPath(
        copy=copy,
        role=role,
        closed=any(isinstance(p, Close) for p in path) and _is_one(path),
        length_mm=sum(p.length() for p in parts) * MM_PER_PX,
        curved_mm=curved * MM_PER_PX,
        bounds=_bounds(parts),
        points=tuple((p.x * MM_PER_PX, p.y * MM_PER_PX) for p in points),
    )


def _is_one(path: SvgPath) -> bool:
    return sum(isinstance(p, Move) for p in path) == 1


def _bounds(parts: list[Line | Arc | Close]) -> tuple[float, float, float, float]:
    box = joined([p.bbox() for p in parts]) if parts else (0.0, 0.0, 0.0, 0.0)
    return (box[0] * MM_PER_PX, box[1] * MM_PER_PX, box[2] * MM_PER_PX, box[3] * MM_PER_PX)
