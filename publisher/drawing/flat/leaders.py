"""Finds a place for words at the end of a leader line. Coordinates are mm on paper."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from publisher.drawing.flat.blocks import Block
from publisher.drawing.flat.board import Board, Span
from publisher.drawing.flat.crowd import rows
from publisher.geometry.path import Point

_REACHES_MM = (4.0, 6.0, 8.5, 12.0, 16.0, 21.0, 28.0, 36.0, 46.0)
_SWINGS_DEG = (0.0, 25.0, -25.0, 50.0, -50.0, 75.0, -75.0)
_FOOT_MM = 0.5  # from the edge to the leader's foot
_SHOULDER_MM = 1.0  # from the leader's end to the words


class Led(Struct, frozen=True):
    """Words with the leader that brings them to ``foot``."""

    leader: Span
    block: Block
    centre: Point


def lead(
    board: Board, anchors: Sequence[tuple[Point, Point]], blocks: Sequence[Block]
) -> Led | None:
    """The best free place for words about one of ``anchors`` (point, direction to leave in).

    The leader crosses nothing; where that cannot be, it may cross lines of the piece, but no
    other words or measures. The place is entered on the board. None where there is none.
    """
    tries: list[tuple[float, int, Point, Point, Block]] = []
    for number, (foot, towards) in enumerate(anchors):
        for block in blocks:
            for cost, end in _ends(foot, towards):
                cost += 2.0 * number + (0.0 if len(block.lines) == 2 else 1.2)
                tries.append((cost, len(tries), foot, end, block))
    tries.sort(key=lambda t: t[:2])
    ways = [
        Led((_off(foot, end), end), block, centre)
        for _, _, foot, end, block in tries
        for centre in _centres(foot, end, block)
    ]
    for may_cross in (False, True):
        free = board.free_leaders(
            rows([way.leader for way in ways]),
            rows([way.block.box(way.centre) for way in ways]),
            may_cross,
        )
        if free is not None:
            board.labels.append(ways[free].block.box(ways[free].centre))
            board.leaders.append(ways[free].leader)
            return ways[free]
    return None


def _off(foot: Point, end: Point) -> Point:
    """Where the leader begins: a little off its foot."""
    k = _FOOT_MM / math.dist(foot, end)
    return (foot[0] + (end[0] - foot[0]) * k, foot[1] + (end[1] - foot[1]) * k)


def _ends(foot: Point, towards: Point) -> Iterator[tuple[float, Point]]:
    heading = math.atan2(towards[1], towards[0])
    for reach in _REACHES_MM:
        for swing in _SWINGS_DEG:
            angle = heading + math.radians(swing)
            end = (foot[0] + reach * math.cos(angle), foot[1] + reach * math.sin(angle))
            yield reach * 0.5 + abs(swing) / 12.0, end


def _centres(foot: Point, end: Point, block: Block) -> Iterator[Point]:
    """The words go on where the leader goes: to the side, or over or under its end."""
    dx, dy = end[0] - foot[0], end[1] - foot[1]
    half_width, half_height = block.width_mm / 2, block.height_mm / 2
    if abs(dx) > 0.25 * abs(dy):
        yield (end[0] + math.copysign(_SHOULDER_MM + half_width, dx), end[1])
    if abs(dy) > 0.25 * abs(dx):
        yield (end[0], end[1] + math.copysign(_SHOULDER_MM + 0.4 + half_height, dy))
