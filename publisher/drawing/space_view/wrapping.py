"""A wrap as a maker does it: the band lies flat, good side down, the thing is set on it, and the
panels come up and round, first those that the others come to lie on. Each has its picture.

Assembly carries the band over the thing and folds it downwards; the end is the same. Told so,
the way in is seen, and no panel hides what goes inside.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from publisher.assembly.types import Body, FoldMotion, Frame, MoveMotion, State
from publisher.drawing.space_view.fold_words import turned_panel
from publisher.drawing.space_view.opened import refolded
from publisher.geometry.measure import area
from publisher.geometry.space import Pose, Vector, lift, norm, sub
from publisher.model.types import Piece, Target

_LEVEL = 0.99
_ALIKE = 1e-6


def as_made(frame: Frame, pieces: Mapping[str, Piece]) -> tuple[Frame, ...]:
    """The frame as it is; that of a wrap told again, move by move, where a panel of the band
    lies under the thing when it is done."""
    move = next((m for m in frame.motions if isinstance(m, MoveMotion)), None)
    fold = next((m for m in frame.motions if isinstance(m, FoldMotion)), None)
    if move is None or fold is None or move.manner != "wrap" or len(move.path) < 2:
        return (frame,)
    piece = pieces[frame.before.body(fold.body).piece]
    after = frame.after.body(fold.body)
    rest = _resting(piece, after)
    inside = _inside(frame, move.bodies)
    if not rest or not inside:
        return (frame,)
    band = frame.before.body(fold.body)
    flat = refolded(piece, {rest: after.facet_pose(rest)}, dict(band.angles), rest)
    bodies = {b.id: b for b in frame.before.bodies}
    for name in move.bodies:
        bodies[name] = _with(bodies[name], _carried(frame, name, band, flat))
    for name in inside:
        bodies[name] = frame.after.body(name)
    over: Vector = (0.0, 0.0, norm(move.path[-2]))
    laid = _state(frame, frame.before, bodies)
    copy = band.copy if piece.copies > 1 else 0
    under = Target("panel", piece.name, piece.facet(rest).panel, copy)
    action = frame.action
    setting = replace(
        action, verb="set", subjects=action.objects, relation="on", objects=(under,), called=""
    )
    now = replace(laid, above=frame.before.above)
    set_on = MoveMotion(inside, (over, (0.0, 0.0, 0.0)), "set")
    told = [replace(frame, action=setting, before=now, motions=(set_on,), after=laid)]
    now, angles = laid, dict(band.angles)
    ways = _ways_up(piece, rest, fold, frame.after)
    for moving, folds in ways:
        motion = FoldMotion(fold.body, folds, moving)
        angles |= {name: end for name, _, end in folds}
        there = refolded(piece, {rest: after.facet_pose(rest)}, angles, rest)
        for name in move.bodies:
            bodies[name] = _with(bodies[name], _carried(frame, name, band, there))
        bodies[fold.body] = replace(bodies[fold.body], angles=tuple(angles.items()))
        end = frame.after if moving == ways[-1][0] else _state(frame, laid, bodies)
        turned = tuple(
            Target("fold", piece.name, name, copy, said=turned_panel(piece, motion, name))
            for name, _, _ in folds
        )
        folding = replace(action, verb="fold", subjects=turned, called="")
        told.append(replace(frame, action=folding, before=now, motions=(motion,), after=end))
        now = end
    return tuple(told)


_Way = tuple[tuple[str, ...], tuple[tuple[str, float, float], ...]]


def _ways_up(piece: Piece, rest: str, fold: FoldMotion, end: State) -> list[_Way]:
    """The facets on each side of the one that rests, with their folds from it outwards; the
    side that comes to lie within the other first."""
    turning = {name: (name, start, stop) for name, start, stop in fold.folds}
    ways: list[_Way] = []
    for hinge in piece.hinges:
        if rest not in (hinge.parent, hinge.child):
            continue
        found = [hinge.child if hinge.parent == rest else hinge.parent]
        names = [hinge.fold]
        for facet in found:
            for other in piece.hinges:
                ends = {other.parent, other.child}
                if facet in ends and rest not in ends and not ends <= set(found):
                    found += [f for f in (other.parent, other.child) if f not in found]
                    names.append(other.fold)
        folds = tuple(turning[name] for name in dict.fromkeys(names) if name in turning)
        if folds and not any(set(found) & set(facets) for facets, _ in ways):
            ways.append((tuple(found), folds))
    outer = {
        (upper if side > 0 else lower)[1]
        for lower, upper, side in end.above
        if lower[0] == upper[0] == fold.body
    }
    return sorted(ways, key=lambda way: len(outer & set(way[0])))


def _state(frame: Frame, before: State, bodies: Mapping[str, Body]) -> State:
    """The state with these bodies. How papers lie on each other is known of those that lie as
    they did before, or as they will."""
    now = replace(before, bodies=tuple(bodies[b.id] for b in before.bodies))
    poses = {(b.id, facet): pose for b in now.bodies for facet, pose in b.facets}
    above = []
    for known in (frame.before, frame.after):
        there = {(b.id, facet): pose for b in known.bodies for facet, pose in b.facets}
        above += [
            pair
            for pair in known.above
            if _alike(_between(poses, pair[:2]), _between(there, pair[:2]))
        ]
    return replace(now, above=tuple(dict.fromkeys(above)))


def _between(poses: Mapping[tuple[str, str], Pose], pair: Sequence[tuple[str, str]]) -> Pose:
    """How the second facet lies as seen from the first."""
    return poses[pair[0]].inverse().after(poses[pair[1]])


def _alike(a: Pose, b: Pose) -> bool:
    rows: Iterable[tuple[Vector, Vector]] = zip(a.rotation, b.rotation, strict=True)
    far = max(norm(sub(one, other)) for one, other in rows)
    return far < _ALIKE and norm(sub(a.shift, b.shift)) < _ALIKE


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
