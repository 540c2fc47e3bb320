"""``fold``, ``close`` and ``open``: folds turn about their axes."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.assembly.approach import fold_approach
from publisher.assembly.bodies import taken_up, with_bodies
from publisher.assembly.change import Approach, Change, finding
from publisher.assembly.curves import along_a_curve
from publisher.assembly.kit import Kit
from publisher.assembly.linked import in_loops, linked_turn, senses_of
from publisher.assembly.rigid import followers, free_folds, refolded, resting_among, staying
from publisher.assembly.targets import acted_on, folds_of, target_bodies
from publisher.assembly.types import FacetId, FoldMotion, Motion, State
from publisher.assembly.waiting import unpushed
from publisher.diagnostics import Diagnostic
from publisher.geometry.space import Pose
from publisher.model.types import Action

_DONE_DEG = 1e-9


def fold(kit: Kit, state: State, action: Action) -> Change:
    """Turn the named folds to their closing angles, or as far as the action says."""
    targets = acted_on(action)
    if any(along_a_curve(kit, target) for target in targets):
        from publisher.assembly.press_in import press_in

        return press_in(kit, state, action)
    start = taken_up(kit, state, [b for t in targets for b in target_bodies(state, t)])
    wanted: dict[str, dict[str, float]] = {}
    findings: list[Diagnostic] = []
    for target in targets:
        folds = folds_of(kit, target)
        if not folds:
            text = f"{target.part or target.piece} has no fold to turn"
            findings.append(finding("no-fold", action, text, target))
        for body in target_bodies(start, target):
            for one in folds:
                angle = one.closing_deg if action.angle_deg is None else action.angle_deg
                wanted.setdefault(body, {})[one.name] = angle
    return turned_to(kit, start, action, wanted, findings)


def close_or_open(kit: Kit, state: State, action: Action) -> Change:
    """Turn every fold that is free to turn: to its closing angle, or flat again."""
    targets = acted_on(action)
    start = taken_up(kit, state, [b for t in targets for b in target_bodies(state, t)])
    wanted: dict[str, dict[str, float]] = {}
    for target in targets:
        for body in target_bodies(start, target):
            free = free_folds(kit, start, start.body(body))
            for one in folds_of(kit, target):
                if one.name in free:
                    flat = 0.0 if action.verb == "open" else one.closing_deg
                    angle = flat if action.angle_deg is None else action.angle_deg
                    wanted.setdefault(body, {})[one.name] = angle
    if not wanted:
        text = f"There is nothing to {action.verb}: no fold here is free to turn"
        return Change(start, start, findings=(finding("no-fold", action, text),))
    return turned_to(kit, start, action, wanted, [])


def turned_to(
    kit: Kit,
    start: State,
    action: Action,
    wanted: Mapping[str, Mapping[str, float]],
    findings: list[Diagnostic],
) -> Change:
    """Turn folds of one or more bodies, (body, fold) -> angle in degrees from flat."""
    end = start
    motions: list[Motion] = []
    approaches: dict[str, Approach] = {}
    done: set[str] = set()
    gap = 0.0
    for body_id in [b.id for b in start.bodies if b.id in wanted]:
        if body_id in done:
            continue
        before = end.body(body_id)
        angles = dict(before.angles)
        turning = {
            name: angle
            for name, angle in wanted[body_id].items()
            if abs(angle - angles[name]) > _DONE_DEG
        }
        if not turning:
            names = " and ".join(wanted[body_id])
            text = f"{names} of {before.piece} is folded so far already"
            findings.append(_already(action, before.piece, text))
            continue
        together = in_loops(kit, end, body_id, turning)
        if together is not None:
            driven = {
                (b, fold): angle
                for b in together.bodies
                for fold, angle in wanted.get(b, {}).items()
            }
            senses = senses_of(kit, together, unpushed(kit, end, action), driven)
            change = linked_turn(kit, together, action, driven, senses)
            end = change.end
            motions += change.motions
            findings += change.findings
            gap = max(gap, change.residual_mm)
            done.update(together.bodies)
            if change.approach is not None:
                approaches |= dict.fromkeys(together.bodies, change.approach)
            continue
        named = [t.said or t.part for t in action.subjects if t.piece == before.piece]
        stays = staying(kit, before.piece, turning, named)
        anchor = resting_among(kit, before.piece, stays)
        after = refolded(kit, before, angles | turning, anchor)
        others = followers(kit, end, before, after)
        motions.append(
            FoldMotion(
                body_id,
                tuple((name, angles[name], angle) for name, angle in turning.items()),
                tuple(f.name for f in kit.pieces[before.piece].facets if f.name not in stays),
            )
        )
        end = with_bodies(end, [after, *others])
        approaches[body_id] = fold_approach(kit, end, before, after, anchor, tuple(turning))
    return Change(
        start,
        end,
        tuple(motions),
        residual_mm=gap,
        findings=tuple(findings),
        approach=_either(approaches) if approaches else None,
    )


def _already(action: Action, piece: str, text: str) -> Diagnostic:
    target = next((t for t in action.subjects if t.piece == piece), None)
    return finding("folded-already", action, text, target, severity="warning")


def _either(approaches: Mapping[str, Approach]) -> Approach:
    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        one = approaches.get(first[0]) or approaches.get(second[0])
        if one is None:
            one = next(iter(approaches.values()))
        return one(first, second)

    return approach
