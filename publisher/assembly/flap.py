"""``tuck FLAP behind PANEL``: a flap goes in as its lid is closed, and lies within the box."""

from __future__ import annotations

import math

from msgspec.structs import replace

from publisher.assembly.bodies import taken_up
from publisher.assembly.cavity import inner_side
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.fold import turned_to
from publisher.assembly.kit import Kit, landed
from publisher.assembly.targets import panel_name, target_bodies
from publisher.assembly.tongues import slit_of
from publisher.assembly.types import Bond, FacetId, State
from publisher.diagnostics import Diagnostic
from publisher.geometry.space import Pose, moved, scaled
from publisher.model.hinges import way_up
from publisher.model.types import Action, Opening, Piece
from publisher.units import both

FIT_MM = 0.05
_FOLDED_DEG = 1.0
_SHARED_MM2 = 1.0


def tuck_flap(kit: Kit, state: State, action: Action) -> Change:
    """Fold the flap and then whatever carries it, up to the panel that it goes behind, and hold
    it there."""
    subject, goal = action.subjects[0], action.objects[0]
    ours, theirs = target_bodies(state, subject), target_bodies(state, goal)
    if len(ours) != 1 or theirs != ours or len(action.subjects) > 1:
        note = "Say one flap, and the panel or slit of the same piece that it goes behind or into."
        return Change(state, state, findings=(not_yet(action, "Tucking this there", note),))
    start = taken_up(kit, state, ours)
    body = start.body(ours[0])
    piece = kit.pieces[body.piece]
    slit = slit_of(piece, goal)
    panel = slit.panel if slit is not None else panel_name(goal)
    walls = kit.facets_of(piece.name, panel or "")
    flaps = kit.facets_of(piece.name, panel_name(subject))
    if not walls or not flaps:
        return Change(start, start, findings=(not_yet(action, "Tucking this there"),))
    closing = {f.name: f.closing_deg for f in piece.folds}
    chain = _chain(kit, piece.name, flaps[0], walls[0])
    wanted = {body.id: {name: closing[name] for name in chain}}
    angles = dict(body.angles)
    if all(abs(angles[n] - closing[n]) < 1e-9 for n in chain):
        done = Change(start, start)
    else:
        done = turned_to(kit, start, action, wanted, [])
    if any(f.severity == "error" for f in done.findings):
        return done
    flap, wall = (body.id, flaps[0]), (body.id, walls[0])
    faults = _faults(kit, done.end, action, flap, wall, slit)
    return replace(
        done,
        bonds=() if faults else (Bond(flap, wall, "tuck", ""),),
        findings=(*done.findings, *faults),
        approach=_inside(kit, done, flap, wall, slit is not None),
    )


def _chain(kit: Kit, piece: str, flap: str, wall: str) -> list[str]:
    """The folds from the flap to what it has in common with the wall, the flap's own first."""
    tree = {joint.facet: joint for joint in kit.trees[piece]}

    above = set(way_up(tree, wall))
    folds = [tree[f].fold for f in way_up(tree, flap) if f not in above]
    # A wall that hangs on the lid's side of the tree is reached over its own folds, made before.
    return list(dict.fromkeys(folds))


def _faults(
    kit: Kit, state: State, action: Action, flap: FacetId, wall: FacetId, slit: Opening | None
) -> tuple[Diagnostic, ...]:
    """Whether the flap lies on the wall, and whether its way in is free."""
    body = state.body(flap[0])
    piece = kit.pieces[body.piece]
    into = body.facet_pose(wall[1]).inverse()
    points = landed(into.after(body.facet_pose(flap[1])), kit.shapes[piece.name, flap[1]].outer)
    allowed = 2.0 * piece.stock.caliper_mm + FIT_MM
    name, goal = panel_name(action.subjects[0]), action.objects[0].part
    if slit is not None:
        return _through(kit, action, piece, flap, slit, into.after(body.facet_pose(flap[1])))
    off = max(abs(p[2]) for p in points)
    flat = [(p[0], -p[1]) for p in points]
    own = kit.shapes[piece.name, wall[1]].bounds
    shared = [
        min(max(p[i] for p in flat), own[i + 2]) - max(min(p[i] for p in flat), own[i])
        for i in (0, 1)
    ]
    if off > allowed or min(shared) <= 0 or shared[0] * shared[1] < _SHARED_MM2:
        far = max(off, *(-s for s in shared))
        said = both(far, kind="thin", first=kit.pattern.meta.first_unit)
        text = f"{name} does not come to lie behind {goal}: it is {said} away when all is folded"
        return (finding("tuck-misses", action, text, None, (("away_mm", far),)),)
    lacking = _beyond(piece, wall[1], dict(body.angles), flat)
    if lacking <= FIT_MM:
        return ()
    said = both(lacking, kind="thin", first=kit.pattern.meta.first_unit)
    text = f"{name} has no way in behind {goal}: it is {said} wider than what is free there"
    way = f"make {name} narrower, or taper it"
    numbers = (("missing_mm", lacking),)
    return (finding("no-way-in", action, text, None, numbers, ways_out=(way,)),)


def _beyond(
    piece: Piece, wall: str, angles: dict[str, float], flat: list[tuple[float, float]]
) -> float:
    """How far the flap reaches past the wall's edges on which paper stands."""
    worst = 0.0
    for hinge in piece.hinges:
        if wall not in (hinge.parent, hinge.child) or abs(angles[hinge.fold]) < _FOLDED_DEG:
            continue
        (x, y), (u, v) = hinge.start, hinge.end
        size = math.dist(hinge.start, hinge.end)
        sign = 1.0 if wall == hinge.parent else -1.0  # the parent lies on the right, y down
        for p, q in flat:
            worst = max(worst, -sign * ((u - x) * (q - y) - (v - y) * (p - x)) / size)
    return worst


def _through(
    kit: Kit, action: Action, piece: Piece, flap: FacetId, slit: Opening, into: Pose
) -> tuple[Diagnostic, ...]:
    """A tab through a slit: the line where it bends must lie on the slit, and within it."""
    hinge = next(h for h in piece.hinges if flap[1] in (h.parent, h.child))
    ends = [into.apply((x, -y, 0.0)) for x, y in (hinge.start, hinge.end)]
    (x, y), (u, v) = slit.path.start, slit.path.end
    size = math.dist(slit.path.start, slit.path.end)
    along, off = [], 0.0
    for end in ends:
        p, q = end[0], -end[1]
        along.append(((u - x) * (p - x) + (v - y) * (q - y)) / size)
        off = max(off, abs((u - x) * (q - y) - (v - y) * (p - x)) / size, abs(end[2]))
    lacking = max(-min(along), max(along) - size, off - 2.0 * piece.stock.caliper_mm)
    if lacking <= FIT_MM:
        return ()
    said = both(lacking, kind="thin", first=kit.pattern.meta.first_unit)
    text = f"{panel_name(action.subjects[0])} has no way into {slit.name}: {said} is missing"
    return (finding("no-way-in", action, text, None, (("missing_mm", lacking),)),)


def _inside(kit: Kit, done: Change, flap: FacetId, wall: FacetId, through: bool) -> Approach | None:
    """The flap comes from within: it lies on the wall's inner face (a tab that went through a
    slit on the outer one)."""
    usual = done.approach
    body = done.end.body(flap[0])
    inner = inner_side(kit, body) * (-1 if through else 1)
    pose = body.facet_pose(wall[1])
    off = moved(scaled(pose.normal, float(inner)))

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        if flap in (first, second) and wall in (first, second):
            poses = []
            for one in (first, second):
                at = body.facet_pose(one[1])
                poses.append(off.after(at) if one == flap else at)
            return poses[0], poses[1]
        return usual(first, second) if usual is not None else None

    return approach
