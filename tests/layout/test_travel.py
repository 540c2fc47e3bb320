"""The order of cutting: everything once, what must come first first, the way short."""

from __future__ import annotations

import math
from itertools import permutations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.geometry.path import Line, Path, Point, circle, polygon
from publisher.geometry.segments import reversed_path
from publisher.layout import CopyPaths, Cut, cut_order, travel_mm
from publisher.layout.tour import tour
from publisher.layout.walk import Stop


def box(x: float, y: float, w: float, h: float) -> Path:
    return polygon([(x, y), (x + w, y), (x + w, y + h), (x, y + h)])


def line(a: Point, b: Point) -> Path:
    return Path((Line(a, b),), closed=False)


def frame(x: float, y: float, w: float, h: float) -> CopyPaths:
    hole = reversed_path(box(x + 5, y + 5, w - 10, h - 10))
    return CopyPaths(box(x, y, w, h), (hole,), (line((x, y + 2), (x + w, y + 2)),))


def length(stops: list[Stop], order: list[tuple[int, int]]) -> float:
    here, total = (0.0, 0.0), 0.0
    for stop, way in order:
        enter, leave = stops[stop].ways[way]
        total += math.dist(here, enter)
        here = leave
    return total


def shortest(stops: list[Stop]) -> float:
    """By trying every order and every way."""
    best = math.inf
    for order in permutations(range(len(stops))):
        at = {stop: place for place, stop in enumerate(order)}
        if any(at[p] > at[s] for s in order for p in stops[s].after):
            continue
        for ways in product(*(range(len(stops[s].ways)) for s in order)):
            best = min(best, length(stops, list(zip(order, ways, strict=True))))
    return best


def where(cuts: tuple[Cut, ...]) -> dict[tuple[int, str, int], int]:
    return {(c.copy, c.work, c.number): place for place, c in enumerate(cuts)}


def test_scores_then_inner_cuts_then_their_outline() -> None:
    copies = [frame(x * 60.0, y * 50.0, 50, 40) for x in range(4) for y in range(3)]
    cuts = cut_order(copies)
    at = where(cuts)
    assert len(at) == len(cuts) == 3 * len(copies)
    assert [c.work for c in cuts[: len(copies)]] == ["score"] * len(copies)
    for n in range(len(copies)):
        assert at[n, "inner", 0] < at[n, "outline", 0]


def test_what_lies_in_a_hole_is_cut_before_the_hole() -> None:
    large, small = frame(0, 0, 100, 100), frame(30, 30, 40, 40)
    for copies, inner in (([large, small], 1), ([small, large], 0)):
        at = where(cut_order(copies))
        assert at[inner, "outline", 0] < at[1 - inner, "inner", 0] < at[1 - inner, "outline", 0]


def test_a_small_piece_is_cut_before_a_large_one_beside_it() -> None:
    # The large one lies where the tool begins, so that travel alone would take it first.
    copies = [CopyPaths(box(0, 0, 100, 100)), CopyPaths(box(102, 0, 20, 20))]
    assert [c.copy for c in cut_order(copies)] == [1, 0]
    # Far apart it need not wait.
    copies[1] = CopyPaths(box(302, 0, 20, 20))
    assert [c.copy for c in cut_order(copies)] == [0, 1]


def test_closed_paths_begin_at_a_corner_and_keep_their_sense() -> None:
    outline = box(20, 20, 30, 30)
    (cut,) = cut_order([CopyPaths(outline)])
    assert cut.path.start == (20, 20)
    (cut,) = cut_order([CopyPaths(outline)], start=(100.0, 100.0))
    assert cut.path.start == (50, 50)
    assert set(cut.path.segments) == set(outline.segments)
    # A hole in the middle of a straight run does not make a corner of it.
    run = polygon([(0, 0), (10, 0), (20, 0), (20, 20), (0, 20)])
    (cut,) = cut_order([CopyPaths(run)], start=(10.0, -5.0))
    assert cut.path.start in {(0, 0), (20, 0)}


def test_a_circle_begins_between_two_arcs() -> None:
    (cut,) = cut_order([CopyPaths(circle((50, 50), 10))], start=(90.0, 50.0))
    assert cut.path.start == (60, 50)


def test_open_paths_may_be_turned_round() -> None:
    copy = CopyPaths(box(0, 0, 90, 90), (), (line((80, 10), (10, 10)), line((80, 20), (10, 20))))
    first, second, _ = cut_order([copy])
    assert (first.path.start, first.path.end) == ((10, 10), (80, 10))
    assert (second.path.start, second.path.end) == ((80, 20), (10, 20))
    assert travel_mm((first, second)) == pytest.approx(math.hypot(10, 10) + 10)


POINTS = st.tuples(st.integers(0, 40), st.integers(0, 40)).map(lambda p: (float(p[0]), float(p[1])))
OPEN = st.tuples(POINTS, POINTS).map(lambda p: ((p[0], p[1]), (p[1], p[0])))
CLOSED = st.lists(POINTS, min_size=1, max_size=3).map(lambda ps: tuple((p, p) for p in ps))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.one_of(OPEN, CLOSED), min_size=1, max_size=5), st.data())
def test_few_stops_are_visited_the_shortest_way(
    ways: list[tuple[tuple[Point, Point], ...]], data: st.DataObject
) -> None:
    stops = []
    for number, way in enumerate(ways):
        after = data.draw(st.sets(st.integers(0, number - 1), max_size=1)) if number else set()
        stops.append(Stop(way, tuple(after)))
    order = tour(stops, (0.0, 0.0), 60)
    at = {stop: place for place, (stop, _) in enumerate(order)}
    assert sorted(at) == list(range(len(stops)))
    assert all(at[p] < at[n] for n, stop in enumerate(stops) for p in stop.after)
    best = shortest(stops)
    assert length(stops, order) == pytest.approx(best, abs=1e-9)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.one_of(OPEN, CLOSED), min_size=8, max_size=30), st.data())
def test_many_stops_each_once_and_none_before_what_it_waits_for(
    ways: list[tuple[tuple[Point, Point], ...]], data: st.DataObject
) -> None:
    stops = [
        Stop(way, tuple(data.draw(st.sets(st.integers(0, n - 1), max_size=2))) if n else ())
        for n, way in enumerate(ways)
    ]
    order = tour(stops, (0.0, 0.0), 60)
    at = {stop: place for place, (stop, _) in enumerate(order)}
    assert sorted(at) == list(range(len(stops)))
    assert all(at[p] < at[n] for n, stop in enumerate(stops) for p in stop.after)


def test_points_on_a_grid_come_near_the_best_there_is() -> None:
    # 8 x 8 points 10 apart, from a corner: no way is shorter than 63 steps.
    stops = [Stop((((x * 10.0, y * 10.0),) * 2,)) for x in range(8) for y in range(8)]
    assert length(stops, tour(stops, (0.0, 0.0), 400)) <= 1.03 * 630


def test_the_same_every_time() -> None:
    copies = [frame(x * 61.0, y * 47.0, 50 - x, 40) for x in range(5) for y in range(4)]
    assert cut_order(copies) == cut_order(copies)


def test_stops_that_wait_for_each_other_are_refused() -> None:
    ways = (((0.0, 0.0), (0.0, 0.0)),)
    free = [Stop(ways)] * 8
    for others in ([], free):
        with pytest.raises(ValueError, match="wait for each other"):
            tour([Stop(ways, (1,)), Stop(ways, (0,)), *others], (0.0, 0.0), 1)


def test_nothing_to_cut() -> None:
    assert cut_order([]) == ()
