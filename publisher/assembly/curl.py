"""``curl``: a panel bends evenly, its back face inside, and keeps its length."""

from __future__ import annotations

from publisher.assembly.bodies import taken_up
from publisher.assembly.change import Change, not_yet
from publisher.assembly.fold import turned_to
from publisher.assembly.kit import Kit
from publisher.assembly.strips import STRIPS
from publisher.assembly.targets import acted_on, target_bodies
from publisher.assembly.types import State
from publisher.model.types import Action

ROUND_DEG = 360.0
"""How far a panel is curled where nothing is said: into a tube, end to end."""


def curl(kit: Kit, state: State, action: Action) -> Change:
    """Turn every line between the strips of a panel by the same share of the whole angle.

    A tube of n strips is a polygon with n corners, of which the last is where its ends meet:
    so each line turns by one n-th.
    """
    targets = acted_on(action)
    start = taken_up(kit, state, [b for t in targets for b in target_bodies(state, t)])
    total = ROUND_DEG if action.angle_deg is None else action.angle_deg
    wanted: dict[str, dict[str, float]] = {}
    for target in targets:
        for body in target_bodies(start, target):
            piece = kit.pieces[start.body(body).piece]
            facets = {f.name: f.panel for f in piece.facets}
            for hinge in piece.hinges:
                bent = hinge.fold.startswith("bend ")
                if bent and target.part in ("", facets[hinge.parent]):
                    wanted.setdefault(body, {})[hinge.fold] = total / STRIPS
    if not wanted:
        return Change(state, state, findings=(not_yet(action, "Curling this"),))
    return turned_to(kit, start, action, wanted, [])
