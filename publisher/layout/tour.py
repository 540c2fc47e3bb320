"""A short way through stops that can be entered at several points, some only after others.

Nearest neighbour first, then points of entry by dynamic programming, reversals (2-opt) and
moves of up to three stops (Or-opt), then kicks: two neighbouring stretches change places, and
what gets no shorter is taken back. Croes 1958; Or 1976; Lourenço, Martin and Stützle 2003,
"Iterated local search". Bounded by moves and kicks.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from publisher.geometry.path import Point
from publisher.layout.luck import Luck

NEIGHBOURS = 8
LONGEST_MOVE = 3
LONGEST_KICK = 12
HAIR_MM = 1e-7
WARMTH = 0.7
"""By how much of a usual way a tour may be longer than the best at first."""


@dataclass(frozen=True, slots=True)
class Stop:
    """``ways`` are (where it is entered, where it is left); every way's reverse must be one
    of them. ``after`` are numbers of stops that come before this one."""

    ways: tuple[tuple[Point, Point], ...]
    after: tuple[int, ...] = ()


def tour(stops: Sequence[Stop], start: Point, kicks: int) -> list[tuple[int, int]]:
    """(number of the stop, number of its way) in order, beginning near ``start``.

    The way back is not counted. Raises ValueError where stops wait for each other.
    """
    if not stops:
        return []
    search = _Search(stops, complex(*start))
    search.settle()
    search.kick(kicks)
    return [(stop, search.way[stop]) for stop in search.order]


class _Search:
    """A tour being bettered. Points are complex numbers, whose distance is quick to take."""

    def __init__(self, stops: Sequence[Stop], start: complex) -> None:
        self.start = start
        self.ways = [[(complex(*a), complex(*b)) for a, b in stop.ways] for stop in stops]
        self.reverse = [[ways.index((b, a)) for a, b in ways] for ways in self.ways]
        self.before = [tuple(stop.after) for stop in stops]
        self.later: list[list[int]] = [[] for _ in stops]
        for number, stop in enumerate(stops):
            for first in stop.after:
                self.later[first].append(number)
        most = max(len(w) for w in self.ways)
        self.entries = np.full((len(stops), most), complex(np.inf, 0.0))
        for number, ways in enumerate(self.ways):
            self.entries[number, : len(ways)] = [enter for enter, _ in ways]
        self.way = [0] * len(stops)
        self.enter = [ways[0][0] for ways in self.ways]
        self.leave = [ways[0][1] for ways in self.ways]
        self.undo: list[tuple[int, list[int] | int]] = []
        self.gained = 0.0
        self.order = self._nearest_first()
        self.at = [0] * len(stops)
        for place, number in enumerate(self.order):
            self.at[number] = place
        self.near: list[list[tuple[float, int]]] = []

    # ------------------------------------------------------------ the state

    def _take(self, stop: int, way: int) -> None:
        self.undo.append((~stop, self.way[stop]))
        self.way[stop] = way
        self.enter[stop], self.leave[stop] = self.ways[stop][way]

    def _put(self, first: int, stops: list[int]) -> None:
        """These stops from place ``first`` on."""
        self.undo.append((first, self.order[first : first + len(stops)]))
        self.order[first : first + len(stops)] = stops
        for place, stop in enumerate(stops, first):
            self.at[stop] = place

    def _go_back(self) -> None:
        """Take back everything since ``undo`` was cleared."""
        undo, self.undo = self.undo, []
        for place, was in reversed(undo):
            if isinstance(was, int):
                self._take(~place, was)
            else:
                self._put(place, was)
        self.undo.clear()

    def length(self) -> float:
        here, total = self.start, 0.0
        for stop in self.order:
            total += abs(self.enter[stop] - here)
            here = self.leave[stop]
        return total

    def _left_at(self, place: int) -> complex:
        return self.leave[self.order[place]] if place >= 0 else self.start

    def _nearest_first(self) -> list[int]:
        waiting = [len(set(before)) for before in self.before]
        open_ = np.array([count == 0 for count in waiting])
        order: list[int] = []
        here = self.start
        for _ in self.ways:
            apart = np.abs(self.entries - here)
            apart[~open_] = np.inf
            stop, way = divmod(int(np.argmin(apart)), self.entries.shape[1])
            if not open_[stop]:
                raise ValueError("stops wait for each other")
            self._take(stop, way)
            order.append(stop)
            open_[stop] = False
            here = self.leave[stop]
            for later in set(self.later[stop]):
                waiting[later] -= 1
                if waiting[later] == 0:
                    open_[later] = True
        return order

    def _find_near(self) -> None:
        """For each stop those that may well come next: the nearest by any of their ways."""
        leave = np.array(self.leave)
        size = len(leave)
        nearest = np.full((size, size), np.inf)
        for column in self.entries.T:
            np.minimum(nearest, np.abs(leave[:, None] - column[None, :]), out=nearest)
        np.fill_diagonal(nearest, np.inf)
        ranked = np.argsort(nearest, axis=1, kind="stable")[:, : min(NEIGHBOURS, size - 1)]
        apart = np.take_along_axis(nearest, ranked, axis=1)
        self.near = [
            list(zip(far, who, strict=True))
            for far, who in zip(apart.tolist(), ranked.tolist(), strict=True)
        ]

    # ------------------------------------------------------------ ways of the same order

    def _best_ways(self) -> None:
        """The best point of entry of every stop for the order as it is."""
        costs: list[float] = [0.0]
        leaves = [self.start]
        came: list[list[int]] = []
        for stop in self.order:
            best, froms = [], []
            for enter, _ in self.ways[stop]:
                sums = [
                    cost + abs(enter - leave) for cost, leave in zip(costs, leaves, strict=True)
                ]
                least = min(sums)
                best.append(least)
                froms.append(sums.index(least))
            costs, leaves = best, [leave for _, leave in self.ways[stop]]
            came.append(froms)
        way = costs.index(min(costs))
        for stop, froms in zip(reversed(self.order), reversed(came), strict=True):
            self._take(stop, way)
            way = froms[way]

    # ------------------------------------------------------------ moves

    def settle(self) -> None:
        """Moves and ways by turns until neither helps."""
        length = self.length()
        while True:
            self._best_ways()
            self._find_near()
            self._improve(self.order)
            now = self.length()
            if now > length - HAIR_MM:
                return
            length = now

    def _improve(self, stops: Iterable[int]) -> None:
        waiting = deque(stops)
        queued = set(waiting)
        while waiting:
            stop = waiting.popleft()
            queued.discard(stop)
            for touched in self._better(stop):
                if touched not in queued:
                    queued.add(touched)
                    waiting.append(touched)

    def _better(self, a: int) -> list[int]:
        """Do the first move found that brings a near stop right after ``a``; who is touched."""
        order, at, enter = self.order, self.at, self.enter
        place = at[a]
        if len(self.ways[a]) > 1:
            before = self._left_at(place - 1)
            next_ = order[place + 1] if place + 1 < len(order) else None
            cost, way = self._cheapest_way(a, before, next_)
            gain = abs(enter[a] - before) - cost
            if next_ is not None:
                gain += abs(enter[next_] - self.leave[a])
            if gain > HAIR_MM:
                self.gained += gain
                self._take(a, way)
                return [a, *order[max(0, place - 1) : place], *order[place + 1 : place + 2]]
        left = self.leave[a]
        goes = abs(enter[order[place + 1]] - left) if place + 1 < len(order) else 0.0
        for apart, b in self.near[a]:
            comes = at[b]
            if comes == place + 1:
                continue
            # No move helps that does not save more than it costs at one of its ends.
            if apart >= goes and apart >= abs(enter[b] - self._left_at(comes - 1)):
                continue
            touched = self._reversal(a, b) or self._move(a, b)
            if touched:
                return touched
        return []

    def _reversal(self, a: int, b: int) -> list[int]:
        i, j = self.at[a] + 1, self.at[b]
        if j < i:
            # The stretch after b up to a, turned round, brings a right after b.
            i, j = self.at[b] + 1, self.at[a]
        order = self.order
        before = self._left_at(i - 1)
        first, last = order[i], order[j]
        gain = abs(self.enter[first] - before) - abs(self.leave[last] - before)
        if j + 1 < len(order):
            after = self.enter[order[j + 1]]
            gain += abs(after - self.leave[last]) - abs(after - self.enter[first])
        if gain <= HAIR_MM or self._bound_within(i, j):
            return []
        self.gained += gain
        self._turn_round(i, j)
        return [first, last, *order[max(0, i - 1) : i], *order[j + 1 : j + 2]]

    def _bound_within(self, i: int, j: int) -> bool:
        """Whether one of the stops from i to j waits for another of them."""
        at, before = self.at, self.before
        return any(i <= at[p] <= j for place in range(i, j + 1) for p in before[self.order[place]])

    def _turn_round(self, i: int, j: int) -> None:
        stretch = self.order[i : j + 1]
        stretch.reverse()
        for stop in stretch:
            self._take(stop, self.reverse[stop][self.way[stop]])
        self._put(i, stretch)

    def _move(self, a: int, b: int) -> list[int]:
        """Move b and up to two after it to behind a, or turned round, b and those before."""
        order, size = self.order, len(self.order)
        place = self.at[a]
        left = self.leave[a]
        next_ = order[place + 1] if place + 1 < size else None
        for count in range(1, LONGEST_MOVE + 1):
            for turned in (False, True):
                i = self.at[b] - (count - 1 if turned else 0)
                j = i + count - 1
                if i < 0 or j >= size or i <= place <= j or i == place + 1:
                    continue
                first, last = order[i], order[j]
                before = self._left_at(i - 1)
                gain = abs(self.enter[first] - before)
                if j + 1 < size:
                    after = self.enter[order[j + 1]]
                    gain += abs(after - self.leave[last]) - abs(after - before)
                if next_ is not None:
                    gain += abs(self.enter[next_] - left)
                if gain <= HAIR_MM:
                    continue
                way = None
                if count == 1:
                    cost, way = self._cheapest_way(b, left, next_)
                else:
                    head, tail = self.enter[first], self.leave[last]
                    if turned:
                        head, tail = tail, head
                    cost = abs(head - left)
                    if next_ is not None:
                        cost += abs(self.enter[next_] - tail)
                if gain - cost <= HAIR_MM or not self._may_move(i, j, place, turned):
                    continue
                around = [*order[max(0, i - 1) : i], *order[j + 1 : j + 2], a, first, last]
                if next_ is not None:
                    around.append(next_)
                self.gained += gain - cost
                self._shift(i, j, place, turned and count > 1)
                if way is not None:
                    self._take(b, way)
                return around
        return []

    def _cheapest_way(self, stop: int, left: complex, next_: int | None) -> tuple[float, int]:
        goal = self.enter[next_] if next_ is not None else None
        best, chosen = np.inf, 0
        for number, (enter, leave) in enumerate(self.ways[stop]):
            cost = abs(enter - left) + (abs(goal - leave) if goal is not None else 0.0)
            if cost < best:
                best, chosen = cost, number
        return best, chosen

    def _may_move(self, i: int, j: int, place: int, turned: bool) -> bool:
        """Whether stops i to j may come right after ``place`` without overtaking their own."""
        at = self.at
        for stop in self.order[i : j + 1]:
            if place > j and any(j < at[s] <= place for s in self.later[stop]):
                return False
            if place < i and any(place < at[p] < i for p in self.before[stop]):
                return False
        return not (turned and j > i and self._bound_within(i, j))

    def _shift(self, i: int, j: int, place: int, turned: bool) -> None:
        if turned:
            self._turn_round(i, j)
        stretch = self.order[i : j + 1]
        if place > j:
            self._put(i, self.order[j + 1 : place + 1] + stretch)
        else:
            self._put(place + 1, stretch + self.order[place + 1 : i])

    # ------------------------------------------------------------ kicks

    def kick(self, kicks: int) -> None:
        size = len(self.order)
        if size < 4:
            return
        luck = Luck(size)
        # A tour a little longer is also gone on from, less and less so: annealing.
        mean = self.length() / size
        behind = 0.0
        best = (self.order[:], self.way[:])
        for number in range(kicks):
            allowed = WARMTH * mean * (1.0 - number / kicks)
            i = luck.below(size - 1)
            reach = min(LONGEST_KICK, size - i - 1)
            j = i + 1 + luck.below(reach)
            k = j + 1 + luck.below(min(LONGEST_KICK, size - j))
            if any(i <= self.at[p] < j for s in self.order[j:k] for p in self.before[s]):
                continue
            self.undo.clear()
            ends = [self.order[p] for p in (i - 1, i, j - 1, j, k - 1, k) if 0 <= p < size]
            self.gained = self._joints(i, j, k)
            self._put(i, self.order[j:k] + self.order[i:j])
            self.gained -= self._joints(i, i + k - j, k)
            self._improve(ends)
            if behind - self.gained > allowed:
                self._go_back()
                continue
            behind -= self.gained
            if behind < -HAIR_MM:
                behind = 0.0
                best = (self.order[:], self.way[:])
        self._put(0, best[0])
        for stop, way in enumerate(best[1]):
            self._take(stop, way)
        self.settle()

    def _joints(self, *places: int) -> float:
        """The ways that lead to the stops at these places."""
        return sum(
            abs(self.enter[self.order[p]] - self._left_at(p - 1))
            for p in places
            if p < len(self.order)
        )
