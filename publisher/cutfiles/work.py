"""How far a tool goes over a sheet, and about how long that takes."""

from __future__ import annotations

import math

from msgspec import Struct

from publisher.cutfiles.lines import SheetLines
from publisher.trade import Machine


class Work(Struct, frozen=True):
    """Lengths in mm, the number of times a tool is put down, and the time in s.

    ``score_mm`` is what is scored with a tool or a half-deep blade; dashes are cuts.
    ``time_s`` is None where no machine is named.
    """

    cut_mm: float
    score_mm: float
    travel_mm: float
    lifts: int
    time_s: float | None


def sheet_work(lines: SheetLines) -> Work:
    """The work on one sheet in the order in which its lines stand, from its top left corner.

    Lines that are only drawn (glue zones, scores that are drawn) count with the scores. The
    time is lengths over speeds and the lifts, with no account of slowing down in corners:
    an estimate, common practice, no source.
    """
    cut = score = travel = 0.0
    lifts = 0
    here = (0.0, 0.0)
    for run in lines.runs:
        through = run.role.kind == "cut" or (lines.score_as == "dashes" and run.role.kind != "glue")
        for path in run.paths:
            travel += math.dist(here, path.start)
            here = path.end
            lifts += 1
            if through:
                cut += path.length_mm
            else:
                score += path.length_mm
    return Work(cut, score, travel, lifts, _time_s(cut, score, travel, lifts, lines.machine))


def _time_s(
    cut: float, score: float, travel: float, lifts: int, machine: Machine | None
) -> float | None:
    if machine is None:
        return None
    moving = cut / machine.cut_mm_s + score / machine.score_mm_s + travel / machine.travel_mm_s
    return moving + lifts * machine.lift_s
