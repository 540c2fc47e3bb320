"""The tool that a picture's lines are made with: a bone folder's tip for scores, a blade for cuts.

It stands on one line of a picture, the longest, with its tip where it has come to, and lies
across the line as a hand would hold it. Along a fold that is pressed once more a bone folder lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, TypeAlias

import shapely
import shapely.affinity
from msgspec import Struct
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Frame, Mark
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.ink import area_paths
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.types import Fill, Item
from publisher.geometry.path import Point

ToolKind: TypeAlias = Literal["score", "crease", "knife"]

_RIM_MM = 0.3  # of the outline of what is white
_HALO_MM = 0.35
_COME_TO = (0.62, 0.5, 0.74, 0.38)  # where on its line the tip may stand, best first
_LEANS_DEG = (-42.0, 38.0, 222.0, 138.0)  # y up: down right as the hand holds it, then others
_ACROSS_DEG = 35.0  # a tool lies at least so far across its line
_COARSE_MM = 5.0
_FOLDER = ((0.0, 0.0), (0.5, 0.42), (3.6, 1.2), (12.0, 1.45), (12.5, 1.0))  # along, half across
_BLADE = ((0.0, 0.0), (2.6, -0.95), (5.2, -0.95), (5.2, 0.75))
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


def tool(
    frame: Frame, lines: Sequence[Drawn], scene: Scene, shapes: Mapping[str, PieceShape]
) -> Tool | None:
    """The tool of a frame that scores or cuts, on one of its ``lines``, off others that are
    made now where that can be; or along the longest fold that is pressed once more."""
    whats = {motion.what for motion in frame.motions if isinstance(motion, Mark)}
    if "press" in whats:
        return _along(_pressed(frame, scene, shapes))
    kind: ToolKind = "knife" if "cut" in whats else "score"
    if not whats & {"score", "cut"}:
        return None
    roles = ("valley", "mountain") if kind == "score" else ("cut", "outline-moving")
    runs = shapely.get_parts(many(d.geometry for d in lines if d.role in roles))
    made = [run for run in runs if isinstance(run, LineString) and not run.is_empty]
    if not made:
        return None
    best = min(range(len(made)), key=lambda k: (*_rank(made[k]), k))
    run, others = made[best], united(made[:best] + made[best + 1 :])
    options = []
    for order, part in enumerate(_COME_TO):
        at = run.length * part
        ends = [run.interpolate(at + step) for step in (-0.3, 0.3)]
        way = math.degrees(math.atan2(ends[0].y - ends[1].y, ends[1].x - ends[0].x))
        tip = run.interpolate(at)
        for place, lean in enumerate(_LEANS_DEG):
            one = Tool(kind, (tip.x, tip.y), lean)
            across = abs((lean - way + 90.0) % 180.0 - 90.0)
            over = shapely.intersection(one.area, others).length
            cost = (across < _ACROSS_DEG, round(over / _COARSE_MM), order, place)
            options.append((cost, one))
    return min(options, key=lambda option: option[0])[1]


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
        shapes = [Polygon(both)]
    else:
        back = [(x, -y) for x, y in reversed(_HANDLE)]
        shapes = [Polygon(_BLADE), Polygon([*_HANDLE, *back])]
    turn = math.radians(-one.lean_deg)
    c, s = one.share * math.cos(turn), one.share * math.sin(turn)
    return [shapely.affinity.affine_transform(p, [c, -s, s, c, *one.tip]) for p in shapes]
