"""Many straight spans and boxes against many at once. A span is (x1, y1, x2, y2), a box
(left, top, right, bottom); each function tells for each of the first whether any of the second
is met, as ``board`` asks it of one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Rows: TypeAlias = NDArray[np.float64]
"""(n, 4)"""
Told: TypeAlias = NDArray[np.bool_]


def rows(found: Sequence[object]) -> Rows:
    """Spans or boxes as rows."""
    made: Rows = np.array(found, dtype=float).reshape(-1, 4)
    return made


def pulled(spans: Rows, by_mm: float) -> Rows:
    """Spans a little shorter at both ends; those that have no room for that as their middles."""
    run = spans[:, 2:] - spans[:, :2]
    length = np.hypot(run[:, 0], run[:, 1])[:, None]
    short = length <= 2 * by_mm
    step = run * by_mm / np.where(short, 1.0, length)
    middle = (spans[:, :2] + spans[:, 2:]) / 2
    first = np.where(short, middle, spans[:, :2] + step)
    last = np.where(short, middle, spans[:, 2:] - step)
    return np.column_stack((first, last))


def grown(boxes: Rows, by_mm: float) -> Rows:
    wider: Rows = boxes + np.array((-by_mm, -by_mm, by_mm, by_mm))
    return wider


def boxes_overlap(boxes: Rows, others: Rows) -> Told:
    a, b = boxes[:, None, :], others[None, :, :]
    across = (a[..., 0] < b[..., 2]) & (b[..., 0] < a[..., 2])
    return np.asarray((across & (a[..., 1] < b[..., 3]) & (b[..., 1] < a[..., 3])).any(axis=1))


def in_box(spans: Rows, boxes: Rows) -> Told:
    """For each pair (broadcast) whether the span has a point in the box (Liang and Barsky)."""
    enter, leave = np.zeros(()), np.ones(())
    beside = np.zeros((), dtype=bool)
    for k in (0, 1):
        start, step = spans[..., k], spans[..., k + 2] - spans[..., k]
        low, high = boxes[..., k], boxes[..., k + 2]
        still = step == 0.0
        beside = beside | (still & ((start < low) | (start > high)))
        safe = np.where(still, 1.0, step)
        one, other = (low - start) / safe, (high - start) / safe
        enter = np.where(still, enter, np.maximum(enter, np.minimum(one, other)))
        leave = np.where(still, leave, np.minimum(leave, np.maximum(one, other)))
    return np.asarray(~beside & (enter <= leave))


def spans_in_boxes(spans: Rows, boxes: Rows) -> Told:
    return np.asarray(in_box(spans[:, None, :], boxes[None, :, :]).any(axis=1))


def boxes_with_spans(boxes: Rows, spans: Rows) -> Told:
    return np.asarray(in_box(spans[None, :, :], boxes[:, None, :]).any(axis=1))


def spans_cross(spans: Rows, others: Rows) -> Told:
    """Whether a span has a point in common with any of the others."""
    a, b = spans[:, None, :], others[None, :, :]
    near = np.ones((), dtype=bool)
    for k in (0, 1):
        a_ends, b_ends = (a[..., k], a[..., k + 2]), (b[..., k], b[..., k + 2])
        near = near & (np.maximum(*a_ends) >= np.minimum(*b_ends))
        near = near & (np.maximum(*b_ends) >= np.minimum(*a_ends))

    def side(o: Rows, at: Rows, k: int) -> NDArray[np.float64]:
        along = (o[..., 2] - o[..., 0], o[..., 3] - o[..., 1])
        return np.asarray(
            along[0] * (at[..., k + 1] - o[..., 1]) - along[1] * (at[..., k] - o[..., 0])
        )

    cross = (side(a, b, 0) * side(a, b, 2) <= 0) & (side(b, a, 0) * side(b, a, 2) <= 0)
    return np.asarray((near & cross).any(axis=1))
