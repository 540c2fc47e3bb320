"""What happens in the making: nothing is cut, scored or folded quite where it is drawn.

Each line of each piece is moved by a hair on its own, and each paper made a hair thicker, and
the fits are measured again on the real pieces: that gives how strongly each follows each line.
The tolerances of ``practice.toml`` then stack up: in the worst case all against the maker, and
as the root of the sum of squares, as they do when they are independent (F. Scholz, Tolerance
Stack Analysis Methods, 1995). A tolerance is taken as three standard deviations of a normal
spread.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly import assemble
from publisher.assembly.types import Story
from publisher.checks.context import Context
from publisher.checks.making import made_lines, reshaped, with_pieces
from publisher.checks.rules import clears, covers, goes_into, reaches, slides_on
from publisher.checks.trial import Key
from publisher.checks.types import CheckResult
from publisher.diagnostics import has_errors
from publisher.model.types import Piece

HAIR_MM = 0.02
SIGMAS = 3.0
"""How many standard deviations a tolerance is."""
STAND_ALONE = (goes_into, slides_on)
"""Fits that are measured on the pieces alone; the others need the thing assembled."""
ASSEMBLED = (clears, covers, reaches)

Hands = Literal["machine", "hand"]


class Contributor(Struct, frozen=True):
    """One thing that may be off. ``slopes`` is how far each fit's slack follows it, mm for mm."""

    said: str
    kind: Literal["cut", "score", "fold", "caliper"]
    tolerance_mm: Mapping[str, float]
    slopes: Mapping[Key, float]

    def part_mm(self, key: Key, by: Hands) -> float:
        """How much of the slack this takes at the most."""
        return abs(self.slopes.get(key, 0.0)) * self.tolerance_mm[by]


class Stack(Struct, frozen=True):
    """A fit's slack one way, and what the making leaves of it."""

    key: Key
    slack_mm: float
    contributors: tuple[Contributor, ...]

    def worst_mm(self, by: Hands) -> float:
        """What is left when everything is off by its tolerance, and all against the fit."""
        return self.slack_mm - sum(c.part_mm(self.key, by) for c in self.contributors)

    def rss_mm(self, by: Hands) -> float:
        return math.sqrt(sum(c.part_mm(self.key, by) ** 2 for c in self.contributors))

    def share_failing(self, by: Hands) -> float:
        """Of many makers, the share for whom it fails this way: the normal law."""
        sigma = self.rss_mm(by) / SIGMAS
        if sigma < 1e-12:
            return 0.0 if self.slack_mm >= 0 else 1.0
        return 0.5 * math.erfc(self.slack_mm / sigma / math.sqrt(2.0))

    def ranked(self, by: Hands) -> tuple[tuple[Contributor, float], ...]:
        """Contributors by their share of the variance, the largest first."""
        whole = self.rss_mm(by) ** 2 or 1.0
        shares = [(c, c.part_mm(self.key, by) ** 2 / whole) for c in self.contributors]
        return tuple(sorted(shares, key=lambda s: (-s[1], s[0].said)))


def fits(context: Context) -> tuple[CheckResult, ...]:
    """The results whose slack the making eats into."""
    rules = (*STAND_ALONE, *ASSEMBLED)
    return tuple(r for rule in rules for r in rule.check(context) if r.slack)


def stacks(context: Context) -> tuple[Stack, ...]:
    """One for each fit and way, in the order of the fits."""
    base = dict(_slacks(fits(context)))
    if not base:
        return ()
    found = tuple(_contributors(context, base))
    return tuple(
        Stack(key, slack, tuple(c for c in found if abs(c.slopes.get(key, 0.0)) > 1e-6))
        for key, slack in base.items()
    )


def _slacks(results: Iterable[CheckResult]) -> Iterator[tuple[Key, float]]:
    """How far from not going together at all: what a claim asks for beyond that is the design's
    own reserve, and the making may eat it."""
    for result in results:
        least = dict(result.numbers).get("least_mm", 0.0)
        for way, mm in result.slack:
            yield (result.subject, way), mm + (least if way.startswith("least") else 0.0)


def _contributors(context: Context, base: Mapping[Key, float]) -> Iterator[Contributor]:
    tolerance = {
        kind: {by: context.practice(f"{by}_{kind}_tolerance_mm") for by in ("machine", "hand")}
        for kind in ("cut", "score", "fold")
    }
    spatial = any(rule_result.slack for rule in ASSEMBLED for rule_result in rule.check(context))
    for piece in context.pattern.pieces:
        lines = made_lines(piece)
        for line in lines:
            sides = [
                {piece.name: reshaped(piece, line.shift(by, lines))} for by in (HAIR_MM, -HAIR_MM)
            ]
            slopes = _slopes(context, base, sides, spatial=spatial)
            if slopes:
                yield Contributor(line.said, line.kind, tolerance[line.kind], slopes)
                if line.kind == "score":
                    said = line.said.replace("the score", "the fold", 1)
                    yield Contributor(said, "fold", tolerance["fold"], slopes)
    share = context.practice("caliper_tolerance")
    for name in sorted({p.stock.name for p in context.pattern.pieces}):
        stock = next(p.stock for p in context.pattern.pieces if p.stock.name == name)
        pieces = [p for p in context.pattern.pieces if p.stock.name == name]
        sides = [
            {
                p.name: replace(p, stock=replace(stock, caliper_mm=stock.caliper_mm + by))
                for p in pieces
            }
            for by in (HAIR_MM, -HAIR_MM)
        ]
        slopes = _slopes(context, base, sides, spatial=spatial)
        if slopes:
            thicker = stock.caliper_mm * share
            said = f"the thickness of {name}"
            yield Contributor(said, "caliper", {"machine": thicker, "hand": thicker}, slopes)


def _slopes(
    context: Context,
    base: Mapping[Key, float],
    sides: list[dict[str, Piece]],
    *,
    spatial: bool,
) -> dict[Key, float]:
    """How the slacks follow, for those that do: half the way from one side to the other, so
    that of several walls of one height each counts for its part. Nothing where the moved piece
    cannot be put together any more."""
    more, less = (_measured(context, changed, spatial=spatial) for changed in sides)
    slopes = {k: (more[k] - less[k]) / (2 * HAIR_MM) for k in base if k in more and k in less}
    return {k: v for k, v in slopes.items() if abs(v) > 1e-6}


def _measured(context: Context, changed: Mapping[str, Piece], *, spatial: bool) -> dict[Key, float]:
    pattern = with_pieces(context.pattern, changed)
    story: Story = context.story
    if spatial:
        story, found = assemble(pattern)
        if has_errors(found):
            return {}
    rules = (*STAND_ALONE, *(ASSEMBLED if spatial else ()))
    moved = Context(pattern, story, context.trade)
    return dict(_slacks(r for rule in rules for r in rule.check(moved)))


def makers(some: tuple[Stack, ...], by: Hands, count: int = 100_000, seed: int = 1) -> float:
    """Of ``count`` makers the share for whom any of these stacks fails, by drawing them.

    The chance is the same in every run: it starts from ``seed``.
    """
    import numpy as np

    chance = np.random.default_rng(seed)
    left = np.tile(np.array([s.slack_mm for s in some]), (count, 1))
    seen: dict[int, Contributor] = {id(c): c for s in some for c in s.contributors}
    for contributor in seen.values():
        sigma = contributor.tolerance_mm[by] / SIGMAS
        slopes = np.array([contributor.slopes.get(s.key, 0.0) for s in some])
        left += chance.normal(0.0, sigma, count)[:, None] * slopes
    return float((left < 0).any(axis=1).mean())
