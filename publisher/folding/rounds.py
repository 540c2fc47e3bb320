"""Loops as arrays: where one round of turns leads, for all loops at once.

A turn by an angle about a line is ``1 + sin * A + (1 - cos) * B`` with two constant matrices
(Rodrigues, in 4 x 4 form), so that one table of them serves every angle that is tried.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from publisher.folding.linkage import UNMOVED, Angles, Key, Loop, markers
from publisher.geometry.space import Pose, unit

Array: TypeAlias = NDArray[np.float64]
Whole: TypeAlias = NDArray[np.intp]

_NOWHERE = ((0.0, 0.0, 0.0), (0.0, 0.0, 1.0))


class Rounds:
    """A set of loops, shorter ones filled up with links that never turn.

    ``keys`` are their folds; angles are an array of as many degrees.
    """

    def __init__(self, loops: Sequence[Loop]) -> None:
        self.keys: tuple[Key, ...] = tuple(
            dict.fromkeys(k.fold for loop in loops for k in loop if k.fold)
        )
        index = {key: i for i, key in enumerate(self.keys)}
        longest = max((len(loop) for loop in loops), default=0)
        still = len(self.keys)
        fold = np.full((len(loops), longest), still, dtype=np.intp)
        lines = np.empty((len(loops), longest, 2, 3))
        lines[:] = _NOWHERE
        self._rest: Array | None = None
        for i, loop in enumerate(loops):
            for j, link in enumerate(loop):
                if link.fold is not None:
                    fold[i, j] = index[link.fold]
                    lines[i, j] = link.origin, unit(link.axis)
                if link.ideal is not UNMOVED:
                    if self._rest is None:
                        self._rest = np.tile(np.eye(4), (len(loops), longest, 1, 1))
                    self._rest[i, j] = _matrix(link.ideal)
        self._fold = fold
        self._origin = lines[:, :, 0]
        self._across = _across(lines[:, :, 1])
        self._sine = _whole(self._across, self._origin)
        self._versine = _whole(self._across @ self._across, self._origin)
        self._markers = np.array([markers(loop) for loop in loops]).reshape(len(loops), 4, 3)
        self.known = b"".join(
            part.tobytes()
            for part in (fold, lines, self._markers, *([] if self._rest is None else [self._rest]))
        )
        """Tells one set of loops from another, whatever their folds are called."""

    def angles(self, by_key: Angles) -> Array:
        return np.array([by_key.get(key, 0.0) for key in self.keys])

    def named(self, angles: Array) -> dict[Key, float]:
        return dict(zip(self.keys, angles.tolist(), strict=True))

    def columns(self, free: Sequence[Key]) -> Whole:
        index: Mapping[Key, int] = {key: i for i, key in enumerate(self.keys)}
        return np.array([index[key] for key in free], dtype=np.intp)

    def gap_mm(self, angles: Array) -> float:
        """The largest distance between a marker and where one round leads it."""
        if not len(self._fold):
            return 0.0
        _, off = self._round(angles)
        return float(np.sqrt((off * off).sum(axis=2).max()))

    def measured(self, angles: Array, free: Whole) -> tuple[Array, Array]:
        """How far each marker of each loop is off after one round (mm; loops x 4 x 3, flat),
        and what a radian of each free angle changes of that (as many rows, a column each)."""
        before, off = self._round(angles)
        turns = before[:, :, :3, :3]
        # A turn moves a point by its axis times the point's arm, in the frame of before.
        across = turns @ self._across @ turns.transpose(0, 1, 3, 2)
        origins = turns @ self._origin[..., None]
        origins = origins[..., 0] + before[:, :, :3, 3]
        arms = (off + self._markers)[:, None] - origins[:, :, None]
        slopes = arms @ across.transpose(0, 1, 3, 2)  # loops, links, markers, x y z
        loops, links = self._fold.shape
        chosen = (self._fold[:, :, None] == free).astype(float)  # loops, links, free
        by_fold = slopes.reshape(loops, links, 12).transpose(0, 2, 1) @ chosen
        return off.ravel(), by_fold.reshape(12 * loops, len(free))

    def _round(self, angles: Array) -> tuple[Array, Array]:
        """The motion before each link, 4 x 4, and how far each marker is off after the last."""
        turn = np.radians(np.append(angles, 0.0))[self._fold][:, :, None, None]
        moves = np.sin(turn) * self._sine + (1.0 - np.cos(turn)) * self._versine
        moves += _ONE
        if self._rest is not None:
            moves = moves @ self._rest
        loops, links = self._fold.shape
        before = np.empty((loops, links, 4, 4))
        now = np.broadcast_to(_ONE, (loops, 4, 4))
        for i in range(links):
            before[:, i] = now
            now = now @ moves[:, i]
        there = self._markers @ now[:, :3, :3].transpose(0, 2, 1) + now[:, None, :3, 3]
        return before, there - self._markers


_ONE = np.eye(4)


def _matrix(pose: Pose) -> Array:
    found = np.eye(4)
    found[:3, :3] = pose.rotation
    found[:3, 3] = pose.shift
    return found


def _across(axis: Array) -> Array:
    """The matrix that takes the cross product with each axis."""
    x, y, z = np.moveaxis(axis, -1, 0)
    found = np.zeros((*x.shape, 3, 3))
    found[..., 0, 1], found[..., 0, 2], found[..., 1, 2] = -z, y, -x
    found[..., 1, 0], found[..., 2, 0], found[..., 2, 1] = z, -y, x
    return found


def _whole(part: Array, origin: Array) -> Array:
    """A share of a turn about the line through each origin, 4 x 4."""
    found = np.zeros((*part.shape[:2], 4, 4))
    found[..., :3, :3] = part
    found[..., :3, 3] = -(part @ origin[..., None])[..., 0]
    return found
