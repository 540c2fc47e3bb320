"""Stops in an order, and the ways through them: what a search for a short tour works on."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from publisher.geometry.path import Point

NEIGHBOURS = 8


class Stop(Struct, frozen=True):
    """``ways`` are (where it is entered, where it is left); every way's reverse must be one
    of them. ``after`` are numbers of stops that come before this one."""

    ways: tuple[tuple[Point, Point], ...]
    after: tuple[int, ...] = ()


class Walk:
    """An order of stops, each in one of its ways, that can be changed and taken back.

    Points are complex numbers, whose distance is quick to take. ``order`` holds the stops,
    ``at`` where each stands in it; ``gained`` is for whoever changes it.
    """

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
        # The start stands last, so that it is stop -1, which is left and never entered.
        self.leave = [*(ways[0][1] for ways in self.ways), start]
        self.undo: list[tuple[int, list[int] | int]] = []
        self.gained = 0.0
        self.order = self.nearest_first()
        self.at = [*([0] * len(stops)), -1]
        for place, number in enumerate(self.order):
            self.at[number] = place
        self.near: list[list[tuple[float, int]]] = []

    def take(self, stop: int, way: int) -> None:
        self.undo.append((~stop, self.way[stop]))
        self.way[stop] = way
        self.enter[stop], self.leave[stop] = self.ways[stop][way]

    def put(self, first: int, stops: list[int]) -> None:
        """These stops from place ``first`` on."""
        self.undo.append((first, self.order[first : first + len(stops)]))
        self.order[first : first + len(stops)] = stops
        for place, stop in enumerate(stops, first):
            self.at[stop] = place

    def go_back(self) -> None:
        """Take back everything since ``undo`` was cleared."""
        undo, self.undo = self.undo, []
        for place, was in reversed(undo):
            if isinstance(was, int):
                self.take(~place, was)
            else:
                self.put(place, was)
        self.undo.clear()

    def length(self) -> float:
        here, total = self.start, 0.0
        for stop in self.order:
            total += abs(self.enter[stop] - here)
            here = self.leave[stop]
        return total

    def left_at(self, place: int) -> complex:
        return self.leave[self.order[place]] if place >= 0 else self.start

    def nearest_first(self) -> list[int]:
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
            self.take(stop, way)
            order.append(stop)
            open_[stop] = False
            here = self.leave[stop]
            for later in set(self.later[stop]):
                waiting[later] -= 1
                if waiting[later] == 0:
                    open_[later] = True
        return order

    def find_near(self) -> None:
        """For each stop, and the start, those that may well come next: the nearest by any way."""
        leave = np.array(self.leave)
        size = len(self.ways)
        nearest = np.full((size + 1, size), np.inf)
        for column in self.entries.T:
            np.minimum(nearest, np.abs(leave[:, None] - column[None, :]), out=nearest)
        np.fill_diagonal(nearest, np.inf)
        ranked = np.argsort(nearest, axis=1, kind="stable")[:, :NEIGHBOURS]
        apart = np.take_along_axis(nearest, ranked, axis=1)
        self.near = [
            [(d, w) for d, w in zip(far, who, strict=True) if d < np.inf]
            for far, who in zip(apart.tolist(), ranked.tolist(), strict=True)
        ]

    def best_ways(self) -> None:
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
            self.take(stop, way)
            way = froms[way]

    def cheapest_way(self, stop: int, left: complex, next_: int | None) -> tuple[float, int]:
        goal = self.enter[next_] if next_ is not None else None
        best, chosen = np.inf, 0
        for number, (enter, leave) in enumerate(self.ways[stop]):
            cost = abs(enter - left) + (abs(goal - leave) if goal is not None else 0.0)
            if cost < best:
                best, chosen = cost, number
        return best, chosen
