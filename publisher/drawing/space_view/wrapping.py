"""A wrap as a maker does it: the band lies flat, good side down, the thing is set on it, and
the panels come up and round.

Assembly carries the band over the thing and folds it downwards; the end is the same. Told so,
the way in is seen, and no panel hides what goes inside.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from publisher.assembly.types import Body, FoldMotion, Frame, MoveMotion
from publisher.drawing.space_view.opened import refolded
from publisher.geometry.measure import area
from publisher.geometry.space import Pose, Vector, lift, norm
from publisher.model.types import Piece

_LEVEL = 0.99


def as_made(frame: Frame, pieces: Mapping[str, Piece]) -> Frame:
    """The frame as it is; that of a wrap told again, where a panel of the band lies under the
    thing when it is done."""
    move = next((m for m in frame.motions if isinstance(m, MoveMotion)), None)
    fold = next((m for m in frame.motions if isinstance(m, FoldMotion)), None)
    if move is None or fold is None or move.manner != "wrap" or len(move.path) < 2:
        return frame
    piece = pieces[frame.before.body(fold.body).piece]
    after = frame.after.body(fold.body)
    rest = _resting(piece, after)
    inside = _inside(frame, move.bodies)
    if not rest or not inside:
        return frame
    band = frame.before.body(fold.body)
    flat = refolded(piece, {rest: after.facet_pose(rest)}, dict(band.angles), rest)
    bodies = {b.id: b for b in frame.before.bodies}
    for name in move.bodies:
        bodies[name] = _with(bodies[name], _carried(frame, name, band, flat))
    for name in inside:
        bodies[name] = frame.after.body(name)
    over: Vector = (0.0, 0.0, norm(move.path[-2]))
    moving = tuple(f.name for f in piece.facets if f.name != rest)
    return replace(
        frame,
        before=replace(frame.before, bodies=tuple(bodies[b.id] for b in frame.before.bodies)),
        motions=(
            MoveMotion(inside, (over, (0.0, 0.0, 0.0)), "set"),
            FoldMotion(fold.body, fold.folds, moving),
        ),
    )


def _resting(piece: Piece, after: Body) -> str:
    """The largest of the lowest level facets, good side down; "" where there is none."""
    lowest: list[tuple[float, float, str]] = []
    for facet in piece.facets:
        pose = after.facet_pose(facet.name)
        if pose.normal[2] < -_LEVEL:
            x, y = facet.region.outer.segments[0].start
            lowest.append((round(pose.apply(lift((x, y)))[2], 3), -area(facet.region), facet.name))
    return min(lowest)[2] if lowest else ""


def _inside(frame: Frame, band: tuple[str, ...]) -> tuple[str, ...]:
    """What the band goes round: the bodies named as the object, and what holds to them."""
    wanted = {b.id for t in frame.action.objects for b in frame.before.bodies if b.piece == t.piece}
    grown = True
    while grown:
        grown = False
        for bond in frame.before.bonds:
            ends = {bond.first[0], bond.second[0]}
            if ends & wanted and not ends <= wanted:
                wanted |= ends
                grown = True
    return tuple(b.id for b in frame.before.bodies if b.id in wanted and b.id not in band)


def _carried(frame: Frame, name: str, band: Body, flat: Mapping[str, Pose]) -> dict[str, Pose]:
    """Where a body of the band's group lies when the band lies ``flat``."""
    if name == band.id:
        return dict(flat)
    old = frame.before.body(name)
    here = next(
        (
            one[1]
            for bond in frame.before.bonds
            for one, other in ((bond.first, bond.second), (bond.second, bond.first))
            if one[0] == band.id and other[0] == name
        ),
        next(iter(flat)),
    )
    carry = flat[here].after(band.facet_pose(here).inverse())
    return {facet: carry.after(pose) for facet, pose in old.facets}


def _with(body: Body, facets: Mapping[str, Pose]) -> Body:
    names = [name for name, _ in body.facets]
    return replace(
        body, pose=facets[names[0]], facets=tuple((n, facets[n]) for n in names), placed=True
    )
