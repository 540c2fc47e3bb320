"""Where parts will come to lie, as outlines in a picture of how they lie before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion, Frame, MoveMotion
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.lines import SAME_LINE_MM, Drawn
from publisher.drawing.space_view.many import many, united
from publisher.drawing.types import LineRole
from publisher.geometry.space import Vector

_GHOST_SHARE = 0.3  # a ghost that shows less of its outline than this is left out
_REMNANT_SHARE = 0.2  # one of which less is left beside other lines is left out, too
_FREE_SHARE = 0.5  # of what is seen of it, so much must lie beside other lines
_WITHIN_MM = 0.9
_STRONG = frozenset({"cut", "valley", "mountain", "outline-moving", "outline", "inner"})
_FOLD_GHOSTS = 2  # with more folds than this, landing places would crowd the picture


def ghosts_wanted(frame: Frame) -> bool:
    """Whether it helps to see where things land."""
    for motion in frame.motions:
        if isinstance(motion, MoveMotion):
            return motion.manner != "wrap"
        if isinstance(motion, FoldMotion) and len(motion.folds) <= _FOLD_GHOSTS:
            return True
    return False


def ghost_lines(scene: Scene, away: Mapping[str, Vector], drawn: Sequence[Drawn]) -> list[Drawn]:
    """Outlines of where parts will lie, as far as they are seen: one outline round what
    travels the same way (``away``), which lands as one, and one round what folds. The place of
    what travels is always told: a little within where it fits between edges ``drawn`` there
    already, and dotted where paper hides most of it."""
    groups: dict[Vector | None, list[int]] = {}
    for k, item in enumerate(scene.items):
        if item.ghost:
            groups.setdefault(away.get(item.actor.body), []).append(k)
    found: list[BaseGeometry] = []
    hidden: list[BaseGeometry] = []
    for way, own in groups.items():
        whole, seen = scene.whole_together(own), scene.seen_together(own)
        if whole.is_empty:
            continue
        outline = shapely.simplify(shapely.boundary(whole), 0.01)
        shown = shapely.intersection(outline, shapely.buffer(seen, 0.01))
        much = shown.length >= _GHOST_SHARE * outline.length
        if way is not None:
            if _beside(shown, drawn) < _FREE_SHARE * shown.length:
                within = shapely.boundary(shapely.buffer(whole, -_WITHIN_MM, join_style="mitre"))
                shown = shapely.intersection(within, seen)
            if not much:
                bodies = {scene.items[k].actor.body for k in own}
                before = [seen, *(scene.area(body) for body in sorted(bodies))]
                rest = shapely.difference(outline, shapely.buffer(united(before), 0.01))
                hidden.append(rest)
        if much or way is not None:
            found.append(shown)
    roles: tuple[tuple[LineRole, list[BaseGeometry]], ...] = (("ghost", found), ("hidden", hidden))
    return [Drawn(role, "", shapely.union_all(parts)) for role, parts in roles if parts]


def _beside(line: BaseGeometry, drawn: Sequence[Drawn]) -> float:
    """How much of a line does not fall on the strong ones that are drawn."""
    strong = many(d.geometry for d in drawn if d.role in _STRONG)
    near = strong[shapely.dwithin(strong, line, SAME_LINE_MM)]
    taken = shapely.buffer(near, SAME_LINE_MM, cap_style="flat")
    return float(shapely.difference(line, shapely.union_all(taken)).length)


def without_remnants(drawn: Sequence[Drawn], given: Sequence[Drawn]) -> list[Drawn]:
    """Lines that are ``drawn`` of those ``given``, but no ghost that falls on other lines nearly
    all the way: a scrap of it, across a notch that it covers, tells nothing."""

    def length(lines: Sequence[Drawn]) -> float:
        return sum(line.geometry.length for line in lines if line.role == "ghost")

    told = length(drawn) >= _REMNANT_SHARE * length(given)
    return [line for line in drawn if told or line.role != "ghost"]
