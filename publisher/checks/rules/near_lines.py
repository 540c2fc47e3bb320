"""No two lines of a piece lie almost on each other: one was meant, or there is a slip."""

from __future__ import annotations

import shapely

from publisher.checks.context import Context, Results, failed, passed
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
        shared, names = 0.0, ("", "")
        for i, (name, line) in enumerate(lines):
            bounds = shapely.box(*line.bounds).buffer(near, cap_style="square", join_style="mitre")
            others = [(n, o) for n, o in lines[i + 1 :] if bounds.intersects(o)]
            about = line.buffer(near, cap_style="flat", quad_segs=2) if others else line
            for other_name, other in others:
                close = other.intersection(about)
                if close.length <= max(shared, LEAST_SHARED_MM):
                    continue
                beside = float(close.difference(line.buffer(ON_MM, cap_style="flat")).length)
                if beside > max(shared, LEAST_SHARED_MM):
                    shared, names = beside, (other_name, name)
        numbers = (("beside_mm", shared), ("near_mm", near))
        if shared:
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"{names[0]} runs beside {names[1]} of {piece.name} for {context.say(shared)},"
                f" less than {context.say(near)} away",
                piece.span,
                notes=("A blade or a scoring tool cannot follow both, and one was meant.",),
            )
        else:
            yield passed(CODE, piece.name, numbers, f"the lines of {piece.name} keep apart")


def _lines(context: Context, piece: Piece) -> list[tuple[str, shapely.LineString]]:
    paper = context.paper(piece)
    found = [("the outline", shapely.LineString(paper.exterior.coords))]
    found += [("a window", shapely.LineString(ring.coords)) for ring in paper.interiors]
    slits = [o.name for o in piece.openings if o.kind == "slit"]
    found += list(zip(slits, context.slits(piece), strict=True))
    names = [f"the score {s.name}" for s in piece.scores]
    found += list(zip(names, context.scores(piece), strict=True))
    return found
