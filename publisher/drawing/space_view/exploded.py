"""Exploded views: of several things that one action lays on each other, each is drawn as much
further from its place as it lies over the others."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.assembly.types import Frame, MoveMotion
from publisher.geometry.space import Vector, dot, norm, scaled

SPREAD = 0.8
"""Between two layers, as a share of how far the nearest hovers; our own choice, for the eye."""

_ALONG = 0.999


def spread_out(away: Mapping[str, Vector], frame: Frame) -> dict[str, Vector]:
    """``away`` is how far from their places bodies are drawn; those that do not come to lie on
    each other, or come on different ways, keep it."""
    nearer = _nearer(away, frame)
    stacked = set(nearer).union(*nearer.values())
    longest = max((norm(away[body]) for body in stacked), default=0.0)
    found = dict(away)
    for body, under in _levels(nearer).items():
        far = longest * (1.0 + SPREAD * under)
        found[body] = scaled(away[body], far / norm(away[body]))
    return found


def _nearer(away: Mapping[str, Vector], frame: Frame) -> dict[str, set[str]]:
    """For each body those that come on the same way and lie between it and what it comes to."""
    nearer: dict[str, set[str]] = {}
    moved = {frozenset(m.bodies) for m in frame.motions if isinstance(m, MoveMotion)}
    for (low, _), (high, _), _ in frame.after.above:
        if low == high or low not in away or high not in away:
            continue
        if any({low, high} <= group for group in moved) or not _alike(away[low], away[high]):
            continue
        near, far = (low, high) if away[low][2] >= 0 else (high, low)
        nearer.setdefault(far, set()).add(near)
    return nearer


def _levels(nearer: Mapping[str, set[str]]) -> dict[str, int]:
    """How many layers of a stack lie under each, the nearest with none."""
    levels: dict[str, int] = {}

    def level(body: str) -> int:
        if body not in levels:
            levels[body] = 0  # a ring of layers, each on the next, is no stack
            levels[body] = max((1 + level(b) for b in nearer.get(body, ())), default=0)
        return levels[body]

    for body in sorted(nearer):
        level(body)
    return levels


def _alike(one: Vector, other: Vector) -> bool:
    sizes = norm(one) * norm(other)
    return sizes > 0.0 and dot(one, other) > _ALONG * sizes
