"""What a maker is told about cut files that are not the usual ones."""

from __future__ import annotations

from publisher.cutfiles.work import Work
from publisher.trade import Machine
from publisher.units import FirstUnit, number

_SCORES = {
    "dashes": "Scores are cut as rows of short dashes: fold along them, there is nothing to score.",
    "drawn": "Scores are thin lines to draw: score along them by hand before you fold.",
}
_MM_PER_FOOT = 304.8


def score_words(score_as: str) -> str:
    """What to do with scores; "" where they are whole lines in groups of their own."""
    return _SCORES.get(score_as, "")


def copies_words(copies: int) -> str:
    """How often the sheets hold the whole pattern; "" for once."""
    return f"The sheets hold everything {copies} times over." if copies > 1 else ""


def work_words(work: Work, machine: Machine | None, first: FirstUnit) -> str:
    """ "About 2.4 m (8 ft) to cut and 0.9 m (3 ft) to score, 3 minutes with ...".

    The time is rounded up to whole minutes: a machine's own program knows better.
    """
    parts = [f"{_long(work.cut_mm, first)} to cut"]
    if work.score_mm:
        parts.append(f"{_long(work.score_mm, first)} to score")
    said = f"About {' and '.join(parts)}"
    if machine is None or work.time_s is None:
        return f"{said}."
    minutes = -int(-work.time_s // 60.0)
    time = "less than a minute" if minutes <= 1 else f"about {minutes} minutes"
    return f"{said}: {time} with {machine.title[:1].lower()}{machine.title[1:]}."


def _long(mm: float, first: FirstUnit) -> str:
    metric = f"{number(mm / 1000.0, 1)} m" if mm >= 950.0 else f"{max(1, round(mm / 10.0))} cm"
    feet = mm / _MM_PER_FOOT
    imperial = f"{number(feet, 0)} ft" if feet >= 2.0 else f"{max(1, round(mm / 25.4))} in"
    one, other = (metric, imperial) if first == "mm" else (imperial, metric)
    return f"{one} ({other})"
