"""The search for a figure with which a failing design holds, by trials of the whole design.

Two ways of looking. Every figure is moved by a hair to learn how each length that the checks
look at follows it, and set where that says it could do. Where nothing comes of that, as with
checks that are no matter of lengths, figures are tried further and further from what is
written. Only what then holds in a trial counts, and the number of trials is bounded.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from msgspec import Struct

from publisher.checks.trial import Key, Knob, Rules, Trial, changed, try_out
from publisher.language.program import Program
from publisher.language.values import MM_PER_UNIT
from publisher.trade import Trade

HAIR_MM = 0.05
"""How far a figure is moved to see what follows it."""
STEPS = {"mm": (0.5, 0.1, 0.05), "cm": (0.05, 0.01, 0.005), "pt": (1.0, 0.25, 0.1)}
STEPS_IN = (1 / 16, 1 / 32, 1 / 64)
"""What a figure is rounded to, the coarsest that will do: what a ruler shows, then finer."""
ROUNDS = 3
MOST_WORK = 900
"""What trying farther and farther may cost, by ``Trial.work``: guesses, which lead out seldom, so
whoever waits for an answer waits no second for them where the pattern is small."""
LEAST_GUESSES = 30
"""Made whatever they cost: with fewer, large patterns lose ways out that they have."""
FARTHER = (0.9, 1.1, 0.8, 1.25, 0.65, 1.5, 0.45, 2.0, 0.3, 3.0)
"""By how much a figure is multiplied where its slopes lead nowhere, the nearest first."""
HALVINGS = 5
EXACT_MM = 1e-7

Goal: TypeAlias = frozenset[tuple[str, str]]
"""What must hold afterwards, of what fails now: (code, subject)."""


class Way(Struct, frozen=True):
    """A figure and what it has to be, in its own unit. ``more`` are the warnings that it
    brings with it."""

    knob: Knob
    value: float
    more: int = 0

    @property
    def move_mm(self) -> float:
        return abs(self.value - self.knob.literal.value) * MM_PER_UNIT[self.knob.literal.unit]


class Bench:
    """The trials of one pattern, each made once, and how many may still be made: by their number,
    and where ``most_work`` is given by what they take (``Trial.work``)."""

    def __init__(
        self,
        program: Program,
        trade: Trade,
        rules: Rules,
        base: Trial,
        most: int,
        most_work: int | None = None,
    ) -> None:
        self.program, self.trade, self.rules, self.base = program, trade, rules, base
        self.left = most
        self.work_left = most_work
        self.guesses, self.guessed = MOST_WORK, 0
        self._made: dict[tuple[int, float], Trial] = {}

    def trial(self, knob: Knob, value: float) -> Trial | None:
        """With this figure in its own unit; None when no more trials may be made."""
        key = (knob.literal.span.start, round(value, 9))
        if key not in self._made:
            if self.spent:
                return None
            self.left -= 1
            figure = {knob.literal.span: value * MM_PER_UNIT[knob.literal.unit]}
            made = try_out(changed(self.program, figure), self.trade, self.rules)
            if self.work_left is not None:
                self.work_left -= made.work or self.base.work // 2
            self._made[key] = made
        return self._made[key]

    @property
    def spent(self) -> bool:
        """Whether no more trials may be made."""
        return self.left <= 0 or (self.work_left is not None and self.work_left <= 0)

    def holds(self, knob: Knob, value: float, goal: Goal) -> bool:
        trial = self.trial(knob, value)
        return trial is not None and trial.built and trial.failing <= self.base.failing - goal

    def way(self, knob: Knob, value: float) -> Way:
        """Of a figure that was found to hold."""
        trial = self.trial(knob, value)
        warned = _warned(trial) - _warned(self.base) if trial is not None else frozenset()
        return Way(knob, value, len(warned))


def _warned(trial: Trial) -> frozenset[tuple[str, str]]:
    return frozenset((r.code, r.subject) for r in trial.results if r.result == "warning")


def followed(bench: Bench, turnable: Sequence[Knob], goal: Goal) -> tuple[Way, ...]:
    """Each figure that alone reaches the goal, as the slopes find it; the smallest change that
    brings no new warning first."""
    found = (_followed(bench, knob, goal) for knob in turnable)
    return tuple(sorted((w for w in found if w is not None), key=_order))


def _order(way: Way) -> tuple[int, float, int]:
    return (way.more, round(way.move_mm, 6), way.knob.literal.span.start)


def _followed(bench: Bench, knob: Knob, goal: Goal) -> Way | None:
    per_unit = MM_PER_UNIT[knob.literal.unit]
    start = knob.literal.value
    hair = HAIR_MM / per_unit
    near, moved = bench.trial(knob, start + hair), hair
    if near is None or not near.built:
        near, moved = bench.trial(knob, start - hair), -hair
    if near is None or not near.built:
        return None
    slopes = _slopes(bench.base.slack, near.slack, moved)
    for _ in range(ROUNDS):
        value = _nearest(bench, knob, goal, slopes)
        if value is None:
            return None
        trial = bench.trial(knob, value)
        if trial is None or not trial.built:
            return None
        if bench.holds(knob, value, goal):
            return bench.way(knob, value)
        slopes = _slopes(bench.base.slack, trial.slack, value - start)
    return None


def _slopes(
    before: Mapping[Key, float], after: Mapping[Key, float], moved: float
) -> dict[Key, float]:
    return {k: (after[k] - v) / moved for k, v in before.items() if k in after}


def _nearest(bench: Bench, knob: Knob, goal: Goal, slopes: Mapping[Key, float]) -> float | None:
    """The nearest figure by which, as the slopes say, nothing fails that held and the goal is
    reached."""
    subjects = {subject for _, subject in goal}
    low, high = -math.inf, math.inf
    for key, slack in bench.base.slack.items():
        slope = slopes.get(key, 0.0)
        if slack < 0 and key[0] not in subjects:
            continue
        if abs(slope) < EXACT_MM:
            if slack < 0:
                return None
            continue
        edge = -slack / slope
        if slope > 0:
            low = max(low, edge)
        else:
            high = min(high, edge)
    if low > high + EXACT_MM or (low <= 0 <= high):
        return None
    value = _rounded(knob, low, high)
    return value if value is not None and _allowed(knob, value) else None


def _allowed(knob: Knob, value: float) -> bool:
    mm = value * MM_PER_UNIT[knob.literal.unit]
    low, high = knob.limits or (0.0, math.inf)
    return value > 0 and low - 1e-6 <= mm <= high + 1e-6


def _rounded(knob: Knob, low: float, high: float) -> float | None:
    start = knob.literal.value
    for step in STEPS.get(knob.literal.unit, STEPS_IN):
        if low > 0:
            value = step * math.ceil((start + low - EXACT_MM) / step)
            fits = value <= start + high + EXACT_MM
        else:
            value = step * math.floor((start + high + EXACT_MM) / step)
            fits = value >= start + low - EXACT_MM
        if fits:
            return round(value, 9)
    if math.isfinite(low) and math.isfinite(high):
        return round(start + (low + high) / 2, 4)
    return None


def tried_farther(bench: Bench, turnable: Sequence[Knob], goal: Goal) -> Way | None:
    """The first figure that reaches the goal when all are tried in turn, further and further
    away; then as near to what is written as will do."""
    idle: set[int] = set()
    for factor in FARTHER:
        for knob, value in _at([k for k in turnable if k.literal.span.start not in idle], factor):
            if bench.guesses <= 0 and bench.guessed >= LEAST_GUESSES:
                return None
            before = bench.left
            if bench.holds(knob, value, goal):
                return bench.way(knob, _drawn_near(bench, knob, value, goal))
            trial = bench.trial(knob, value)
            if trial is not None and bench.left < before:
                bench.guesses -= trial.work or bench.base.work // 2
                bench.guessed += 1
                if _leaves_be(bench.base, trial, goal):
                    idle.add(knob.literal.span.start)
    return None


def _leaves_be(base: Trial, trial: Trial, goal: Goal) -> bool:
    """Whether some check that must be mended measures exactly what it measured before: a figure
    that does not touch it cannot mend it."""
    if not trial.built:
        return False
    before, after = _measured(base, goal), _measured(trial, goal)
    return any(numbers and after.get(key) == numbers for key, numbers in before.items())


def _measured(trial: Trial, goal: Goal) -> dict[tuple[str, str], list[tuple[str, float]]]:
    found: dict[tuple[str, str], list[tuple[str, float]]] = {}
    for result in trial.results:
        if (result.code, result.subject) in goal:
            found.setdefault((result.code, result.subject), []).extend(result.numbers)
    return found


def _at(turnable: Sequence[Knob], factor: float) -> Iterator[tuple[Knob, float]]:
    for knob in turnable:
        step = STEPS.get(knob.literal.unit, STEPS_IN)[0]
        value = knob.literal.value * factor
        if knob.limits is not None:
            low, high = (mm / MM_PER_UNIT[knob.literal.unit] for mm in knob.limits)
            value = min(max(value, low), high)
        else:
            value = round(round(value / step) * step, 9)
        if value > 0 and abs(value - knob.literal.value) > EXACT_MM:
            yield knob, value


def _drawn_near(bench: Bench, knob: Knob, good: float, goal: Goal) -> float:
    """Between a figure that holds and the one that is written, on the marks of a ruler."""
    step = STEPS.get(knob.literal.unit, STEPS_IN)[0]
    bad = knob.literal.value
    for _ in range(HALVINGS):
        middle = round(round((good + bad) / 2 / step) * step, 9)
        if not min(good, bad) < middle < max(good, bad):
            break
        if bench.holds(knob, middle, goal):
            good = middle
        else:
            bad = middle
    return good
