"""Slits do not meet so that a part of the paper falls out."""

from __future__ import annotations

import shapely

from publisher.checks.context import Context, Results, failed, passed

CODE = "part-falls-out"
HAIR_MM = 0.01
SMALLEST_MM2 = 0.5


def check(context: Context) -> Results:
    for piece in context.sound():
        slits = context.slits(piece)
        if not slits:
            continue
        cut = shapely.unary_union([s.buffer(HAIR_MM) for s in slits])
        left = context.paper(piece).difference(cut)
        parts = [p for p in shapely.get_parts(left) if p.area > SMALLEST_MM2]
        numbers = (("parts", float(len(parts))), ("slits", float(len(slits))))
        if len(parts) > 1:
            lost = min(parts, key=lambda p: p.area)
            x, y = lost.representative_point().coords[0]
            yield failed(
                CODE,
                piece.name,
                (*numbers, ("lost_mm2", float(lost.area))),
                f"slits cut a part of {piece.name} out, {context.spot(x, y)}",
                piece.span,
                ways_out=("end a slit before it meets another one, or cut a window there",),
            )
        else:
            yield passed(CODE, piece.name, numbers, f"the slits of {piece.name} leave it whole")
