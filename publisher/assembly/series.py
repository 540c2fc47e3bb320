"""An action that speaks of several things at once: carried out on one after another."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec.structs import replace

from publisher.assembly.approach import first_of
from publisher.assembly.bodies import joined, taken_up, with_bodies
from publisher.assembly.change import Approach, Change, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.targets import target_bodies
from publisher.assembly.thread import is_threading
from publisher.assembly.types import State
from publisher.model.types import Action, Target

Verb = Callable[[Kit, State, Action], Change]


def in_turn(verb: Verb) -> Verb:
    """The verb for actions that may name several things, or every copy of one.

    Lists of one length pair in order, and several go one after another to a single one, in
    the order in which they are named. What is carried along with an earlier one is not carried
    again. One thing to several is not worked out, but for a strip through several openings.
    """

    def each(kit: Kit, state: State, action: Action) -> Change:
        ours = _units(state, action.subjects)
        theirs = _units(state, action.objects)
        if (len(ours) < 2 and len(theirs) < 2) or is_threading(action):
            return verb(kit, state, action)
        if len(theirs) == 1:
            theirs *= len(ours)
        if not theirs and ours:
            return verb(kit, state, action)
        if len(ours) != len(theirs):
            note = "Say which one goes where, each in a line of its own."
            return Change(state, state, findings=(not_yet(action, "So many at once", note),))
        changes: list[Change] = []
        moved: set[str] = set()
        # All lie ready side by side before the first of them moves.
        ready = [b for target in (*theirs, *ours) for b in target_bodies(state, target)]
        now = start = taken_up(kit, state, ready)
        for subject, place in zip(ours, theirs, strict=True):
            bodies = target_bodies(now, subject)
            if bodies and moved.issuperset(bodies):
                continue
            changes.append(verb(kit, now, replace(action, subjects=(subject,), objects=(place,))))
            now = changes[-1].end
            moved.update(joined(now, bodies))
        return _one(start, changes)

    return each


def _units(state: State, targets: Sequence[Target]) -> list[Target]:
    """What moves or holds by itself: each copy of a piece, and anything else as it is named."""
    found: list[Target] = []
    for target in targets:
        copies = [b.copy for b in state.bodies if b.piece == target.piece]
        if target.kind == "made" or target.copy or len(copies) < 2:
            found.append(target)
        else:
            found += [replace(target, copy=copy) for copy in copies]
    return found


def _one(state: State, changes: Sequence[Change]) -> Change:
    """Changes that follow each other as one. What a later one takes up stands there from the
    beginning, where its path begins."""
    start, before = state, state
    approaches: list[Approach] = []
    for change in changes:
        known = {body.id: body for body in before.bodies}
        start = with_bodies(start, [b for b in change.start.bodies if known[b.id] is not b])
        before = change.end
        if change.approach is not None:
            approaches.append(change.approach)
    return Change(
        start,
        before,
        tuple(m for change in changes for m in change.motions),
        tuple(b for change in changes for b in change.bonds),
        tuple(w for change in changes for w in change.wet),
        max(change.residual_mm for change in changes),
        tuple(f for change in changes for f in change.findings),
        # The one that came last says how it lies on those that were there.
        first_of(approaches[::-1]),
    )
