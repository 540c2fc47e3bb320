"""The outside of a piece in a state: flat, closed, closed and full."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum

from publisher.model.folding import closed_angles, closed_size, facet_poses
from publisher.model.types import Piece


class State(Enum):
    FLAT = "flat"
    CLOSED = "closed"

    @classmethod
    def of(cls, words: Iterable[str]) -> State:
        """``open`` and ``flat`` are the blank; ``closed``, ``full`` and ``empty`` are closed."""
        return cls.FLAT if {"open", "flat"} & set(words) else cls.CLOSED


def closed_or_flat(
    piece: Piece, state: State, content_mm: float = 0.0
) -> tuple[float, float, float]:
    """Across, down and deep in mm, caliper counted.

    A piece that closes flat gets thicker by its contents; a box has room for them.
    """
    if state is State.FLAT:
        x0, y0, x1, y1 = piece.bounds
        return (x1 - x0, y1 - y0, piece.stock.caliper_mm)
    width, height, deep = closed_size(piece)
    if content_mm and closes_flat(piece):
        deep += content_mm
    return (width, height, deep)


def closes_flat(piece: Piece) -> bool:
    """Whether every facet comes to lie in the plane of the first."""
    poses = facet_poses(piece, closed_angles(piece))
    return all(abs(abs(pose.normal[2]) - 1.0) < 1e-9 for pose in poses.values())
