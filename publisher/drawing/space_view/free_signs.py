"""Signs that stand beside a drawing, not on the paper: what is left to dry, and that one looks
from higher up or lower down than in the picture before."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Frame
from publisher.drawing.space_view.arrows import arrow
from publisher.drawing.space_view.by_hand import clock_request, clock_sign
from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.ink import area_paths
from publisher.drawing.space_view.placing import Request
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.types import Fill, Item
from publisher.geometry.path import Point

LOOK_MM = (11.0, 7.6)
_SAME_DEG = 1.0
_EYE_MM = 2.9  # half of its length
_LID_MM = 3.4  # radius of both lids
_STROKE_MM = 0.5
_PUPIL_MM = 0.85


def risen_deg(stages: Sequence[Stage], views: Sequence[View]) -> list[float]:
    """For each picture how much higher one looks from than where most of what it shows was seen
    last; 0 where nothing of it was seen before."""
    last: dict[str, float] = {}
    found = []
    for stage, view in zip(stages, views, strict=True):
        before = [last[body] for body in stage.bodies if body in last]
        risen = view.elevation_deg - max(before, key=before.count) if before else 0.0
        found.append(risen if abs(risen) > _SAME_DEG else 0.0)
        last |= dict.fromkeys(stage.bodies, view.elevation_deg)
    return found


def free_requests(frame: Frame, rise_deg: float) -> list[Request]:
    """Room for the signs beside a picture; their texts are their keys."""
    requests = clock_request(frame)
    if rise_deg:
        requests.append(Request("look-higher" if rise_deg > 0.0 else "look-lower", None, *LOOK_MM))
    return requests


def look_sign(way: float) -> Callable[[Point], Iterator[Item]]:
    """An eye, and beside it an arrow that goes up (-1 on paper) or down."""

    def items(middle: Point) -> Iterator[Item]:
        x, y = middle
        eye = (x - LOOK_MM[0] / 2.0 + _EYE_MM, y)
        beside = x + LOOK_MM[0] / 2.0 - 1.8
        path = [(beside, y - way * 3.4), (beside, y + way * 3.4)]
        ink = shapely.union_all([_eye(eye), arrow(path, "valley").ink])
        yield Fill("sign", area_paths(ink), id="look-higher" if way < 0 else "look-lower")

    return items


def _eye(at: Point) -> BaseGeometry:
    """Two lids that meet in corners, and a pupil."""
    sink = math.sqrt(_LID_MM**2 - _EYE_MM**2)
    above, below = (
        shapely.buffer(shapely.Point(at[0], at[1] + side * sink), _LID_MM, quad_segs=24)
        for side in (-1.0, 1.0)
    )
    almond = shapely.intersection(above, below)
    lids = shapely.difference(almond, shapely.buffer(almond, -_STROKE_MM, join_style="mitre"))
    pupil = shapely.buffer(shapely.Point(at), _PUPIL_MM, quad_segs=12)
    return shapely.union_all([lids, pupil])


FREE_SIGNS: Mapping[str, Callable[[Point], Iterator[Item]]] = {
    "clock": clock_sign,
    "look-higher": look_sign(-1.0),
    "look-lower": look_sign(1.0),
}
