"""A short way through stops that can be entered at several points, some only after others.

Nearest neighbour first, then points of entry by dynamic programming, reversals (2-opt) and
moves of up to three stops (Or-opt), then kicks: two neighbouring stretches change places, and
what gets no shorter is taken back. Croes 1958; Or 1976; Lourenço, Martin and Stützle 2003,
"Iterated local search". Bounded by moves and kicks.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence

from publisher.geometry.path import Point
from publisher.layout.few import shortest
from publisher.layout.luck import Luck
from publisher.layout.walk import Stop, Walk

LONGEST_MOVE = 3
LONGEST_KICK = 12
HAIR_MM = 1e-7
START = -1
FEW = 7
"""So many stops are looked through in full."""
WARMTH = 0.7
"""By how much of a usual way a tour may be longer than the best at first."""


MOST_KICKS, LEAST_KICKS, KICKED_STOPS = 400, 60, 12_000
KICKS_A_STOP = 8


def tour(stops: Sequence[Stop], start: Point, kicks: int | None = None) -> list[tuple[int, int]]:
    """(number of the stop, number of its way) in order, beginning near ``start``.

    The way back is not counted. Unless told, there are the fewer kicks the more stops there
    are, so that a full sheet takes tenths of a second; a few stops need few.
    Raises ValueError where stops wait for each other.
    """
    if len(stops) <= FEW:
        return shortest(stops, start)
    search = _Search(stops, complex(*start))
    search.settle()
    if kicks is None:
        most = min(MOST_KICKS, KICKED_STOPS // len(stops), KICKS_A_STOP * len(stops))
        kicks = max(LEAST_KICKS, most)
    search.kick(kicks)
    return [(stop, search.way[stop]) for stop in search.order]


class _Search(Walk):
    """A walk being bettered."""

    def settle(self) -> None:
        """Moves and ways by turns until neither helps."""
        self.undo.clear()
        length = self.length()
        while True:
            self.best_ways()
            self.find_near()
            self._improve([START, *self.order])
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
        if a != START and len(self.ways[a]) > 1:
            before = self.left_at(place - 1)
            next_ = order[place + 1] if place + 1 < len(order) else None
            cost, way = self.cheapest_way(a, before, next_)
            gain = abs(enter[a] - before) - cost
            if next_ is not None:
                gain += abs(enter[next_] - self.leave[a])
            if gain > HAIR_MM:
                self.gained += gain
                self.take(a, way)
                return [a, *order[max(0, place - 1) : place], *order[place + 1 : place + 2]]
        left = self.leave[a]
        goes = abs(enter[order[place + 1]] - left) if place + 1 < len(order) else 0.0
        for apart, b in self.near[a]:
            comes = at[b]
            if comes == place + 1:
                continue
            # No move helps that does not save more than it costs at one of its ends.
            if apart >= goes and apart >= abs(enter[b] - self.left_at(comes - 1)):
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
        before = self.left_at(i - 1)
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
            self.take(stop, self.reverse[stop][self.way[stop]])
        self.put(i, stretch)

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
                before = self.left_at(i - 1)
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
                    cost, way = self.cheapest_way(b, left, next_)
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
                    self.take(b, way)
                return around
        return []

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
            self.put(i, self.order[j + 1 : place + 1] + stretch)
        else:
            self.put(place + 1, stretch + self.order[place + 1 : i])

    # ------------------------------------------------------------ kicks

    def kick(self, kicks: int) -> None:
        size = len(self.order)
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
            ends.append(START)
            self.gained = self._joints(i, j, k)
            self.put(i, self.order[j:k] + self.order[i:j])
            self.gained -= self._joints(i, i + k - j, k)
            self._improve(ends)
            if behind - self.gained > allowed:
                self.go_back()
                continue
            behind -= self.gained
            if behind < -HAIR_MM:
                behind = 0.0
                best = (self.order[:], self.way[:])
        self.put(0, best[0])
        for stop, way in enumerate(best[1]):
            self.take(stop, way)
        self.settle()

    def _joints(self, *places: int) -> float:
        """The ways that lead to the stops at these places."""
        return sum(
            abs(self.enter[self.order[p]] - self.left_at(p - 1))
            for p in places
            if p < len(self.order)
        )
