"""On which side of a facet another one lies: what is known, and what the motion says."""

from __future__ import annotations

from publisher.assembly.change import Approach
from publisher.assembly.kit import Kit
from publisher.assembly.layering import Contact, Verdict, both_ways, same_pose, same_way
from publisher.assembly.types import FacetId, State
from publisher.geometry.space import Pose, lift


def known_sides(kit: Kit, before: State, after: State) -> Verdict:
    """A glued tab goes by the face that carries its glue. Facets that did not move against
    each other keep their order."""
    sides = both_ways(before)
    old = {(b.id, name): pose for b in before.bodies for name, pose in b.facets}
    new = {(b.id, name): pose for b in after.bodies for name, pose in b.facets}
    tabs = _tab_sides(kit, after)

    def known(contact: Contact) -> int | None:
        pair = (contact.first, contact.second)
        if pair in tabs:
            return tabs[pair]
        if pair[::-1] in tabs:
            same = same_way(new[pair[0]], new[pair[1]])
            return -tabs[pair[::-1]] if same else tabs[pair[::-1]]
        if pair not in sides:
            return None
        if old[pair[0]] is new[pair[0]] and old[pair[1]] is new[pair[1]]:
            return sides[pair]
        was = old[pair[0]].inverse().after(old[pair[1]])
        now = new[pair[0]].inverse().after(new[pair[1]])
        return sides[pair] if same_pose(was, now) else None

    return known


def _tab_sides(kit: Kit, state: State) -> dict[tuple[FacetId, FacetId], int]:
    """(tab, what it meets) -> the side of the tab on which that lies."""
    found: dict[tuple[FacetId, FacetId], int] = {}
    for body in state.bodies:
        piece = kit.pieces[body.piece]
        for panel in piece.panels:
            if panel.kind != "tab" or panel.meets is None:
                continue
            zone = next((z for z in piece.glue_zones if z.panel == panel.name), None)
            side = -1 if zone is not None and zone.face == "back" else 1
            for own in kit.facets_of(piece.name, panel.name):
                for other in kit.facets_of(piece.name, panel.meets[0]):
                    found[(body.id, own), (body.id, other)] = side
    return found


def sides_from_motion(after: State, approach: Approach | None) -> Verdict:
    """The side from which the second facet came, where that can be seen; else the side on
    which it lies, where the planes are apart."""
    poses = {(b.id, name): pose for b in after.bodies for name, pose in b.facets}

    def side(first: Pose, second: Pose, contact: Contact) -> int | None:
        spot = poses[contact.first].apply(lift(contact.point))
        there = poses[contact.second].inverse().apply(spot)
        height = first.inverse().apply(second.apply(there))[2]
        return None if abs(height) < 1e-3 else 1 if height > 0 else -1

    def verdict(contact: Contact) -> int | None:
        shortly_before = approach(contact.first, contact.second) if approach else None
        if shortly_before is not None:
            found = side(*shortly_before, contact)
            if found is not None:
                return found
        return side(poses[contact.first], poses[contact.second], contact)

    return verdict
