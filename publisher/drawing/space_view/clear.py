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

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from itertools import islice
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, Frame, Mark
from publisher.drawing.space_view.camera import Array, Camera, View
from publisher.drawing.space_view.exploded import let_down
from publisher.drawing.space_view.marks import STICKS, zone_areas
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Actor, Stage
from publisher.geometry.space import Vector, dot, lift

_HIDDEN = 0.55
"""Of what can be seen of a part so much must lie behind standing paper before any of that is drawn
clear."""
_LEAST_OPEN = 0.4
"""What can be seen of a part is taken for so much of it at least."""
_PLACES_HIDDEN = 0.35
"""Or so much of a place that something will come to, all that folds in a body together."""
_PLACES = ("landing", "place")
_HIDES = 0.1
"""Then every facet is drawn clear that stands, windows and all, before so much of any part."""
_LYING_MM = 3.0  # parallel paper that is nearer lies on what it hides
_PARALLEL = 0.99
_UPRIGHT = 0.7
_AHEAD_MM = 0.05
_GRID = np.linspace(1.0 / 16.0, 15.0 / 16.0, 8)

Flags = npt.NDArray[np.bool_]


class _Part(Struct, frozen=True):
    """Something the picture is about: the actor it lies on, points of it in space, what it is, all
    strips of a bend as one, and whether it is a place that something will come to."""

    actor: Actor
    points: Array
    what: tuple[str, str, str]
    landing: bool


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
    hides, lies, before = _hidden_by(parts, stage, shapes, view)
    wall = np.array([actor.id in walls for actor in stage.actors], dtype=bool)
    roof = np.array([abs(actor.pose.normal[2]) > _UPRIGHT for actor in stage.actors], dtype=bool)
    landing = np.repeat([p.landing for p in parts], [len(p.points) for p in parts])
    shut = (hides & (lies | ~wall[:, None] | (roof[:, None] & landing))).any(axis=0)
    behind = hides.any(axis=0) & ~shut
    before &= ~shut & wall[:, None]
    of: dict[tuple[str, str, str], list[int]] = {}
    points = iter(range(len(landing)))
    for part in parts:
        of.setdefault(part.what, []).extend(islice(points, len(part.points)))
    open_to = {what: _open(shut[own]) for what, own in of.items()}
    if not any(
        behind[own].sum() >= (_PLACES_HIDDEN if what[0] in _PLACES else _HIDDEN) * open_to[what]
        for what, own in of.items()
    ):
        return frozenset()
    found: set[FacetId] = set()
    for wall_places in _as_walls(stage, shapes):
        over = before[wall_places]
        hidden = np.logical_or.reduce(over, axis=0)
        if any(hidden[own].sum() >= _HIDES * open_to[what] for what, own in of.items()):
            found.update(stage.actors[wall_places[k]].id for k in np.flatnonzero(over.any(axis=1)))
    clear = [a for a in stage.actors if a.id in found]
    more = [a for a in stage.actors if a.id in walls - found and _lies_at(a, clear, shapes)]
    return frozenset(found.union(a.id for a in more))  # what lies flat on clear paper goes with it


def _open(shut: Flags) -> float:
    """How many points of a part can be seen, or could but for walls."""
    return max(float((~shut).sum()), _LEAST_OPEN * len(shut))


def clear_words(clear: Set[FacetId]) -> list[str]:
    """The sentence of the alternative text, if there is one."""
    if not clear:
        return []
    return ["The paper in front is drawn clear, to show what lies behind it."]


def _walls(frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape]) -> frozenset[FacetId]:
    """What may be drawn clear: facets that neither move nor carry a mark, of bodies that are not
    flat sheets alone."""
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
        return [paper] if panel in mark.names else []
    areas = [
        shapely.intersection(area, paper)
        for _, own, area in zone_areas(shape, mark)
        if own in (None, panel)
    ]
    return [area for area in areas if not area.is_empty]


def _parts(frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape]) -> Iterator[_Part]:
    """What moves, what takes glue or is held, and where what travels will lie."""
    landing = [a for a in stage.ghosts if _shown_from_above(stage.away.get(a.body))]
    moving = [a for a in stage.actors if a.moving]
    for actor in (*moving, *landing):
        shape = shapes[actor.piece.name]
        what = ("moving", actor.body, shape.bend_of.get(actor.facet, actor.facet))
        if actor in landing:
            what = ("landing", *what[1:]) if actor.body in stage.away else ("place", actor.body, "")
        yield _part(actor, shape.facets[actor.facet].paper, what)
    for mark in frame.motions:
        if isinstance(mark, Mark) and mark.what in (*STICKS, "hold"):
            for actor in stage.of(mark.body):
                if mark.what == "hold" and _lies_at(actor, stage.actors, shapes):
                    continue  # pressed from outside, with the paper that it lies on
                for area in _areas(mark, actor, shapes):
                    yield _part(actor, area, (mark.what, actor.body, actor.facet))


def _shown_from_above(away: Vector | None) -> bool:
    """Whether the place of a part is looked for through walls: of all that folds, and of what
    is let down. What is pushed in from the side goes where its arrow points."""
    return away is None or let_down(away)


def _part(actor: Actor, area: BaseGeometry, what: tuple[str, str, str]) -> _Part:
    """With points spread over a flat area, at least one."""
    x0, y0, x1, y1 = area.bounds
    x, y = np.meshgrid(x0 + (x1 - x0) * _GRID, y0 + (y1 - y0) * _GRID)
    flat = np.column_stack((x.ravel(), y.ravel()))
    inside = flat[shapely.contains_xy(area, flat)]
    if not len(inside):
        inside = shapely.get_coordinates(shapely.point_on_surface(area))
    rotation, shift = np.array(actor.pose.rotation), np.array(actor.pose.shift)
    return _Part(
        actor,
        inside * (1.0, -1.0) @ rotation[:, :2].T + shift,
        what,
        what[0] in ("landing", "place"),
    )


def _lies_at(actor: Actor, others: Iterable[Actor], shapes: Mapping[str, PieceShape]) -> bool:
    """Whether the middle of a facet lies flat on, or under, one of the others."""
    inner = shapely.point_on_surface(shapes[actor.piece.name].facets[actor.facet].paper)
    middle = actor.pose.apply(lift((inner.x, inner.y)))
    for on in others:
        if on.id == actor.id or abs(dot(on.pose.normal, actor.pose.normal)) < _PARALLEL:
            continue
        x, y, z = on.pose.inverse().apply(middle)
        paper = shapes[on.piece.name].facets[on.facet].paper
        if abs(z) < _LYING_MM and shapely.contains_xy(paper, x, -y):
            return True
    return False


def _hidden_by(
    parts: Sequence[_Part],
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    view: View,
) -> tuple[Flags, Flags, Flags]:
    """For each facet on stage and each point whether it hides that, whether it lies on it, and
    whether it would hide it without windows."""
    points = np.concatenate([part.points for part in parts])
    of = np.repeat(np.arange(len(parts)), [len(part.points) for part in parts])
    toward = np.array(Camera(view, 1.0).toward)
    papers = np.array([shapes[a.piece.name].facets[a.facet].paper for a in stage.actors])
    rotations = np.array([a.pose.rotation for a in stage.actors])
    shifts = np.array([a.pose.shift for a in stage.actors])
    # in the frame of each facet: the points, the way to the viewer, where that meets the plane
    local = points @ rotations - (shifts[:, None, :] @ rotations)
    ways = toward @ rotations
    level = np.abs(ways[:, 2]) > 1e-6
    ahead = -local[:, :, 2] / np.where(level, ways[:, 2], 1.0)[:, None]
    own = np.array(
        [[a.id == part.actor.id and not part.landing for part in parts] for a in stage.actors]
    )
    facet, point = np.nonzero(level[:, None] & (ahead > _AHEAD_MM) & ~own[:, of])
    at = local[facet, point, :2] + ahead[facet, point, None] * ways[facet, :2]
    whole: Any = shapely.polygons(shapely.get_exterior_ring(papers))
    hides, before = (np.zeros(ahead.shape, dtype=bool) for _ in range(2))
    for found, areas in ((hides, papers), (before, whole)):
        found[facet, point] = shapely.contains_xy(areas[facet], at[:, 0], -at[:, 1])
    normals = np.array([part.actor.pose.normal for part in parts])[of]
    parallel = np.abs(rotations[:, :, 2] @ normals.T) > _PARALLEL
    lies = parallel & (np.abs(local[:, :, 2]) < _LYING_MM)
    return hides, lies, before
