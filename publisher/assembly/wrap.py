"""``wrap``: a band goes round a closed body."""

from __future__ import annotations

import re

from publisher.assembly.approach import first_of, fold_approach, move_approach
from publisher.assembly.bodies import (
    bodies_of,
    box,
    carried,
    joined,
    middle,
    posed,
    taken_up,
    with_bodies,
)
from publisher.assembly.cavity import (
    alike,
    inner_side,
    lengths,
    measured_facet,
    reference_facet,
)
from publisher.assembly.change import Change, finding, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.rigid import followers, refolded
from publisher.assembly.targets import target_bodies
from publisher.assembly.travel import hover, travel
from publisher.assembly.types import Body, FoldMotion, State
from publisher.diagnostics import Diagnostic
from publisher.geometry.space import Matrix, Pose, Vector, sub
from publisher.model.folding import closed_angles
from publisher.model.types import Action, BandOf, Piece

_PART = re.compile(r" part \d+$")
"""A part of a fold along a curve, by its number."""


def wrap(kit: Kit, state: State, action: Action) -> Change:
    """Carry the band so that its first panel lies over the body, and fold it round."""
    ours = [b for t in action.subjects for b in target_bodies(state, t)]
    around = [b for t in action.objects for b in target_bodies(state, t)]
    if not ours or not around:
        return Change(state, state, findings=(not_yet(action, "Wrapping this"),))
    piece = kit.pieces[state.body(ours[0]).piece]
    if not isinstance(piece.derived, BandOf):
        note = f"{piece.name} is no band. A band's folds are made for the body inside."
        return Change(state, state, findings=(not_yet(action, "Wrapping this", note),))
    if any(bond.first[0] == bond.second[0] == ours[0] for bond in state.bonds):
        note = f"{piece.name} is closed already; it can be slid on."
        return Change(state, state, findings=(not_yet(action, "Wrapping this", note),))
    start = taken_up(kit, state, [*around, ours[0]])
    body, inner = start.body(ours[0]), start.body(around[0])
    return _wrapped(kit, start, action, piece, piece.derived, body, inner)


def _wrapped(
    kit: Kit, start: State, action: Action, piece: Piece, band: BandOf, body: Body, inner: Body
) -> Change:
    first = reference_facet(kit, body)
    content = bodies_of(start, joined(start, [inner.id]))
    closing = closed_angles(piece)
    folded = posed(kit, body, Pose(), closing)
    own = folded.facet_pose(first)
    room = box(kit, [folded], seen_from=own)
    measured = measured_facet(kit, inner)
    frame = inner.facet_pose(measured)
    filled = box(kit, content, calipers=True, seen_from=frame)
    side = inner_side(kit, inner, measured)
    faces = side if inner_side(kit, body) < 0 else -side
    rotation = _rotation(body.facet_pose(first), frame, float(faces))
    goal = frame.apply(middle(filled))
    pose = Pose(rotation, sub(goal, Pose(rotation).turn(middle(room))))
    after = posed(kit, body, pose.after(own.inverse()), closing)

    # First the band comes as it is, its first panel where it will lie; then it is folded.
    came = refolded(kit, after, dict(body.angles), first)
    onto = came.pose.after(body.pose.inverse())
    group = joined(start, [body.id])
    others = [carried(start.body(b), onto) for b in group if b != body.id]
    laid = with_bodies(start, [came, *others])
    end = with_bodies(laid, [after, *followers(kit, laid, came, after)])

    outside = frame.turn((0.0, 0.0, float(side)))
    over = hover(kit, end, [body.id], outside)
    turning = tuple(
        (name, old, closing[name]) for name, old in body.angles if abs(old - closing[name]) > 1e-9
    )
    moving = tuple(
        f.name for f in piece.facets if after.facet_pose(f.name) != came.facet_pose(f.name)
    )
    motions = (
        *travel(kit, start, laid, group, body.id, over, "wrap"),
        FoldMotion(body.id, turning, moving),
    )
    order = [name for name, _, _ in turning]
    approach = first_of(
        (
            fold_approach(kit, end, came, after, first, order),
            move_approach(end, group, over),
        )
    )
    return Change(
        start,
        end,
        motions,
        residual_mm=max(0.0, -_least_free(band, lengths(room), lengths(filled))),
        findings=_not_closed(kit, action, band, inner),
        approach=approach,
    )


def _rotation(now: Pose, frame: Pose, side: float) -> Matrix:
    """The first panel's rotation: its front towards the body's front (``side`` +1) or back
    (-1), its axes along the body's own; of the two ways round, that which turns the band
    least."""
    ways: list[Matrix] = []
    for sign in (1.0, -1.0):
        # Columns are the panel's right, up and front in the body's frame.
        columns = ((sign, 0.0, 0.0), (0.0, sign * side, 0.0), (0.0, 0.0, side))
        matrix: Matrix = (
            (columns[0][0], columns[1][0], columns[2][0]),
            (columns[0][1], columns[1][1], columns[2][1]),
            (columns[0][2], columns[1][2], columns[2][2]),
        )
        ways.append(frame.after(Pose(matrix)).rotation)
    return max(ways, key=lambda way: alike(way, now.rotation))


def _least_free(band: BandOf, room: Vector, filled: Vector) -> float:
    """The smaller of what is free across the two directions that the band goes round, mm."""
    flat = 1 if band.direction == "down" else 0
    return min(room[i] - filled[i] for i in (flat, 2))


def _not_closed(kit: Kit, action: Action, band: BandOf, inner: Body) -> tuple[Diagnostic, ...]:
    """A band is made for the closed body: folds that are not closed are a finding."""
    if "closed" not in band.state:
        return ()
    angles = dict(inner.angles)
    closing = closed_angles(kit.pieces[inner.piece])
    open_folds = [name for name, angle in closing.items() if abs(angles[name] - angle) > 1e-6]
    if not open_folds:
        return ()
    piece = kit.pieces[inner.piece]
    bent = any(piece.fold(name).smooth for name in open_folds)
    own = list(dict.fromkeys(_PART.sub("", n) for n in open_folds if not piece.fold(n).smooth))
    text = (
        f"{inner.piece} is not closed when the band goes round it:"
        f" {' and '.join(own)} of {inner.piece} {'is' if len(own) == 1 else 'are'} not folded"
    )
    note = (
        "Ends that are pressed in along curves bend their panels: no band is drawn for that yet; "
        "it goes round the flat thing, before they are pressed."
    )
    most = max(abs(angles[name] - closing[name]) for name in open_folds)
    return (
        finding(
            "not-closed",
            action,
            text,
            action.objects[0],
            (("off_deg", most),),
            notes=(note,) if bent else (),
            ways_out=() if bent else (f"close {inner.piece} in an earlier step",),
        ),
    )
