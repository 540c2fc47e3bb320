"""The whole range: a pattern is right when it is right for every value that its sizes allow.

Corners first, then a sample that fills the space (Halton's sequence), then a search from the
worst of them for worse. A failure is followed back to where it begins.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TypeAlias

from msgspec import Struct

from publisher.checks.context import failed
from publisher.checks.trial import Rules, Trial, set_sizes, try_out
from publisher.checks.types import CheckResult
from publisher.diagnostics import Place, Span
from publisher.language.program import Program
from publisher.model.types import Pattern
from publisher.trade import Trade
from publisher.units import both

CODE = "fails-in-range"
Sizes: TypeAlias = tuple[tuple[str, float], ...]
"""Values in mm by name, in the order of the pattern."""
Together: TypeAlias = Callable[[Sequence[Sizes]], Iterable[tuple[Sizes, Trial]]]
"""Makes the trials of these sizes, as many at once as there are hands."""

PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37)
MOST_CORNERS = 64
MOST_TOLD = 6
SEARCH_SHARE = 0.2
"""How much of the trials goes to the search for worse."""
HALVINGS = 10
"""How often the stretch in which a failure begins is halved: to a thousandth of it."""


class Ranged(Struct, frozen=True):
    """A size with a range, in mm, as written and at its ends."""

    name: str
    now: float
    low: float
    high: float
    span: Span


def ranged(program: Program, pattern: Pattern) -> tuple[Ranged, ...]:
    """The lengths that a maker may choose; angles and plain numbers are left as they are."""
    lines = {s.name.text: s for s in program.sizes}
    found = []
    for size in pattern.sizes:
        if size.range is None or size.unit != "mm" or size.range[0] >= size.range[1]:
            continue
        least = lines[size.name].least
        span = least.span if least is not None else size.span
        found.append(Ranged(size.name, size.values[0], *size.range, span))
    return tuple(found)


def points(sizes: Sequence[Ranged], count: int) -> tuple[Sizes, ...]:
    """Corners and a space-filling sample, each once; ``count`` in all, the search's share taken
    off, but never fewer than the corners."""
    corners = itertools.islice(
        itertools.product(*(((s.name, s.low), (s.name, s.high)) for s in sizes)), MOST_CORNERS
    )
    found: dict[Sizes, None] = dict.fromkeys(tuple(c) for c in corners)
    wanted = count - int(count * SEARCH_SHARE)
    number = 1
    while len(found) < wanted and sizes:
        found.setdefault(_halton(sizes, number))
        number += 1
    return tuple(found)


def _halton(sizes: Sequence[Ranged], number: int) -> Sizes:
    """Point ``number`` of Halton's sequence (Numerische Mathematik 2, 1960; from memory): the
    digits of the number in a prime base, mirrored at the point."""
    return tuple(
        (s.name, round(s.low + (s.high - s.low) * _mirrored(number, base), 4))
        for s, base in zip(sizes, itertools.cycle(PRIMES), strict=False)
    )


def _mirrored(number: int, base: int) -> float:
    share, total = 1.0, 0.0
    while number:
        share /= base
        number, digit = divmod(number, base)
        total += digit * share
    return total


def tried(program: Program, trade: Trade, rules: Rules, at: Sizes) -> tuple[Sizes, Trial]:
    """A trial with these sizes."""
    return at, try_out(set_sizes(program, dict(at)), trade, rules)


class Sweep:
    """A sweep after its first trials: looks for worse, and for where each failure begins."""

    def __init__(self, program: Program, pattern: Pattern, trade: Trade, rules: Rules) -> None:
        self.program, self.pattern, self.trade, self.rules = program, pattern, trade, rules
        self.sizes = ranged(program, pattern)
        self.made: dict[Sizes, Trial] = {}

    def take(self, trials: Iterable[tuple[Sizes, Trial]]) -> None:
        self.made.update(trials)

    def at(self, values: Mapping[str, float]) -> Trial:
        key = tuple((s.name, round(values[s.name], 4)) for s in self.sizes)
        if key not in self.made:
            self.take([tried(self.program, self.trade, self.rules, key)])
        return self.made[key]

    def search(self, most: int, together: Together) -> None:
        """From the worst point so far, a step along each size in turn, up and down at once,
        halved when none helps (a pattern search: Hooke and Jeeves, JACM 8, 1961; from memory)."""
        if not self.made or not self.sizes or most <= 0:
            return
        best = min(self.made, key=lambda k: (self.made[k].worst, k))
        here, share = best, 0.25
        until = len(self.made) + most
        while share > 0.01 and len(self.made) < until:
            moved = False
            for size in self.sizes:
                ways = [self._stepped(here, size, way * share) for way in (1, -1)]
                fresh = [at for at in dict.fromkeys(ways) if at not in self.made]
                self.take(together(fresh[: until - len(self.made)]))
                known = [at for at in ways if at in self.made]
                next_one = min(known, key=lambda k: (self.made[k].worst, k), default=here)
                if self.made[next_one].worst < self.made[here].worst - 1e-9:
                    here, moved = next_one, True
            if not moved:
                share /= 2

    def _stepped(self, at: Sizes, size: Ranged, share: float) -> Sizes:
        """The same point with one size changed by a share of its range, held within it."""
        values = dict(at)
        value = values[size.name] + share * (size.high - size.low)
        values[size.name] = round(min(max(value, size.low), size.high), 4)
        return tuple((s.name, values[s.name]) for s in self.sizes)

    def results(self) -> tuple[CheckResult, ...]:
        """One result for each check that fails somewhere, with where it begins; one that passes
        where none does."""
        name = self.pattern.name
        count = (("combinations", float(len(self.made))), ("sizes", float(len(self.sizes))))
        first: dict[tuple[str, str], Sizes] = {}
        for at in sorted(self.made, key=self._distance):
            for failing in sorted(self.made[at].failing):
                first.setdefault(failing, at)
        if not first:
            said = " and ".join(s.name for s in self.sizes)
            sentence = f"{name} holds in {len(self.made)} combinations of {said}"
            worst = min((t.worst for t in self.made.values()), default=0.0)
            return (CheckResult(CODE, name, "pass", (*count, ("worst_mm", worst)), sentence),)
        return tuple(self._told(f, at) for f, at in list(first.items())[:MOST_TOLD])

    def _distance(self, at: Sizes) -> tuple[float, Sizes]:
        """How far from what is written, each size by its own range."""
        away = 0.0
        for size, (_, value) in zip(self.sizes, at, strict=True):
            away += abs(value - size.now) / (size.high - size.low)
        return away, at

    def _told(self, failing: tuple[str, str], at: Sizes) -> CheckResult:
        now = {s.name: s.now for s in self.sizes}
        bad = dict(at)
        for size in self.sizes:  # what need not be changed for it to fail is left as written
            back = {**bad, size.name: size.now}
            if failing in self.at(back).failing:
                bad = back
        far = bad  # where it begins to fail, the figures are the same but for a hair
        good = now
        for _ in range(HALVINGS):
            middle = {n: (good[n] + bad[n]) / 2 for n in now}
            if failing in self.at(middle).failing:
                bad = middle
            else:
                good = middle
        trial = self.at(far)
        first = self.pattern.meta.first_unit
        begins = [s for s in self.sizes if abs(bad[s.name] - s.now) > 1e-6]
        where = " and ".join(
            f"{s.name} is {'over' if bad[s.name] > s.now else 'under'}"
            f" {both(good[s.name], kind='thin', first=first)}"
            for s in begins
        )
        there = " and ".join(
            f"{s.name} of {both(far[s.name], kind='thin', first=first)}" for s in begins
        )
        why = next(
            (r.sentence for r in trial.results if (r.code, r.subject) == failing),
            f"the pattern cannot be made ({failing[1]})",
        )
        numbers = tuple((f"{s.name.replace(' ', '_')}_mm", bad[s.name]) for s in begins)
        return failed(
            CODE,
            f"{failing[1]} over the range",
            numbers,
            f"as soon as {where}, this fails; with {there}: {why}",
            *(Place(s.span, "this range") for s in begins),
            ways_out=tuple(
                f"let {s.name} {'end' if bad[s.name] > s.now else 'begin'} at"
                f" {both(good[s.name], kind='thin', first=first)}"
                for s in begins
            ),
        )
