"""How many of a known format come out of a sheet of a known format, by cuts from edge to edge."""

from __future__ import annotations

import pytest

from publisher.trimmer.guillotine import boards, strokes_of


@pytest.mark.parametrize(
    ("width", "height", "blank", "count", "rest"),
    [
        # ISO 216:2007: each size is the one before it halved, rounded down to whole mm.
        (210, 297, (148, 210), 2, 210 * 297 - 2 * 148 * 210),
        (210, 297, (105, 148), 4, 210 * 297 - 4 * 105 * 148),
        (297, 420, (105, 148), 8, 297 * 420 - 8 * 105 * 148),
        (420, 594, (148, 210), 8, 420 * 594 - 8 * 148 * 210),
        # Ten business cards of 3 1/2 x 2 in on Letter, in sixteenths: 2 across and 5 down in
        # 8 1/2 x 11 in. PWG 5101.1 for the sheet; the card and "10-up" are common practice,
        # no source.
        (136, 176, (56, 32), 10, 136 * 176 - 10 * 56 * 32),
        # Nine squares of 4 in from 12 x 12 in leave nothing.
        (192, 192, (64, 64), 9, 0),
    ],
)
def test_known_formats(
    width: int, height: int, blank: tuple[int, int], count: int, rest: int
) -> None:
    (board,) = boards([blank] * count, width, height, may_turn=True)
    assert len(board) == count
    strokes, left = strokes_of(board, width, height)
    assert sum(r.width * r.height for r in left) == rest
    # A cut makes one part two: with n parts at the end there were n - 1 cuts.
    assert len(strokes) == count + len(left) - 1
    assert len(boards([blank] * (count + 1), width, height, may_turn=True)) == 2
