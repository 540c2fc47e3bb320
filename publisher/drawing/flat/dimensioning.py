"""Finds a place for each dimension line, near or outside the piece or across the part itself.

Candidates are tried from the most wished for to the least; the first that crosses nothing and
covers nothing is taken. Coordinates are mm on paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

import numpy as np
from msgspec import Struct

from publisher.drawing.flat.blocks import Block
from publisher.drawing.flat.board import (
    CLEAR_MM,
    Axis,
    Board,
    Box,
    Span,
    grown,
    span_meets_box,
)
from publisher.drawing.flat.crowd import rows
from publisher.geometry.path import Point

FIRST_TIER_MM = {"x": 5.2, "y": 8.5}
TIER_STEP_MM = {"x": 6.2, "y": 8.0}
TIERS = 6
EXTENSION_GAP_MM = 0.9
EXTENSION_OVER_MM = 1.1
ALONGSIDE_MM = 3.8
TAIL_MM = 2.2
TICK_MM = 0.8
_STUB_MM = 0.5
"""What is left of an extension line between two gaps and is no longer is left out."""
_BREAK_MM = 0.9
_SHARES = (0.5, 0.36, 0.64, 0.22, 0.78, 0.12, 0.88)


class Wish(Struct, frozen=True):
    """How a dimension would like to lie.

    ``side`` is -1 for top or left, +1 for bottom or right; ``near`` asks for a place close to
    the part. ``inside`` asks for a line across the part itself instead.
    """

    side: int
    near: bool = False
    inside: bool = False


class Placed(Struct, frozen=True):
    """A dimension that has found its place. ``line`` is broken where the figures stand."""

    line: tuple[Span, ...]
    ends: tuple[Point, Point]
    extensions: tuple[Span, ...]
    block: Block
    centre: Point


class _Lie(Struct, frozen=True):
    """A dimension line's position: from ``low`` to ``high`` along the axis, at ``level``."""

    axis: Axis
    low: float
    high: float
    level: float
    out: int
    extensions: tuple[Span, ...]
    cost: float
    on_paper: bool = False

    def point(self, along: float, level: float | None = None) -> Point:
        across = self.level if level is None else level
        return (along, across) if self.axis == "x" else (across, along)

    def size(self, block: Block) -> tuple[float, float]:
        """The block's extent along and across the line."""
        size = (block.width_mm, block.height_mm)
        return size if self.axis == "x" else (size[1], size[0])


_Try: TypeAlias = tuple[float, int, _Lie, Block, str]


def place(
    board: Board, axis: Axis, spots: Sequence[Box], blocks: Sequence[Block], wish: Wish
) -> Placed | None:
    """The best free place for one measure, which is then entered on the board.

    ``spots`` are boxes whose extent along ``axis`` is the measure; ``blocks`` are the ways to
    write it. None where there is no free place at all.
    """
    tries: list[_Try] = []
    for lie in _lies(board, axis, spots, wish):
        for block in blocks:
            for manner, cost in _manners(board, lie, block):
                tries.append((lie.cost + cost, len(tries), lie, block, manner))
    tries.sort(key=lambda t: t[:2])
    tries = _on_free_ground(board, tries)
    # Where nothing else is left, extension lines make way for what stands in theirs.
    patient = ((t, broken) for broken in (False, True) for t in tries)
    for (_, _, lie, block, manner), broken in patient:
        found = _tried(board, lie, block, manner, broken)
        if found is not None:
            board.labels.append(found.block.box(found.centre))
            board.dimensions.extend(found.line)
            board.extensions.extend(found.extensions)
            board.ticks.extend(tick_box(end) for end in found.ends)
            return found
    return None


def _on_free_ground(board: Board, tries: list[_Try]) -> list[_Try]:
    """Those whose lines cross nothing, asked of all at once."""
    if not tries:
        return tries
    lines = [_laid(lie, block, manner)[0] for _, _, lie, block, manner in tries]
    free = board.dimensions_free(rows([span for spans in lines for span in spans]))
    firsts = np.cumsum([0, *(len(spans) for spans in lines[:-1])])
    kept = np.logical_and.reduceat(free, firsts).tolist()
    return [one for one, stays in zip(tries, kept, strict=True) if stays]


def tick_box(at: Point) -> Box:
    """The room of the stroke that ends a dimension line."""
    return (at[0] - TICK_MM, at[1] - TICK_MM, at[0] + TICK_MM, at[1] + TICK_MM)


# ---------------------------------------------------------------- candidates


def _lies(board: Board, axis: Axis, spots: Sequence[Box], wish: Wish) -> Iterator[_Lie]:
    for number, spot in enumerate(spots):
        low, high = (spot[0], spot[2]) if axis == "x" else (spot[1], spot[3])
        if wish.inside:
            across = (spot[1], spot[3]) if axis == "x" else (spot[0], spot[2])
            for step, share in enumerate(_SHARES):
                level = across[0] + (across[1] - across[0]) * share
                ends = (
                    ((low, level), (high, level)) if axis == "x" else ((level, low), (level, high))
                )
                # The part may be cut away or covered here, as a border is at a notch; and a
                # line upon a line of the piece is none.
                within = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
                if all(map(board.is_on_drawn, ends)) and not board.is_on_drawn(within):
                    yield _Lie(axis, low, high, level, 1, (), 0.5 * step + 0.6 * number)
            yield from _alongside(axis, (low, high), across, wish.side, 3.0 + 0.6 * number)
            continue
        for sign in (wish.side, -wish.side):
            cost = (0.0 if sign == wish.side else 9.0) + 1.5 * number
            yield from _outside(board, axis, spot, sign, wish.near, cost)


def _alongside(
    axis: Axis, ends: tuple[float, float], across: tuple[float, float], side: int, cost: float
) -> Iterator[_Lie]:
    """On the paper, close beside the part."""
    for sign in (side, -side):
        edge = across[1] if sign > 0 else across[0]
        level = edge + sign * ALONGSIDE_MM
        begin, end = edge + sign * EXTENSION_GAP_MM, level + sign * EXTENSION_OVER_MM
        extensions = tuple(
            ((at, begin), (at, end)) if axis == "x" else ((begin, at), (end, at)) for at in ends
        )
        yield _Lie(
            axis, *ends, level, sign, extensions, cost + (0.0 if sign == side else 0.3), True
        )


def _outside(
    board: Board, axis: Axis, spot: Box, sign: int, near: bool, cost: float
) -> Iterator[_Lie]:
    """Beside the piece, with extension lines from its edge; best on the part's own side."""
    low, high = ends = (spot[0], spot[2]) if axis == "x" else (spot[1], spot[3])
    sides = (spot[1], spot[3]) if axis == "x" else (spot[0], spot[2])
    starts = [board.edge_along(axis, at, sign) for at in (low, high)]
    if None in starts:
        return
    reach = [s for s in starts if s is not None]
    bounds = board.bounds
    far = bounds[3 if axis == "x" else 2] if sign > 0 else bounds[1 if axis == "x" else 0]
    own = max(reach) if sign > 0 else min(reach)
    cost += 0.12 * abs(own - (sides[1] if sign > 0 else sides[0]))
    first = FIRST_TIER_MM[axis]
    levels = [(far + sign * (first + TIER_STEP_MM[axis] * t), 7.0 * t) for t in range(TIERS)]
    if near and abs(far - own) > 2.0:
        levels.insert(0, (own + sign * (first - 1.0), 0.5))
    for level, tier_cost in levels:
        extensions = []
        for at, start in zip(ends, reach, strict=True):
            begin = start + sign * EXTENSION_GAP_MM
            end = level + sign * EXTENSION_OVER_MM
            if (end - begin) * sign > 0:
                pair = ((at, begin), (at, end)) if axis == "x" else ((begin, at), (end, at))
                extensions.append(pair)
        length = sum(abs(level - s) for s in reach)
        yield _Lie(
            axis, low, high, level, sign, tuple(extensions), cost + tier_cost + 0.08 * length
        )


def _manners(board: Board, lie: _Lie, block: Block) -> Iterator[tuple[str, float]]:
    """Where the figures can stand by the line, with what each costs."""
    along, _ = lie.size(block)
    gap = lie.high - lie.low
    lines = len(block.lines)
    tidy = {"x": {1: 0.0, 2: 0.8}, "y": {1: 1.6, 2: 0.0}}[lie.axis].get(lines, 1.0)
    if gap >= along + 2 * 2.2:
        yield "broken", tidy
    if gap >= along + 0.6:
        yield "beside", 2.0 + tidy
    else:
        yield "beside", 4.5 + tidy
    bounds = board.bounds
    least, most = (bounds[0], bounds[2]) if lie.axis == "x" else (bounds[1], bounds[3])
    stacked = 0.0 if lines == 2 else 0.6
    # Outside, the corners of the drawing are kept for the sizes that reach that far.
    kept = 1.0 if lie.extensions else 0.0
    yield "before", 3.4 + stacked + (kept if lie.low - along - TAIL_MM < least else 0.0)
    yield "after", 3.4 + stacked + (kept if lie.high + along + TAIL_MM > most else 0.0)


# ---------------------------------------------------------------- trying


def _laid(lie: _Lie, block: Block, manner: str) -> tuple[tuple[Span, ...], Point]:
    """The dimension line, broken where the figures stand, and their middle."""
    along, across = lie.size(block)
    middle = (lie.low + lie.high) / 2
    low, high = lie.low, lie.high
    line: list[tuple[float, float]]
    if manner == "broken":
        centre = lie.point(middle)
        half = along / 2 + 1.1
        line = [(low, middle - half), (middle + half, high)]
    elif manner == "beside":
        # Figures wider than the measure stand clear of the extension lines' ends.
        off = 1.5 if high - low >= along + 0.6 else EXTENSION_OVER_MM + 1.2
        centre = lie.point(middle, lie.level + lie.out * (across / 2 + off))
        line = [(low, high)]
    elif manner == "before":
        centre = lie.point(low - TAIL_MM - 1.0 - along / 2)
        line = [(low - TAIL_MM, low), (low, high)]
    else:
        centre = lie.point(high + TAIL_MM + 1.0 + along / 2)
        line = [(low, high), (high, high + TAIL_MM)]
    return tuple((lie.point(a), lie.point(b)) for a, b in line), centre


def _tried(board: Board, lie: _Lie, block: Block, manner: str, broken: bool) -> Placed | None:
    """What lies on free ground, if there is room for its extension lines, figures and ticks."""
    spans, centre = _laid(lie, block, manner)
    box = block.box(centre)
    if not broken and not all(board.extension_is_free(s) for s in lie.extensions):
        return None
    if lie.on_paper and any(board.meets_drawn(s) for s in lie.extensions):
        return None
    if not board.label_is_free(box, (*lie.extensions, *spans)):
        return None
    ends = (lie.point(lie.low), lie.point(lie.high))
    if not all(board.tick_is_free(tick_box(end)) for end in ends):
        return None
    extensions = tuple(part for e in lie.extensions for part in _broken(e, board))
    return Placed(spans, ends, extensions, block, centre)


def _broken(span: Span, board: Board) -> list[Span]:
    """The extension line with a gap at everything older that it would cross."""
    (x1, y1), (x2, y2) = span
    upright = x1 == x2
    start, end = (y1, y2) if upright else (x1, x2)
    gaps = [(p[1], p[1]) if upright else (p[0], p[0]) for p in board.crossings(span)]
    boxes = [box for box in board.labels if span_meets_box(span, grown(box, CLEAR_MM / 2))]
    gaps += [(b[1], b[3]) if upright else (b[0], b[2]) for b in boxes]
    low, high = min(start, end), max(start, end)
    parts: list[tuple[float, float]] = []
    for first, last in sorted(gaps):
        if first - _BREAK_MM > low:
            parts.append((low, min(first - _BREAK_MM, high)))
        low = max(low, last + _BREAK_MM)
    parts.append((low, high))
    kept = [(a, b) for a, b in parts if round(b - a, 6) > _STUB_MM]
    return [((x1, a), (x1, b)) if upright else ((a, y1), (b, y1)) for a, b in kept]
