"""Scores: the stretches of folds that run through paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from publisher.geometry.booleans import clip_path
from publisher.geometry.measure import bounds_meet, distance_to_path, path_bounds
from publisher.geometry.path import Line, Path, Point, Region
from publisher.geometry.segments import point_at
from publisher.model.draft import Gap
from publisher.model.types import Fold, Opening, Score

_NEAR_MM = 1e-6


def scores_of(
    folds: Sequence[Fold], outline: Region, cuts: Sequence[Opening] | None, gaps: Sequence[Gap]
) -> tuple[Score, ...]:
    """One score for every stretch of a fold that runs through paper.

    A fold that a window or a gap interrupts gives several scores, the later ones numbered.
    ``cuts`` are the openings that took paper away: a fold between two panels that none of them
    comes near is scored from end to end, unless there is None, for paper cut in other ways too.
    """
    boxes = [path_bounds(o.path) for o in cuts or ()]
    scores: list[Score] = []
    for fold in folds:
        whole = Path((Line(fold.start, fold.end),), closed=False)
        clear = (
            cuts is not None
            and fold.parent != fold.child
            and not any(bounds_meet(path_bounds(whole), box, _NEAR_MM) for box in boxes)
        )
        parts = [whole] if clear else clip_path(whole, outline)
        own = [g for g in gaps if g.fold == fold.name]
        if own:
            parts = [left for part in parts for left in _without(part, own)]
        for i, part in enumerate(parts, start=1):
            name = fold.name if i == 1 else f"{fold.name} part {i}"
            scores.append(Score(name, part, fold.bend, fold.name, fold.span))
    return tuple(scores)


def _without(part: Path, gaps: Sequence[Gap]) -> Iterator[Path]:
    """What the gaps leave of a straight stretch."""
    (x, y), end = part.start, part.end
    length = part.length_mm
    ux, uy = (end[0] - x) / length, (end[1] - y) / length

    def along(p: Point) -> float:
        return (p[0] - x) * ux + (p[1] - y) * uy

    here = 0.0
    for low, high in sorted(sorted((along(g.start), along(g.end))) for g in gaps):
        if low - here > _NEAR_MM:
            yield _stretch(part, here / length, min(low, length) / length)
        here = max(here, high)
    if length - here > _NEAR_MM:
        yield _stretch(part, here / length, 1.0)


def _stretch(part: Path, start: float, end: float) -> Path:
    line = part.segments[0]
    return Path((Line(point_at(line, start), point_at(line, end)),), closed=False)


def shortened(
    scores: Sequence[Score], outline: Region, short: Mapping[str, float]
) -> tuple[Score, ...]:
    """The scores, those of the folds in ``short`` stopped so far before the paper's edge.

    An end that lies within the paper, at a slit or at another score, stays.
    """
    return tuple(
        _shorter(score, outline, short[score.fold or ""]) if score.fold in short else score
        for score in scores
    )


def _shorter(score: Score, outline: Region, by_mm: float) -> Score:
    length = score.path.length_mm
    at_edge = [
        any(distance_to_path(end, r) <= _NEAR_MM for r in (outline.outer, *outline.holes))
        for end in (score.path.start, score.path.end)
    ]
    if length <= by_mm * sum(at_edge) or not any(at_edge):
        return score
    cut = by_mm / length
    path = _stretch(score.path, cut if at_edge[0] else 0.0, 1.0 - cut if at_edge[1] else 1.0)
    return replace(score, path=path, short_mm=by_mm)
