"""Blanks that lie open on each other, fold on fold, as a page lies in its cover."""

from __future__ import annotations

from publisher.assembly.kit import Kit
from publisher.assembly.types import Body
from publisher.geometry.space import Pose, cross, dot, lift, moved, norm, scaled, sub, unit

_ONE_LINE_MM = 0.05
"""Folds nearer than that are one line: finer than hands can lay paper on paper."""


def spread(kit: Kit, body: Body) -> bool:
    """Whether a piece has folds and lies open flat, so that all of it is meant by its name."""
    return len(kit.pieces[body.piece].facets) > 1 and all(abs(a) < 1e-6 for _, a in body.angles)


def about_one_line(kit: Kit, body: Body, on: Body, pose: Pose) -> Pose | None:
    """Where a fold of one lies on a fold of the other, both turn about one line: so both lie in
    one plane, and only the order of the layers tells which is on top.

    ``pose`` is the place of ``body`` on ``on``; None where no fold lies on another.
    """
    if not (spread(kit, body) and spread(kit, on)):
        return None
    normal = on.pose.normal
    for theirs in kit.pieces[on.piece].hinges:
        start, end = (on.pose.apply(lift(p)) for p in (theirs.start, theirs.end))
        along = unit(sub(end, start))
        for ours in kit.pieces[body.piece].hinges:
            ends = [sub(pose.apply(lift(p)), start) for p in (ours.start, ours.end)]
            up = dot(ends[0], normal)
            beside = [cross(along, sub(e, scaled(normal, up))) for e in ends]
            if max(norm(b) for b in beside) < _ONE_LINE_MM:
                return moved(scaled(normal, -up)).after(pose)
    return None
