"""What lies on a facet at the end of the steps, on either of its faces."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Body, FacetId
from publisher.checks.context import Context
from publisher.checks.places import Shape, seen_from
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.space import dot
from publisher.model.types import Face, Piece

CHORD_MM = 0.02


def shape_of(piece: Piece, body: Body, facet: str) -> Shape:
    """A facet where it lies at the end."""
    flat = to_shapely(piece.facet(facet).region, CHORD_MM)
    return Shape((body.id, facet), piece.name, flat, body.facet_pose(facet))


def lying_on(context: Context, mine: Shape, face: Face) -> tuple[tuple[FacetId, BaseGeometry], ...]:
    """The facets that lie flat on one face of this one, each in its flat coordinates. What lies
    there that is no paper can be taken away."""
    end = context.story.end
    papers = {p.name: context.handled(p.name) for p in context.pattern.pieces}
    sign = 1 if face == "front" else -1
    found = []
    for lower, upper, side in end.above:
        if mine.facet not in (lower, upper):
            continue
        other = upper if mine.facet == lower else lower
        body = end.body(other[0])
        theirs = papers.get(body.piece)
        if theirs is None:
            continue
        shape = shape_of(theirs, body, other[1])
        same = dot(mine.pose.normal, shape.pose.normal) > 0
        turn = 1 if mine.facet == lower else (-1 if same else 1)
        if side * turn == sign:
            found.append((other, seen_from(mine.pose, shape)))
    return tuple(found)


def hidden(context: Context, mine: Shape, face: Face, by_itself: bool = True) -> BaseGeometry:
    """What of one face of a facet lies under other paper; of its own piece too, or not."""
    body = mine.facet[0]
    others = lying_on(context, mine, face)
    over = [flat for facet, flat in others if by_itself or facet[0] != body]
    return mine.flat.intersection(shapely.unary_union(over)) if over else shapely.Polygon()
