"""Ways out: the nearest change of one size that makes a failing check hold and breaks none.

Found on the real design, never guessed. Every figure of the ``sizes`` fences is moved by a hair
to learn how each length that the checks look at follows it; where that says a change could do,
the figure is set there, the whole design is built again, and only what then holds is offered.
The number of trials is bounded.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from publisher.checks.trial import Key, Knob, Rules, Trial, changed, judged, knobs, try_out
from publisher.checks.types import CheckResult
from publisher.diagnostics import Edit, WayOut
from publisher.language.program import Program
from publisher.language.values import MM_PER_UNIT
from publisher.model.types import Pattern
from publisher.trade import Trade

MOST_TRIALS = 60
MOST_WAYS = 3
HAIR_MM = 0.05
"""How far a figure is moved to see what follows it."""
STEPS = {"mm": (0.5, 0.1, 0.05), "cm": (0.05, 0.01, 0.005), "pt": (1.0, 0.25, 0.1)}
STEPS_IN = (1 / 16, 1 / 32, 1 / 64)
"""What a figure is rounded to, the coarsest that will do: what a ruler shows, then finer."""
ROUNDS = 3
EXACT_MM = 1e-7


class Way(Struct, frozen=True):
    """A figure and what it has to be, in its own unit."""

    knob: Knob
    value: float

    @property
    def move_mm(self) -> float:
        return abs(self.value - self.knob.literal.value) * MM_PER_UNIT[self.knob.literal.unit]


class Bench:
    """The trials of one pattern, each made once, and how many may still be made."""

    def __init__(
        self, program: Program, trade: Trade, rules: Rules, base: Trial, most: int = MOST_TRIALS
    ) -> None:
        self.program, self.trade, self.rules, self.base = program, trade, rules, base
        self.left = most
        self._made: dict[tuple[int, float], Trial] = {}

    def trial(self, knob: Knob, value: float) -> Trial | None:
        """With this figure in its own unit; None when no more trials may be made."""
        key = (knob.literal.span.start, round(value, 9))
        if key not in self._made:
            if self.left <= 0:
                return None
            self.left -= 1
            figure = {knob.literal.span: value * MM_PER_UNIT[knob.literal.unit]}
            self._made[key] = try_out(changed(self.program, figure), self.trade, self.rules)
        return self._made[key]


def mended(
    program: Program,
    pattern: Pattern,
    trade: Trade,
    results: tuple[CheckResult, ...],
    rules: Rules,
) -> tuple[CheckResult, ...]:
    """The results, those that fail with what was found put before their own ways out."""
    if not any(r.result == "fail" and r.slack for r in results):
        return results
    bench = Bench(program, trade, rules, judged(results))
    turnable = knobs(program, pattern)
    return tuple(
        _told(r, ways(bench, turnable, r)) if r.result == "fail" and r.slack else r for r in results
    )


def _told(result: CheckResult, found: tuple[Way, ...]) -> CheckResult:
    if result.finding is None or not found:
        return result
    offered = tuple(_way_out(way) for way in found[:MOST_WAYS])
    finding = replace(result.finding, ways_out=(*offered, *result.finding.ways_out))
    return replace(result, finding=finding)


def ways(bench: Bench, turnable: tuple[Knob, ...], result: CheckResult) -> tuple[Way, ...]:
    """Each figure that can mend this result alone, the smallest change first."""
    found = [w for w in (_way(bench, knob, result) for knob in turnable) if w is not None]
    return tuple(sorted(found, key=lambda w: (w.move_mm, w.knob.literal.span.start)))


def _way(bench: Bench, knob: Knob, result: CheckResult) -> Way | None:
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
        value = _nearest(bench, knob, result, slopes)
        if value is None:
            return None
        trial = bench.trial(knob, value)
        if trial is None:
            return None
        if _holds(bench.base, trial, result):
            return Way(knob, value)
        if not trial.built:
            return None
        slopes = _slopes(bench.base.slack, trial.slack, value - start)
    return None


def _slopes(
    before: Mapping[Key, float], after: Mapping[Key, float], moved: float
) -> dict[Key, float]:
    return {k: (after[k] - v) / moved for k, v in before.items() if k in after}


def _holds(base: Trial, trial: Trial, result: CheckResult) -> bool:
    before = base.failing - {(result.code, result.subject)}
    return trial.built and trial.failing <= before


def _nearest(
    bench: Bench, knob: Knob, result: CheckResult, slopes: Mapping[Key, float]
) -> float | None:
    """The nearest figure by which, as the slopes say, nothing fails that held and this holds."""
    low, high = -math.inf, math.inf
    for key, slack in bench.base.slack.items():
        slope = slopes.get(key, 0.0)
        if slack < 0 and key[0] != result.subject:
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
    if value is None or value <= 0:
        return None
    mm = value * MM_PER_UNIT[knob.literal.unit]
    if knob.limits and not knob.limits[0] - 1e-6 <= mm <= knob.limits[1] + 1e-6:
        return None
    return value


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


def _way_out(way: Way) -> WayOut:
    literal = way.knob.literal
    figure = _figure(way.value, literal.unit)
    written = literal.written
    shared = not written.endswith(literal.unit)
    text = figure if shared else f"{figure} {literal.unit}"
    now = f"{written} {literal.unit}" if shared else written
    said = f"make {way.knob.said} {figure} {literal.unit}, where it is {now}"
    return WayOut(said, Edit(literal.span, text))


def _figure(value: float, unit: str) -> str:
    if unit != "in":
        return f"{round(value, 4):g}"
    part = Fraction(value).limit_denominator(64)
    if abs(float(part) - value) > 1e-9:
        return f"{round(value, 4):g}"
    whole, rest = divmod(part.numerator, part.denominator)
    if not rest:
        return str(whole)
    return f"{whole} {rest}/{part.denominator}" if whole else f"{rest}/{part.denominator}"
