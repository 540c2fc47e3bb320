"""Which paper lies on which while things travel: as it will lie, or as it lay.

What slides into a pocket comes over papers on which it does not lie in the end: the flap that
closes the pocket, level with its back. It is on the side of that flap on which it is of the back.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeAlias

from publisher.assembly.types import FacetId, Frame, MoveMotion
from publisher.drawing.space_view.stage import Stage
from publisher.geometry.space import dot

Layer: TypeAlias = tuple[FacetId, FacetId, int]

_LEVEL_DEG = 0.5


def underway(frame: Frame, stage: Stage) -> tuple[Layer, ...]:
    """All that is known of layers while a frame moves. A strip that goes in and out of slits is
    on either side of a paper, so that nothing more is told of it than how it will lie."""
    landing = [pair for pair in stage.above_after if _crosses(pair, stage)]
    known = dict.fromkeys((*stage.above, *landing))
    manners = {m.manner for m in frame.motions if isinstance(m, MoveMotion)}
    if not stage.away or "thread" in manners:
        return tuple(known)
    level = _level(stage)
    told = {(lower, upper) for lower, upper, _ in known}
    told |= {(upper, lower) for lower, upper in told}
    more: dict[tuple[FacetId, FacetId], set[int]] = {}
    for lower, upper, side in [pair for pair in known if _crosses(pair, stage)]:
        for one in level.get(lower, (lower,)):
            for other in level.get(upper, (upper,)):
                if (one, other) not in told:
                    first, second, way = _sorted(stage, one, other, side)
                    more.setdefault((first, second), set()).add(way)
    sure = [(*pair, next(iter(sides))) for pair, sides in more.items() if len(sides) == 1]
    return (*known, *sure)


def _sorted(stage: Stage, one: FacetId, other: FacetId, side: int) -> Layer:
    """The same, whichever of two papers it is told of: on which side of the first the second is."""
    if one <= other:
        return one, other, side
    alike = dot(stage.actor(*one).pose.normal, stage.actor(*other).pose.normal) > 0.0
    return other, one, -side if alike else side


def _crosses(pair: Layer, stage: Stage) -> bool:
    """Whether one of two papers travels and the other does not."""
    (lower, _), (upper, _), _ = pair
    return (lower in stage.away) != (upper in stage.away)


def _level(stage: Stage) -> Mapping[FacetId, tuple[FacetId, ...]]:
    """For each facet those of its body that lie in one plane with it, joined by paper."""
    found: dict[FacetId, tuple[FacetId, ...]] = {}
    for body in stage.bodies:
        angles = stage.angles[body]
        flat = [
            (hinge.parent, hinge.child)
            for hinge in stage.of(body)[0].piece.hinges
            if abs(angles.get(hinge.fold, 0.0)) < _LEVEL_DEG
        ]
        for actor in stage.of(body):
            if actor.id not in found:
                own = tuple((body, name) for name in _joined(actor.facet, flat))
                found |= dict.fromkeys(own, own)
    return found


def _joined(start: str, links: Iterable[tuple[str, str]]) -> list[str]:
    found = [start]
    for here in found:
        for a, b in links:
            if here in (a, b):
                found += [name for name in (a, b) if name not in found]
    return found
