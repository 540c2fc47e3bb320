"""Shapes on fewer sheets than their boxes need: found, checked, kept."""

from __future__ import annotations

import importlib
import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon

from publisher.geometry.booleans import region_intersection
from publisher.geometry.measure import area, path_bounds
from publisher.geometry.path import Path, Region, circle, polygon
from publisher.geometry.segments import reversed_path
from publisher.layout import MemoryCache, Sheet, lay_out, on_sheet
from publisher.layout.apart import faults
from publisher.layout.bound import alone, fewest, load
from publisher.layout.clusters import as_kind, clusters, spread_out
from publisher.layout.fit import Question, ask
from publisher.layout.free import Free, convex_parts, no_fit
from publisher.layout.kinds import Kind, Put, Room, flattened_outward, kind_of, turned
from publisher.layout.nested import Demand, in_place, sound
from publisher.model.types import Pattern
from publisher.pipeline import check_text, on_sheets
from publisher.trade import Stock
from publisher.workshop import beside_of
from tests.compiled import ROOT, workshop
from tests.handmade import CARD, PATTERNED, sliding_box_pattern
from tests.sheets import trade

lay_out_module = importlib.import_module("publisher.layout.laying")
QUARTERS = (0.0, 90.0, 180.0, 270.0)
BARE = replace(CARD, name="bare card", grain="none")


def rectangle(width: float, height: float) -> Region:
    return Region(polygon([(0, 0), (width, 0), (width, height), (0, height)]))


def corner(side: float, width: float) -> Region:
    """An L: two of them interlock, which their boxes do not tell."""
    points = [(0, 0), (side, 0), (side, width), (width, width), (width, side), (0, side)]
    return Region(polygon([(float(x), float(y)) for x, y in points]))


def ring(outer: float, inner: float) -> Region:
    hole = reversed_path(circle((outer, outer), inner))
    return Region(circle((outer, outer), outer), (hole,))


def frame(side: float, border: float) -> Region:
    far = side - border
    hole = [(border, border), (border, far), (far, far), (far, border)]
    return Region(rectangle(side, side).outer, (polygon(hole),))


def pattern_of(stock: Stock, *outlines: tuple[Region, int]) -> Pattern:
    model = sliding_box_pattern().pieces[2]
    pieces = tuple(
        replace(
            model,
            name=f"piece {n}",
            stock=stock,
            copies=copies,
            outline=outline,
            openings=(),
            derived=None,
        )
        for n, (outline, copies) in enumerate(outlines)
    )
    return replace(sliding_box_pattern(), pieces=pieces)


def assert_apart(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    """By the exact regions, arcs as arcs: no two share paper; every copy on its sheet once."""
    wanted = sorted((p.name, n + 1) for p in pattern.pieces for n in range(p.copies))
    assert sorted((q.piece, q.copy) for s in sheets for q in s.placed) == wanted
    for sheet in sheets:
        regions = []
        for placed in sheet.placed:
            piece = pattern.piece(placed.piece)
            region = on_sheet(piece.outline, piece, placed)
            x_min, y_min, x_max, y_max = path_bounds(region.outer)
            margin = sheet.size.margin_mm - 0.004
            assert min(x_min, y_min) >= margin
            assert x_max <= sheet.size.width_mm - margin
            assert y_max <= sheet.size.height_mm - margin
            regions.append(region)
        for a, b in combinations(regions, 2):
            assert sum(area(part) for part in region_intersection(a, b)) < 1e-6


# ---------------------------------------------------------------- whole layouts


def test_corners_interlock() -> None:
    # Boxes of 150: one to a sheet of 200 x 287 and two at most. Interlocked, more lie on one.
    pattern = pattern_of(BARE, (corner(150, 30), 4))
    boxes, _ = lay_out(pattern, trade(), "a4", nested=False)
    sheets, found = lay_out(pattern, trade(), "a4")
    assert found == []
    assert (len(boxes), len(sheets)) == (4, 1)
    assert_apart(pattern, sheets)


def test_holes_are_used() -> None:
    # A frame of 190 and two cards below it fill the sheet; four more go into its hole.
    pattern = pattern_of(BARE, (frame(190, 20), 1), (rectangle(70, 70), 4), (rectangle(95, 90), 2))
    boxes, _ = lay_out(pattern, trade(), "a4", nested=False)
    sheets, _ = lay_out(pattern, trade(), "a4")
    assert (len(boxes), len(sheets)) == (2, 1)
    assert_apart(pattern, sheets)
    hole = next(q for q in sheets[0].placed if q.piece == "piece 0")
    inside = [
        q
        for q in sheets[0].placed
        if 20 < q.x_mm - hole.x_mm < 170 and 20 < q.y_mm - hole.y_mm < 170
    ]
    assert len(inside) == 4


def test_grain_is_kept_where_that_saves_as_much() -> None:
    pattern = pattern_of(CARD, (corner(150, 30), 4))
    sheets, _ = lay_out(pattern, trade(), "a4")
    assert len(sheets) < 4
    assert {q.turn_deg for s in sheets for q in s.placed} <= {0.0, 180.0}
    assert_apart(pattern, sheets)


def test_a_patterned_stock_is_nested_upright() -> None:
    pattern = pattern_of(PATTERNED, (corner(150, 30), 4))
    sheets, _ = lay_out(pattern, trade(), "a4")
    assert len(sheets) < 4
    assert {q.turn_deg for s in sheets for q in s.placed} == {0.0}
    assert_apart(pattern, sheets)


def test_the_whole_pattern_several_times() -> None:
    pattern = pattern_of(BARE, (rectangle(90, 140), 2))
    sheets, _ = lay_out(pattern, trade(), "a4", copies=3)
    assert len(sheets) == 2
    assert sorted(q.copy for s in sheets for q in s.placed) == [1, 2, 3, 4, 5, 6]


def test_another_gap() -> None:
    pattern = pattern_of(BARE, (rectangle(99, 142), 4))
    assert len(lay_out(pattern, trade(), "a4")[0]) == 1
    assert len(lay_out(pattern, trade(), "a4", gap_mm=3.0)[0]) == 2


# ---------------------------------------------------------------- the cache


def test_what_was_found_is_kept_and_taken_from_there(monkeypatch: pytest.MonkeyPatch) -> None:
    pattern = pattern_of(BARE, (corner(150, 30), 4))
    cache = MemoryCache()
    first = lay_out(pattern, trade(), "a4", cache=cache)
    assert len(cache.kept) == 1

    def never(*_: object) -> None:
        raise AssertionError("searched again")

    monkeypatch.setattr(lay_out_module, "fewer_sheets", never)
    assert lay_out(pattern, trade(), "a4", cache=cache) == first
    with pytest.raises(AssertionError, match="searched again"):
        lay_out(pattern, trade(), "a4", gap_mm=2.5, cache=cache)


def test_a_spoilt_cache_is_not_believed() -> None:
    pattern = pattern_of(BARE, (rectangle(90, 140), 6))
    cache = MemoryCache()
    first = lay_out(pattern, trade(), "a4", cache=cache)
    (key,) = cache.kept
    right = cache.kept[key]
    for text in ("", "spoilt", right[:-1], right.replace("5.0", "6.0")):
        cache.kept[key] = text
        assert lay_out(pattern, trade(), "a4", cache=cache) == first
        assert cache.kept[key] == right


def test_the_key_is_of_everything_that_matters() -> None:
    cache = MemoryCache()
    small = replace(trade(), sheets={"a4": replace(trade().sheets["a4"], margin_mm=4.0)})
    for questions, (pattern, data) in enumerate(
        [
            (pattern_of(BARE, (rectangle(90, 140), 2)), trade()),
            (pattern_of(BARE, (rectangle(90, 140), 3)), trade()),
            (pattern_of(BARE, (rectangle(90, 140.001), 2)), trade()),
            (pattern_of(CARD, (rectangle(90, 140), 2)), trade()),
            (pattern_of(BARE, (rectangle(90, 140), 2)), small),
        ]
    ):
        for _ in range(2):
            lay_out(pattern, data, "a4", cache=cache)
            assert len(cache.kept) == questions + 1
    lay_out(pattern_of(BARE, (rectangle(90, 140), 2)), trade(), "a4", gap_mm=3.0, cache=cache)
    assert len(cache.kept) == 6


# ---------------------------------------------------------------- does it fit one sheet?


def test_the_worker_says_yes_and_no_and_lives() -> None:
    kinds = [kind_of(rectangle(98, 98), (0.0,)), kind_of(rectangle(300, 10), (0.0,))]
    four, five, long = ask(
        kinds,
        [
            Question((0, 0, 0, 0), 200.0, 200.0, 2.0),
            Question((0, 0, 0, 0, 0), 200.0, 200.0, 2.0, events=40),
            Question((0, 1), 200.0, 200.0, 2.0),
        ],
    )
    assert four.fits
    assert not five.fits
    # Longer than the sheet: the packer itself would panic.
    assert not long.fits
    shapes = [([(x + p.x_mm, y + p.y_mm) for x, y in kinds[0].outer], ()) for p in four.puts]
    assert faults([(tuple(ring), holes) for ring, holes in shapes], 200, 200, 2) == []


@pytest.mark.parametrize("upended", [False, True])
def test_the_same_answer_every_time_and_turns_are_right(upended: bool) -> None:
    kinds = [kind_of(corner(60, 20), QUARTERS), kind_of(rectangle(50, 15), QUARTERS)]
    question = Question((0,) * 6 + (1,) * 5, 150.0, 170.0, 2.0, upended=upended)
    first, second = ask(kinds, [question, question])
    assert first == second
    assert first.fits
    shapes = [
        (tuple((x + p.x_mm, y + p.y_mm) for x, y in turned(kinds[p.kind].outer, p.turn_deg)), ())
        for p in first.puts
    ]
    assert faults(shapes, 150, 170, 2) == []


# ---------------------------------------------------------------- apart, or not


def test_faults_are_seen() -> None:
    a = rectangle(10, 10).outer
    square = flattened_outward(a)

    def at(x: float, y: float) -> tuple[tuple[float, float], ...]:
        return tuple((px + x, py + y) for px, py in square)

    assert faults([(at(0, 0), ()), (at(12, 0), ())], 30, 30, 2) == []
    assert [f.kind for f in faults([(at(0, 0), ()), (at(11.9, 0), ())], 30, 30, 2)] == ["too near"]
    assert [f.kind for f in faults([(at(0, 0), ()), (at(9.99, 0), ())], 30, 30, 2)] == ["overlap"]
    assert [f.kind for f in faults([(at(21, 0), ())], 30, 30, 2)] == ["off the sheet"]
    # Touching is allowed where no gap is asked for; lying in another's hole always is.
    assert faults([(at(0, 0), ()), (at(10, 0), ())], 30, 30, 0) == []
    large = ((0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0))
    hole = ((4.0, 4.0), (4.0, 26.0), (26.0, 26.0), (26.0, 4.0))
    assert faults([(large, [hole]), (at(10, 10), ())], 30, 30, 2) == []
    assert [f.kind for f in faults([(large, ()), (at(10, 10), ())], 30, 30, 2)] == ["overlap"]


def test_a_layout_that_is_wrong_is_not_sound() -> None:
    demands = [Demand(rectangle(50, 50), (0.0, 90.0), 2)]
    room = Room(110, 60, 2)
    right = [[Put(0, 0.0, 0.0, 0.0), Put(0, 0.0, 52.0, 0.0)]]
    assert sound(demands, right, room)
    for wrong in (
        [[right[0][0]]],
        [[*right[0], Put(0, 0.0, 0.0, 0.0)]],
        [[right[0][0], Put(0, 0.0, 51.0, 0.0)]],
        [[right[0][0], Put(0, 45.0, 52.0, 0.0)]],
        [[right[0][0], Put(0, 0.0, 61.0, 0.0)]],
    ):
        assert not sound(demands, wrong, room)


@given(st.floats(2.0, 80.0), st.floats(0.01, 0.5))
def test_flattening_never_loses_paper(radius: float, tolerance: float) -> None:
    outer = circle((0.0, 0.0), radius)
    wide = Polygon(flattened_outward(outer, tolerance))
    hole = Polygon(flattened_outward(reversed_path(outer), tolerance))
    assert wide.area >= math.pi * radius**2 >= hole.area
    reach = max(math.hypot(x, y) for x, y in wide.exterior.coords)
    assert radius - 1e-9 <= reach <= radius + tolerance + 1e-9
    assert wide.exterior.distance(ShapelyPoint(0, 0)) >= radius - 1e-9
    assert hole.exterior.distance(ShapelyPoint(0, 0)) >= radius - tolerance - 1e-9


# ---------------------------------------------------------------- holes and free places


def test_a_hole_takes_what_fits_and_turns_with_it() -> None:
    kinds = [
        kind_of(ring(50, 40), QUARTERS),
        kind_of(rectangle(60, 20), QUARTERS),
        kind_of(rectangle(90, 3), QUARTERS),
    ]
    made = clusters(kinds, Free(kinds, 2.0))
    assert made[0].base == 0
    assert 1 in made[0].members
    assert 2 not in made[0].members
    for turn in as_kind(made[0], kinds).turns:
        members = spread_out(made[0], Put(0, turn, 7.0, 9.0))
        shapes = []
        for put in members:
            kind = kinds[put.kind]
            rings = [
                tuple((x + put.x_mm, y + put.y_mm) for x, y in turned(r, put.turn_deg))
                for r in (kind.outer, *kind.holes)
            ]
            shapes.append((rings[0], rings[1:]))
        low = min(x for shape, _ in shapes for p in shape for x in p)
        assert low > -100
        moved = [
            (
                tuple((x + 200, y + 200) for x, y in o),
                [[(x + 200, y + 200) for x, y in h] for h in hs],
            )
            for o, hs in shapes
        ]
        assert faults([(o, [tuple(h) for h in hs]) for o, hs in moved], 500, 500, 2.0) == []


def test_what_may_not_turn_goes_into_no_hole_that_has_to() -> None:
    kinds = [kind_of(ring(50, 40), (90.0,)), kind_of(rectangle(60, 20), (0.0,))]
    cluster = clusters(kinds, Free(kinds, 2.0))[0]
    put = next(p for p in spread_out(cluster, Put(0, 90.0, 0.0, 0.0)) if p.kind == 1)
    assert put.turn_deg == 0.0


@settings(max_examples=40, deadline=None)
@given(st.floats(-15, 60), st.floats(-15, 60))
def test_a_no_fit_polygon_tells_overlap(x: float, y: float) -> None:
    still = Polygon(flattened_outward(corner(40, 10).outer))
    moving = Polygon(flattened_outward(corner(12, 4).outer))
    sums = no_fit(still, convex_parts(moving))
    shifted = Polygon([(px + x, py + y) for px, py in moving.exterior.coords])
    overlap = still.intersection(shifted).area
    here = ShapelyPoint(x, y)
    if sums.boundary.distance(here) > 1e-3:
        assert sums.contains(here) == (overlap > 0.0)


# ---------------------------------------------------------------- bounds


def test_bounds() -> None:
    # Three of 110 x 150 on 200 x 287: no two side by side, two one above the other do not fit.
    wide = kind_of(rectangle(110, 150), (0.0, 180.0), 3)
    assert alone([wide], 200, 287, 2) == 3
    assert alone([kind_of(rectangle(110, 142), (0.0,), 3)], 200, 287, 2) == 1
    # Turned, two lie side by side: 110 + 110 in 287, 150 in 200.
    assert alone([kind_of(rectangle(110, 150), QUARTERS, 3)], 200, 287, 2) == 1
    # The boxes of two corners are in each other's way, and the corners are not.
    assert alone([kind_of(corner(150, 30), QUARTERS, 2)], 200, 287, 2) == 1
    # Four that fill the sheet to the gap, and one more.
    tile = kind_of(rectangle(99, 142.5), (0.0,), 4)
    assert load([tile], 200, 287, 2) == pytest.approx(1.0, abs=0.005)
    assert fewest([tile], 200, 287, 2) == 1
    assert fewest([replace(tile, copies=5)], 200, 287, 2) == 2


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.integers(20, 190), st.integers(20, 190)), min_size=1, max_size=8),
)
def test_no_layout_goes_below_the_bound(sides: list[tuple[int, int]]) -> None:
    pattern = pattern_of(BARE, *((rectangle(float(w), float(h)), 1) for w, h in sides))
    sheets, _ = lay_out(pattern, trade(), "a4", nested=False)
    kinds = [Kind(flattened_outward(p.outline.outer), (), QUARTERS) for p in pattern.pieces]
    assert fewest(kinds, 200, 287, 2) <= len(sheets)


def test_in_place_keeps_arcs() -> None:
    shape: Path = circle((5.0, 5.0), 5.0)
    moved = in_place(shape, Put(0, 90.0, 20.0, 0.0))
    assert path_bounds(moved) == pytest.approx((10, 0, 20, 10))


def test_what_goes_on_a_sheet_in_another_turn_alone_is_laid() -> None:
    """Cards of 210 x 148 go on Letter by a quarter turn only, against their grain."""
    shown = "content/leaf-card/pattern.md"
    text = (ROOT / shown).read_text(encoding="utf-8")
    text = text.replace("licence:", "sheet: letter\ncopies: 3\nlicence:", 1)
    beside = beside_of(workshop(), "leaf-card")
    checked = check_text(text.encode(), shown, "leaf-card", trade(), beside=beside)
    outcome = on_sheets(checked, trade())
    assert outcome.diagnostics == ()
    placed = [one.piece for sheet in outcome.sheets for one in sheet.placed]
    assert placed.count("card") == placed.count("liner") == 3
