"""What a blade needs beyond the line itself: to go on past the start, to set in beside it.

A closed cut ends where it began, and there a dragged blade has not yet turned into the way of
the first cut; going over its beginning once more parts the last fibres (overcut). A beam or a
blade that marks where it sets in does so in the waste (lead).
"""

from __future__ import annotations

import math
from collections.abc import Callable

from publisher.cutfiles.along import Along
from publisher.geometry.path import Line, Path, Point
from publisher.geometry.segments import direction_at

_TURNS_DEG = (0.0, 15.0, 30.0, 45.0, 60.0, 90.0, 120.0)
_CHECKS = 8


def overcut(path: Path, mm: float) -> Path:
    """A closed path gone round once and on for ``mm``, at most once more round."""
    if not path.closed or mm <= 0.0:
        return path
    along = Along(path)
    more = along.stretch(0.0, min(mm, along.length_mm))
    return Path(path.segments + more.segments, closed=False)


def lead(path: Path, mm: float, is_waste: Callable[[Point], bool]) -> Line | None:
    """A straight way of ``mm`` to the path's start, all of it in the waste.

    As nearly in the direction of the first cut as can be, so that the blade need not turn;
    None where no direction has waste enough.
    """
    if mm <= 0.0:
        return None
    (x, y), (dx, dy) = path.start, direction_at(path.segments[0], 0.0)
    for turn in _TURNS_DEG:
        for side in (1.0, -1.0) if turn else (1.0,):
            angle = math.radians(turn * side)
            back = (
                -(dx * math.cos(angle) - dy * math.sin(angle)),
                -(dx * math.sin(angle) + dy * math.cos(angle)),
            )
            steps = (mm * number / _CHECKS for number in range(1, _CHECKS + 1))
            if all(is_waste((x + back[0] * s, y + back[1] * s)) for s in steps):
                return Line((x + back[0] * mm, y + back[1] * mm), path.start)
    return None
