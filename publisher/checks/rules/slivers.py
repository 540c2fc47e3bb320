"""No strip of paper is so thin that it tears off with the waste."""

from __future__ import annotations

import math

import shapely

from publisher.checks.context import Context, Results, failed, passed

CODE = "sliver"
LONG = 3.0
"""A sliver is this much longer than it may be wide; a sharp corner is shorter."""


def check(context: Context) -> Results:
    width = context.practice("sliver_width_mm")
    for piece in context.sound():
        paper = context.paper(piece)
        # What a disc of that width cannot reach, rolled about inside the paper.
        rolled = paper.buffer(-width / 2).buffer(width / 2 + 0.01)
        rest = [p for p in shapely.get_parts(paper.difference(rolled)) if p.area > 1e-3]
        length, place = max(
            ((_length(p), p) for p in rest), key=lambda s: s[0], default=(0.0, None)
        )
        numbers = (("length_mm", length), ("narrower_than_mm", width))
        if place is not None and length > LONG * width:
            x, y = place.representative_point().coords[0]
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"{piece.name} has a strip {context.say(length)} long that is narrower than"
                f" {context.say(width)}, {context.spot(x, y)}",
                piece.span,
                notes=("It tears off when the waste is lifted away.",),
            )
        else:
            yield passed(CODE, piece.name, numbers, f"{piece.name} has no thin strips")


def _length(part: shapely.Geometry) -> float:
    box = shapely.minimum_rotated_rectangle(part)
    if not isinstance(box, shapely.Polygon):
        return float(shapely.length(part))
    c = list(box.exterior.coords)
    return max(math.dist(c[0], c[1]), math.dist(c[1], c[2]))
