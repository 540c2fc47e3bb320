"""Layer orders of paper that is folded flat: found, counted or refuted.

Every pair of facets that overlap has one of two orders. What the folds say goes in first; each
rule that leaves one way only says the next pair; where none does, one pair is tried both ways.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from msgspec import Struct

from publisher.folding.flat import FlatFold, Pair, Rule, named

MOST_TRIES = 20_000


class Stacking(Struct, frozen=True):
    """``order`` has (lower, upper) facets by name. Where there is none, ``between`` are the
    facets that cannot lie so; "undecided" where the search was given up."""

    verdict: Literal["found", "refuted", "undecided"]
    order: tuple[tuple[str, str], ...] = ()
    between: tuple[str, ...] = ()


class _GivenUpError(Exception):
    """More tries than ``MOST_TRIES``."""


def stacking(fold: FlatFold, known: Mapping[Pair, int] | None = None) -> Stacking:
    """An order that obeys all rules and the bends; ``known`` pairs are held as well."""
    search = _Search(fold)
    start = dict(fold.bends) | dict(known or {})
    clash = search.settle(start, list(start))
    if clash is not None:
        return Stacking("refuted", (), named(fold, clash.pairs))
    try:
        found = next(search.orders(start), None)
    except _GivenUpError:
        return Stacking("undecided", (), fold.names)
    if found is None:
        return Stacking("refuted", (), named(fold, search.clashes))
    order = []
    for (i, j), sign in sorted(found.items()):
        low, high = (i, j) if sign > 0 else (j, i)
        order.append((fold.names[low], fold.names[high]))
    return Stacking("found", tuple(order))


def count_orders(fold: FlatFold, bends: bool = False) -> int:
    """How many orders obey all rules; with ``bends`` only those that go as the folds say."""
    search = _Search(fold)
    start = dict(fold.bends) if bends else {}
    if search.settle(start, list(start)) is not None:
        return 0
    return sum(1 for _ in search.orders(start))


class _Search:
    def __init__(self, fold: FlatFold) -> None:
        self.pairs = fold.pairs
        self.rules: dict[Pair, list[Rule]] = {pair: [] for pair in fold.pairs}
        for rule in fold.rules:
            for pair in rule.pairs:
                self.rules[pair].append(rule)
        self.tries = 0
        self.clashes: Sequence[Pair] = ()

    def settle(self, signs: dict[Pair, int], changed: list[Pair]) -> Rule | None:
        """Say all that follows; a rule that nothing obeys any more where there is one."""
        while changed:
            for rule in self.rules.get(changed.pop(), ()):
                left = [
                    way
                    for way in rule.allowed
                    if all(signs.get(p, s) == s for p, s in zip(rule.pairs, way, strict=True))
                ]
                if not left:
                    return rule
                for i, pair in enumerate(rule.pairs):
                    if pair not in signs and len({way[i] for way in left}) == 1:
                        signs[pair] = left[0][i]
                        changed.append(pair)
        return None

    def orders(self, signs: dict[Pair, int]) -> Iterator[dict[Pair, int]]:
        """All orders that go on from these signs."""
        open_pairs = [pair for pair in self.pairs if pair not in signs]
        if not open_pairs:
            yield signs
            return
        pair = max(open_pairs, key=lambda p: len(self.rules[p]))
        for sign in (1, -1):
            self.tries += 1
            if self.tries > MOST_TRIES:
                raise _GivenUpError
            tried = {**signs, pair: sign}
            clash = self.settle(tried, [pair])
            if clash is None:
                yield from self.orders(tried)
            else:
                self.clashes = clash.pairs
