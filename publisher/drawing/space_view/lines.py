"""Hidden lines: which stretches of which edges are drawn, and as what.

An edge is seen where the facet beside it is seen. A fold between two facets is "inner" where
both are seen and "outline" where one is, so that the contour of a thing is closed by strong
lines. Lines that fall on each other on paper are drawn once, as the strongest of them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from msgspec import Struct
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId
from publisher.drawing.space_view.bends import squeezed
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.edges import (
    FLAT_DEG,
    SAME_LINE_MM,
    along_fold,
    at_edges,
    edge_role,
    free_edges,
)
from publisher.drawing.space_view.many import Geometries, many
from publisher.drawing.space_view.pairs import DEPTH_MM
from publisher.drawing.space_view.projected import Projected, carried
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.spans import SHORTEST_MM, Interval, pieces, spans, without
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.types import LineRole
from publisher.model.types import Hinge

NEAR_MM = 0.004  # how far beside an edge its facet is looked for
NEAR_BENT_MM = 0.12  # of paper that bends, whose strips stand so far off its curve
_SHORTEST_BROKEN: Mapping[LineRole, float] = {"hidden": 0.8, "ghost": 2.0}
NO_LINES = MultiLineString()

# What wins where lines fall on each other.
_RANK: Mapping[LineRole, int] = {
    "cut": 0,
    "valley": 1,
    "mountain": 1,
    "outline-moving": 2,
    "outline": 3,
    "inner": 4,
    "glue-border": 5,
    "hidden": 6,
    "ghost": 7,
    "clear": 8,
    "fold-made": 9,
    "engrave": 10,
}


class Drawn(Struct, frozen=True):
    """A line on paper with its role and the body it belongs to."""

    role: LineRole
    body: str
    geometry: BaseGeometry


_ONE_LINE_MM = 0.1  # lines no farther apart are one on paper

Numbers = npt.NDArray[np.intp]


def _edge_on_lines(
    item: Projected, edges: BaseGeometry, others: Sequence[Projected], inside: Geometries
) -> BaseGeometry:
    """The seen parts of the edges (flat) of a facet that shows no face. ``inside`` are the
    areas of those that may hide it, without their rims."""
    flat, part = shapely.get_coordinates(shapely.get_parts(edges), return_index=True)
    space = flat @ item.matrix.T + item.shift
    ends = np.stack((space[:-1], space[1:]), axis=1)[part[1:] == part[:-1]]
    run = ends[:, 1, :2] - ends[:, 0, :2]
    ends = ends[np.hypot(run[:, 0], run[:, 1]) >= SHORTEST_MM]
    if not len(ends):
        return NO_LINES
    lines: Any = shapely.linestrings(ends[:, :, :2])
    along = spans(np.repeat(lines, len(others)).tolist(), inside.tolist() * len(lines))
    wanted: list[tuple[int, list[Interval], float]] = []
    for k, (a, b) in enumerate(ends):
        left = [(0.0, 1.0)]
        for other, found in zip(others, along[k * len(others) :], strict=False):
            for low, high in found:
                middle = (a + (b - a) * (low + high) / 2.0)[None, :]
                if other.nearness(middle[:, :2])[0] - middle[0, 2] > DEPTH_MM:
                    left = without(left, [(low, high)])
        wanted.append((k, left, 0.0))
    seen = [part for part in pieces(lines.tolist(), wanted) if part is not None]
    return shapely.union_all(seen) if seen else NO_LINES


def edge_lines(
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
    shapes: Mapping[str, PieceShape],
    stage: Stage,
    show_hidden: frozenset[FacetId],
    fold_now: Mapping[tuple[str, str], LineRole],
) -> list[Drawn]:
    """Every edge and crease of the facets that is to be drawn.

    ``show_hidden`` are facets whose hidden edges are dotted; ``fold_now`` gives folds
    (body, fold name) that are marked, with the role.
    """
    lines: list[Drawn] = []
    near, bent = many(seen), [bool(shapes[i.actor.piece.name].smooth) for i in items]
    whole = np.array([area is item.area for area, item in zip(seen, items, strict=True)])
    reach = np.where(bent, NEAR_BENT_MM, NEAR_MM)[~whole]
    near[~whole] = shapely.buffer(near[~whole], reach, quad_segs=1)
    place = {item.actor.id: k for k, item in enumerate(items)}
    by_id = {item.actor.id: item for item in items}
    matrices = np.array([i.matrix for i in items])
    shifts = np.array([i.shift for i in items])
    flat = [free_edges(i, shapes[i.actor.piece.name].facets[i.actor.facet]) for i in items]
    edges = carried(flat, matrices, shifts)
    shown = edges.copy()
    shown[~whole] = shapely.intersection(edges[~whole], near[~whole])
    facing = [o for o in items if o.plane is not None and not (o.ghost or o.clear)]
    inside = many(other.area for other in facing)
    if len(facing) < len(items):
        inside = shapely.buffer(inside, -NEAR_MM, join_style="mitre")
    for k, item in enumerate(items):
        if item.plane is None:
            seen_edges = _edge_on_lines(item, flat[k], facing, inside)
            lines.append(Drawn(edge_role(item), item.actor.body, seen_edges))
            continue
        lines.append(Drawn(edge_role(item), item.actor.body, shown[k]))
        if item.actor.id in show_hidden and not whole[k]:
            paper = shapes[item.actor.piece.name].facets[item.actor.facet].paper
            rest = shapely.difference(edges[k], near[k])
            if paper.interiors:  # windows that are covered tell nothing of how a part goes
                rims = item.flat_to_paper(MultiLineString(list(paper.interiors)))
                rest = shapely.difference(rest, shapely.buffer(rims, NEAR_MM))
            lines.append(Drawn("hidden", item.actor.body, rest))

    hinges = _hinges(stage, shapes, by_id)
    runs = [line for _, _, line in hinges]
    sides = [place[body, h.parent] for body, h, _ in hinges]
    sides += [place[body, h.child] for body, h, _ in hinges]
    shown_along: list[list[Interval]] = [[(0.0, 1.0)] for _ in sides]
    asked = [n for n, k in enumerate(sides) if not whole[k]]
    found = spans([runs[n % len(runs)] for n in asked], [near[sides[n]] for n in asked])
    for n, stretches in zip(asked, found, strict=True):
        shown_along[n] = stretches
    at_edges(hinges, fold_now, shown_along, [near[k] for k in sides])
    by_parent, by_child = shown_along[: len(runs)], shown_along[len(runs) :]
    marked: list[tuple[LineRole, str]] = []
    wanted: list[tuple[int, list[Interval], float]] = []
    for k, (body, hinge, _) in enumerate(hinges):
        ends = (by_id[body, hinge.parent], by_id[body, hinge.child])
        fold = ends[0].actor.piece.fold(hinge.fold)
        if fold.smooth and squeezed(hinge, *ends):
            continue
        own = along_fold(
            fold,
            ends,
            (by_parent[k], by_child[k]),
            fold_now.get((body, hinge.fold)),
            _level(stage, body, hinge),
            (body, hinge.fold) in stage.unmade,
            any(item.actor.id in show_hidden for item in ends),
        )
        marked += [(role, body) for role, _, _ in own]
        wanted += [(k, stretches, gap) for _, stretches, gap in own]
    for (role, body), part in zip(marked, pieces(runs, wanted), strict=True):
        if part is not None:
            lines.append(Drawn(role, body, part))
    return lines


def _hinges(
    stage: Stage, shapes: Mapping[str, PieceShape], by_id: Mapping[FacetId, Projected]
) -> list[tuple[str, Hinge, LineString]]:
    """Every hinge on stage, by body, with its line on paper; those seen end-on left out, and
    bends that lie flat, of which nothing is seen."""
    found = []
    for body in stage.bodies:
        shape = shapes[stage.of(body)[0].piece.name]
        for hinge, flat in shape.hinges:
            if hinge.fold in shape.smooth and _level(stage, body, hinge):
                continue
            if (body, hinge.parent) in by_id and (body, hinge.child) in by_id:
                found.append((body, hinge, flat, by_id[body, hinge.parent]))
    matrices = np.array([item.matrix for *_, item in found]).reshape(-1, 3, 2)
    shifts = np.array([item.shift for *_, item in found]).reshape(-1, 3)
    lines = carried([flat for _, _, flat, _ in found], matrices, shifts)
    long = shapely.length(lines) >= SHORTEST_MM
    return [(b, h, lines[k]) for k, (b, h, _, _) in enumerate(found) if long[k]]


def _level(stage: Stage, body: str, hinge: Hinge) -> bool:
    return abs(stage.angles[body].get(hinge.fold, 0.0)) < FLAT_DEG


def _segments(lines: Sequence[Drawn]) -> tuple[Array, Numbers]:
    """Straight segments (n, 2, 2) and the index of the line each comes from."""
    geometries = many(line.geometry for line in lines)
    parts, line = shapely.get_parts(geometries, return_index=True)
    linear = (shapely.get_dimensions(parts) == 1) & ~shapely.is_empty(parts)
    points, part = shapely.get_coordinates(parts[linear], return_index=True)
    same = part[1:] == part[:-1]
    ends = np.stack((points[:-1][same], points[1:][same]), axis=1)
    return ends, np.asarray(line[linear][part[:-1][same]])


def drawn_once(lines: Sequence[Drawn], silhouette: BaseGeometry) -> list[Drawn]:
    """The same lines, each stretch of paper inked once by the strongest line there (of equal
    ones by that on the contour), and joined into runs as long as they go; in order of
    strength, then body."""
    ends, owner = _segments(lines)
    lengths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    real = lengths > 1e-6
    ends, lengths, owner = ends[real], lengths[real], owner[real]
    count = len(ends)
    if not count:
        return []
    ranks = np.array([_RANK[line.role] for line in lines])[owner]
    low, high = ends.min(axis=1), ends.max(axis=1)
    boxes = shapely.box(*low.T, *high.T)
    wide = shapely.box(*(low - SAME_LINE_MM).T, *(high + SAME_LINE_MM).T)
    first, second = shapely.STRtree(boxes).query(wide)
    along = (ends[:, 1] - ends[:, 0]) / lengths[:, None]
    turn = along[first, 0] * along[second, 1] - along[first, 1] * along[second, 0]
    alike = (ranks[second] <= ranks[first]) & (first != second) & (np.abs(turn) < 0.02)
    # a ghost is drawn over what it falls on, so that it is seen to fit; it spares only lines
    # that are acted on
    ghost = _RANK["ghost"]
    over, under = ranks[first] == ghost, ranks[second]
    alike &= ~over | (under == ghost) | (under <= _RANK["mountain"])
    alike &= over | (under != ghost)
    first, second = first[alike], second[alike]
    # of equal ones that on the contour is stronger, then that which comes first
    inner = np.zeros(count, dtype=bool)
    tied = np.unique(first[ranks[second] == ranks[first]])
    contour = shapely.boundary(silhouette)
    shapely.prepare(contour)
    inner[tied] = ~shapely.dwithin(contour, shapely.points(ends[tied].mean(axis=1)), 0.02)
    strength = (2 * ranks + inner) * count + np.arange(count)
    beaten = strength[second] < strength[first]
    first, second = first[beaten], second[beaten]
    offset = ends[second] - ends[first, None, 0]
    way = along[first, None]
    reach = np.sort((offset * way).sum(axis=2), axis=1) / lengths[first, None]
    aside = np.abs(offset[..., 1] * way[..., 0] - offset[..., 0] * way[..., 1])
    begin, end = np.maximum(0.0, reach[:, 0]), np.minimum(1.0, reach[:, 1])
    close = (end > begin) & (aside.min(axis=1) < SAME_LINE_MM)
    covers: dict[int, list[Interval]] = {}
    stretches = np.stack((begin, end), axis=1)[close].tolist()
    for i, (start, stop) in zip(first[close].tolist(), stretches, strict=True):
        covers.setdefault(i, []).append((start, stop))
    # the other edge of a narrow bar is left out whole or not at all: stubs of it would stand out
    same = set(first[close & (aside.max(axis=1) < _ONE_LINE_MM)].tolist())
    for i in [i for i in covers if i not in same and ranks[i] == _RANK["outline"]]:
        left_over = without([(0.0, 1.0)], sorted(covers[i]))
        if any((b - a) * lengths[i] > SHORTEST_MM for a, b in left_over):
            del covers[i]

    keys = [(_RANK[line.role], line.body, line.role) for line in lines]
    kinds = sorted(set(keys))
    kind = np.array([kinds.index(key) for key in keys])[owner]
    left: list[tuple[int, float, float]] = []
    for i, taken in covers.items():
        for start, stop in without([(0.0, 1.0)], sorted(taken)):
            if (stop - start) * lengths[i] > SHORTEST_MM:
                left.append((i, start, stop))
    whole = np.ones(count, dtype=bool)
    whole[list(covers)] = False
    cut = np.array([i for i, _, _ in left], dtype=int)
    parts = np.array([part for _, *part in left]).reshape(-1, 2, 1)
    kept = ends[cut, :1] + (ends[cut, 1:] - ends[cut, :1]) * parts
    drawn = np.round(np.concatenate((ends[whole], kept)), 4)
    of = np.concatenate((kind[whole], kind[cut]))
    return [Drawn(kinds[k][2], kinds[k][1], runs) for k, runs in _runs(drawn, of, kinds)]


def _runs(
    drawn: Array, of: Numbers, kinds: Sequence[tuple[int, str, LineRole]]
) -> list[tuple[int, BaseGeometry]]:
    """Segments (n, 2, 2) of each kind, joined into runs as long as they go; without what is
    too short to be seen."""
    order = np.argsort(of, kind="stable")
    present, place = np.unique(of[order], return_inverse=True)
    segments: Any = shapely.linestrings(drawn[order])
    merged = shapely.line_merge(shapely.multilinestrings(segments, indices=place))
    runs, place = shapely.get_parts(merged, return_index=True)
    shortest = [_SHORTEST_BROKEN.get(kinds[k][2], SHORTEST_MM) for k in present]
    long = shapely.length(runs) > np.array(shortest)[place]
    present, place = np.unique(present[place[long]], return_inverse=True)
    together: Any = shapely.multilinestrings(runs[long], indices=place)
    return list(zip(present.tolist(), together, strict=True))
