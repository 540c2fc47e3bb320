"""The values of assembly: where every body is before and after each action."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.geometry.space import Pose, Vector
from publisher.model.types import Action, Face, Pattern

FacetId: TypeAlias = tuple[str, str]
"""(body id, facet name); a body id is "NAME-1" for the first copy, spaces as hyphens."""


Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, right and bottom on a flat piece, mm."""


class Body(Struct, frozen=True):
    """One copy of one piece in space.

    ``pose`` carries the body frame of its first facet (front up) into the world. ``angles``
    are fold angles by fold name, degrees travelled. ``facets`` are the world poses that
    follow. ``placed`` is False while the piece still waits to be taken up.
    """

    id: str
    piece: str
    copy: int
    pose: Pose
    angles: tuple[tuple[str, float], ...]
    facets: tuple[tuple[str, Pose], ...]
    placed: bool

    def facet_pose(self, name: str) -> Pose:
        for facet, pose in self.facets:
            if facet == name:
                return pose
        raise KeyError(name)


class Bond(Struct, frozen=True):
    """Two facets that hold together, over which glue zone ("" for none), by what. ``rest`` is
    how the second lay, seen from the first, when they were joined: calipers that folds do not
    reckon with may move them off it a little later."""

    first: FacetId
    second: FacetId
    by: Literal["glue", "tape", "tuck", "pads"]
    zone: str
    rest: Pose | None = None

    def same(self, other: Bond) -> bool:
        mine = (self.first, self.second, self.by, self.zone)
        return mine == (other.first, other.second, other.by, other.zone)


class State(Struct, frozen=True):
    """Everything after an action.

    ``above`` is the layer order: (lower, upper) pairs of facets that lie flat on each other
    in space, where ``upper`` lies on the side that ``lower``'s front face looks to when
    ``+1`` and on its back side when ``-1`` (third member). Only pairs that overlap stand here.
    """

    bodies: tuple[Body, ...]
    bonds: tuple[Bond, ...]
    above: tuple[tuple[FacetId, FacetId, int], ...]
    made: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def body(self, body_id: str) -> Body:
        return next(b for b in self.bodies if b.id == body_id)


class FoldMotion(Struct, frozen=True):
    """Folds of one body turning from one angle to another; ``moving`` facets travel. Where
    paper bends, many folds turn together: ``shown`` are those that are told and drawn then."""

    body: str
    folds: tuple[tuple[str, float, float], ...]
    moving: tuple[str, ...]
    shown: tuple[str, ...] = ()


class MoveMotion(Struct, frozen=True):
    """Bodies moving as one along a path of world offsets (first is where they come from,
    last is (0, 0, 0), the end place). ``manner``: "slide", "thread", "tuck", "pull",
    "lay", "wrap"."""

    bodies: tuple[str, ...]
    path: tuple[Vector, ...]
    manner: str


class TurnMotion(Struct, frozen=True):
    """Bodies turned over (or turned) about an axis through ``origin``."""

    bodies: tuple[str, ...]
    origin: Vector
    axis: Vector
    angle_deg: float


class Mark(Struct, frozen=True):
    """Something done to a face that moves nothing.

    ``what``: "glue" or "tape" (``names`` are glue zones, or panels that take it all over; none
    where the whole face does), "score" (scores), "cut" (openings), "press" (scores), "colour" and
    "hold" (panels; none where it is the whole piece), "dry", "pads" (``boxes`` on the flat piece).
    """

    body: str
    what: str
    names: tuple[str, ...]
    face: Face
    boxes: tuple[Box, ...] = ()


Motion: TypeAlias = FoldMotion | MoveMotion | TurnMotion | Mark


class Frame(Struct, frozen=True):
    """One action: the state before, what happens, the state after.

    ``before`` is the scene as the action begins: the state after the last frame, with the
    pieces that this action takes up on the table, and with a part that comes in from elsewhere
    where its path begins (over its place, or drawn out of where it fits). ``motions`` follow
    each other; a ``FoldMotion`` after a ``MoveMotion`` folds at the end of the path.

    ``residual_mm`` is the largest distance between what was mated and where it came to lie.
    """

    step: int
    action: Action
    before: State
    motions: tuple[Motion, ...]
    after: State
    residual_mm: float


class Story(Struct, frozen=True):
    """All frames in order, and the last state (the first state where there are no steps).

    ``handled`` is the pattern as the bodies are made of it, where that is not the pattern that
    was told: with the things that steps put into paper as pieces of their own (named in
    ``things``), the tongue under a slit as a facet of its own, and curled panels in strips. Who
    draws the bodies draws the pieces of ``handled``; the folds named in ``smooth``, (piece,
    fold), are no lines on the paper. For all else the pattern counts.
    """

    frames: tuple[Frame, ...]
    end: State
    body_pieces: Mapping[str, str]
    handled: Pattern | None = None
    things: tuple[str, ...] = ()
    smooth: tuple[tuple[str, str], ...] = ()
