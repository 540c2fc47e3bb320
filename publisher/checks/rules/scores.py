"""Scores lie on the paper and end at its edges, at slits, or at other scores."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.types import CheckResult
from publisher.geometry.flatten import flattened
from publisher.geometry.shapely_bridge import to_shapely
from publisher.model.types import Piece, Score

CODE = "score-off-paper"
SHORT = "score-ends-inside"


def check(context: Context) -> Results:
    end_tolerance = context.practice("score_end_tolerance_mm")
    for piece in context.pattern.pieces:
        if not piece.scores:
            continue
        paper = to_shapely(piece.outline, 0.005)
        wide = paper.buffer(0.02)
        rims: list[shapely.Geometry] = [paper.boundary]
        rims += [
            shapely.LineString(flattened(o.path, 0.005)) for o in piece.openings if o.kind == "slit"
        ]
        lines = {s.name: shapely.LineString(flattened(s.path, 0.005)) for s in piece.scores}
        stops = np.array([*rims, *lines.values()])
        names = np.array([*("" for _ in rims), *lines])
        for score in piece.scores:
            line = lines[score.name]
            outside = float(line.difference(wide).length)
            numbers = (("outside_mm", outside), ("length_mm", float(line.length)))
            if outside > 0.02:
                yield failed(
                    CODE,
                    f"{piece.name}: {score.name}",
                    numbers,
                    f"the score {score.name} of {piece.name} runs {context.say(outside)} off the"
                    " paper",
                    score.span,
                )
                continue
            yield passed(
                CODE,
                f"{piece.name}: {score.name}",
                numbers,
                f"the score {score.name} of {piece.name} lies on the paper",
            )
            yield _ends(context, piece, score, line, stops[names != score.name], end_tolerance)


def _ends(
    context: Context,
    piece: Piece,
    score: Score,
    line: shapely.LineString,
    stops: NDArray[np.object_],
    tolerance: float,
) -> CheckResult:
    ends = (shapely.Point(line.coords[0]), shapely.Point(line.coords[-1]))
    short = max(float(shapely.distance(stops, end).min()) for end in ends)
    short = max(0.0, short - score.short_mm)  # left so on purpose
    numbers = (("short_mm", short),)
    subject = f"{piece.name}: {score.name}"
    if short > tolerance:
        return failed(
            SHORT,
            subject,
            numbers,
            f"the score {score.name} of {piece.name} ends {context.say(short)} before the edge",
            score.span,
            severity="warning",
            notes=("The paper will not fold cleanly where the score is missing.",),
        )
    return passed(SHORT, subject, numbers, f"the score {score.name} runs from edge to edge")
