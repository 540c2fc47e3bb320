"""Folds that one line turns together: all at once, or those farther out first or last.

As walls of a tray and the tabs on them go up at once, a tab would pass through the wall beside it:
so the tabs are bent first.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from typing import TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.flexing import Flexing, flexing
from publisher.assembly.types import FoldMotion
from publisher.folding.crossing import Sheet, crossing_depth, sheet
from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, Vector, lift
from publisher.model.folding import facet_poses
from publisher.model.types import Piece

_LEVELS = 3
"""Of folds one behind the other that may wait for each other: a strip of many is rolled up."""
_LOOKS = (0.15, 0.3, 0.45, 0.55, 0.7, 0.85, 0.95)
_THROUGH_MM = 0.3
_CHORD_MM = 0.25


class InTurn(Struct, frozen=True):
    """Folds that turn, each with its angles, and when each does: from one share of the whole
    motion to another. ``still`` is a facet that stays."""

    folds: tuple[tuple[str, float, float], ...]
    still: str
    spans: Mapping[str, tuple[float, float]]

    def at(self, share: float) -> dict[str, float]:
        """The angles of the folds when hands have gone a share of their way."""
        found = {}
        for name, start, end in self.folds:
            low, high = self.spans.get(name, (0.0, 1.0))
            own = min(1.0, max(0.0, (share - low) / (high - low)))
            found[name] = start + (end - start) * own
        return found


Ways: TypeAlias = Mapping[FoldMotion, Flexing | InTurn]


def ways_of(
    motions: Sequence[FoldMotion],
    pieces: Mapping[str, Piece],
    angles: Mapping[str, Mapping[str, float]],
    poses: Mapping[str, Mapping[str, Pose]],
) -> Ways:
    """How the folds of each motion turn, from bodies as they stand."""
    found: dict[FoldMotion, Flexing | InTurn] = {}
    for motion in motions:
        name, piece = motion.body, pieces[motion.body]
        flex = flexing(piece, angles[name], motion.folds, poses[name])
        found[motion] = flex or in_turn(motion, piece, angles[name])
    return found


def in_turn(motion: FoldMotion, piece: Piece, angles: Mapping[str, float]) -> InTurn:
    """The first order in which no paper of the piece passes through other paper of it; where
    there is none, that in which it goes least far through."""
    free = (f.name for f in piece.facets if f.name not in motion.moving)
    together = InTurn(motion.folds, next(free, piece.facets[0].name), {})
    depths = _depths(motion, piece, together.still)
    levels = max(depths.values(), default=0)
    if not 1 < levels <= _LEVELS:
        return together
    orders = [together]
    for places in (
        {name: levels - d for name, d in depths.items()},
        {name: d - 1 for name, d in depths.items()},
    ):
        spans = {name: (p / levels, (p + 1) / levels) for name, p in places.items()}
        orders.append(replace(together, spans=spans))
    rings = _rings(piece)
    best, least = together, float("inf")
    for order in orders:
        worst = max(_crossed(piece, rings, {**angles, **order.at(share)}) for share in _LOOKS)
        if worst < _THROUGH_MM:
            return order
        if worst < least - _THROUGH_MM:
            best, least = order, worst
    return best


def _depths(motion: FoldMotion, piece: Piece, still: str) -> dict[str, int]:
    """How many of the folds that turn lie between each and what stays, itself counted."""
    turning = {name for name, _, _ in motion.folds}
    found: dict[str, int] = {}
    reached = {still: 0}
    waiting = [still]
    for here in waiting:
        for hinge in piece.hinges:
            if here not in (hinge.parent, hinge.child):
                continue
            there = hinge.child if here == hinge.parent else hinge.parent
            if there in reached:
                continue
            turns = hinge.fold in turning
            reached[there] = reached[here] + turns
            waiting.append(there)
            if turns:
                found[hinge.fold] = max(found.get(hinge.fold, 0), reached[there])
    return found


_Rings = Mapping[str, Sequence[tuple[Vector, ...]]]


def _rings(piece: Piece) -> _Rings:
    return {
        facet.name: [
            tuple(lift(p) for p in flattened(ring, _CHORD_MM))
            for ring in (facet.region.outer, *facet.region.holes)
        ]
        for facet in piece.facets
    }


def _crossed(piece: Piece, rings: _Rings, angles: Mapping[str, float]) -> float:
    poses = facet_poses(piece, angles)
    sheets = [_sheet(rings[name], pose) for name, pose in poses.items()]
    return max((crossing_depth(a, b) for a, b in itertools.combinations(sheets, 2)), default=0.0)


def _sheet(rings: Sequence[tuple[Vector, ...]], pose: Pose) -> Sheet:
    return sheet([[pose.apply(p) for p in ring] for ring in rings], pose.normal)
