"""A layer that decorates can still be seen when everything is made."""

from __future__ import annotations

import shapely

from publisher.assembly.types import FacetId
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.places import Shape, seen_from
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.space import dot
from publisher.model.types import MatOf, Piece

CODE = "layer-hidden"
MOST_HIDDEN = 0.9
CHORD_MM = 0.02


def check(context: Context) -> Results:
    for piece in context.pattern.pieces:
        decorates = isinstance(piece.derived, MatOf) and not piece.derived.behind
        if len(piece.facets) != 1 or not (decorates or piece.stock.patterned):
            continue
        for body in context.story.end.bodies:
            if body.piece == piece.name and body.placed:
                hidden = _hidden(context, (body.id, piece.facets[0].name), piece)
                numbers = (("hidden_share", hidden), ("most_share", MOST_HIDDEN))
                if hidden > MOST_HIDDEN:
                    yield failed(
                        CODE,
                        body.id,
                        numbers,
                        f"{piece.name} is hidden by other paper when everything is made",
                        piece.span,
                        severity="warning",
                    )
                else:
                    yield passed(CODE, body.id, numbers, f"{piece.name} can be seen at the end")


def _hidden(context: Context, mine: FacetId, piece: Piece) -> float:
    """Which share of the front face lies under other paper."""
    end = context.story.end
    own = Shape(
        mine,
        piece.name,
        to_shapely(piece.facets[0].region, CHORD_MM),
        end.body(mine[0]).facet_pose(mine[1]),
    )
    papers = {p.name: context.handled(p.name) for p in context.pattern.pieces}
    over = []
    for lower, upper, side in end.above:
        if mine not in (lower, upper):
            continue
        other = upper if mine == lower else lower
        theirs = papers.get(end.body(other[0]).piece)
        if theirs is None:  # what lies in it can be taken out
            continue
        shape = Shape(
            other,
            theirs.name,
            to_shapely(theirs.facet(other[1]).region, CHORD_MM),
            end.body(other[0]).facet_pose(other[1]),
        )
        turn = 1 if mine == lower else (-1 if dot(own.pose.normal, shape.pose.normal) > 0 else 1)
        if side * turn > 0:
            over.append(seen_from(own.pose, shape))
    if not over:
        return 0.0
    covered = own.flat.intersection(shapely.unary_union(over))
    return float(covered.area) / float(own.flat.area)
