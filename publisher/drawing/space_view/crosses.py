"""The crosses on what must stay free of glue, placed where they touch nothing that is drawn.

On the face that is seen a cross is solid; on the far side, seen through the paper, it is of dashes,
as seen-through glue is. They stand in even rows, and the rows are moved a little where more of them
fit; where few crosses of full size have room, smaller ones are taken.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from msgspec import Struct
from numpy.typing import NDArray
from shapely import MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.circles import Circled
from publisher.drawing.space_view.glued import GlueArea
from publisher.drawing.space_view.ink import all_paths
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.placing import DOT_MM, Placement
from publisher.drawing.types import Fill, FillRole
from publisher.geometry.path import Point

_ARMS_MM = (0.9, 0.75, 0.6)  # half of a cross on paper, the largest that fits
_STEPS = 4.6  # from one to the next, by half a cross
_THICK_MM, _THROUGH_THICK_MM = 0.36, 0.26
_DASHES = ((-1.0, -0.28), (0.28, 1.0))  # of an arm seen through, by half a cross
_OFF_LINE_MM = 0.55  # from the middle of a line
_OFF_AREA_MM = 0.3
_ASIDE = np.array((0.0, -0.25, 0.25, 0.5))  # of a step, that rows are moved along
_DOWN = np.array(
    (0.0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9)
)  # of their room, that they are moved across
_MANY = 100  # of so many it does not matter where rows begin, nor of what size crosses are
_NOTHING = Polygon()

Crossed = NDArray[np.object_]


class FreeArea(Struct, frozen=True):
    """Paper that stays free of glue. ``through``: on the far side, seen through the paper."""

    area: BaseGeometry
    through: bool = False


def crosses_beside(
    free: Sequence[FreeArea],
    shift: Point,
    lines: Sequence[Drawn],
    glue: Sequence[GlueArea],
    over: BaseGeometry = _NOTHING,
    placements: Sequence[Placement] = (),
    circled: Sequence[Circled] = (),
    name: str = "",
) -> list[Fill]:
    """Crosses that touch no line but creases that are there already, no glue, nothing that lies
    ``over`` the paper, no ring, no leader and no dot at its end."""
    if not free:
        return []
    near = shapely.buffer(united([one.area for one in free]), _OFF_LINE_MM + DOT_MM)
    fine = [d.geometry for d in lines if d.role != "fold-made"]
    leaders = [p.leader for p in placements if p.leader is not None]
    dots = [shapely.buffer(shapely.Point(end), DOT_MM) for _, end in leaders]
    rings = [shapely.boundary(one.ring) for one in circled]
    leaders += [one.leader for one in circled]
    solid = [*(g.area for g in glue), over, *dots, *rings, MultiLineString(leaders)]
    off = [
        shapely.buffer(shapely.intersection(many(parts), near), away, quad_segs=2)
        for parts, away in ((fine, _OFF_LINE_MM), (solid, _OFF_AREA_MM))
    ]
    return cross_items(free, shift, united([*off[0], *off[1]]), name)


def cross_items(
    free: Sequence[FreeArea], shift: Point, ink: BaseGeometry | None = None, name: str = ""
) -> list[Fill]:
    """Crosses in rows along what stays free, none on ``ink`` nor over its own edge."""
    found: list[Fill] = []
    for through in (False, True):
        own = [one.area for one in free if one.through == through]
        whole: BaseGeometry = united(own) if own else Polygon()
        if ink is not None and not whole.is_empty:
            whole = shapely.difference(whole, ink)
        parts = [p for p in shapely.get_parts(whole) if isinstance(p, Polygon)]
        crosses = [cross for part in parts for cross in _fitted(part, through)]
        if crosses:
            role: FillRole = "no-glue-through" if through else "no-glue"
            rings = tuple(path for paths in all_paths(crosses, shift) for path in paths)
            found.append(Fill(role, rings, id=f"{name}{'far-side-' * through}free-of-glue"))
    return found


def _fitted(area: Polygon, through: bool) -> list[BaseGeometry]:
    """The crosses of the size that marks most of an area."""
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    if len(box) < 5:
        return []
    middle = (box[0] + box[2]) / 2.0
    along, across = sorted(
        (box[1] - box[0], box[2] - box[1]), key=lambda s: -round(float(np.hypot(*s)), 3)
    )
    long, wide = float(np.hypot(*along)), float(np.hypot(*across))
    if wide < 2.0 * _ARMS_MM[-1]:
        return []
    shapely.prepare(area)
    best, most = np.empty(0, dtype=object), 0.0
    for arm in _ARMS_MM:
        step, room = _STEPS * arm, 2.0 * arm
        rows = max(1, round((wide - room) / step) + 1)
        columns = max(1, int((long - room) / step) + 1)
        reach = step / 2.0 if rows > 1 else (wide - room) / 2.0
        u, v = (np.arange(n) - (n - 1) / 2.0 for n in (columns, rows))
        ways_on = 1 if columns * rows > _MANY else None
        asides, downs = _ASIDE[:ways_on] * step, _DOWN[:ways_on] * max(reach, 0.0)
        places = np.stack(
            np.meshgrid(u * step, v * step, asides, downs, indexing="ij"), axis=-1
        ).reshape(columns * rows, -1, 4)
        ways = (along / long, across / wide)
        at = (
            middle
            + (places[..., :1] + places[..., 2:3]) * ways[0]
            + (places[..., 1:2] + places[..., 3:]) * ways[1]
        )
        x, y = at[..., 0], at[..., 1]
        fits = shapely.covers(area, shapely.box(x - arm, y - arm, x + arm, y + arm))
        count = fits.sum(axis=0)
        if count.max() * arm**3 > most:
            phase = int(count.argmax())
            best, most = _crosses(at[fits[:, phase], phase], arm, through), count.max() * arm**3
        if count.max() > _MANY:
            break
    found: list[BaseGeometry] = best.tolist()
    return found


def _crosses(middles: NDArray[np.float64], arm: float, through: bool) -> Crossed:
    """A cross round each place; of dashes where it is seen through the paper."""
    dashes = np.array(_DASHES if through else ((-1.0, 1.0),)) * arm
    strokes = [dashes[:, :, None] * (1.0, sign) for sign in (1.0, -1.0)]
    thick = _THROUGH_THICK_MM if through else _THICK_MM
    lines = MultiLineString(np.concatenate(strokes).tolist())
    one = shapely.buffer(lines, thick / 2.0, cap_style="flat")
    corners = shapely.get_coordinates(one)
    copies = np.array([one] * len(middles), dtype=object)
    found: Crossed = shapely.set_coordinates(
        copies, (middles[:, None, :] + corners[None, :, :]).reshape(-1, 2)
    )
    return found
