"""At what scale to draw: the room of a picture, and one scale for pictures that show the same."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import shapely

from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.projected import carried
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage

PICTURE_WIDTH_MM = 85.0
WHITE_MM = 6.0
PICTURE_HEIGHT_MM = 62.0  # so that three steps find room on a page
ROOM_MM = (PICTURE_WIDTH_MM - 2 * WHITE_MM, PICTURE_HEIGHT_MM - 2 * WHITE_MM)  # without words

APART_ROOM_MM = (ROOM_MM[0], ROOM_MM[1] + 9.0)  # higher, so that places are seen

# Renard's R20 (ISO 3), downwards from 1:1, so that scales are few and nearly even in ratio.
_HALF = (1.0, 0.9, 0.8, 0.71, 0.63, 0.56, 0.5, 0.45, 0.4, 0.355, 0.315, 0.28, 0.25, 0.224)
_R20 = (*_HALF, 0.2, 0.18, 0.16, 0.14, 0.125, 0.112)
SCALES: tuple[float, ...] = tuple(k / 10.0**decade for decade in (0, 1, 2) for k in _R20)

_STEP = math.log(10.0) / 20.0
_GOOD_PART = 1.0 / 3.0
_BEARABLE = 1  # so many steps below what would fit nobody minds
_NEW, _CHANGE = 2, 6
"""What a change of scale costs, in pictures that are a step smaller than need be: where a new
thing comes onto the table, and else."""
_ALIKE = 1  # and more where the thing could have been drawn as large before
_LARGER = 2  # so many steps at least, or the change is not worth it
_SHRINK = 2.0  # so much larger at most is a thing drawn than where it is next put to others


def extent(stage: Stage, shapes: Mapping[str, PieceShape], view: View) -> tuple[float, float]:
    """Width and height on paper at 1:1 of all facets, and of where those that travel will lie."""
    shown = [*stage.actors, *(ghost for ghost in stage.ghosts if ghost.body in stage.away)]
    if not shown:
        return 0.0, 0.0
    papers = [shapes[a.piece.name].facets[a.facet].paper for a in shown]
    matrices, shifts = Camera(view, 1.0).flat_maps([a.pose for a in shown])
    x0, y0, x1, y1 = shapely.total_bounds(carried(papers, matrices, shifts)).tolist()
    return x1 - x0, y1 - y0


def largest_scale(stage: Stage, shapes: Mapping[str, PieceShape], view: View) -> float:
    """The largest scale at which a picture finds room; one of things apart may be higher."""
    return fitting_scale(extent(stage, shapes, view), APART_ROOM_MM if stage.away else ROOM_MM)


def papers_of(stage: Stage, shapes: Mapping[str, PieceShape]) -> dict[str, float]:
    """How much paper of each piece a picture shows, mm2."""
    found: dict[str, float] = {}
    for actor in stage.actors:
        paper = shapes[actor.piece.name].facets[actor.facet].paper
        found[actor.piece.name] = found.get(actor.piece.name, 0.0) + paper.area
    return found


def fitting_scale(size: tuple[float, float], room: tuple[float, float] = ROOM_MM) -> float:
    """The largest of ``SCALES`` at which a size fits into the room."""
    most = min(r / max(s, 1e-9) for r, s in zip(room, size, strict=True))
    return next((s for s in SCALES if s <= most + 1e-9), most)


def shared_scales(wanted: Sequence[float], papers: Sequence[Mapping[str, float]]) -> list[float]:
    """A scale for each picture, never larger than ``wanted``, which is the largest that fits.

    What makes up a good part of a picture (``papers``) keeps its scale from the last picture
    that showed it, unless it does not fit. It is drawn larger again only where it has become
    so much smaller, for so many pictures, that they would be mostly white.
    """
    return _near_the_later(_kept(wanted, papers), papers)


def _near_the_later(chosen: Sequence[float], papers: Sequence[Mapping[str, float]]) -> list[float]:
    """The scales, but of a small thing that a later picture puts to a large one no more than
    ``_SHRINK`` times the scale there, so that it is known again; nor less than half of what was
    chosen, so that it is seen."""
    scales = list(chosen)
    for k in range(len(scales) - 2, -1, -1):
        own = papers[k].keys()
        later = next((j for j in range(k + 1, len(scales)) if own < papers[j].keys()), None)
        if own and later is not None:
            most = max(_SHRINK * scales[later], scales[k] / _SHRINK)
            if most < scales[k] - 1e-9:
                scales[k] = max((s for s in SCALES if s <= most + 1e-9), default=most)
    return scales


def _kept(wanted: Sequence[float], papers: Sequence[Mapping[str, float]]) -> list[float]:
    """A scale for each picture, kept as long as it is bearable."""
    if not wanted:
        return []
    before = [_last_shown(papers, k) for k in range(len(wanted))]
    scales = sorted(set(wanted))
    ranks = [round(math.log(s / scales[0]) / _STEP) for s in scales]
    fitting = [scales.index(own) for own in wanted]
    every = range(len(scales))

    def change(k: int, n: int, m: int) -> float:
        """What it costs to draw a picture at one scale (m) after another (n)."""
        if m == n:
            return 0
        of = before[k]
        if of is None:
            return _NEW
        fits = n <= fitting[k]
        if fits and ranks[m] - ranks[n] < _LARGER:
            return math.inf
        grown = ranks[fitting[k]] - ranks[fitting[of]]
        return _CHANGE + (_ALIKE if fits and grown < _LARGER else 0)

    # what a picture costs at each scale, with all that follow from it: they hang together as a
    # tree, in which those that follow come later
    cost = [
        [math.inf if m > own else max(0, ranks[own] - ranks[m] - _BEARABLE) for m in every]
        for own in fitting
    ]
    best: list[list[int]] = [[] for _ in wanted]
    for k in range(len(wanted) - 1, 0, -1):
        of = before[k]
        parent = k - 1 if of is None else of
        for n in every:
            # of equal ones the same, then the larger
            m = min(every, key=lambda m: (cost[k][m] + change(k, n, m), m != n, -m))
            best[k].append(m)
            cost[parent][n] += cost[k][m] + change(k, n, m)
    chosen = [min(every, key=lambda m: (cost[0][m], -m))]
    for k in range(1, len(wanted)):
        of = before[k]
        chosen.append(best[k][chosen[k - 1 if of is None else of]])
    return [scales[m] for m in chosen]


def _last_shown(papers: Sequence[Mapping[str, float]], k: int) -> int | None:
    """The last picture before one in which a good part of its paper was shown."""
    least = _GOOD_PART * sum(papers[k].values())
    for j in range(k - 1, -1, -1):
        if sum(papers[k][name] for name in papers[k].keys() & papers[j].keys()) >= least:
            return j
    return None
