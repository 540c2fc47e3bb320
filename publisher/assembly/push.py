"""``push``: a mechanism that hangs back between its slits is pushed out to the other side."""

from __future__ import annotations

from publisher.assembly.bodies import taken_up
from publisher.assembly.change import Change, not_yet
from publisher.assembly.curves import along_a_curve
from publisher.assembly.fold import fold
from publisher.assembly.kit import Kit
from publisher.assembly.linked import Joined, in_loops, linked_turn, senses_of
from publisher.assembly.targets import acted_on, target_bodies
from publisher.assembly.types import State
from publisher.assembly.waiting import keys_of, unpushed
from publisher.folding.linkage import Key
from publisher.model.types import Action

_DONE_DEG = 1e-6


def push(kit: Kit, state: State, action: Action) -> Change:
    """Push out the named folds: all others keep their angles, and the named ones change over
    to the side that they are scored for. Where nothing is folded yet they go half their way,
    or as far as is said, and the others follow."""
    if any(along_a_curve(kit, target) for target in acted_on(action)):
        return fold(kit, state, action)
    start = taken_up(kit, state, [b for t in acted_on(action) for b in target_bodies(state, t)])
    keys = [k for t in acted_on(action) for k in keys_of(kit, start, t)]
    if not keys:
        return Change(state, state, findings=(not_yet(action, "Pushing this"),))
    body = keys[0][0]
    together = in_loops(kit, start, body, [fold for b, fold in keys if b == body])
    if together is None:  # it hangs on one fold only: pushing turns that
        return fold(kit, state, action)
    return _pushed_out(kit, together, action, keys)


def _pushed_out(kit: Kit, together: Joined, action: Action, keys: list[Key]) -> Change:
    work = together.whole.joined_to(keys)
    waiting = [k for k in unpushed(kit, together.state, action) if k not in keys]
    driven = {
        k: together.now[k]
        for k in work.folds()
        if k not in keys and k not in waiting and abs(together.now[k]) > _DONE_DEG
    }
    if action.angle_deg is not None:
        driven = dict.fromkeys(keys, action.angle_deg)
    elif not driven:
        driven = {k: _closing(kit, together.state, k) / 2.0 for k in keys}
    senses = senses_of(kit, together, waiting, driven)
    return linked_turn(kit, together, action, driven, senses)


def _closing(kit: Kit, state: State, key: Key) -> float:
    return kit.pieces[state.body(key[0]).piece].fold(key[1]).closing_deg
