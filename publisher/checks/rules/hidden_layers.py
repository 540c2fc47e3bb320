"""A layer that decorates can still be seen when everything is made."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.lying import hidden, shape_of
from publisher.checks.rules.mirrored import faces_of, is_one_sided
from publisher.model.types import MatOf

CODE = "layer-hidden"
MOST_HIDDEN = 0.9


def check(context: Context) -> Results:
    for piece in context.pattern.pieces:
        decorates = isinstance(piece.derived, MatOf) and not piece.derived.behind
        if len(piece.facets) != 1 or not (decorates or piece.stock.patterned):
            continue
        for body in context.story.end.bodies:
            if body.piece == piece.name and body.placed:
                mine = shape_of(piece, body, piece.facets[0].name)
                share = float(hidden(context, mine, "front").area) / float(mine.flat.area)
                numbers = (("hidden_share", share), ("most_share", MOST_HIDDEN))
                # Of what lies the wrong way up more is told than that it is hidden.
                upside_down = is_one_sided(piece) and faces_of(context, piece, body).wrong
                if share > MOST_HIDDEN and not upside_down:
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
