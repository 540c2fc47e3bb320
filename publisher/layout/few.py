"""The shortest way through a few stops, for certain."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeAlias

from publisher.geometry.path import Point
from publisher.layout.walk import Stop

State: TypeAlias = tuple[int, int, int]
"""The stops done, as bits; the last of them; its way."""


def shortest(stops: Sequence[Stop], start: Point) -> list[tuple[int, int]]:
    """(number of the stop, number of its way) in the order of least travel.

    Over all sets of stops that can be done first, by the stop and way that comes last (Held
    and Karp 1962). Work doubles with every stop. Raises ValueError where stops wait for each
    other.
    """
    needed = [sum(1 << first for first in set(stop.after)) for stop in stops]
    full = (1 << len(stops)) - 1
    # To travel, and what was before.
    found: dict[State, tuple[float, State | None]] = {(0, -1, -1): (0.0, None)}
    layer: list[State] = [(0, -1, -1)]
    for _ in stops:
        reached: dict[State, tuple[float, State | None]] = {}
        for state in layer:
            done, last, way = state
            travel = found[state][0]
            here = start if last < 0 else stops[last].ways[way][1]
            for number, stop in enumerate(stops):
                if done >> number & 1 or needed[number] & ~done:
                    continue
                for choice, (enter, _) in enumerate(stop.ways):
                    to = (done | 1 << number, number, choice)
                    length = travel + math.dist(here, enter)
                    if to not in reached or length < reached[to][0]:
                        reached[to] = (length, state)
        found.update(reached)
        layer = sorted(reached)
    if not layer or layer[0][0] != full:
        raise ValueError("stops wait for each other")
    at: State | None = min(layer, key=lambda state: (found[state][0], state))
    order = []
    while at is not None and at[1] >= 0:
        order.append((at[1], at[2]))
        at = found[at][1]
    return order[::-1]
