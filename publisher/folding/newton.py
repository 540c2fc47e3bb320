"""Fold angles that close a set of loops: Gauss and Newton's method with an exact Jacobian.

Where more angles are free than the loops determine, each step is the shortest one, so that
what need not move stays. Flat states are singular: there the steps halve the error only, and
the closing gap, which goes with its square, still reaches the goal.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from publisher.folding.linkage import UNMOVED, Angles, Key, Loop, markers
from publisher.geometry.space import Vector, sub, turned, unit

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

CLOSED_MM = 1e-9
"""Loops count as closed below this."""

FLAT_DEG = 0.01
"""A fold this near to half a turn lies flat."""

_STEPS = 80
_LONGEST_DEG = 20.0
_FINE_MM = 1e-12


def closed(
    loops: Sequence[Loop], angles: Angles, free: Sequence[Key]
) -> tuple[dict[Key, float], float]:
    """The angles after the free ones were changed so that the loops close as well as they can,
    and the gap that is left in mm."""
    found, gap = _closed(tuple(loops), tuple(angles.items()), tuple(free))
    return dict(found), gap


@lru_cache(maxsize=4096)
def _closed(
    loops: tuple[Loop, ...], angles: tuple[tuple[Key, float], ...], free: tuple[Key, ...]
) -> tuple[tuple[tuple[Key, float], ...], float]:
    """Remembered: a design that is tried with another size mostly folds as it did."""
    now, gap = _solved(loops, dict(angles), free)
    return tuple(now.items()), gap


def _solved(
    loops: Sequence[Loop], now: dict[Key, float], free: Sequence[Key]
) -> tuple[dict[Key, float], float]:
    import numpy as np

    gap, slopes = _measured(loops, now, free)
    error = float(np.abs(gap).max(initial=0.0))
    if not free:
        return now, error
    for _ in range(_STEPS):
        if error < _FINE_MM:
            break
        step = np.degrees(np.linalg.lstsq(slopes, -gap, rcond=1e-9)[0])
        longest = float(np.abs(step).max())
        if longest < 1e-13:
            break
        if longest > _LONGEST_DEG:
            step *= _LONGEST_DEG / longest
        better = None
        for _ in range(6):
            tried = now | {k: now[k] + float(d) for k, d in zip(free, step, strict=True)}
            new_gap, new_slopes = _measured(loops, tried, free)
            if float(new_gap @ new_gap) < float(gap @ gap):
                better = tried, new_gap, new_slopes
                break
            step = step / 2.0
        if better is None:
            break
        now, gap, slopes = better
        error = float(np.abs(gap).max())
    return now, error


def _measured(loops: Sequence[Loop], angles: Angles, free: Sequence[Key]) -> tuple[Array, Array]:
    """How far each marker of each loop is off after one round (mm), and what a radian of each
    free angle changes of that."""
    import numpy as np

    column = {key: i for i, key in enumerate(free)}
    gaps: list[float] = []
    slopes: list[list[float]] = []
    for loop in loops:
        at = UNMOVED
        turns: list[tuple[int, Vector, Vector]] = []
        for link in loop:
            angle = 0.0
            if link.fold is not None:
                angle = angles.get(link.fold, 0.0)
                if link.fold in column:
                    axis = unit(at.turn(link.axis))
                    turns.append((column[link.fold], at.apply(link.origin), axis))
            if angle:
                at = at.after(turned(link.origin, link.axis, angle))
            if link.ideal is not UNMOVED:
                at = at.after(link.ideal)
        for marker in markers(loop):
            x, y, z = there = at.apply(marker)
            gaps += sub(there, marker)
            rows = [[0.0] * len(free) for _ in range(3)]
            for i, (u, v, w), (a, b, c) in turns:  # the axis times what it turns, written out
                rows[0][i] += b * (z - w) - c * (y - v)
                rows[1][i] += c * (x - u) - a * (z - w)
                rows[2][i] += a * (y - v) - b * (x - u)
            slopes += rows
    return np.array(gaps), np.array(slopes).reshape(len(gaps), len(free))


def within_half_turn(angle_deg: float) -> float:
    """The same angle from -180 to 180. A fold that lies flat keeps the side from which it
    came: which of two papers is on top hangs on that."""
    if abs(abs(angle_deg) - 180.0) < FLAT_DEG:
        return math.copysign(180.0, angle_deg) if abs(angle_deg) > 180.0 else angle_deg
    return math.remainder(angle_deg, 360.0)
