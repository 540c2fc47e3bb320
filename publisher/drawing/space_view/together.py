"""Facets that are taken together: those of a body that lie in one plane, and the strips of a
panel that bends. Their area on paper is found once, and one that lies in a plane is known from
the flat piece."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.many import joined, united
from publisher.drawing.space_view.projected import Projected, maps_of
from publisher.drawing.space_view.shapes import PieceShape

_SAME_POSE = 9  # decimals of the map to paper


class Together(Struct, frozen=True):
    """Places of facets and their area on paper; of those in one plane their paper, ``flat``."""

    places: frozenset[int]
    area: BaseGeometry
    flat: BaseGeometry | None = None


def taken_together(
    items: Sequence[Projected], shapes: Mapping[str, PieceShape], on_grid: bool = True
) -> list[Together]:
    """Groups of two and more; no facet is in two of them. Ghosts and clear paper have groups of
    their own. Off
    the grid the area of a bend may lack a part; see ``many.joined``."""
    join = united if on_grid else joined
    poses = (maps_of(items).round(_SAME_POSE) + 0.0).tolist()
    bends: dict[tuple[str, bool, bool, str], list[int]] = {}
    sheets: dict[tuple[object, ...], list[int]] = {}
    for k, item in enumerate(items):
        if item.plane is not None:
            actor = item.actor
            bend = shapes[actor.piece.name].bend_of.get(actor.facet, actor.facet)
            bends.setdefault((actor.body, item.ghost, item.clear, bend), []).append(k)
    found = []
    for (body, *kind, _), own in bends.items():
        if any(poses[k] != poses[own[0]] for k in own):
            found.append(Together(frozenset(own), join([items[k].area for k in own])))
        else:
            sheets.setdefault((body, *kind, *poses[own[0]]), []).extend(own)
    for own in sheets.values():
        if len(own) > 1:
            shape = shapes[items[own[0]].actor.piece.name]
            flat = shape.sheet(tuple(items[k].actor.facet for k in own))
            found.append(Together(frozenset(own), items[own[0]].flat_to_paper(flat), flat))
    return found
