"""Exploded views: how far from its place what travels is drawn, so that the place is seen. Of
several things that one action lays on each other, each is drawn as much further from its place as
it lies over the others."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from publisher.assembly.types import Frame, MoveMotion
from publisher.drawing.space_view.room_taken import box_of
from publisher.geometry.measure import path_bounds
from publisher.geometry.space import Vector, dot, lift, norm, scaled
from publisher.model.types import Piece

SPREAD = 0.8
"""Between two layers, as a share of how far the nearest hovers; our own choice, for the eye."""

_ALONG = 0.999


ALONG = ("slide", "thread", "tuck", "pull")
"""Manners of moving along paper, drawn from where the way begins."""

_HOVER = 0.42  # how high a part is drawn over its place, as a part of its smaller side
_OVER_WINDOW = 0.7  # where that place is told by a window which it covers
_UPRIGHT = 0.7


def let_down(away: Vector) -> bool:
    """Whether what is drawn so far from its place comes to it from above."""
    return abs(away[2]) > _UPRIGHT * norm(away)


def moved_bodies(frame: Frame, pieces: Mapping[str, Piece]) -> dict[str, Vector]:
    """Bodies that travel, with the offset from their end at which they are drawn.

    That is where the last leg of the path begins; what is laid or wrapped is drawn nearer
    than that when it hovers far above its place, and what is let down not so near that it would
    hide its place.
    """
    found: dict[str, Vector] = {}
    for motion in frame.motions:
        if not isinstance(motion, MoveMotion) or not motion.path:
            continue
        away = motion.path[max(0, len(motion.path) - 2)]
        far = norm(away)
        hover = _OVER_WINDOW if _covers_window(frame, pieces, motion.bodies) else _HOVER
        wanted = hover * _reach(frame, pieces, motion.bodies)
        nearer = motion.manner not in ALONG and far > wanted > 0
        if nearer or (motion.manner != "wrap" and let_down(away) and 0 < far < wanted):
            away = scaled(away, wanted / far)
        found |= dict.fromkeys(motion.bodies, away)
    return spread_out(found, frame)


def _reach(frame: Frame, pieces: Mapping[str, Piece], bodies: Iterable[str]) -> float:
    """How large what travels is, mm: the smaller side of its largest flat piece, or half the
    second side of its largest body where a narrow strip is bent to something larger."""
    sides = []
    for name in bodies:
        body = frame.after.body(name)
        x0, y0, x1, y1 = pieces[body.piece].bounds
        low, high = box_of(body, pieces[body.piece])
        stood = sorted(b - a for a, b in zip(low, high, strict=True))
        sides += [min(x1 - x0, y1 - y0), stood[1] / 2.0]
    return max(sides, default=0.0)


def _covers_window(frame: Frame, pieces: Mapping[str, Piece], bodies: Collection[str]) -> bool:
    """Whether some bodies come to lie over a window of what stands."""
    for pair in frame.after.above:
        for (body, facet), (host, panel) in (pair[:2], pair[1::-1]):
            if body not in bodies or host in bodies:
                continue
            under, over = frame.after.body(host), frame.after.body(body)
            there = over.facet_pose(facet).inverse().after(under.facet_pose(panel))
            x0, y0, x1, y1 = path_bounds(pieces[over.piece].facet(facet).region.outer)
            for hole in pieces[under.piece].facet(panel).region.holes:
                left, top, right, bottom = path_bounds(hole)
                x, y, _ = there.apply(lift(((left + right) / 2.0, (top + bottom) / 2.0)))
                if x0 < x < x1 and y0 < -y < y1:
                    return True
    return False


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
