"""No two lines of a piece lie almost on each other: one was meant, or there is a slip."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.side_by_side import near_each_other
from publisher.model.types import Piece

CODE = "lines-almost-same"
ON_MM = 0.02
"""Nearer than this is one line: ``line-cut-twice`` says so."""
LEAST_SHARED_MM = 2.0
"""Lines that cross lie near each other for less than this."""


def check(context: Context) -> Results:
    for piece in context.sound():
        lines = _lines(context, piece)
        if len(lines) < 2:
            continue
        near = context.practice("near_line_mm")
        shared, names = _beside([line for _, line in lines], near)
        numbers = (("beside_mm", shared), ("near_mm", near))
        later, earlier = (lines[i][0] for i in names)
        if shared:
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"{later} runs beside {earlier} of {piece.name} for {context.say(shared)},"
                f" less than {context.say(near)} away",
                piece.span,
                notes=("A blade or a scoring tool cannot follow both, and one was meant.",),
            )
        else:
            yield passed(CODE, piece.name, numbers, f"the lines of {piece.name} keep apart")


def _beside(lines: Sequence[shapely.LineString], near_mm: float) -> tuple[float, tuple[int, int]]:
    """How long two lines run beside each other at the most, and which two (the later first).
    Of lines that are the same, which is told elsewhere, one stands for all."""
    firsts: dict[bytes, int] = {}
    for i, line in enumerate(lines):
        firsts.setdefault(line.wkb, i)
    numbers = list(firsts.values())
    own = np.array([lines[i] for i in numbers])
    longest, which = 0.0, (0, 0)
    for i, others in near_each_other(own.tolist(), near_mm):
        about = own[i].buffer(near_mm, cap_style="flat", quad_segs=2)
        close = shapely.intersection(own[others], about)
        long = shapely.length(close) > max(longest, LEAST_SHARED_MM)
        if not long.any():
            continue
        beside = shapely.length(
            shapely.difference(close[long], own[i].buffer(ON_MM, cap_style="flat"))
        )
        most = int(np.argmax(beside))
        if beside[most] > max(longest, LEAST_SHARED_MM):
            longest = float(beside[most])
            which = numbers[int(others[long][most])], numbers[i]
    return longest, which


def _lines(context: Context, piece: Piece) -> list[tuple[str, shapely.LineString]]:
    paper = context.paper(piece)
    found = [("the outline", shapely.LineString(paper.exterior.coords))]
    found += [("a window", shapely.LineString(ring.coords)) for ring in paper.interiors]
    slits = [o.name for o in piece.openings if o.kind == "slit"]
    found += list(zip(slits, context.slits(piece), strict=True))
    names = [f"the score {s.name}" for s in piece.scores]
    found += list(zip(names, context.scores(piece), strict=True))
    return found
