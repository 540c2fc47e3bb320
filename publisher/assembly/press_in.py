"""Flaps along curved scores: pressed in, and the panels bend with them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from publisher.assembly.approach import first_of, fold_approach
from publisher.assembly.bending import standing
from publisher.assembly.bodies import taken_up, with_bodies
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.creased import Bent, bent_panels
from publisher.assembly.creases import crease_name, resting_strip
from publisher.assembly.curves import curved_scores
from publisher.assembly.kit import Kit
from publisher.assembly.rigid import followers, refolded
from publisher.assembly.targets import acted_on, target_bodies
from publisher.assembly.types import Body, FacetId, FoldMotion, State
from publisher.diagnostics import Diagnostic
from publisher.geometry.path import Arc
from publisher.geometry.segments import direction_at
from publisher.geometry.space import Pose, moved
from publisher.model.hinges import loop_residual
from publisher.model.types import Action, Piece
from publisher.units import both, number

UPRIGHT_DEG = 90.0
_DONE_DEG = 1e-9
_CLOSED_MM = 1e-6


def press_in(kit: Kit, state: State, action: Action) -> Change:
    """Fold the named flaps, each along its curve, upright or as far as is said."""
    targets = acted_on(action)
    start = taken_up(kit, state, [b for t in targets for b in target_bodies(state, t)])
    ours = list(dict.fromkeys(b for t in targets for b in target_bodies(start, t)))
    if len(ours) != 1:
        note = "Say the flaps of one piece in a line."
        return Change(start, start, findings=(not_yet(action, "Folding these at once", note),))
    body = start.body(ours[0])
    piece = kit.pieces[body.piece]
    bent = bent_panels(piece)
    if not bent:
        note = "Each panel needs a curve from edge to edge, and the same one at both ends."
        return Change(start, start, findings=(not_yet(action, "Bending this", note),))
    lean = UPRIGHT_DEG if action.angle_deg is None else action.angle_deg
    fresh = [t.part for t in targets]
    before = dict(body.angles)
    pressed = [s for s in _pressed(bent, before) if s not in fresh] + fresh
    faults = _too_deep(kit, action, piece, bent, lean)
    if faults:
        return Change(start, start, findings=faults)
    angles = before | standing(piece, bent, lean, pressed)
    return _turned(kit, start, action, body, bent, angles, fresh)


def _pressed(bent: Mapping[str, Bent], angles: Mapping[str, float]) -> list[str]:
    scores = [c.score for own in bent.values() for c in own.curves]
    return [s for s in scores if abs(angles.get(crease_name(s, 1), 0.0)) > _DONE_DEG]


def _turned(
    kit: Kit,
    start: State,
    action: Action,
    body: Body,
    bent: Mapping[str, Bent],
    angles: Mapping[str, float],
    fresh: Sequence[str],
) -> Change:
    piece = kit.pieces[body.piece]
    before = dict(body.angles)
    anchor = resting_strip(bent, dict(body.facets))
    after = refolded(kit, body, angles, anchor)
    turning = tuple(
        (name, before[name], angle)
        for name, angle in angles.items()
        if abs(angle - before[name]) > _DONE_DEG
    )
    flaps = {f.name for f in piece.facets if f.name.rpartition(" strip ")[0] in fresh}
    moving = tuple(f.name for f in piece.facets if f.name in flaps)
    middles = tuple(
        crease_name(s, len(own.at_mm) // 2) for s in fresh for own in bent.values() if _has(own, s)
    )
    end = with_bodies(start, [after, *followers(kit, start, body, after)])
    gap = max(loop_residual(piece, angles), _seam_gap(start, body, after))
    faults: tuple[Diagnostic, ...] = ()
    if gap > _CLOSED_MM:
        text = f"the panels of {piece.name} do not close round when they bend"
        note = "Panels that are joined in a ring need the same curve, each at both ends."
        numbers = (("gap_mm", gap),)
        faults = (finding("folds-do-not-close", action, text, None, numbers, (note,)),)
    usual = fold_approach(kit, end, body, after, anchor, [name for name, _, _ in turning])
    return Change(
        start,
        end,
        (FoldMotion(body.id, turning, moving, middles),),
        residual_mm=gap,
        findings=faults,
        approach=first_of((_over_each_other(end, after, fresh), usual)),
    )


def _has(own: Bent, score: str) -> bool:
    return any(curve.score == score for curve in own.curves)


def _seam_gap(state: State, before: Body, after: Body) -> float:
    """How far glued strips of the body are off each other after they bent, mm."""
    worst = 0.0
    for bond in state.bonds:
        if bond.first[0] == bond.second[0] == before.id:
            was, now = (
                b.facet_pose(bond.first[1]).inverse().after(b.facet_pose(bond.second[1]))
                for b in (before, after)
            )
            worst = max(worst, math.dist(was.shift, now.shift))
    return worst


def _over_each_other(end: State, body: Body, fresh: Sequence[str]) -> Approach:
    """Of two flaps that close one end, that which is folded later lies outside."""
    later = {score: i for i, score in enumerate(fresh, start=1)}

    def flap(facet: FacetId) -> str:
        return facet[1].rpartition(" strip ")[0] if facet[0] == body.id else ""

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        one, two = later.get(flap(first), 0), later.get(flap(second), 0)
        if one == two or first[0] != second[0]:
            return None
        poses = [body.facet_pose(first[1]), body.facet_pose(second[1])]
        k = 0 if one > two else 1
        poses[k] = moved(poses[k].normal).after(poses[k])
        return poses[0], poses[1]

    return approach


def _too_deep(
    kit: Kit, action: Action, piece: Piece, bent: Mapping[str, Bent], lean_deg: float
) -> tuple[Diagnostic, ...]:
    """A curve that is steeper than the flaps allow: the panel would stand up past the upright,
    and the paper would have to stretch."""
    most = 1.0 / math.tan(math.radians(lean_deg) / 2.0) if lean_deg else math.inf
    scores = curved_scores(piece)
    for own in bent.values():
        for curve in own.curves:
            steepest = 0.0
            for segment in scores[curve.score].path.segments:
                for share in (0.0, 1.0) if isinstance(segment, Arc) else (0.5,):
                    x, y = direction_at(segment, share)
                    along = abs(x * own.u[0] + y * own.u[1])
                    steepest = max(steepest, abs(x * own.v[0] + y * own.v[1]) / max(along, 1e-9))
            if steepest <= most + 1e-9:
                continue
            wide = own.at_mm[-1]
            rise = wide / 2.0 * math.tan(math.atan(most) / 2.0)
            first = kit.pattern.meta.first_unit
            text = (
                f"the curve {curve.score} is too deep: its ends are {number(steepest, 2)} times"
                f" as steep as across, and with the flap folded by {number(lean_deg, 0)} degrees"
                f" paper can follow {number(most, 2)}"
            )
            way = f"an arc that stands at most {both(rise, kind='ruled', first=first)} off"
            numbers = (("steepest", steepest), ("most", most), ("rise_mm", rise))
            return (finding("curve-too-deep", action, text, None, numbers, ways_out=(way,)),)
    return ()
