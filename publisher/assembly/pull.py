"""``pull``: what is in a box, a sleeve or a pocket, or under a tongue, is drawn out again."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from publisher.assembly.approach import first_of, move_approach
from publisher.assembly.bodies import bodies_of, box, carried, joined, with_bodies
from publisher.assembly.cavity import cavity, lengths, outside_offset, stands_inside
from publisher.assembly.change import Approach, Change, finding
from publisher.assembly.kit import Kit
from publisher.assembly.layering import both_ways
from publisher.assembly.slide import CLEARANCE_MM, best_way
from publisher.assembly.targets import acted_on, target_bodies
from publisher.assembly.travel import NOTHING
from publisher.assembly.types import Body, Bond, FacetId, MoveMotion, State
from publisher.assembly.ways import way_out
from publisher.geometry.space import Pose, Vector, add, moved, norm, scaled, unit
from publisher.model.types import Action


def pull(kit: Kit, state: State, action: Action) -> Change:
    """Move the subject, with all that holds to it otherwise than by being tucked in, along the
    way that is open: out and clear, or as far as is said."""
    ours = [b for t in acted_on(action) for b in target_bodies(state, t)]
    held = [b for b in state.bonds if b.by == "tuck" and _parts(b, ours)]
    loose = replace(state, bonds=tuple(b for b in state.bonds if b not in held))
    group = joined(loose, ours)
    way = _way(kit, state, action, group, held)
    if way is None:
        text = f"{acted_on(action)[0].piece} is in nothing that it could be pulled out of"
        return Change(state, state, findings=(finding("not-inside", action, text),))
    along, off = way
    clear = action.length_mm is None or action.length_mm >= norm(along)
    if action.length_mm is not None:
        along = scaled(unit(along), action.length_mm)
    away = add(along, off) if clear else along
    bonds = loose.bonds if clear else state.bonds
    moved_on = [carried(b, moved(away)) for b in bodies_of(state, group)]
    end = with_bodies(replace(state, bonds=bonds), moved_on)
    back = scaled(away, -1.0)
    motion = MoveMotion(group, (back, NOTHING), "pull")
    approach = first_of((_as_it_lay(state, end), move_approach(end, group, back)))
    return Change(state, end, (motion,), approach=approach)


def _as_it_lay(before: State, after: State) -> Approach:
    """What lay on something and slides along it lies on it still."""
    sides = both_ways(before)

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        side = sides.get((first, second))
        if side is None:
            return None
        one, two = (after.body(b).facet_pose(f) for b, f in (first, second))
        return one, moved(scaled(one.normal, float(side))).after(two)

    return approach


def _parts(bond: Bond, ours: Sequence[str]) -> bool:
    return (bond.first[0] in ours) != (bond.second[0] in ours)


def _way(
    kit: Kit, state: State, action: Action, group: tuple[str, ...], held: Sequence[Bond]
) -> tuple[Vector, Vector] | None:
    """From where the group is to where it stands clear of what it was in: along, and off."""
    content = [b for b in bodies_of(state, group) if b.placed]
    if not content:
        return None
    for holder in _holders(state, action, group):
        room = cavity(kit, holder)
        if room is not None and stands_inside(kit, room, content):
            long = lengths(box(kit, content, calipers=True, seen_from=room.frame))[room.axis]
            return outside_offset(room, best_way(room, 1.0), long, CLEARANCE_MM), NOTHING
    for bond in held:
        inside, outside = bond.first, bond.second
        if inside[0] not in group:
            inside, outside = outside, inside
        found = way_out(kit, state, state.body(inside[0]), outside)
        if found is not None:
            return found
    return None


def _holders(state: State, action: Action, group: tuple[str, ...]) -> list[Body]:
    """What is named as holding the group, else whatever else stands there."""
    named = [b for t in action.objects for b in target_bodies(state, t)]
    others = [b for b in state.bodies if b.placed and b.id not in group]
    return [b for b in others if b.id in named] if named else others
