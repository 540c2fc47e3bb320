"""Clear walls: paper drawn as if it were glass, because what a picture is about lies behind it.

Work inside a box, a tube or a lantern is hidden by the walls that stand between it and the viewer.
Those facets hide nothing and have no fill; their edges stay. It is found by rays from a few
points of every part that the picture is about towards the viewer. Shares are coarse, so that a
small change of a size changes no wall.

Paper that moves or takes a mark in the picture stays as it is, and so does paper that lies on
what it hides: that is seen through the paper, as dots and dashes tell. A place that something
will come to is looked for through walls alone, not through a roof: there the way in tells it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from itertools import compress, islice

import numpy as np
import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, Frame, Mark
from publisher.drawing.space_view.camera import Array, View
from publisher.drawing.space_view.edges import FLAT_DEG
from publisher.drawing.space_view.exploded import let_down
from publisher.drawing.space_view.glued import STICKS, zone_areas
from publisher.drawing.space_view.many import Geometries, many
from publisher.drawing.space_view.shapes import PieceShape, piece_shape
from publisher.drawing.space_view.sight import LYING_MM, PARALLEL, Flags, Spots, sight_of
from publisher.drawing.space_view.stage import Actor, Stage
from publisher.model.kept import kept
from publisher.model.types import Piece

_HIDDEN = 0.48
"""Of what can be seen of a part so much must lie behind standing paper before any of that is drawn
clear."""
_LEAST_OPEN = 0.4
"""What can be seen of a part is taken for so much of it at least."""
_PLACES_HIDDEN = 0.37
"""Or so much of a place that something will come to, all that folds in a body together."""
_HIDES = 0.1
"""Then every facet is drawn clear that stands, windows and all, before so much of any part."""
_UPRIGHT = 0.7
_POINTS = ((8, 12), (5, 30), (3, 120))
"""So many points each way over a facet, of pieces of at most so many facets."""


class _Part(Struct, frozen=True):
    """Something the picture is about: the actor it lies on, flat points of it (n, 2), what it is,
    all strips of a bend as one. ``ghost``: it is a place; ``walled``: it is looked for through
    walls alone."""

    actor: Actor
    points: Array
    what: tuple[str, str, str]
    ghost: bool = False
    walled: bool = False


def clear_facets(
    frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape], view: View
) -> frozenset[FacetId]:
    """The facets that a picture of a frame, seen from ``view``, draws clear."""
    walls = _walls(frame, stage, shapes)
    if not walls:
        return frozenset()
    parts = list(_parts(frame, stage, shapes))
    if not parts:
        return frozenset()
    sizes = [len(part.points) for part in parts]
    actors = [part.actor for part in parts]
    spots = Spots(_in_space(parts, sizes), sizes, actors, [part.ghost for part in parts])
    sight = sight_of(spots, stage.actors, shapes, view)
    wall = np.array([actor.id in walls for actor in stage.actors], dtype=bool)
    roof = np.array([abs(actor.pose.normal[2]) > _UPRIGHT for actor in stage.actors], dtype=bool)
    walled = np.repeat([part.walled for part in parts], sizes)
    stays = ~wall[:, None] | (roof[:, None] & walled)
    shut = (sight.lies | (sight.hides & stays)).any(axis=0)
    behind = sight.hides.any(axis=0) & ~shut
    before = sight.before & ~shut & wall[:, None]
    of: dict[tuple[str, str, str], list[int]] = {}
    points = iter(range(len(spots.points)))
    for part in parts:
        of.setdefault(part.what, []).extend(islice(points, len(part.points)))
    open_to = {what: _open(shut[own]) for what, own in of.items()}
    if not any(
        behind[own].sum() >= (_PLACES_HIDDEN if what[0] == "place" else _HIDDEN) * open_to[what]
        for what, own in of.items()
    ):
        return frozenset()
    found: set[FacetId] = set()
    for wall_places in _as_walls(stage, shapes):
        over = before[wall_places]
        hidden = np.logical_or.reduce(over, axis=0)
        if any(hidden[own].sum() >= _HIDES * open_to[what] for what, own in of.items()):
            found.update(stage.actors[wall_places[k]].id for k in np.flatnonzero(over.any(axis=1)))
    found |= _level_with(found, walls, stage)
    clear = [a for a in stage.actors if a.id in found]
    left = walls - found
    rest = [a for a in stage.actors if a.id in left]
    more = compress(rest, _lie_at(rest, clear, shapes))
    return frozenset(found.union(a.id for a in more))  # what lies flat on clear paper goes with it


def _level_with(clear: Set[FacetId], walls: Set[FacetId], stage: Stage) -> set[FacetId]:
    """The walls that are one level sheet with clear ones, as a flap that is not yet folded is: what
    belongs together is cleared together."""
    grown: set[FacetId] = set()
    for body in sorted({body for body, _ in clear}):
        angles = stage.angles[body]
        level = [
            {(body, hinge.parent), (body, hinge.child)}
            for hinge in stage.of(body)[0].piece.hinges
            if abs(angles.get(hinge.fold, 0.0)) < FLAT_DEG
        ]
        sheet = {facet for facet in clear if facet[0] == body}
        while more := {f for pair in level if pair & sheet for f in pair & walls} - sheet:
            sheet |= more
        grown |= sheet
    return grown


def _open(shut: Flags) -> float:
    """How many points of a part can be seen, or could but for walls."""
    return max(float((~shut).sum()), _LEAST_OPEN * len(shut))


def clear_words(clear: Set[FacetId]) -> list[str]:
    """The sentence of the alternative text, if there is one."""
    if not clear:
        return []
    return ["The paper in front is drawn clear."]


def _walls(frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape]) -> frozenset[FacetId]:
    """What may be drawn clear: facets that neither move nor carry a mark."""
    marked = set(_marked(frame, stage, shapes))
    standing = {a.id for a in stage.actors if not a.moving and a.body not in stage.away}
    return frozenset(standing - marked)


def _as_walls(stage: Stage, shapes: Mapping[str, PieceShape]) -> list[list[int]]:
    """The places of the facets on stage, all strips of a bend together."""
    found: dict[FacetId, list[int]] = {}
    for k, actor in enumerate(stage.actors):
        bend = shapes[actor.piece.name].bend_of.get(actor.facet, actor.facet)
        found.setdefault((actor.body, bend), []).append(k)
    return list(found.values())


def _marked(frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape]) -> Iterator[FacetId]:
    for mark in frame.motions:
        if isinstance(mark, Mark):
            for actor in stage.of(mark.body):
                if mark.what not in (*STICKS, "hold") or _areas(mark, actor, shapes):
                    yield actor.id


def _areas(mark: Mark, actor: Actor, shapes: Mapping[str, PieceShape]) -> list[BaseGeometry]:
    """The flat areas of a facet that a mark is about."""
    shape = shapes[actor.piece.name]
    panel = actor.piece.facet(actor.facet).panel
    paper = shape.facets[actor.facet].paper
    if mark.what == "hold":
        return [paper] if not mark.names or panel in mark.names else []
    areas = [
        shapely.intersection(area, paper)
        for _, own, area in zone_areas(shape, mark)
        if own in (None, panel)
    ]
    return [area for area in areas if not area.is_empty]


def _parts(frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape]) -> Iterator[_Part]:
    """What moves, what takes glue or is held, and where what moves will lie. What is pushed in or
    drawn out from the side, under a roof, has its opening and its arrow to tell it."""
    for kind, actors in (("moving", stage.actors), ("place", stage.ghosts)):
        place = kind == "place"
        for actor in actors:
            away = stage.away.get(actor.body)
            if not actor.moving or (away is not None and not let_down(away)):
                continue
            facet = shapes[actor.piece.name].bend_of.get(actor.facet, actor.facet)
            what = (kind, actor.body, "" if place and away is None else facet)
            walled = place or away is not None
            yield _Part(actor, _spread(actor.piece)[actor.facet], what, place, walled)
    for mark in frame.motions:
        if isinstance(mark, Mark) and mark.what in (*STICKS, "hold"):
            own: Sequence[Actor] = stage.of(mark.body)
            if mark.what == "hold":  # what lies on other paper is pressed from outside, with it
                own = list(compress(own, ~_lie_at(own, stage.actors, shapes)))
            for actor in own:
                for area in _areas(mark, actor, shapes):
                    yield _Part(actor, _within(area), (mark.what, actor.body, actor.facet))


@kept
def _spread(piece: Piece) -> Mapping[str, Array]:
    """Points of each facet, fewer where there are many facets."""
    count = next((n for n, most in _POINTS if len(piece.facets) <= most), 2)
    facets = piece_shape(piece).facets
    return {name: _within(facet.paper, count) for name, facet in facets.items()}


def _within(area: BaseGeometry, count: int = _POINTS[0][0]) -> Array:
    """Points spread over a flat area, at least one."""
    x0, y0, x1, y1 = area.bounds
    steps = (np.arange(count) + 0.5) / count
    x, y = np.meshgrid(x0 + (x1 - x0) * steps, y0 + (y1 - y0) * steps)
    flat = np.column_stack((x.ravel(), y.ravel()))
    inside = flat[shapely.contains_xy(area, flat)]
    return inside if len(inside) else shapely.get_coordinates(shapely.point_on_surface(area))


def _in_space(parts: Sequence[_Part], sizes: Sequence[int]) -> Array:
    of = np.repeat(np.arange(len(parts)), sizes)
    flat = np.concatenate([part.points for part in parts]) * (1.0, -1.0)
    turns = np.array([part.actor.pose.rotation for part in parts])[of, :, :2]
    shifts = np.array([part.actor.pose.shift for part in parts])[of]
    return np.asarray(np.einsum("kij,kj->ki", turns, flat) + shifts)


def _lie_at(
    actors: Sequence[Actor], others: Sequence[Actor], shapes: Mapping[str, PieceShape]
) -> Flags:
    """For each facet whether its middle lies flat on, or under, one of the others."""
    found = np.zeros(len(actors), dtype=bool)
    if not actors or not others:
        return found
    inner = shapely.get_coordinates(shapely.point_on_surface(_papers(actors, shapes)))
    turns, on_turns = (np.array([a.pose.rotation for a in own]) for own in (actors, others))
    shifts, on_shifts = (np.array([a.pose.shift for a in own]) for own in (actors, others))
    middles = np.einsum("kij,kj->ki", turns[:, :, :2], inner * (1.0, -1.0)) + shifts
    level = np.abs(turns[:, :, 2] @ on_turns[:, :, 2].T) >= PARALLEL
    level &= np.array([[a.id != b.id for b in others] for a in actors])
    one, other = np.nonzero(level)
    x, y, z = np.einsum("kj,kji->ik", middles[one] - on_shifts[other], on_turns[other])
    there = shapely.contains_xy(_papers(others, shapes)[other], x, -y)
    found[one[there & (np.abs(z) < LYING_MM)]] = True
    return found


def _papers(actors: Sequence[Actor], shapes: Mapping[str, PieceShape]) -> Geometries:
    return many(shapes[a.piece.name].facets[a.facet].paper for a in actors)
