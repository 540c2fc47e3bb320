"""Every fold that acts has an arrow, or is counted by a bar on the arrow of one like it.

Folds alike make a row: made or opened again, bent the same way of the paper, and as far. Each of
a row has its own arrow where there is room; else every second has one, or every third, with a bar
for each that comes after it without. So a row looks even, and which are meant is told by their
lines. Folds of which nothing is seen, on the far side, are counted by bars of dots on the last
arrow of their row.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from itertools import product

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, FoldMotion
from publisher.drawing.space_view.arrows import SHORTEST_MM, ArrowKind, distances, repeated
from publisher.drawing.space_view.behind import shown_part
from publisher.drawing.space_view.camera import Array, Camera
from publisher.drawing.space_view.motions import BESIDE_MM, MOST_ARROWS, WANTED_MM, PlacedArrow
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.relaxed import relaxed
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.sides import Backs, as_seen, other
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.turning import fold_path, travelled, turning_facet
from publisher.model.types import Bend, Hinge

_ALONG_HINGE = (0.5, 0.36, 0.64, 0.22, 0.78, 0.1, 0.9)  # where an arrow may start, best first
_UNSEEN_MM2 = 0.5
_SHORTER_MM = 6.3  # so short an arrow may be where longer ones would touch
_PART_WAY = 0.65  # so far an arrow goes where it would touch another at its end
_SHORT_MM = 0.4  # a way so short on paper goes straight at the eye

_Row = tuple[bool, Bend, float, bool]


class _Act(Struct, frozen=True):
    """A fold that acts: ``kind`` of its arrow, as it is seen; ``shown`` whether the paper that it
    turns is; ``row`` what makes it like others, whether it opens, the bend of the paper, how far,
    and whether the hinge's child turns; ``ways`` the arrows that it may have, best first, each
    with whether its tail is seen and whether it is one of the shorter."""

    name: str
    kind: ArrowKind
    shown: bool
    row: _Row
    ways: tuple[tuple[bool, bool, Array], ...]


def fold_arrows(
    motion: FoldMotion,
    stage: Stage,
    shape: PieceShape,
    camera: Camera,
    items: Sequence[Projected],
    seen: Sequence[BaseGeometry],
    taken: Sequence[BaseGeometry],
    backs: Backs,
) -> list[PlacedArrow]:
    """The arrows of a motion's folds, in its order, ``MOST_ARROWS`` with those that are there
    (``taken`` is where they lie). An arrow goes as the hand does as seen: towards the viewer,
    valley, or away; or that it opens again."""
    area = {item.actor.id: seen[k] for k, item in enumerate(items) if not item.ghost}
    acts = _acts(motion, stage, shape, camera, area, backs)
    rows: dict[_Row, list[_Act]] = {}
    for act in acts:
        rows.setdefault(act.row, []).append(act)

    made: dict[tuple[str, int], PlacedArrow] = {}
    followed: dict[tuple[str, int], Array] = {}

    def path_of(act: _Act, way: int) -> Array:
        if (act.name, way) not in followed:
            followed[act.name, way] = relaxed(act.ways[way][-1])
        return followed[act.name, way]

    def inked(act: _Act, way: int = 0) -> PlacedArrow:
        if (act.name, way) not in made:
            path = path_of(act, way)
            points = tuple((x, y) for x, y in path[:, :2].tolist())
            shown = shown_part(act.kind, path, items, seen)
            made[act.name, way] = PlacedArrow(act.kind, motion.body, act.name, points, shown)
        return made[act.name, way]

    def laid(
        act: _Act, off: Sequence[BaseGeometry] = (), short: bool = False
    ) -> PlacedArrow | None:
        """The arrow of a fold ``off`` others; none where it would start behind other paper, to
        which it would seem to belong, or where too little of it is seen."""
        for way, (tail_seen, shorter, _) in enumerate(act.ways):
            if not tail_seen or short > shorter:
                continue
            run = LineString(path_of(act, way)[:, :2])
            if not any(shapely.dwithin(run, halo, BESIDE_MM) for halo in off):
                one = inked(act, way)
                x0, y0, x1, y1 = one.shape.ink.bounds
                if float(np.hypot(x1 - x0, y1 - y0)) >= SHORTEST_MM:
                    return one
        return None

    seen_rows = {row: [act for act in own if laid(act)] for row, own in rows.items()}
    least = _least_step([len(own) for own in seen_rows.values()], MOST_ARROWS - len(taken))
    found: dict[str, PlacedArrow] = {}
    for own in seen_rows.values():
        off = [*taken, *(one.shape.halo for one in found.values())]
        found |= _spread(own, least, off, laid)
    if not found:  # one that is hidden rather than none
        return [inked(act) for act in acts if act.ways][:1]
    bars = _counted(acts, {act.name for own in seen_rows.values() for act in own}, found)
    return [barred(found[act.name], *bars[act.name]) for act in acts if act.name in found]


def _spread(
    row: Sequence[_Act],
    least: int,
    off: Sequence[BaseGeometry],
    laid: Callable[[_Act, Sequence[BaseGeometry], bool], PlacedArrow | None],
) -> dict[str, PlacedArrow]:
    """The arrows of every ``least``-th fold of a row, shorter or of fewer where they would
    touch."""
    for step, short in product(range(least, len(row) + 1), (False, True)):
        found: dict[str, PlacedArrow] = {}
        for act in row[::step]:
            made = laid(act, [*off, *(one.shape.halo for one in found.values())], short)
            if made is None:
                break
            found[act.name] = made
        else:
            return found
    # no room for the first of them: then for the first that has some
    made = next((one for one in (laid(act, off, False) for act in row) if one is not None), None)
    return {} if made is None else {made.name: made}


def _least_step(rows: Sequence[int], room: int) -> int:
    """Every how many-th fold of rows has an arrow so that they are no more than there is room."""
    longest = max(rows, default=1)
    for step in range(1, longest):
        if sum(-(-count // step) for count in rows) <= room:
            return step
    return max(1, longest)


def _counted(
    acts: Sequence[_Act], seen: Collection[str], placed: Collection[str]
) -> dict[str, tuple[int, int]]:
    """How many bars each arrow has, and how many of dots: one for each fold like its own that has
    no arrow, of those that could have one on the arrow before them in their row, of the others
    on the last; of dots where the paper that they turn is not seen."""
    bars = dict.fromkeys(placed, (0, 0))
    for k, act in enumerate(acts):
        if act.name in placed:
            continue
        row = [(j, a.name) for j, a in enumerate(acts) if a.row == act.row and a.name in placed]
        alike = [a.name for a in acts if a.row[:3] == act.row[:3] and a.name in placed]
        if not alike:
            continue
        at = row[-1][1] if row else alike[-1]
        if row and act.name in seen:
            before = [name for j, name in row if j < k]
            at = before[-1] if before else row[0][1]
        here, there = bars[at]
        bars[at] = (here + act.shown, there + (not act.shown))
    return bars


def barred(one: PlacedArrow, times: int, far_side: int = 0) -> PlacedArrow:
    """The arrow with so many bars, and so many of dots."""
    if not times + far_side:
        return one
    drawn = repeated(one.shape, one.path, times, far_side)
    return replace(one, shape=drawn, again=times, far_side=far_side)


def _acts(
    motion: FoldMotion,
    stage: Stage,
    shape: PieceShape,
    camera: Camera,
    area: Mapping[FacetId, BaseGeometry],
    backs: Backs,
) -> list[_Act]:
    """The folds that a motion makes, or what it shows of them."""
    moving = frozenset(motion.moving)
    found: list[_Act] = []
    for name, start, end in motion.folds:
        if motion.shown and name not in motion.shown:
            continue
        hinges = [
            h
            for h, _ in shape.hinges
            if h.fold == name and ((h.child in moving) != (h.parent in moving) or h.child in moving)
        ]
        if not hinges:
            continue
        best = max(hinges, key=lambda h: float(np.hypot(*np.subtract(h.end, h.start))))
        flat = shape.piece.fold(name).bend
        bend = as_seen(flat, motion.body, name, backs)
        if end < start:  # the paper goes the other way
            flat, bend = other(flat), other(bend)
        opens = abs(end) < abs(start) and start * end >= 0.0
        ways = _ways(motion, stage, shape, camera, area, best)
        turned = turning_facet(shape, best, moving)
        row = (opens, flat, round(abs(end - start), 1), turned == best.child)
        shown = area[motion.body, turned].area > _UNSEEN_MM2
        found.append(_Act(name, "unfold" if opens else bend, shown, row, ways))
    return found


def _ways(
    motion: FoldMotion,
    stage: Stage,
    shape: PieceShape,
    camera: Camera,
    area: Mapping[FacetId, BaseGeometry],
    hinge: Hinge,
) -> tuple[tuple[bool, bool, Array], ...]:
    """The arrows that a fold may have, best first: where its paper is seen, long enough to be
    read, near the middle of the fold."""
    options = []
    for preference, at in enumerate(_ALONG_HINGE):
        found = travelled(shape, hinge, frozenset(motion.moving), at, stage.angles[motion.body])
        if found is None:
            continue
        facet, flat = found
        path = camera.project(fold_path(stage, motion, shape, hinge, flat))
        length = float(distances(path[:, :2])[-1])
        if length < _SHORT_MM:
            continue
        own = [area[motion.body, facet], *(area[i] for i in _laid_on(stage, motion.body, facet))]
        tail_seen = bool(shapely.dwithin(own, shapely.Point(path[0, :2]), 0.2).any())
        for shorter, wanted in enumerate((WANTED_MM, _SHORTER_MM)):
            drawn = path
            if length < wanted:
                drawn = path[0] + (path - path[0]) * (wanted / length)
            options.append(((not tail_seen, shorter, preference), drawn))
        part = path[: round(len(path) * _PART_WAY)]
        if float(distances(part[:, :2])[-1]) >= _SHORTER_MM:
            options.append(((not tail_seen, 2, preference), part))
    options.sort(key=lambda o: o[0])
    return tuple((not key[0], key[1] > 0, path) for key, path in options)


def _laid_on(stage: Stage, body: str, facet: str) -> list[FacetId]:
    """The facets of other bodies that lie on a facet, as a mat does: they turn with it."""
    found = []
    for first, second, _ in stage.above:
        for one, beside in ((first, second), (second, first)):
            if one == (body, facet) and beside[0] != body:
                found.append(beside)
    return found
