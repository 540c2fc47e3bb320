"""What lies flat on what, from the order of layers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.assembly.types import Body, FacetId, State
from publisher.drawing.space_view.place_words import body_name, corners, middle
from publisher.geometry.measure import path_bounds
from publisher.geometry.space import Vector, dot, scaled
from publisher.model.types import GlueZone, Piece

_NEAR_MM = 2.0


def touching(state: State, facets: Iterable[FacetId]) -> dict[FacetId, Vector]:
    """What some facets lie on, with nothing between, each with the direction to it from the
    facet of ours that lies there."""
    ours = list(facets)
    known = set(ours)
    ways: dict[FacetId, dict[FacetId, Vector]] = {}
    poses = {b.id: dict(b.facets) for b in state.bodies}
    for lower, upper, sign in state.above:
        up = scaled(poses[lower[0]][lower[1]].normal, float(sign))
        ways.setdefault(lower, {})[upper] = up
        ways.setdefault(upper, {})[lower] = scaled(up, -1.0)
    found: dict[FacetId, Vector] = {}
    for own in ours:
        near = ways.get(own, {})
        for other, way in near.items():
            if other in known or other in found:
                continue
            beyond = ways[other]
            between = (
                between not in known and dot(there, way) > 0.0 and dot(beyond[between], way) < 0.0
                for between, there in near.items()
                if between != other and between in beyond
            )
            if not any(between):
                found[other] = way
    return found


def called(facet: FacetId, pieces: Mapping[str, Piece]) -> str:
    """The panel of a facet; of a piece of one panel the piece."""
    piece = pieces[facet[0]]
    alone = len({f.panel for f in piece.facets}) == 1
    return body_name(piece, facet[0]) if alone else piece.facet(facet[1]).panel


def face_met(body: Body, piece: Piece, zone: GlueZone) -> str:
    """The face of its partner against which a zone lies; "" where it does not."""
    own = next((f.name for f in piece.facets if f.panel == zone.panel), "")
    far = next((f.name for f in piece.facets if zone.meets and f.panel == zone.meets[1]), "")
    if not own or not far:
        return ""
    a, b = body.facet_pose(own), body.facet_pose(far)
    same = dot(a.normal, b.normal)
    x, y, gap = b.inverse().apply(middle(corners(piece, own, a)))
    x0, y0, x1, y1 = path_bounds(piece.facet(far).region.outer)
    if abs(same) < 0.99 or abs(gap) > _NEAR_MM or not (x0 < x < x1 and y0 < -y < y1):
        return ""
    return zone.face if same < 0.0 else ("back" if zone.face == "front" else "front")
