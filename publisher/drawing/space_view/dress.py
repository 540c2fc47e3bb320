"""What lies on the paper in a picture, as items: glue, arrows, turn signs, labels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import TurnMotion
from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.glued import GlueArea
from publisher.drawing.space_view.ink import all_paths, area_paths
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.motions import PlacedArrow
from publisher.drawing.space_view.placing import BASELINE_MM, DOT_MM, LABEL_PT, Placement, Request
from publisher.drawing.space_view.turn_signs import TurnSign, turn_sign
from publisher.drawing.types import Fill, FillRole, Item, Label, Stroke
from publisher.geometry.path import Line, Path, Point, circle

_STICKY: Mapping[str, FillRole] = {"tape": "tape", "wet": "glue-wet"}


def _at(point: Point, shift: Point) -> Point:
    return (point[0] + shift[0], point[1] + shift[1])


def strokes(lines: Sequence[Drawn], shift: Point) -> list[Stroke]:
    """Lines as items, in the order given."""
    paths = all_paths([line.geometry for line in lines], shift)
    return [
        Stroke(line.role, own, "-".join(w for w in (line.role, line.body) if w))
        for line, own in zip(lines, paths, strict=True)
    ]


def glue_items(glue: Sequence[GlueArea], shift: Point) -> list[Item]:
    items: list[Item] = []
    for g, rings in zip(glue, all_paths([g.area for g in glue], shift), strict=True):
        role: FillRole = "glue-through" if g.through else _STICKY.get(g.what, "glue")
        name = f"{role}-{g.body}-{g.facet}-{g.zone}".replace(" ", "-")
        items.append(Fill(role, rings, id=name, hatch_deg=g.hatch_deg))
    return items


def arrow_items(arrows: Sequence[PlacedArrow], shift: Point) -> list[Item]:
    names = [f"{a.body}-{a.name}".replace(" ", "-") for a in arrows]
    if not arrows:
        return []
    shapes = [a.shape.halo for a in arrows] + [a.shape.ink for a in arrows]
    paths = all_paths(shapes, shift)
    halos, inks = paths[: len(arrows)], paths[len(arrows) :]
    items: list[Item] = []
    for name, rings in zip(names, halos, strict=True):
        items.append(Fill("halo", rings, id=f"halo-{name}"))
    for a, name, rings in zip(arrows, names, inks, strict=True):
        role: FillRole = "arrow-move" if a.kind == "move" else "arrow-fold"
        items.append(Fill(role, rings, id=f"arrow-{name}"))
    return items


def label_items(placements: Sequence[Placement], shift: Point) -> list[Item]:
    items: list[Item] = []
    for p in placements:
        name = p.request.text.replace(" ", "-")
        if p.leader is not None:
            start, end = p.leader
            line = Path((Line(_at(start, shift), _at(end, shift)),), closed=False)
            items.append(Stroke("leader", (line,), f"leader-{name}"))
            items.append(Fill("sign", (circle(_at(end, shift), DOT_MM),), id=f"dot-{name}"))
    for p in placements:
        name = p.request.text.replace(" ", "-")
        x, y, _, _ = p.box
        items.append(
            Label(
                p.request.text,
                _at((x, y + BASELINE_MM), shift),
                LABEL_PT,
                "start",
                id=f"label-{name}",
            )
        )
    return items


@cache
def _sign(motion: TurnMotion, view: View) -> TurnSign:
    return turn_sign(motion.axis, motion.angle_deg, view)


def turn_request(motion: TurnMotion, view: View, beside: BaseGeometry | None = None) -> Request:
    """Room for the sign of a turn, near what turns where that is told."""
    x0, y0, x1, y1 = _sign(motion, view).bounds
    return Request("", None, x1 - x0, y1 - y0, beside)


def turn_items(
    motion: TurnMotion, view: View, box: tuple[float, float, float, float], shift: Point
) -> list[Item]:
    """The sign of a turn in the room (left, top, width, height) that was found for it."""
    sign = _sign(motion, view)
    x0, y0, _, _ = sign.bounds
    middle = _at((box[0] - x0, box[1] - y0), shift)
    ends = ((_at(a, middle), _at(b, middle)) for a, b in sign.axis)
    axis = tuple(Path((Line(a, b),), closed=False) for a, b in ends)
    return [
        Stroke("leader", axis, "turn-axis"),
        Fill("arrow-turn", area_paths(sign.arrow.ink, middle), id="turn"),
    ]
