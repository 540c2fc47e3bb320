"""Flat folding against known counts and laws.

Sources: the counts of strip foldings are OEIS A000136 (1, 2, 6, 16, 50, 144, 462, ... for 1, 2,
3, ... stamps), of map foldings A001415 (2 x n: 2, 8, 60, 320); the possible numbers of
mountain-valley assignments round a point A156209 (4, 6, 8 for four folds; 8, 12, 16, 18, 20, 24,
30 for six) with T. C. Hull's bounds 2^n <= C <= 2 * binomial(2n, n - 1) for 2n folds. The laws of
Kawasaki, of Maekawa and big-little-big, and the listed vertices: T. C. Hull, "Origametry", 2020,
chapter 5 (from memory), and the mathematics follows from the definition.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import pytest

from publisher.folding.flat import FlatFold, flat_fold
from publisher.folding.linkage import closing_gap, linkage, links_of
from publisher.folding.orders import count_orders, stacking
from publisher.geometry.path import Point
from publisher.model.types import Bend, Facet, Fold, Hinge, Panel, Piece, Region
from tests.assembly.build import HERE, piece_of, strip
from tests.handmade import CARD

# ---------------------------------------------------------------- stamps and maps


def folded(piece: Piece) -> FlatFold:
    found = flat_fold(piece, {f.name: 180.0 for f in piece.folds})
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("stamps", "ways"), [(1, 1), (2, 2), (3, 6), (4, 16), (5, 50), (6, 144), (7, 462)]
)
def test_a_strip_of_stamps_folds_in_so_many_ways(stamps: int, ways: int) -> None:
    assert count_orders(folded(strip("strip", [20.0] * stamps, 30.0))) == ways


def map_of(columns: int, rows: int) -> Piece:
    """A rectangle of equal squares with every line between them folded."""
    panels, folds = [], []
    for y, x in itertools.product(range(rows), range(columns)):
        a, b, c, d = 20.0 * x, 20.0 * y, 20.0 * (x + 1), 20.0 * (y + 1)
        ring: tuple[Point, ...] = ((a, b), (c, b), (c, d), (a, d))
        panels.append(Panel(f"{x} {y}", "panel", ring, (), HERE))
        # The parent lies on the right hand of start -> end.
        if x + 1 < columns:
            folds.append(_line(f"right of {x} {y}", (c, b), (c, d), f"{x} {y}", f"{x + 1} {y}"))
        if y + 1 < rows:
            folds.append(_line(f"below {x} {y}", (c, d), (a, d), f"{x} {y}", f"{x} {y + 1}"))
    whole = ((0.0, 0.0), (20.0 * columns, 0.0), (20.0 * columns, 20.0 * rows), (0.0, 20.0 * rows))
    from publisher.geometry.path import polygon

    return piece_of("map", Region(polygon(whole)), panels, folds)


def _line(name: str, start: Point, end: Point, parent: str, child: str) -> Fold:
    return Fold(name, start, end, "mountain", 180.0, parent, child, HERE)


@pytest.mark.parametrize(("columns", "ways"), [(1, 2), (2, 8), (3, 60), (4, 320)])
def test_a_map_of_two_rows_folds_in_so_many_ways(columns: int, ways: int) -> None:
    assert count_orders(folded(map_of(columns, 2))) == ways


# ---------------------------------------------------------------- round a point


def vertex(sectors_deg: Sequence[float], bends: Sequence[Bend]) -> Piece:
    """Triangles round one point; fold i comes before sector i."""
    rays = [0.0, *itertools.accumulate(sectors_deg[:-1])]
    tips = [(60.0 * math.cos(math.radians(r)), 60.0 * math.sin(math.radians(r))) for r in rays]
    centre: Point = (0.0, 0.0)
    count = len(tips)
    panels, folds, hinges = [], [], []
    for i in range(count):
        ring = (centre, tips[i], tips[(i + 1) % count])
        panels.append(Panel(f"sector {i}", "panel", ring, (), HERE))
    for i in range(count):
        ends = (f"sector {(i - 1) % count}", f"sector {i}")
        folds.append(Fold(f"fold {i}", tips[i], centre, bends[i], 180.0, *ends, HERE))
        hinges.append(Hinge(f"fold {i}", *ends, tips[i], centre))
    from publisher.geometry.path import polygon

    return Piece(
        name="vertex",
        stock=CARD,
        copies=1,
        outline=Region(polygon(tips)),
        panels=tuple(panels),
        folds=tuple(folds),
        scores=(),
        openings=(),
        glue_zones=(),
        facets=tuple(Facet(p.name, p.name, Region(polygon(p.ring))) for p in panels),
        hinges=tuple(hinges),
        span=HERE,
    )


def lies_flat(piece: Piece) -> bool:
    """Whether the paper comes together when all folds are folded flat."""
    made = linkage(links_of(piece), ("", piece.facets[0].name))
    return closing_gap(made.loops, {("", f.name): 180.0 for f in piece.folds}) < 1e-9


KAWASAKI = [
    ((45, 90, 135, 90), True),
    ((50, 70, 130, 110), True),
    ((60, 60, 120, 120), True),
    ((100, 70, 50, 40, 30, 70), True),
    ((40, 90, 130, 100), False),
    ((120, 120, 120), False),
    ((72, 72, 72, 72, 72), False),
]


@pytest.mark.parametrize(("sectors", "flat"), KAWASAKI)
def test_kawasaki(sectors: tuple[float, ...], flat: bool) -> None:
    """Flat if and only if every other sector sums to half a turn."""
    assert (len(sectors) % 2 == 0 and abs(sum(sectors[::2]) - 180) < 1e-9) == flat
    assert lies_flat(vertex(sectors, ["mountain"] * len(sectors))) == flat


def possible(sectors: Sequence[float]) -> list[tuple[Bend, ...]]:
    """All mountain-valley assignments for which the layers have an order."""
    both: tuple[Bend, Bend] = ("mountain", "valley")
    found = []
    for bends in itertools.product(both, repeat=len(sectors)):
        verdict = stacking(folded(vertex(sectors, bends))).verdict
        assert verdict != "undecided"
        if verdict == "found":
            found.append(bends)
    return found


COUNTS = [
    ((90, 90, 90, 90), 8),
    ((60, 60, 120, 120), 6),
    ((45, 90, 135, 90), 4),
    ((50, 70, 130, 110), 4),
    ((30, 60, 150, 120), 4),
    ((60, 60, 60, 60, 60, 60), 30),
]


@pytest.mark.parametrize(("sectors", "ways"), COUNTS)
def test_so_many_assignments_fold_flat(sectors: tuple[float, ...], ways: int) -> None:
    found = possible(sectors)
    assert len(found) == ways
    half = len(sectors) // 2
    assert 2**half <= ways <= 2 * math.comb(2 * half, half - 1)
    for bends in found:
        # Maekawa: mountains and valleys differ by two.
        assert abs(bends.count("mountain") - bends.count("valley")) == 2


@pytest.mark.parametrize("sectors", [(45, 90, 135, 90), (50, 70, 130, 110)])
def test_big_little_big(sectors: tuple[float, ...]) -> None:
    """The folds on both sides of a sector smaller than its neighbours go different ways."""
    for bends in possible(sectors):
        assert bends[0] != bends[1]


def test_an_order_that_cannot_be_names_the_papers() -> None:
    found = stacking(folded(vertex((45, 90, 135, 90), ["valley", "valley", "valley", "mountain"])))
    assert found.verdict == "refuted"
    assert set(found.between) <= {f"sector {i}" for i in range(4)}
    assert len(found.between) >= 2


# ---------------------------------------------------------------- strips


def test_a_letter_is_folded_in_three_one_way_or_the_other() -> None:
    """Both folds mountain: the two flaps lie on each other and either may be outside."""
    made = strip("letter", [60.0, 62.0, 61.0], 40.0, "mm")
    assert count_orders(folded(made), bends=True) == 2
    # Zig-zag there is one way only.
    assert count_orders(folded(strip("letter", [60.0] * 3, 40.0, "mv")), bends=True) == 1


@pytest.mark.parametrize(
    ("last", "goes"), [(38.0, True), (40.0, True), (41.0, False), (70.0, False)]
)
def test_a_flap_that_is_rolled_in_must_end_before_the_next_fold(last: float, goes: bool) -> None:
    """Panels 60, 60, 40 and a last one, all mountain: the last lies between the second and the
    third, which hold together 40 from its fold."""
    found = stacking(folded(strip("roll", [60.0, 60.0, 40.0, last], 40.0, "mmm")))
    assert found.verdict == ("found" if goes else "refuted")
    if not goes:
        assert {"b", "c", "d"} >= set(found.between) - {"a"}
