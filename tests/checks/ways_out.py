"""The test of ways out: content patterns with one or two sizes at random, those that fail.

Every way out that is offered is taken in the text, and the whole file is checked again: it must
be green. And one must be offered for nine in ten of the failures that trying out single sizes
by brute force can mend. ``python -m tests.checks.ways_out 60`` prints the figures.
"""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

from publisher.pipeline import Outcome, check_text
from tests.compiled import ROOT, workshop

PATTERNS = ("envelope", "sliding-box", "lidded-box", "lantern")
SIZE = re.compile(r"^(?P<name>[a-z ]+?) +=(?P<value>[^\"\n]*)", re.MULTILINE)
FIGURE = re.compile(r"\d+(?:\.\d+)?(?= (?:mm|x ))")
RANGE = re.compile(r", from .*? to [\d.]+ mm")
BY_FORCE = tuple(round(0.25 + 0.05 * n, 2) for n in range(36))
"""By what a figure is multiplied when all are tried: a quarter of it to twice."""


@dataclass
class Count:
    """``failing`` patterns, of which brute force can mend ``mendable`` and a way is offered for
    ``offered``; of ``ways`` in all ``wrong`` did not lead out."""

    failing: int = 0
    mendable: int = 0
    offered: int = 0
    ways: int = 0
    wrong: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)


@cache
def text_of(name: str) -> str:
    """A content pattern, its ranges left out: a size may then be anything."""
    return RANGE.sub("", (ROOT / "content" / name / "pattern.md").read_text(encoding="utf-8"))


def check(text: str, thorough: bool = False) -> Outcome:
    found = workshop()
    trade, forms = found.trade, found.forms
    path, name = "content/trial/pattern.md", "trial"
    return check_text(text.encode(), path, name, trade, forms=forms, thorough=thorough)


def figures(text: str) -> list[tuple[int, int]]:
    """Where in the text of a pattern the figures of its sizes stand."""
    found: list[tuple[int, int]] = []
    for fence in re.finditer(r"```sizes\n(.*?)```", text, re.DOTALL):
        for line in SIZE.finditer(text, fence.start(1), fence.end(1)):
            found += [
                m.span() for m in FIGURE.finditer(text, line.start("value"), line.end("value"))
            ]
    return found


def with_figure(text: str, at: tuple[int, int], value: float) -> str:
    return f"{text[: at[0]]}{round(value, 2):g}{text[at[1] :]}"


def spoilt(name: str, chance: random.Random, changes: int) -> str:
    """The pattern with so many of its figures at random."""
    text = text_of(name)
    for _ in range(changes):
        at = chance.choice(figures(text))
        text = with_figure(text, at, float(text[at[0] : at[1]]) * chance.uniform(0.5, 1.8))
    return text


def wrong(outcome: Outcome) -> list[str]:
    return [d.code for d in outcome.diagnostics if d.severity == "error"]


def fails_a_check(outcome: Outcome) -> bool:
    return any(r.result == "fail" for r in outcome.checks)


def mendable(text: str) -> bool:
    """Whether any single figure mends it, each tried over its whole width."""
    for at in figures(text):
        now = float(text[at[0] : at[1]])
        for factor in BY_FORCE:
            if not wrong(check(with_figure(text, at, now * factor))):
                return True
    return False


def edited(text: str, outcome: Outcome) -> Iterator[tuple[str, str]]:
    """What is offered for everything at once, and the text after it is taken."""
    for finding in outcome.diagnostics:
        for way in finding.ways_out:
            if way.edit is not None and "leaves the other findings" not in way.text:
                span = way.edit.span
                yield way.text, text[: span.start] + way.edit.text + text[span.end :]


def run(name: str, count: int, seed: int, two: float = 0.25) -> Count:
    """Of ``count`` failing patterns; a share ``two`` of them with two figures changed."""
    chance = random.Random(f"{name} {seed}")
    found = Count()
    assert not wrong(check(text_of(name))), f"{name} must hold as it is"
    while found.failing < count:
        changes = 2 if chance.random() < two else 1
        text = spoilt(name, chance, changes)
        if not fails_a_check(check(text)):
            continue
        outcome = check(text, thorough=True)
        found.failing += 1
        ways = dict(edited(text, outcome))
        found.ways += len(ways)
        found.wrong += [f"{name}: {said}" for said, new in ways.items() if wrong(check(new))]
        found.offered += bool(ways)
        # One figure put back as it was mends it; of two nobody knows before all are tried.
        can = bool(ways) or changes == 1 or mendable(text)
        found.mendable += can
        if can and not ways:
            found.missed.append(f"{name}: {wrong(outcome)} in {_changed(name, text)}")
    return found


def _changed(name: str, text: str) -> list[str]:
    pairs = zip(text_of(name).splitlines(), text.splitlines(), strict=True)
    return [b for a, b in pairs if a != b]


def main(each: int) -> int:
    out = sys.stdout
    out.write(f"{'pattern':<14} {'failing':>8} {'mendable':>9} {'offered':>8} {'ways':>5}  wrong\n")
    total = Count()
    for name in PATTERNS:
        c = run(name, each, seed=1)
        row = f"{name:<14} {c.failing:>8} {c.mendable:>9} {c.offered:>8} {c.ways:>5}"
        out.write(f"{row}  {len(c.wrong)}\n")
        for line in (*c.wrong, *c.missed):
            out.write(f"    {line}\n")
        out.flush()
        total.mendable += c.mendable
        total.offered += c.offered
        total.wrong += c.wrong
    share = total.offered / total.mendable
    out.write(f"{share:.0%} of the mendable have a way out, {len(total.wrong)} do not lead out\n")
    return 1 if total.wrong or share < 0.9 else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 15))
