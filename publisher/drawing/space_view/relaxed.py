"""Paths that an arrow can follow: no bend sharper than its body, and its head straight.

What travels about a fold goes along an arc; seen nearly along the paper an arc is squeezed into a
hook, and a head on that would be a wedge. Then the bends are spread along the way, before the
head, and the ends stay where they are. What ends too near its start for that is drawn as a hook
that is wide enough.
"""

from __future__ import annotations

import math

import numpy as np

from publisher.drawing.space_view.arrows import HEAD_MM, SHORTEST_MM
from publisher.drawing.space_view.camera import Array

_STRAIGHT_MM = HEAD_MM[1] + 0.2  # under a head
_HEAD_DEG = 60.0  # as much may a path turn under its head
_RADIUS_MM = 1.2  # of the sharpest bend, more than half a body
_SPREAD_MM = (2.5, 4.0, 6.0, 9.0, 13.0)  # a bend is spread over so long a stretch, tried in turn
_POINTS = 48
_BETWEEN_MM = 3.4  # from a way out to the way back, at least


def relaxed(path: Array) -> Array:
    """The path (n, 2 or more: paper x, y and what else goes along), or one like it that has no
    sharp bend and ends straight."""
    steps = np.diff(path[:, :2], axis=0)
    far = np.concatenate(([0.0], np.hypot(steps[:, 0], steps[:, 1]).cumsum()))
    worst = _wrong(path)
    if far[-1] < _STRAIGHT_MM or worst <= 1.0:
        return path
    along = np.linspace(0.0, far[-1], _POINTS)
    even = np.column_stack([np.interp(along, far, column) for column in path.T])
    best = path
    for spread in _SPREAD_MM:
        made = _spread(even, along, spread)
        wrong = _wrong(made)
        if wrong < worst:
            best, worst = made, wrong
        if worst <= 1.0:
            return best
    hook = _hook(even)
    return hook if _wrong(hook) < worst else best


def _hook(even: Array) -> Array:
    """What goes out and comes back, with room between both ways and for a head."""
    line = even[:, :2]
    tail, tip = line[0], line[-1]
    top = line[int(np.minimum(np.hypot(*(line - tail).T), np.hypot(*(line - tip).T)).argmax())]
    rise = top - (tail if np.hypot(*(top - tail)) > np.hypot(*(top - tip)) else tip)
    up = rise / max(float(np.hypot(*rise)), 1e-9)
    aside = np.array([-up[1], up[0]])
    wide = float((tip - tail) @ aside)
    wide = math.copysign(max(abs(wide), _BETWEEN_MM), wide)
    there, back = float((top - tail) @ up), max(float((top - tip) @ up), _STRAIGHT_MM)
    tip = tail + up * (there - back) + aside * wide
    ends = np.array([tail, tail + up * there * 4.0 / 3.0, tip + up * back * 4.0 / 3.0, tip])
    t = np.linspace(0.0, 1.0, len(even))[:, None]
    weights = np.hstack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3])
    made = even.copy()
    made[:, :2] = weights @ ends
    return made


def _turns(steps: Array) -> Array:
    """By how much a path turns at each of its inner points, radians."""
    turn = np.diff(np.arctan2(steps[:, 1], steps[:, 0]))
    return np.asarray((turn + np.pi) % (2.0 * np.pi) - np.pi)


def _wrong(path: Array) -> float:
    """How far from well a path is for an arrow, 1 is just well: what it turns under its head, and
    its sharpest bend."""
    steps = np.diff(path[:, :2], axis=0)
    lengths, turns = np.hypot(steps[:, 0], steps[:, 1]), np.abs(_turns(steps))
    if float(lengths.sum()) < SHORTEST_MM:
        return math.inf
    rest = lengths[::-1].cumsum()[::-1][1:]  # from each inner point to the tip
    under = float(turns[rest < _STRAIGHT_MM].sum()) / math.radians(_HEAD_DEG)
    beside = np.maximum((lengths[:-1] + lengths[1:]) / 2.0, 1e-9)
    return max(under, float((turns / beside).max()) * _RADIUS_MM)


def _spread(even: Array, along: Array, spread: float) -> Array:
    """A path of even steps with its bends spread over so many mm, and straight under the head."""
    steps = np.diff(even[:, :2], axis=0)
    ways = np.arctan2(steps[0, 1], steps[0, 0]) + np.concatenate(([0.0], _turns(steps).cumsum()))
    # the whole turn is made before the head: the way of the tip comes a head's length earlier
    step, total = along[1], along[-1]
    body = max(total - _STRAIGHT_MM, total * 0.4)
    at = np.minimum((along[:-1] + step / 2.0) * total / body, total)
    ways = np.interp(at, along[:-1] + step / 2.0, ways)
    wide = max(1, round(min(spread, body / 2.0) / step)) // 2
    bent = int(np.searchsorted(along, body))
    if wide and bent > 2 * wide:
        start, end = np.full(wide, ways[0]), np.full(wide, ways[-1])
        padded = np.concatenate((start, ways, end))
        ways = np.convolve(padded, np.full(2 * wide + 1, 1.0 / (2 * wide + 1)), mode="valid")
        ways[bent:] = ways[-1]
    moved = np.column_stack((np.cos(ways), np.sin(ways))) * step
    line = even[0, :2] + np.concatenate((np.zeros((1, 2)), moved.cumsum(axis=0)))
    line += (even[-1, :2] - line[-1]) * (along / total)[:, None]
    made = even.copy()
    made[:, :2] = line
    return made
