"""The way out of what is tucked in: out of a pocket, from under a tongue, or out of slits."""

from __future__ import annotations

from publisher.assembly.bodies import box
from publisher.assembly.cavity import lengths
from publisher.assembly.kit import Kit
from publisher.assembly.pocket import CLEARANCE_MM, length_in, out_of, room_behind
from publisher.assembly.thread import drawn_back
from publisher.assembly.tongues import RAISED_MM, Tongue, tongue_of
from publisher.assembly.travel import NOTHING
from publisher.assembly.types import Body, FacetId, State
from publisher.geometry.space import Vector, lift, scaled
from publisher.model.types import Piece, Target


def tongue_at(piece: Piece, facet: str) -> Tongue | None:
    """The tongue that a facet is."""
    slit = next((o for o in piece.openings if o.name == facet), None)
    return tongue_of(slit) if slit is not None else None


def way_out(kit: Kit, state: State, body: Body, holder: FacetId) -> tuple[Vector, Vector] | None:
    """From where a body is tucked in behind a facet to where it stands clear of it, in the
    world: along the paper, and off it. None where nothing is known of a way."""
    piece = kit.pieces[state.body(holder[0]).piece]
    frame = state.body(holder[0]).facet_pose(holder[1])
    size = lengths(box(kit, [body], calipers=True, seen_from=frame))
    tongue = tongue_at(piece, holder[1])
    if tongue is not None:
        way = lift(tongue.out)
        long = abs(way[0]) * size[0] + abs(way[1]) * size[1]
        return scaled(frame.turn(way), long + CLEARANCE_MM), scaled(frame.normal, RAISED_MM)
    back = drawn_back(kit, body)
    if back is not None:
        return back, scaled(frame.normal, RAISED_MM if frame.normal[2] > 0 else -RAISED_MM)
    panel = piece.facet(holder[1]).panel
    room = room_behind(kit, state, holder[0], Target("panel", piece.name, panel))
    if room is None:
        return None
    return scaled(frame.turn(out_of(room)), length_in(room, size) + CLEARANCE_MM), NOTHING
