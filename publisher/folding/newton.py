"""Fold angles that close a set of loops: Gauss and Newton's method with an exact Jacobian.

Where more angles are free than the loops determine, each step is the shortest one, so that
what need not move stays. Flat states are singular: there the steps halve the error only, and
the closing gap, which goes with its square, still reaches the goal.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from publisher.folding.linkage import Angles, Key

if TYPE_CHECKING:
    from publisher.folding.rounds import Array, Rounds, Whole

CLOSED_MM = 1e-9
"""Loops count as closed below this."""

FLAT_DEG = 0.01
"""A fold this near to half a turn lies flat."""

_STEPS = 80
_LONGEST_DEG = 20.0
_FINE_MM = 1e-12


def closed(rounds: Rounds, angles: Angles, free: Sequence[Key]) -> tuple[dict[Key, float], float]:
    """The angles after the free ones were changed so that the loops close as well as they can,
    and the gap that is left in mm."""
    now, columns = rounds.angles(angles), rounds.columns(free)
    known = (rounds.known, now.tobytes(), columns.tobytes())
    kept = _KEPT.get(known)
    if kept is None:
        kept = _KEPT[known] = _solved(rounds, now, columns)
        if len(_KEPT) > _MOST_KEPT:
            del _KEPT[next(iter(_KEPT))]
    found, gap = kept
    return {**angles, **rounds.named(found)}, gap


_KEPT: dict[tuple[bytes, bytes, bytes], tuple[Array, float]] = {}
"""Remembered: a design that is tried with another size mostly folds as it did."""

_MOST_KEPT = 4096


def _solved(rounds: Rounds, now: Array, free: Whole) -> tuple[Array, float]:
    import numpy as np  # nobody who only imports this room should wait for it

    gap, slopes = rounds.measured(now, free)
    error = float(np.abs(gap).max(initial=0.0))
    if not len(free):
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
            tried = now.copy()
            tried[free] += step
            new_gap, new_slopes = rounds.measured(tried, free)
            if float(new_gap @ new_gap) < float(gap @ gap):
                better = tried, new_gap, new_slopes
                break
            step = step / 2.0
        if better is None:
            break
        now, gap, slopes = better
        error = float(np.abs(gap).max())
    return now, error


def within_half_turn(angle_deg: float) -> float:
    """The same angle from -180 to 180. A fold that lies flat keeps the side from which it
    came: which of two papers is on top hangs on that."""
    if abs(abs(angle_deg) - 180.0) < FLAT_DEG:
        return math.copysign(180.0, angle_deg) if abs(angle_deg) > 180.0 else angle_deg
    return math.remainder(angle_deg, 360.0)
