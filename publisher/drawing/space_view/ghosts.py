"""Where parts will come to lie, as outlines in a picture of how they lie before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion, Frame, MoveMotion
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.lines import Drawn
from publisher.geometry.space import Vector

_GHOST_SHARE = 0.3  # a ghost that shows less of its outline than this is left out
_REMNANT_SHARE = 0.2  # one of which less is left beside other lines is left out, too
_FOLD_GHOSTS = 2  # with more folds than this, landing places would crowd the picture


def ghosts_wanted(frame: Frame) -> bool:
    """Whether it helps to see where things land."""
    for motion in frame.motions:
        if isinstance(motion, MoveMotion):
            return motion.manner != "wrap"
        if isinstance(motion, FoldMotion) and len(motion.folds) <= _FOLD_GHOSTS:
            return True
    return False


def ghost_lines(scene: Scene, away: Mapping[str, Vector]) -> BaseGeometry:
    """Outlines of where parts will lie, as far as they are seen: one outline round what
    travels the same way (``away``), which lands as one, and one round what folds."""
    groups: dict[Vector | None, list[int]] = {}
    for k, item in enumerate(scene.items):
        if item.ghost:
            groups.setdefault(away.get(item.actor.body), []).append(k)
    found: list[BaseGeometry] = []
    for own in groups.values():
        whole, seen = scene.whole_together(own), scene.seen_together(own)
        if whole.is_empty:
            continue
        outline = shapely.simplify(shapely.boundary(whole), 0.01)
        shown = shapely.intersection(outline, shapely.buffer(seen, 0.01))
        if shown.length >= _GHOST_SHARE * outline.length:
            found += [p for p in shapely.get_parts(shown) if p.geom_type == "LineString"]
    return shapely.union_all(found)


def without_remnants(drawn: Sequence[Drawn], given: Sequence[Drawn]) -> list[Drawn]:
    """Lines that are ``drawn`` of those ``given``, but no ghost that falls on other lines nearly
    all the way: a scrap of it, across a notch that it covers, tells nothing."""

    def length(lines: Sequence[Drawn]) -> float:
        return sum(line.geometry.length for line in lines if line.role == "ghost")

    told = length(drawn) >= _REMNANT_SHARE * length(given)
    return [line for line in drawn if told or line.role != "ghost"]
