"""Where parts will come to lie, as outlines in a picture of how they lie before.

Of each part only its outline is drawn, at its true size and over what it falls on, so that it is
seen where it fits exactly. Of what comes down into something that hides most of it, its foot is
drawn: what it will stand on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

import numpy as np
import shapely
from shapely import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, Frame, MoveMotion
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.exploded import let_down
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.hands import by_hands
from publisher.drawing.space_view.helped import linked
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.pairs import DEPTH_MM
from publisher.drawing.space_view.shapes import PieceShape, outline_paper, piece_shape
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.types import LineRole
from publisher.geometry.space import Vector

_GHOST_SHARE = 0.3  # a ghost that shows less of its outline than this is left out
_WHOLE_SHARE = 0.8  # of what is let down where paper hides more of its outline, the foot is drawn
_FOOT_MM = 0.6  # what lies so near the lowest of what is let down belongs to its foot
_CROSSED = 0.15  # or of which so much would be drawn among the lines of the part itself
_ON_MM = 0.01
_BESIDE_MM = 0.2  # lines so near on paper are one
_FOLD_GHOSTS = 3  # with more folds than this, landing places would crowd the picture


def ghosts_wanted(frame: Frame, shapes: Mapping[str, PieceShape], stage: Stage) -> bool:
    """Whether it helps to see where things land: of what hands fold, not of what follows."""
    folds = 0
    for motion in by_hands(frame, shapes, stage):
        if isinstance(motion, MoveMotion):
            return motion.manner != "wrap"
        folds += len(motion.folds)
    return 0 < folds <= _FOLD_GHOSTS and frame.action.verb != "push"


def ghost_lines(scene: Scene, stage: Stage) -> list[Drawn]:
    """Outlines of where parts will lie, as far as they are seen and no nearer one hides them: one
    outline round what travels the same way, which lands as one, and one round each part that
    folds. The place of what travels is always told, dotted where paper hides most of
    it."""
    parts = list(_parts(scene, stage))
    found: list[BaseGeometry] = []
    hidden: list[BaseGeometry] = []
    for k, (way, own) in enumerate(parts):
        whole, seen = _unpierced(scene, own), scene.seen_together(own)
        if whole.is_empty:
            continue
        outline = shapely.simplify(shapely.boundary(whole), 0.01)
        others = [i for j, (_, part) in enumerate(parts) if j != k for i in part]
        outline = _before(scene, outline, own, others)
        open_to = shapely.buffer(seen, _ON_MM)
        shown = shapely.intersection(outline, open_to)
        if way is None and any(linked(scene.items[i].actor.piece) for i in own):
            shown = shapely.intersection(shown, _sheet_edges(scene, own))
        if way is not None:
            bodies = sorted({scene.items[i].actor.body for i in own})
            before = shapely.buffer(united([seen, *map(scene.area, bodies)]), _ON_MM)
            free = shapely.intersection(outline, before).length
            crossed = shapely.intersection(shown, _around(scene, bodies)).length
            if let_down(way) and (
                free < _WHOLE_SHARE * outline.length or crossed > _CROSSED * outline.length
            ):
                foot = _foot(scene, own)
                if not foot.is_empty:
                    outline, shown = foot, shapely.intersection(foot, open_to)
        much = shown.length >= _GHOST_SHARE * outline.length
        if way is not None and not much:
            hidden.append(shapely.difference(outline, before))
        if much or way is not None:
            found.append(shown)
    roles: tuple[tuple[LineRole, list[BaseGeometry]], ...] = (("ghost", found), ("hidden", hidden))
    return [Drawn(role, "", shapely.union_all(lines)) for role, lines in roles if lines]


def _sheet_edges(scene: Scene, own: Sequence[int]) -> BaseGeometry:
    """Along the outer edges of the sheets of some facets: where linked paper will lie is told by
    its sheet, and not by what stands or lies between its slits."""
    found = []
    for k in own:
        item = scene.items[k]
        piece = item.actor.piece
        edges = piece_shape(piece).facets[item.actor.facet].free_edges
        if linked(piece):
            rim = shapely.boundary(shapely.Polygon(outline_paper(piece).exterior))
            edges = shapely.intersection(edges, shapely.buffer(rim, _ON_MM))
        if not edges.is_empty:
            found.append(shapely.buffer(item.flat_to_paper(edges), _BESIDE_MM))
    return united(found)


def _around(scene: Scene, bodies: Collection[str]) -> BaseGeometry:
    """What bodies cover on paper, and what they stand round, as a handle does."""
    own = [i.area for i in scene.items if i.actor.body in bodies and not i.ghost]
    return shapely.GeometryCollection(own).convex_hull


def _parts(scene: Scene, stage: Stage) -> Iterator[tuple[Vector | None, list[int]]]:
    """The places of the ghosts of each part: all that travels one way, and all that folds and
    hangs together."""
    travelling: dict[Vector, list[int]] = {}
    folding: dict[FacetId, int] = {}
    for k, item in enumerate(scene.items):
        if item.ghost and item.actor.body in stage.away:
            travelling.setdefault(stage.away[item.actor.body], []).append(k)
        elif item.ghost:
            folding[item.actor.id] = k
    yield from travelling.items()
    part = {facet: {facet} for facet in folding}
    for one, other in _hanging(scene, stage, folding):
        both = part[one] | part[other]
        part |= dict.fromkeys(both, both)
    for together in {id(one): one for one in part.values()}.values():
        yield None, sorted(folding[facet] for facet in together)


def _hanging(
    scene: Scene, stage: Stage, folding: Mapping[FacetId, int]
) -> Iterator[tuple[FacetId, FacetId]]:
    """Pairs of facets that fold together: over a hinge, or one lying on the other all the time."""
    bodies = {body: scene.items[k].actor.piece for (body, _), k in folding.items()}
    for body, piece in bodies.items():
        for hinge in piece.hinges:
            ends = ((body, hinge.parent), (body, hinge.child))
            if ends[0] in folding and ends[1] in folding:
                yield ends
    if len(bodies) > 1:
        before = {frozenset(pair[:2]) for pair in stage.above}
        for one, other, _ in stage.above_after:
            there = one in folding and other in folding and one[0] != other[0]
            if there and frozenset((one, other)) in before:
                yield one, other


def _unpierced(scene: Scene, own: Sequence[int]) -> BaseGeometry:
    """The area of some facets, windows and all: those of what is not yet there tell nothing."""
    holes = [
        Polygon(hole)
        for k in own
        for polygon in shapely.get_parts(scene.items[k].area)
        for hole in polygon.interiors
    ]
    whole = scene.whole_together(own)
    return united([whole, *holes]) if holes else whole


def _before(
    scene: Scene, outline: BaseGeometry, own: Sequence[int], others: Sequence[int]
) -> BaseGeometry:
    """What of an outline no other ghost hides that is nearer."""
    for k in others:
        other = scene.items[k]
        if other.plane is None or not shapely.intersects(other.area, outline):
            continue
        covered = shapely.intersection(outline, shapely.buffer(other.area, -_ON_MM))
        lines = shapely.get_parts(shapely.line_merge(covered)).tolist()
        lines = [line for line in lines if isinstance(line, LineString) and not line.is_empty]
        hidden = [line for line in lines if _nearer(scene, k, own, line)]
        if hidden:
            outline = shapely.difference(outline, shapely.buffer(united(hidden), _ON_MM))
    return outline


def _nearer(scene: Scene, k: int, own: Sequence[int], line: LineString) -> bool:
    """Whether a ghost lies nearer than those of a part, where a line on their outline runs."""
    middle = line.interpolate(0.5, normalized=True)
    point = shapely.get_coordinates(middle)
    under = [
        float(item.nearness(point)[0])
        for item in (scene.items[i] for i in own)
        if item.plane is not None and shapely.dwithin(item.area, middle, 2 * _ON_MM)
    ]
    return bool(under) and float(scene.items[k].nearness(point)[0]) > max(under) + DEPTH_MM


def _foot(scene: Scene, own: Sequence[int]) -> BaseGeometry:
    """The lowest edges of some facets, on paper."""
    edges: list[tuple[int, Array, Array]] = []
    for k in own:
        actor = scene.items[k].actor
        paper = piece_shape(actor.piece).facets[actor.facet].paper
        for polygon in shapely.get_parts(paper):
            flat = shapely.get_coordinates(polygon.exterior)
            turn = np.array(actor.pose.rotation)[2, :2] * (1.0, -1.0)
            edges.append((k, flat, flat @ turn + actor.pose.shift[2]))
    lowest = min(float(height.min()) for _, _, height in edges)
    found = []
    for k, flat, height in edges:
        low = height <= lowest + _FOOT_MM
        runs = np.stack((flat[:-1], flat[1:]), axis=1)[low[:-1] & low[1:]]
        if len(runs):
            lines = MultiLineString(list(runs))
            found.append(scene.items[k].flat_to_paper(lines))
    return shapely.line_merge(shapely.union_all(many(found))) if found else MultiLineString()
