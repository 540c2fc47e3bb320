"""Reads a sheet's SVG with svgelements, at 96 units to the inch or what it is made for."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator

from svgelements import SVG, Arc, Close, Group, Line, Move, Shape, SVGElement
from svgelements import Path as SvgPath

from publisher.readback.found import FoundPath, FoundSheet, joined

_MM = re.compile(r"([0-9.]+)mm")
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_PAIR = rf"\s*{_NUMBER}(?:\s*,\s*|\s+|(?=[-+])){_NUMBER}\s*"
_DATA = re.compile(
    rf"(?:\s*[ML]{_PAIR}|\s*[HV]\s*{_NUMBER}\s*"
    rf"|\s*A{_PAIR}[\s,]\s*{_NUMBER}[\s,]+[01][\s,]+[01][\s,]+{_PAIR}|\s*Z\s*)+"
)
"""Path data of lines and arcs, all of it (SVG 2, 9.3.9)."""


def read_svg(data: bytes, units_per_inch: float = 96.0) -> FoundSheet:
    """Raises whatever the parser raises on bytes that are no SVG."""
    tree = SVG.parse(io.BytesIO(data), ppi=units_per_inch, reify=True)
    unit_mm = 25.4 / units_per_inch
    sizes: list[tuple[str, float, float]] = []
    faults: list[str] = []
    stated = [_MM.fullmatch(str(tree.values["attributes"].get(k, ""))) for k in ("width", "height")]
    if stated[0] and stated[1]:
        sizes.append(("width and height", float(stated[0].group(1)), float(stated[1].group(1))))
    else:
        faults.append("width and height are not in mm")
    box = [float(v) for v in str(tree.values["attributes"].get("viewBox", "")).split()]
    if len(box) == 4 and box[:2] == [0.0, 0.0]:
        sizes.append(("the viewBox", box[2] * unit_mm, box[3] * unit_mm))
    else:
        faults.append("the viewBox does not start at 0 0")
    paths: list[FoundPath] = []
    for ids, element in _elements(tree, ()):
        if "transform" in element.values.get("attributes", {}):
            faults.append(f"a transform is left in {'/'.join(ids) or 'the drawing'}")
        if isinstance(element, SvgPath):
            # The parser passes over what it does not understand, and so would a machine.
            if not _DATA.fullmatch(str(element.values["attributes"].get("d", ""))):
                faults.append(f"the data of a path of {'/'.join(ids)} cannot be read to the end")
            paths.append(_path(ids, element, unit_mm))
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


def _path(ids: tuple[str, ...], path: SvgPath, unit_mm: float) -> FoundPath:
    copy, role = (*ids, "", "")[:2]
    # "drawer-1-cut" under "drawer-1" is the role "cut".
    role = role[len(copy) + 1 :] if role.startswith(f"{copy}-") else role
    parts = [p for p in path if isinstance(p, Line | Arc | Close) and p.length() > 0.0]
    lengths = [p.length() * unit_mm for p in parts]
    points = [p.point(share) for p in parts for share in (0.0, 0.5, 1.0)]
    box = joined([p.bbox() for p in parts]) if parts else (0.0, 0.0, 0.0, 0.0)
    return FoundPath(
        copy=copy,
        role=role,
        closed=any(isinstance(p, Close) for p in path) and _is_one(path),
        length_mm=sum(lengths),
        curved_mm=sum(mm for mm, p in zip(lengths, parts, strict=True) if isinstance(p, Arc)),
        bounds=(box[0] * unit_mm, box[1] * unit_mm, box[2] * unit_mm, box[3] * unit_mm),
        points=tuple((p.x * unit_mm, p.y * unit_mm) for p in points),
        shortest_mm=min(lengths, default=math.inf),
    )


def _is_one(path: SvgPath) -> bool:
    return sum(isinstance(p, Move) for p in path) == 1
