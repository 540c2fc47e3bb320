"""Scores side by side are far enough apart for the paper to fold at both."""

from __future__ import annotations

import math

import shapely

from publisher.checks.context import Context, Results, failed, passed
from publisher.model.types import Piece

CODE = "scores-too-near"
PARALLEL_DEG = 10.0
LEAST_BESIDE_MM = 1.0


def check(context: Context) -> Results:
    for piece in context.sound():
        if len(piece.scores) < 2:
            continue
        least = max(
            context.practice("score_spacing_least_mm"),
            context.practice("score_spacing_least_calipers") * piece.stock.caliper_mm,
        )
        found = _gaps(context, piece)
        if not found:
            continue
        gap, first, second = min(found)
        numbers = (("gap_mm", gap), ("least_mm", least))
        if gap < least - 1e-6:
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"the scores {first} and {second} of {piece.name} are {context.say(gap)} apart;"
                f" {context.say(least)} is the least for its paper",
                next(s.span for s in piece.scores if s.name == second),
                severity="warning",
                notes=("Between scores too near to each other the paper cracks or curls.",),
            )
        else:
            sentence = f"the scores of {piece.name} are {context.say(gap)} apart at the least"
            yield passed(CODE, piece.name, numbers, sentence)


def _gaps(context: Context, piece: Piece) -> list[tuple[float, str, str]]:
    """Between every two scores that run side by side."""
    lines = context.scores(piece)
    ends = [(line.coords[0], line.coords[-1]) for line in lines]
    found = []
    for i, (a, b) in enumerate(ends):
        for j in range(i + 1, len(ends)):
            c, d = ends[j]
            turn = math.degrees(
                math.atan2(b[1] - a[1], b[0] - a[0]) - math.atan2(d[1] - c[1], d[0] - c[0])
            )
            if abs((turn + 90) % 180 - 90) > PARALLEL_DEG:
                continue
            gap = float(lines[i].distance(lines[j]))
            if gap < 1e-3:
                continue
            beside = lines[j].intersection(lines[i].buffer(gap * 1.05 + 0.01, cap_style="flat"))
            if beside.length > LEAST_BESIDE_MM or shapely.length(beside) > LEAST_BESIDE_MM:
                found.append((gap, piece.scores[i].name, piece.scores[j].name))
    return found
