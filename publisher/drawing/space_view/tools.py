"""The tool that a picture's lines are made with: a bone folder's tip for scores, a blade for cuts.

It stands on one line of a picture, the longest, with its tip where it has come to, and lies
across the line as a hand would hold it. Along a fold that is pressed once more a bone folder lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from typing import Any, Literal, TypeAlias

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from publisher.assembly.types import Frame, Mark
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.ink import area_paths
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.strips import Detail
from publisher.drawing.types import Fill, Item
from publisher.geometry.path import Point

ToolKind: TypeAlias = Literal["score", "crease", "knife"]

_RIM_MM = 0.3  # of the outline of what is white
_HALO_MM = 0.35
_COME_TO = (0.62, 0.5, 0.74, 0.38, 0.26)  # where on its line the tip may stand, best first
_LEANS_DEG = (-42.0, 222.0, 38.0, 138.0)  # y up: down right as the hand holds it, then others
_UPWARD_MM = 4.0  # what it costs not to lie down: as much as to cover so much of other lines
_ACROSS_DEG = 35.0  # a tool lies at least so far across its line
_COARSE_MM, _COVERED_MM = 5.0, 2.0
_FOLDER = ((0.0, 0.0), (0.5, 0.42), (3.6, 1.2), (12.0, 1.45), (12.5, 1.0))  # along, half across
_BLADE = ((0.0, 0.0), (2.6, -0.95), (5.2, -0.95), (5.2, 0.75))
_ROOM = np.array(((-0.3, 0.4), (3.6, 1.6), (12.9, 1.85), (12.9, -1.85), (3.6, -1.6), (-0.3, -0.4)))
_HANDLE = ((5.2, -1.05), (6.0, -1.3), (12.0, -1.3), (12.5, -0.8))


class Tool(Struct, frozen=True):
    """What stands on paper: its tip, the way from there to its end, degrees, y up, and how large
    it is drawn."""

    kind: ToolKind
    tip: Point
    lean_deg: float
    share: float = 1.0

    @property
    def sign(self) -> str:
        """Its key in the legend."""
        return "cut" if self.kind == "knife" else self.kind

    @property
    def area(self) -> BaseGeometry:
        """All that it covers."""
        return united(shapely.buffer(part, _HALO_MM) for part in _parts(self))


def with_tool(
    frame: Frame,
    lines: Sequence[Drawn],
    scene: Scene,
    shapes: Mapping[str, PieceShape],
    details: Sequence[Detail] = (),
) -> tuple[Tool | None, list[Drawn]]:
    """The tool of a frame that scores or cuts, on one of its ``lines``, where it covers the least
    of others; or along the longest fold that is pressed once more. And the lines, thin ahead of a
    blade, which has not come there yet, and where what is cut out is so narrow that a close-up
    tells it."""
    whats = {motion.what for motion in frame.motions if isinstance(motion, Mark)}
    if "press" in whats:
        small = any(detail.kind == "cut" for detail in details)
        thin = [replace(d, role="outline") if d.role == "outline-moving" else d for d in lines]
        return _along(_pressed(frame, scene, shapes)), thin if small else list(lines)
    kind: ToolKind = "knife" if "cut" in whats else "score"
    if not whats & {"score", "cut"}:
        return None, list(lines)
    roles = ("valley", "mountain") if kind == "score" else ("cut", "outline-moving")
    parts, of = shapely.get_parts(many(d.geometry for d in lines), return_index=True)
    made = [
        k
        for k, run in enumerate(parts)
        if isinstance(run, LineString) and not run.is_empty and lines[of[k]].role in roles
    ]
    if not made:
        return None, list(lines)
    runs: list[Any] = parts.tolist()
    best = min(made, key=lambda k: (*_rank(runs[k]), k))
    found, at = _standing(kind, runs[best], runs[:best] + runs[best + 1 :])
    if kind == "score":
        return found, list(lines)
    which = int(of[best])
    rest = [run for k, run in enumerate(runs) if of[k] == which and k != best]
    done, ahead = _halves(runs[best], at, found)
    left = [
        replace(line, geometry=shapely.union_all([*rest, done])) if k == which else line
        for k, line in enumerate(lines)
    ]
    return found, [*left, replace(lines[which], role="inner", geometry=ahead)]


def _standing(kind: ToolKind, run: LineString, others: Any) -> tuple[Tool, float]:
    """The tool on a run, where it covers the least of ``others``, and how far along."""
    options: list[tuple[tuple[bool, int, int], float, Tool]] = []
    for part, lean in product(_COME_TO, _LEANS_DEG):
        at = run.length * part
        ends = [run.interpolate(at + step) for step in (-0.3, 0.3)]
        way = math.degrees(math.atan2(ends[0].y - ends[1].y, ends[1].x - ends[0].x))
        tip = run.interpolate(at)
        across = abs((lean - way + 90.0) % 180.0 - 90.0)
        key = (across < _ACROSS_DEG, _COME_TO.index(part), _LEANS_DEG.index(lean))
        options.append((key, at, Tool(kind, (tip.x, tip.y), lean)))
    rooms = shapely.polygons(np.array([_turned(_ROOM, one) for _, _, one in options]))
    over = shapely.length(shapely.intersection(rooms, shapely.union_all(others)))
    upward = np.array([0.0 < one.lean_deg < 180.0 for _, _, one in options])
    covers = np.round((over + _UPWARD_MM * upward) / _COVERED_MM).tolist()
    k = min(range(len(options)), key=lambda k: (options[k][0][0], covers[k], options[k][0][1:]))
    return options[k][2], options[k][1]


def _halves(run: LineString, at: float, one: Tool) -> tuple[BaseGeometry, BaseGeometry]:
    """Of the line under a blade what is cut already, and what is ahead of it: a hand draws the
    blade after it, so that is on the side of the handle."""
    turn = math.radians(-one.lean_deg)
    done, ahead = substring(run, 0.0, at), substring(run, at, run.length)
    (x, y), (past_x, past_y) = one.tip, run.interpolate(at + 0.3).coords[0]
    if (past_x - x) * math.cos(turn) + (past_y - y) * math.sin(turn) < 0.0:
        done, ahead = ahead, done
    return done, ahead


def _along(folds: Sequence[LineString]) -> Tool | None:
    """A bone folder laid along the longest of some folds, its end towards the viewer."""
    if not folds:
        return None
    run = min(folds, key=_rank)
    near, far = sorted(run.coords, key=lambda p: (-round(p[1], 1), p[0]))
    way = math.degrees(math.atan2(far[1] - near[1], near[0] - far[0]))
    middle, half = run.interpolate(0.5, normalized=True), _FOLDER[-1][0] / 2.0
    turn = math.radians(way)
    return Tool("crease", (middle.x - half * math.cos(turn), middle.y + half * math.sin(turn)), way)


def _pressed(frame: Frame, scene: Scene, shapes: Mapping[str, PieceShape]) -> list[LineString]:
    """Where folds that a frame presses once more lie on paper, of those that are seen."""
    found = []
    for mark in frame.motions:
        if isinstance(mark, Mark) and mark.what == "press":
            for item, seen in zip(scene.items, scene.seen, strict=True):
                piece = item.actor.piece
                if item.actor.body != mark.body or item.ghost or seen.is_empty:
                    continue
                folds = {s.fold for s in piece.scores if s.name in mark.names}
                for hinge, flat in shapes[piece.name].hinges:
                    if hinge.fold in folds and item.actor.facet in (hinge.parent, hinge.child):
                        line = item.flat_to_paper(flat)
                        if shapely.dwithin(seen, line.interpolate(0.5, normalized=True), 0.1):
                            found.append(line)
    return found


def _rank(run: LineString) -> tuple[int, int, int]:
    """The longest first, of those alike the nearest, at the left."""
    x, y = run.interpolate(0.5, normalized=True).coords[0]
    return (-round(run.length / _COARSE_MM), -round(y / _COARSE_MM), round(x / _COARSE_MM))


def tool_items(one: Tool, shift: Point = (0.0, 0.0)) -> Iterator[Item]:
    """The tool as items."""
    yield Fill("halo", area_paths(one.area, shift), id="halo-tool")
    for name, part in zip(("tip", "handle"), _parts(one), strict=False):
        if name == "tip":
            rim = shapely.difference(part, shapely.buffer(part, -_RIM_MM, join_style="mitre"))
            yield Fill("sign", area_paths(rim, shift), id=f"tool-{one.kind}")
        else:
            yield Fill("sign", area_paths(part, shift), id="tool-handle")


def _parts(one: Tool) -> list[BaseGeometry]:
    """The white part that touches the paper, and the dark one, if there is one."""
    if one.kind != "knife":
        both = [*_FOLDER, *((x, -y) for x, y in reversed(_FOLDER[1:]))]
        shapes = [both]
    else:
        back = [(x, -y) for x, y in reversed(_HANDLE)]
        shapes = [list(_BLADE), [*_HANDLE, *back]]
    return [Polygon(_turned(np.array(p), one)) for p in shapes]


def _turned(points: Array, one: Tool) -> Array:
    """Points along a tool and across it, where it stands."""
    turn = math.radians(-one.lean_deg)
    c, s = one.share * math.cos(turn), one.share * math.sin(turn)
    found: Array = points @ np.array(((c, s), (-s, c))) + one.tip
    return found
