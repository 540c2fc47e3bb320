"""A piece of straight lines as figures for a trimmer and a scoring board."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from publisher.geometry.path import Line, Path, Segment
from publisher.model.types import Piece
from publisher.trade import Practice
from publisher.trimmer.types import Deviation, Figures, Row, ScoreMark
from publisher.units import FirstUnit

SAME_MM = 0.01
"""Points and lines nearer than this are one."""
TOLD_MM = 0.02
"""A distance that is off by less is not told: no board is set so finely."""

Span = tuple[float, float]


def step_mm(unit: FirstUnit, practice: Mapping[str, Practice]) -> float:
    """From mark to mark on a ruler of this unit."""
    return practice["ruler_mark_metric_mm" if unit == "mm" else "ruler_mark_inch_mm"].value


def on_mark(mm: float, step: float) -> float:
    """The nearest mark, halves away from zero."""
    return math.floor(mm / step + 0.5 + 1e-9) * step


def set_marks(places_mm: Sequence[float], step: float) -> list[float]:
    """A mark for each of these places in rising order, such that the distances between
    neighbours are kept as well as may be (least squares), rather than each place for itself:
    four panels alike stay alike. A place that lies on a mark keeps it, any other goes to the
    mark before or after it.
    """
    # The best ways to each candidate of the last place: (sum of squares, marks so far).
    ways: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
    before = 0.0
    for place in places_mm:
        low = math.floor(place / step + 1e-6)
        candidates = (low,) if abs(low * step - place) < 1e-5 else (low, low + 1)
        ways = [
            min(
                (cost + _off(marks, mark, place - before, step) ** 2, (*marks, mark))
                for cost, marks in ways
            )
            for mark in candidates
        ]
        before = place
    best = min(ways)[1]
    return [mark * step for mark in best]


def _off(marks: tuple[int, ...], mark: int, exact: float, step: float) -> float:
    """By how much the distance to the mark before is off."""
    return (mark - (marks[-1] if marks else 0)) * step - exact


def is_straight(piece: Piece) -> bool:
    """Whether no line of the piece is curved."""
    return all(isinstance(s, Line) for path in _paths(piece) for s in path.segments)


def _paths(piece: Piece) -> Iterable[Path]:
    yield from (piece.outline.outer, *piece.outline.holes)
    yield from (score.path for score in piece.scores)
    yield from (opening.path for opening in piece.openings)


def row_of(
    piece: Piece,
    units: Iterable[FirstUnit],
    practice: Mapping[str, Practice],
    designed: Piece | None = None,
) -> Row:
    """The piece's line in the table; it must be straight. ``designed`` is the piece as it was
    drawn, where this one is made of printed figures; what is off is told against it."""
    left, top, right, bottom = piece.bounds
    width, height = right - left, bottom - top
    own_left, own_top, _, _ = (designed or piece).bounds
    upright: dict[float, list[Span]] = {}
    level: dict[float, list[Span]] = {}
    exact: tuple[dict[float, float], dict[float, float]] = ({}, {})
    slanted = 0
    pairs = zip(_segments(piece), _segments(designed or piece), strict=True)
    for segment, own in pairs:
        (x1, y1), (x2, y2) = segment.start, segment.end
        if abs(x1 - x2) <= SAME_MM:
            at = _add(upright, (x1 + x2) / 2 - left, (y1 - top, y2 - top))
            exact[0].setdefault(at, (own.start[0] + own.end[0]) / 2 - own_left)
        elif abs(y1 - y2) <= SAME_MM:
            at = _add(level, (y1 + y2) / 2 - top, (x1 - left, x2 - left))
            exact[1].setdefault(at, (own.start[1] + own.end[1]) / 2 - own_top)
        else:
            slanted += 1
    figures = []
    for unit in units:
        step = step_mm(unit, practice)
        across_at, wide = _set(upright, width, step)
        down_at, high = _set(level, height, step)
        across = _marks(piece, upright, exact[0], across_at, down_at, step, along_y=True)
        down = _marks(piece, level, exact[1], down_at, across_at, step, along_y=False)
        deviations = (*_deviations(across), *_deviations(down))
        figures.append(Figures(unit, wide, high, across, down, deviations))
    return Row(
        piece.name,
        piece.copies,
        piece.stock,
        tuple(figures),
        not _is_rectangle(piece, width, height),
        slanted,
    )


def _segments(piece: Piece) -> list[Segment]:
    return [segment for score in piece.scores for segment in score.path.segments]


def _add(found: dict[float, list[Span]], at: float, span: Span) -> float:
    """The line that a span lies on."""
    near = next((k for k in found if abs(k - at) <= SAME_MM), at)
    found.setdefault(near, []).append((min(span), max(span)))
    return near


def _set(
    found: Mapping[float, list[Span]], size: float, step: float
) -> tuple[dict[float, float], float]:
    """The mark of each place in one direction, and of the far edge of the blank."""
    places = sorted(found)
    *printed, edge = set_marks([*places, size], step)
    return dict(zip(places, printed, strict=True)), edge


def _marks(
    piece: Piece,
    found: Mapping[float, list[Span]],
    exact: Mapping[float, float],
    printed: Mapping[float, float],
    others: Mapping[float, float],
    step: float,
    along_y: bool,
) -> tuple[ScoreMark, ...]:
    """The scores in one direction; where they begin and end at one of the ``others``, which
    cross them, that one's mark is said."""

    def end(place: float) -> float:
        near = next((k for k in others if abs(k - place) <= SAME_MM), None)
        return on_mark(place, step) if near is None else others[near]

    marks = []
    for at, mark in printed.items():
        first, last = min(s[0] for s in found[at]), max(s[1] for s in found[at])
        paper = _paper_along(piece, at, along_y)
        if first <= paper[0] + SAME_MM and last >= paper[1] - SAME_MM:
            marks.append(ScoreMark(mark, exact[at]))
        else:
            marks.append(ScoreMark(mark, exact[at], end(first), end(last)))
    return tuple(marks)


def _paper_along(piece: Piece, at: float, along_y: bool) -> Span:
    """Between which places there is paper beside a line through the piece, on either side."""
    left, top, _, _ = piece.bounds
    reached: list[float] = []
    for nudge in (-2 * SAME_MM, 2 * SAME_MM):
        for segment in piece.outline.outer.segments:
            (x1, y1), (x2, y2) = segment.start, segment.end
            a, b = (x1 - left, x2 - left) if along_y else (y1 - top, y2 - top)
            p, q = (y1 - top, y2 - top) if along_y else (x1 - left, x2 - left)
            line = at + nudge
            if min(a, b) <= line < max(a, b):
                reached.append(p + (line - a) / (b - a) * (q - p))
    return (min(reached), max(reached)) if reached else (0.0, 0.0)


def _deviations(marks: tuple[ScoreMark, ...]) -> Iterable[Deviation]:
    for first, second in pairwise(marks):
        exact = second.exact_mm - first.exact_mm
        printed = second.at_mm - first.at_mm
        if abs(printed - exact) >= TOLD_MM:
            yield Deviation(first.at_mm, second.at_mm, exact, printed)


def _is_rectangle(piece: Piece, width: float, height: float) -> bool:
    """Whether the blank is the piece: nothing is left to cut away."""
    ring = piece.outline.outer
    corners = {
        (round(s.start[0] - piece.bounds[0], 2), round(s.start[1] - piece.bounds[1], 2))
        for s in ring.segments
    }
    wanted = {(x, y) for x in (0.0, round(width, 2)) for y in (0.0, round(height, 2))}
    slits = any(opening.kind == "slit" for opening in piece.openings)
    return corners == wanted and not piece.outline.holes and not slits
