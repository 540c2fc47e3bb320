"""Every outline is closed, simple, and cut once."""

from __future__ import annotations

import math

import numpy as np
import shapely

from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.side_by_side import near_each_other
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path
from publisher.geometry.shapely_bridge import to_shapely
from publisher.model.types import Piece

CODE = "outline-not-simple"
TWICE = "line-cut-twice"
ON_MM = 0.02
LEAST_SHARED_MM = 0.2


def _gap_mm(path: Path) -> float:
    ends = [s.end for s in path.segments]
    starts = [s.start for s in (*path.segments[1:], path.segments[0])]
    return max(math.dist(a, b) for a, b in zip(ends, starts, strict=True))


def check(context: Context) -> Results:
    for piece in context.pattern.pieces:
        rings = (piece.outline.outer, *piece.outline.holes)
        gap = max(_gap_mm(r) for r in rings)
        shape = to_shapely(piece.outline, 0.01)
        reason = "" if shape.is_valid else shapely.is_valid_reason(shape)
        numbers = (("gap_mm", gap), ("area_mm2", float(shape.area)))
        if gap > 1e-6 or reason:
            where = reason.partition("[")[2].rstrip("]")
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"the outline of {piece.name} crosses itself"
                + (f" {context.spot(*map(float, where.split()))}" if where else "")
                if reason
                else f"the outline of {piece.name} is open by {context.say(gap)}",
                piece.span,
            )
        else:
            yield passed(
                CODE, piece.name, numbers, f"the outline of {piece.name} is one clean line"
            )
        yield from _twice(context, piece)


def _twice(context: Context, piece: Piece) -> Results:
    """No cut lies on another cut, and no score on a cut or another score."""
    lines: list[tuple[str, shapely.LineString]] = []
    for i, ring in enumerate((piece.outline.outer, *piece.outline.holes)):
        points = flattened(ring, 0.01)
        lines.append(
            ("the outline" if i == 0 else "a window", shapely.LineString([*points, points[0]]))
        )
    for opening in piece.openings:
        if opening.kind == "slit":
            lines.append((opening.name, shapely.LineString(flattened(opening.path, 0.01))))
    cuts = len(lines)
    for score in piece.scores:
        lines.append(
            (
                score.name if score.name.startswith("score") else f"score {score.name}",
                shapely.LineString(flattened(score.path, 0.01)),
            )
        )
    shared = 0.0
    culprit: tuple[str, str] | None = None
    own = np.array([line for _, line in lines])
    for i, others in near_each_other(own.tolist(), ON_MM):
        thick = own[i].buffer(ON_MM, cap_style="flat", quad_segs=2)
        common = shapely.length(shapely.intersection(own[others], thick))
        most = int(np.argmax(common))
        if common[most] > max(shared, LEAST_SHARED_MM):
            shared = float(common[most])
            culprit = lines[i][0], lines[int(others[most])][0]
    numbers = (("shared_mm", shared), ("lines", float(len(lines))), ("cuts", float(cuts)))
    if culprit:
        yield failed(
            TWICE,
            piece.name,
            numbers,
            f"{culprit[1]} lies on {culprit[0]} of {piece.name} for {context.say(shared)}",
            piece.span,
        )
    else:
        yield passed(TWICE, piece.name, numbers, f"no line of {piece.name} is cut or scored twice")
