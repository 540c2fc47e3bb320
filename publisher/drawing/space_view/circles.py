"""Where the circles of close-ups stand: off the drawing, near the place they show."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.ground import CLEAR_MM, Ground
from publisher.drawing.space_view.placing import Placement, Request, place
from publisher.drawing.space_view.strips import Detail
from publisher.geometry.path import Point

RADII_MM = (11.0, 8.5)
HEIGHTS_MM = (72.0, 80.0)
"""So high may a picture grow for a circle; the higher only where there is no other room."""
_COARSE_MM, _FINE_MM = 8.0, 2.0
_GROWTH_COST, _SMALL_COST = 1.5, 4.0  # for each mm: of a picture that grows, of a smaller circle
_OVER_COST, _MARK_COST_MM, _ARROW_COST_MM = 1.0, 8.0, 25.0
_LEADER_CLEAR_MM = 1.0
_MOST_PLACES = 16
_ATTEMPTS, _ELSEWHERE_MM = 3, 6.0
_AT_ONCE = 50
_ALONG = np.linspace(0.0, 1.0, 16)  # where leaders are asked what they run over
_TURNS = np.linspace(0.0, 2.0 * math.pi, 24, endpoint=False)
_ROUND = np.column_stack((np.cos(_TURNS), np.sin(_TURNS)))  # and rings


class Circled(Struct, frozen=True):
    """A place on paper, how many times larger it is drawn, and the circle that shows it so."""

    middle: Point
    times: float
    radius_mm: float
    centre: Point
    cost: float = 0.0

    @property
    def ring_mm(self) -> float:
        return self.radius_mm / self.times

    @property
    def ring(self) -> BaseGeometry:
        return shapely.Point(self.middle).buffer(self.ring_mm)

    @property
    def disc(self) -> BaseGeometry:
        return shapely.Point(self.centre).buffer(self.radius_mm)

    @property
    def leader(self) -> tuple[Point, Point]:
        """From the ring to the circle."""
        (ax, ay), (bx, by) = self.middle, self.centre
        far = max(math.dist(self.middle, self.centre), 1e-9)
        way = ((bx - ax) / far, (by - ay) / far)
        return (
            (ax + way[0] * self.ring_mm, ay + way[1] * self.ring_mm),
            (bx - way[0] * self.radius_mm, by - way[1] * self.radius_mm),
        )

    @property
    def placement(self) -> Placement:
        (x, y), r = self.centre, self.radius_mm
        box = (x - r, y - r, 2.0 * r, 2.0 * r)
        return Placement(Request("", None, 2.0 * r, 2.0 * r), box, self.leader)


class Obstacles(Struct, frozen=True):
    """Words and other circles, and the lines that lead to and from them."""

    areas: tuple[BaseGeometry, ...]
    lines: tuple[BaseGeometry, ...]

    @staticmethod
    def of(circled: Sequence[Circled], words: Sequence[Placement]) -> Obstacles:
        areas = [a for one in circled for a in (one.disc, one.ring)]
        leaders = [one.leader for one in circled]
        leaders += [word.leader for word in words if word.leader is not None]
        lines = tuple(shapely.LineString(leader) for leader in leaders)
        return Obstacles((*areas, *(word.outline for word in words)), lines)


Spots = dict[tuple[float, float], Array]
"""Where the middles of circles may be on a ground, by radius and height, once it was asked."""


def placed(
    details: Sequence[Detail],
    ground: Ground,
    white_mm: float,
    words: Sequence[Placement] = (),
    spots: Spots | None = None,
) -> list[Circled]:
    """A circle for each detail that finds room, off ``words``. ``white_mm`` is what a picture
    has above and below what is drawn, together; ``spots`` are those known of the ground."""
    found: list[Circled] = []
    spots = {} if spots is None else spots
    for detail in details:
        others = Obstacles.of(found, words)
        for highest in HEIGHTS_MM:
            options = [
                one
                for radius in RADII_MM
                if (one := _best(detail, (radius, highest - white_mm), ground, others, spots))
                is not None
            ]
            if options:
                found.append(min(options, key=lambda one: one.cost))
                break
    return found


def with_words(
    details: Sequence[Detail], requests: Sequence[Request], ground: Ground, white_mm: float
) -> tuple[list[Circled], list[Placement]]:
    """Circles and words. Circles come first, for they need more room; where words would be lost
    by that, other places are tried, and words first."""
    tried: list[tuple[list[Circled], list[Placement]]] = []
    left = list(details)
    spots: Spots = {}
    while len(tried) < _ATTEMPTS:
        shown = placed(left, ground, white_mm, spots=spots)
        ringed = ground
        for one in shown:
            ringed = ringed.ringed(one.ring)
        found = place(requests, ringed, [one.placement for one in shown])
        tried.append((shown, found))
        if not shown or len(found) == len(requests):
            break
        if len(tried) == 1:
            words_first = place(requests, ground)
            if len(words_first) <= len(found):  # nothing is lost by the circles
                break
            round_them = placed(details, ground, white_mm, words_first, spots)
            tried.append((round_them, words_first))
            if len(round_them) >= len(shown) and len(words_first) == len(requests):
                break
        left = [_without(detail, [one.middle for one in shown]) for detail in left]
    return min(tried, key=lambda t: (-len(t[0]), -len(t[1]), sum(one.cost for one in t[0])))


def _without(detail: Detail, middles: Sequence[Point]) -> Detail:
    """The same without places near some."""
    near = _ELSEWHERE_MM
    far = [p for p in detail.places if all(math.dist(p, middle) > near for middle in middles)]
    return replace(detail, places=tuple(far))


def _best(
    detail: Detail, size: tuple[float, float], ground: Ground, others: Obstacles, known: Spots
) -> Circled | None:
    radius, highest = size
    if size not in known:
        known[size] = _free(radius, highest, ground)
    centres = _off(known[size], radius, others)
    ring = radius / detail.times
    places = _clearest(detail.places, ring, ground, others) if detail.places else []
    if not len(centres) or not places:
        return None
    middles = np.array([place for place, _ in places])
    met = np.array([_ARROW_COST_MM * share for _, share in places])
    x0, y0, x1, y1 = ground.drawn.bounds
    middle_x, middle_y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    which = np.array([detail.places.index(place) for place, _ in places])
    high = np.maximum(0.0, centres[:, 1] + radius - y1)
    high += np.maximum(0.0, y0 - centres[:, 1] + radius)
    centre, place = (n.ravel() for n in np.indices((len(centres), len(middles))))
    run = centres[centre] - middles[place]
    far = np.hypot(run[:, 0], run[:, 1])
    long = far - ring - radius
    cost = _GROWTH_COST * high[centre] + long + met[place] + (RADII_MM[0] - radius) * _SMALL_COST
    order = np.argsort(np.round(cost, 3), kind="stable")
    order = order[long[order] > CLEAR_MM]
    best: tuple[float, ...] | None = None
    for first in range(0, len(order), _AT_ONCE):
        some = order[first : first + _AT_ONCE]
        if best is not None and round(float(cost[some[0]]) / _COARSE_MM) > best[0]:
            break  # what a leader runs over only makes it dearer
        way = run[some] / far[some, None]
        start = middles[place[some]] + way * ring
        end = centres[centre[some]] - way * radius
        leaders: Any = shapely.linestrings(np.stack((start, end), axis=1))
        fit = ~shapely.intersects(ground.round_arrows, leaders)
        for area in others.areas:
            fit &= ~shapely.dwithin(area, leaders, _LEADER_CLEAR_MM)
        for line in others.lines:
            fit &= ~shapely.dwithin(line, leaders, _LEADER_CLEAR_MM)
        some, leaders = some[fit], leaders[fit]
        if not len(some):
            continue
        along = start[fit, None, :] + (end - start)[fit, None, :] * _ALONG[None, :, None]
        over = (
            shapely.contains_xy(ground.drawn, along[..., 0], along[..., 1]).mean(axis=1)
            * long[some]
            * _OVER_COST
        )
        over += shapely.intersects(ground.shy, leaders) * _MARK_COST_MM
        dear = cost[some] + over
        spots = centres[centre[some]]
        # of quarters nearly alike the same is taken, whatever the sizes
        keys = np.column_stack(
            (
                np.round(dear / _COARSE_MM),
                spots[:, 0] < middle_x,
                spots[:, 1] < middle_y,
                np.round(dear / _FINE_MM),
                which[place[some]],
                np.round(spots, 3)[:, ::-1],
                some,
            )
        )
        key = min(map(tuple, keys.tolist()))
        best = key if best is None else min(best, key)
    if best is None:
        return None
    k = int(best[-1])
    x, y = centres[centre[k]].tolist()
    return Circled(places[place[k]][0], detail.times, radius, (x, y), best[3])


def _free(radius: float, highest: float, ground: Ground) -> Array:
    """Where the middle of a circle may be, off all that is drawn."""
    inner = radius * math.sqrt(2.0)
    centres = ground.taken.free_corners(inner, inner) + inner / 2.0
    x0, y0, x1, y1 = ground.frame
    _, top, _, _ = ground.drawn.bounds
    low = min(y1, top + highest)
    x, y = centres[:, 0], centres[:, 1]
    fits = (x - radius >= x0) & (x + radius <= x1) & (y - radius >= y0) & (y + radius <= low)
    centres = centres[fits]
    spots = shapely.points(centres)
    free = np.ones(len(centres), dtype=bool)
    for area in ground.keep_off:
        free &= ~shapely.dwithin(area, spots, radius)
    return centres[free]


def _off(centres: Array, radius: float, others: Obstacles) -> Array:
    """Those of some middles that keep off other circles and words."""
    areas = (*others.areas, *others.lines)
    if not areas:
        return centres
    spots = shapely.points(centres)
    free = np.ones(len(centres), dtype=bool)
    for area in areas:
        free &= ~shapely.dwithin(area, spots, radius + CLEAR_MM)
    return centres[free]


def _clearest(
    places: Sequence[Point], ring: float, ground: Ground, others: Obstacles
) -> list[tuple[Point, float]]:
    """The places whose ring meets arrows the least, and how much of it does; none in the way of
    words. A leader into it counts as much as a tenth of it."""
    rounds = shapely.buffer(shapely.points(np.array(places)), ring)
    rings = shapely.boundary(rounds)
    on_rings = np.array(places)[:, None, :] + _ROUND[None, :, :] * ring
    inked = shapely.contains_xy(ground.round_arrows, on_rings[..., 0], on_rings[..., 1])
    share = np.round(inked.mean(axis=1), 1)
    for line in others.lines:
        share += 0.1 * shapely.intersects(line, rings)
    free = np.ones(len(places), dtype=bool)
    for area in others.areas:
        free &= ~shapely.dwithin(area, rounds, _LEADER_CLEAR_MM)
    order = np.argsort(share, kind="stable")
    order = order[free[order]][:_MOST_PLACES]
    return [(places[k], float(share[k])) for k in order.tolist()]
