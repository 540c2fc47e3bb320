"""A sheet as DXF R2010 in millimetres: polylines with bulges, one layer for each role.

The y axis of DXF points up, so y is taken from the sheet's lower edge; a copy is a group of
its id. Dates, GUIDs and handles are fixed.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from contextlib import contextmanager

import ezdxf
from ezdxf import units
from ezdxf.document import Drawing

from publisher.cutfiles.lines import CopyLines, sheet_lines
from publisher.cutfiles.roles import ROLES
from publisher.geometry.path import Arc, Path
from publisher.layout import Sheet
from publisher.model.types import Pattern

BLACK = 7
"""The colour number that readers show as black on white or white on black."""
METRIC = 1
DECIMALS = 6

Vertex = tuple[float, float, float]
"""x, y, bulge of the segment that starts there."""


def sheet_dxf(pattern: Pattern, sheet: Sheet) -> bytes:
    """The sheet as a DXF file in UTF-8."""
    with _fixed_metadata():
        document = ezdxf.new("R2010", units=units.MM)
        _set_up(document, sheet)
        for copy in sheet_lines(pattern, sheet):
            _draw(document, copy, sheet.size.height_mm)
        stream = io.StringIO()
        document.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """The writer's own switch for the same bytes every time: fixed dates and GUIDs."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _set_up(document: Drawing, sheet: Sheet) -> None:
    document.header["$MEASUREMENT"] = METRIC
    for role in ROLES:
        linetype = "CONTINUOUS"
        if role.dash_mm:
            linetype = role.layer
            # Drawn stretches are positive, gaps negative, the sum first.
            pattern = [mm if i % 2 == 0 else -mm for i, mm in enumerate(role.dash_mm)]
            document.linetypes.add(linetype, [sum(role.dash_mm), *pattern], description=role.title)
        document.layers.add(role.layer, color=BLACK, linetype=linetype)
    space = document.modelspace()
    space.reset_extents((0, 0, 0), (sheet.size.width_mm, sheet.size.height_mm, 0))
    space.reset_limits((0, 0), (sheet.size.width_mm, sheet.size.height_mm))


def _draw(document: Drawing, copy: CopyLines, height_mm: float) -> None:
    space = document.modelspace()
    group = document.groups.new(copy.id)
    group.extend(
        space.add_lwpolyline(
            _vertices(path, height_mm),
            format="xyb",
            close=path.closed,
            dxfattribs={"layer": role.layer},
        )
        for role, paths in copy.by_role
        for path in paths
    )


def _vertices(path: Path, height_mm: float) -> list[Vertex]:
    """A bulge is the tangent of a quarter of the angle, positive counter-clockwise."""
    found: list[Vertex] = []
    for segment in path.segments:
        bulge = 0.0
        if isinstance(segment, Arc):
            # Turning y over turns the axis and the sense: clockwise as seen stays clockwise.
            bulge = -math.tan(math.radians(segment.sweep_deg) / 4.0)
        found.append(_vertex(segment.start, bulge, height_mm))
    if not path.closed:
        found.append(_vertex(path.end, 0.0, height_mm))
    return found


def _vertex(point: tuple[float, float], bulge: float, height_mm: float) -> Vertex:
    return (
        round(point[0], DECIMALS) + 0.0,
        round(height_mm - point[1], DECIMALS) + 0.0,
        round(bulge, 12) + 0.0,
    )
