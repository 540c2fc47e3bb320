"""Scores cut as dashes: real segments with paper between them."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from publisher.cutfiles.dashes import DashRule, dash_rule, dashed
from publisher.geometry.measure import distance_to_path
from publisher.geometry.path import Arc, Line, Path, Point, circle, polygon
from publisher.geometry.segments import point_at, reversed_path
from tests.handmade import CARD
from tests.sheets import trade

RULE = DashRule(3.0, 1.0)


def line(a: Point, b: Point) -> Path:
    return Path((Line(a, b),), closed=False)


def points(path: Path) -> list[Point]:
    return [point_at(s, n / 16) for s in path.segments for n in range(17)]


def spans(found: tuple[Path, ...]) -> list[tuple[float, float]]:
    """Along a line that lies on the x axis."""
    return sorted((min(p.start[0], p.end[0]), max(p.start[0], p.end[0])) for p in found)


def test_worked_out_by_hand() -> None:
    """12 between two edges: 1 + 3 + 1 + 2 + ... does not go; two dashes of 4.5 leave 1 + 1 + 1,
    three of 8/3 leave 1 + 1 + 1 + 1. (10 + 1) / (3 + 1) is 2.75, so three."""
    edges = [line((0, -5), (0, 5)), line((12, -5), (12, 5))]
    found = spans(dashed(line((0, 0), (12, 0)), RULE, edges, ()))
    long = 8 / 3
    wanted = [(1, 1 + long), (2 + long, 2 + 2 * long), (3 + 2 * long, 11)]
    assert found == [pytest.approx(w, abs=1e-5) for w in wanted]


def test_a_crossing_score_gets_paper_on_both_sides() -> None:
    edges = [line((0, -9), (0, 9)), line((40, -9), (40, 9))]
    crossing = line((13, -9), (13, 9))
    found = spans(dashed(line((0, 0), (40, 0)), RULE, edges, [crossing]))
    assert not any(a < 13 < b for a, b in found)
    before = max(b for _, b in found if b < 13)
    after = min(a for a, _ in found if a > 13)
    assert (before, after) == pytest.approx((12.5, 13.5), abs=1e-5)


def test_at_a_flat_angle_the_paper_is_measured_across() -> None:
    """An edge at 20 degrees to the score: a gap of 1 across is 1 / sin 20 along."""
    slope = math.radians(20)
    edge = line((0, 0), (30 * math.cos(slope), 30 * math.sin(slope)))
    found = spans(dashed(line((0, 0), (60, 0)), RULE, [edge], ()))
    assert found[0][0] == pytest.approx(1 / math.sin(slope), abs=1e-4)


@pytest.mark.parametrize("length", [0.8, 2.0, 4.9, 5.0])
def test_a_short_line_has_one_dash_between_two_gaps(length: float) -> None:
    edges = [line((0, -5), (0, 5)), line((length, -5), (length, 5))]
    (only,) = spans(dashed(line((0, 0), (length, 0)), RULE, edges, ()))
    assert only == pytest.approx((length / 5, 4 * length / 5), abs=1e-5)


def test_beside_an_edge_the_gap_is_halved_before_the_line_stays_whole() -> None:
    score = line((0, 0), (50, 0))
    assert dashed(score, RULE, [line((-9, 0.7), (59, 0.7))], ())
    assert dashed(score, RULE, [line((-9, 0.2), (59, 0.2))], ()) == ()


def test_a_closed_line_has_as_many_gaps_as_dashes() -> None:
    found = dashed(circle((0, 0), 20), RULE, (), ())
    total = sum(p.length_mm for p in found)
    assert total + len(found) * 1.0 == pytest.approx(2 * math.pi * 20)
    assert all(isinstance(s, Arc) for p in found for s in p.segments)


@given(
    length=st.floats(6, 250),
    crossings=st.lists(st.floats(0.05, 0.95), max_size=3),
    bend=st.floats(-1.2, 1.2),
    dash=st.floats(1.5, 5),
    gap=st.floats(0.5, 2),
)
def test_whatever_the_line_every_dash_keeps_its_distance(
    length: float, crossings: list[float], bend: float, dash: float, gap: float
) -> None:
    """Straight and curved scores between two edges, with others across: dashes lie on the
    score, a gap from the edges, half a gap from the others, a gap from each other."""
    score = line((0, 0), (length, 0))
    if abs(bend) > 0.05:
        radius = length / 2 / math.sin(abs(bend))
        down = radius * math.cos(bend) * (1 if bend > 0 else -1)
        score = Path((Arc((0, 0), (length, 0), (length / 2, down), bend > 0),), closed=False)
    edges = [line((x, -60), (x, 60)) for x in (0.0, length)]
    others = [line((length * c, -90), (length * c, 90)) for c in crossings]
    found = dashed(score, DashRule(dash, gap), edges, others)
    reach = [gap * min(1.0, score.length_mm / (dash + 2 * gap))]
    reach += [reach[0] / 2, reach[0] / 4]
    for path in found:
        for point in points(path):
            assert distance_to_path(point, score) < 1e-6
            assert all(distance_to_path(point, e) > reach[2] - 1e-5 for e in edges)
            assert all(distance_to_path(point, o) > reach[2] / 2 - 1e-5 for o in others)
    ends = sorted((min(p.start, p.end), max(p.start, p.end)) for p in found)
    for (_, left), (right, _) in itertools.pairwise(ends):
        assert math.dist(left, right) > reach[2] * 0.9
    if not crossings and abs(bend) <= 0.05 and length > dash + 2 * gap:
        assert found


@given(st.floats(12, 200), st.floats(1.5, 5), st.floats(0.5, 2))
def test_the_same_from_either_end(length: float, dash: float, gap: float) -> None:
    edges = [line((x, -60), (x, 60)) for x in (0.0, length)]
    others = [
        line((length / 3, -9), (length / 3, 9)),
        line((2 * length / 3, -9), (2 * length / 3, 9)),
    ]
    score = line((0, 0), (length, 0))
    rule = DashRule(dash, gap)
    forth = spans(dashed(score, rule, edges, others))
    back = spans(dashed(reversed_path(score), rule, edges, others))
    mirrored = sorted((length - b, length - a) for a, b in forth)
    assert [v for span in forth for v in span] == pytest.approx(
        [v for s in back for v in s], abs=1e-4
    )
    assert [v for span in forth for v in span] == pytest.approx(
        [v for s in mirrored for v in s], abs=1e-4
    )


@pytest.mark.parametrize("kind", ["score", "perforation"])
def test_thick_stock_has_longer_dashes_and_gaps(kind: str) -> None:
    practice = trade().practice
    rules = [dash_rule(kind, replace(CARD, caliper_mm=c), practice) for c in (0.05, 0.4, 1.5)]
    assert rules[0].dash_mm == practice[f"{kind}_dash_least_mm"].value
    assert rules[0].gap_mm == practice[f"{kind}_gap_least_mm"].value
    assert rules[2].dash_mm == 1.5 * practice[f"{kind}_dash_calipers"].value
    for thin, thick in itertools.pairwise(rules):
        assert thin.dash_mm <= thick.dash_mm
        assert thin.gap_mm <= thick.gap_mm
        assert thin.gap_mm < thin.dash_mm


def test_windows_and_slits_are_edges_too() -> None:
    outline = polygon([(0.0, -20.0), (60.0, -20.0), (60.0, 20.0), (0.0, 20.0)])
    window = circle((30.0, 3.0), 3.0)  # touches the score from below
    found = dashed(line((0, 0), (60, 0)), RULE, [outline, window], ())
    assert min(distance_to_path(p, window) for d in found for p in points(d)) >= 1.0 - 1e-4
