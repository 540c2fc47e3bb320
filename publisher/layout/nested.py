"""From pieces to the nesting and back: what may turn, what is kept, what is checked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from msgspec import Struct

from publisher.geometry.path import Region
from publisher.geometry.transform import Shape, rotated, translated
from publisher.layout.apart import faults
from publisher.layout.bound import fewest
from publisher.layout.kinds import Put, Room, Sheets, flattened_outward, kind_of

ROUGH_MM = 0.3
FINE_MM = 0.002


class Demand(Struct, frozen=True):
    """So many copies of a region, in any of these turns."""

    region: Region
    turns: tuple[float, ...]
    copies: int = 1


def fewest_sheets(demands: Sequence[Demand], room: Room) -> int:
    """A count that no layout can go below."""
    kinds = [kind_of(d.region, d.turns, d.copies) for d in demands]
    return fewest(kinds, room.width_mm, room.height_mm, room.gap_mm)


def fewer_sheets(demands: Sequence[Demand], room: Room, fewer_than: int) -> Sheets | None:
    """All copies on fewer sheets than so many, or None where no way was found.

    Puts name demands by number and are in mm from the top left of the usable part. Whatever
    comes out has passed ``sound``.
    """
    kinds = [kind_of(d.region, d.turns, d.copies) for d in demands]
    at_least = fewest(kinds, room.width_mm, room.height_mm, room.gap_mm)
    if at_least >= fewer_than:
        return None
    # What starts processes is loaded only where it is needed, so that a check stays quick.
    from publisher.layout.nest import nest

    rough = [kind_of(d.region, d.turns, d.copies, ROUGH_MM) for d in demands]

    def accepted(sheets: Sheets) -> bool:
        return sound(demands, sheets, room)

    return nest(kinds, room, at_least, fewer_than, rough, accepted)


def sound(demands: Sequence[Demand], sheets: Sheets, room: Room) -> bool:
    """Whether every copy lies once, in a turn it may take, on its sheet and apart.

    Taken from the regions themselves, arcs to two thousandths of a millimetre.
    """
    counts = Counter(put.kind for sheet in sheets for put in sheet)
    wanted = {number: demand.copies for number, demand in enumerate(demands)}
    if counts != wanted:
        return False
    for sheet in sheets:
        shapes = []
        for put in sheet:
            if put.turn_deg not in demands[put.kind].turns:
                return False
            region = in_place(demands[put.kind].region, put)
            shapes.append(
                (
                    flattened_outward(region.outer, FINE_MM),
                    [flattened_outward(hole, FINE_MM) for hole in region.holes],
                )
            )
        if faults(shapes, room.width_mm, room.height_mm, room.gap_mm):
            return False
    return True


def in_place(shape: Shape, put: Put) -> Shape:
    """The path or region where it was put."""
    return translated(rotated(shape, put.turn_deg), put.x_mm, put.y_mm)
