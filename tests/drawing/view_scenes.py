"""Frames built by hand, so that views are tested without the assembly room."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.assembly.types import (
    Body,
    Bond,
    FacetId,
    FoldMotion,
    Frame,
    Mark,
    Motion,
    MoveMotion,
    State,
    Story,
    TurnMotion,
)
from publisher.geometry.space import Pose, Vector, moved, turned
from publisher.model.folding import facet_poses
from publisher.model.types import Action, Pattern, Piece
from tests.handmade import (
    TABS,
    WALLS,
    envelope_pattern,
    sliding_box_pattern,
)

Above = tuple[tuple[FacetId, FacetId, int], ...]

FRONT_UP = Pose()
BACK_UP = turned((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), 180.0)


def body(piece: Piece, pose: Pose, angles: Mapping[str, float], placed: bool = True) -> Body:
    """A copy of a piece, its first facet's frame at ``pose``."""
    facets = tuple((n, pose.after(p)) for n, p in facet_poses(piece, angles).items())
    kept = tuple((f.name, angles.get(f.name, 0.0)) for f in piece.folds)
    name = piece.name.replace(" ", "-") + "-1"
    return Body(name, piece.name, 1, pose, kept, facets, placed)


def centred(piece: Piece, facet: str, turn: Pose = FRONT_UP, up: float = 0.0) -> Pose:
    """The pose that lays the middle of a facet over the origin, turned as given."""
    x0, y0, x1, y1 = piece.panel(facet).bounds
    return moved((0.0, 0.0, up)).after(turn).after(moved((-(x0 + x1) / 2, (y0 + y1) / 2, 0.0)))


def state(bodies: Sequence[Body], above: Above = (), bonds: tuple[Bond, ...] = ()) -> State:
    return State(tuple(bodies), bonds, above)


def action(pattern: Pattern, step: int, line: int) -> Action:
    return pattern.steps[step - 1].actions[line - 1]


def flaps(parent: FacetId, names: Sequence[str], side: int) -> Above:
    return tuple((parent, (parent[0], name), side) for name in names)


def envelope_story() -> Story:
    """Score, turn over, sides in, glue, bottom up, flap down: every fold mountain by 180."""
    pattern = envelope_pattern()
    piece = pattern.piece("envelope")
    front, back = centred(piece, "centre"), centred(piece, "centre", BACK_UP)
    sides = {"left side": 180.0, "right side": 180.0}
    closed = {**sides, "bottom flap": 180.0}
    shut = {**closed, "top flap": 180.0}
    centre: FacetId = ("envelope-1", "centre")
    on_centre = flaps(centre, ("left side", "right side"), -1)
    on_sides = tuple(
        (("envelope-1", s), ("envelope-1", "bottom flap"), 1) for s in ("left side", "right side")
    )
    over_bottom = flaps(centre, ("left side", "right side", "bottom flap"), -1) + on_sides
    everything = flaps(centre, ("left side", "right side", "bottom flap", "top flap"), -1)
    everything += (*on_sides, (("envelope-1", "bottom flap"), ("envelope-1", "top flap"), 1))
    everything += tuple(
        (("envelope-1", s), ("envelope-1", "top flap"), 1) for s in ("left side", "right side")
    )

    s0 = state([body(piece, front, {})])
    s1 = state([body(piece, back, {})])
    s2 = state([body(piece, back, sides)], on_centre)
    s3 = state([body(piece, back, closed)], over_bottom)
    s4 = state([body(piece, back, shut)], everything)

    def fold(*names: str) -> FoldMotion:
        return FoldMotion("envelope-1", tuple((n, 0.0, 180.0) for n in names), names)

    def frame(step: int, line: int, before: State, motion: Motion, after: State) -> Frame:
        return Frame(step, action(pattern, step, line), before, (motion,), after, 0.0)

    scores = tuple(s.name for s in piece.scores)
    frames = (
        frame(1, 1, s0, Mark("envelope-1", "score", scores, "front"), s0),
        frame(1, 2, s0, TurnMotion(("envelope-1",), (0, 0, 0), (1, 0, 0), 180.0), s1),
        frame(1, 3, s1, fold("left side", "right side"), s2),
        frame(2, 1, s2, Mark("envelope-1", "glue", ("strip 1", "strip 2"), "back"), s2),
        frame(2, 2, s2, fold("bottom flap"), s3),
        frame(3, 1, s3, fold("top flap"), s4),
    )
    return Story(frames, s4, {"envelope-1": "envelope"})


def drawer_states(pattern: Pattern) -> tuple[State, State, State, State]:
    """Front up, back up, walls up, tabs in."""
    piece = pattern.piece("drawer")
    walls = dict.fromkeys(WALLS, 90.0)
    tabs = {**walls, **dict.fromkeys(TABS, 90.0)}
    front, back = centred(piece, "base"), centred(piece, "base", BACK_UP)
    pairs = (("left wall", ("tab 1", "tab 3")), ("right wall", ("tab 2", "tab 4")))
    above = tuple(
        (("drawer-1", wall), ("drawer-1", tab), -1) for wall, names in pairs for tab in names
    )
    return (
        state([body(piece, front, {})]),
        state([body(piece, back, {})]),
        state([body(piece, back, walls)]),
        state([body(piece, back, tabs)], above),
    )


def box_story(depth_mm: float = 22.0) -> Story:
    """The sliding box: drawer folded and glued, mat laid, sleeve closed round it, slid in."""
    pattern = sliding_box_pattern(depth_mm)
    drawer, sleeve, mat = (pattern.piece(n) for n in ("drawer", "sleeve", "sleeve mat"))
    s0, s1, s2, s3 = drawer_states(pattern)
    caliper = sleeve.stock.caliper_mm

    def frame(
        step: int, line: int, before: State, motions: Sequence[Motion], after: State
    ) -> Frame:
        return Frame(step, action(pattern, step, line), before, tuple(motions), after, 0.0)

    def turn(*names: str) -> tuple[tuple[str, float, float], ...]:
        return tuple((n, 0.0, 90.0) for n in names)

    scores = tuple(s.name for s in drawer.scores)
    frames = [
        frame(1, 1, s0, [Mark("drawer-1", "score", scores, "front")], s0),
        frame(1, 2, s0, [TurnMotion(("drawer-1",), (0, 0, 0), (1, 0, 0), 180.0)], s1),
        frame(1, 3, s1, [FoldMotion("drawer-1", turn(*WALLS), (*WALLS, *TABS))], s2),
        frame(1, 4, s2, [FoldMotion("drawer-1", turn(*TABS), TABS)], s3),
        frame(2, 1, s3, [Mark("drawer-1", "glue", TABS, "front")], s3),
    ]
    flat_sleeve = body(sleeve, centred(sleeve, "panel 1"), {})
    x0, y0, x1, y1 = mat.panel("sleeve mat").bounds
    mat_pose = moved((-(x0 + x1) / 2, (y0 + y1) / 2, caliper))
    laid = body(mat, mat_pose, {})
    lifted = body(mat, moved((0.0, 0.0, 45.0)).after(mat_pose), {})
    lay = MoveMotion(("sleeve-mat-1",), ((0.0, 0.0, 45.0), (0.0, 0.0, 0.0)), "lay")
    frames.append(frame(3, 1, state([lifted, flat_sleeve]), [lay], state([laid, flat_sleeve])))

    shut = {f.name: 90.0 for f in sleeve.folds}
    bond = Bond(("sleeve-mat-1", "sleeve mat"), ("sleeve-1", "panel 1"), "glue", "")
    height = depth_mm + 0.9
    on_top = centred(sleeve, "panel 1", up=height)
    closed = body(sleeve, on_top, shut)
    matted = body(mat, moved((0.0, 0.0, height)).after(mat_pose), {})
    drawer_in = s3.bodies[0]
    out = moved((-170.0, 0.0, 0.0))
    drawer_out = body(drawer, out.after(drawer_in.pose), dict(drawer_in.angles))
    overlap = (("sleeve-1", "panel 1"), ("sleeve-1", "overlap"), -1)
    above = (*s3.above, (overlap[0], overlap[1], -1))
    before = state([drawer_out, closed, matted], above, (bond,))
    after = state([drawer_in, closed, matted], above, (bond,))
    glue = Mark("sleeve-1", "glue", ("overlap",), "front")
    frames.append(frame(3, 3, before, [glue], before))
    slide = MoveMotion(("drawer-1",), ((-170.0, 0.0, 0.0), (0.0, 0.0, 0.0)), "slide")
    frames.append(frame(4, 1, before, [slide], after))
    names: dict[str, str] = {"drawer-1": "drawer", "sleeve-1": "sleeve"}
    names["sleeve-mat-1"] = "sleeve mat"
    return Story(tuple(frames), after, names)


__all__ = ["Vector", "body", "box_story", "centred", "envelope_story", "state"]
