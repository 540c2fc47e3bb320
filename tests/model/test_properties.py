"""What must hold for any sizes."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.geometry.flatten import flattened
from publisher.geometry.measure import area
from publisher.geometry.shapely_bridge import to_shapely
from publisher.model.folding import closed_size
from publisher.model.types import BandOf
from tests.model.making import made
from tests.model.sources import DRAWER, FRONT, MAT, SIZES, SLEEVE

length = st.floats(20.0, 200.0).map(lambda v: round(v, 2))


def sizes(stack: tuple[float, float], depth: float, play: float, border: float) -> str:
    return (
        "```sizes\n"
        f"stack = {stack[0]} x {stack[1]} x 5 mm\nroom = 4 mm\ndepth = {depth} mm\n"
        f"tab = 12 mm\nplay = {play} mm\nthumb = 12 mm\nborder = {border} mm\n```\n"
    )


@settings(max_examples=15)
@given(
    st.tuples(length, length),
    st.floats(8.0, 60.0).map(lambda v: round(v, 2)),
    st.floats(0.0, 3.0).map(lambda v: round(v, 2)),
    st.floats(0.5, 6.0).map(lambda v: round(v, 2)),
)
def test_box_of_any_size(
    stack: tuple[float, float], depth: float, play: float, border: float
) -> None:
    pattern = made(FRONT + "\n".join([sizes(stack, depth, play, border), DRAWER, SLEEVE, MAT]))
    width, height = stack[0] + 4, stack[1] + 4
    drawer, sleeve, mat = pattern.pieces
    # The net is its panels: base, four walls, four tabs drawn in by 2 at both ends.
    tabs = 4 * 12 * (depth - 2)
    assert area(drawer.outline) == pytest.approx(
        width * height + 2 * depth * (width + height) + tabs
    )
    assert closed_size(drawer) == pytest.approx((width + 0.8, height + 0.8, depth + 0.4))
    band = sleeve.derived
    assert isinstance(band, BandOf)
    # Inside girth: the girth of the closed drawer and the play on each of its four sides.
    assert band.loop_mm == pytest.approx(2 * (height + 0.8) + 2 * (depth + 0.4) + 4 * play)
    assert sum(t.mm for t in band.sum) == pytest.approx(sleeve.bounds[3])
    # The border is the same everywhere, measured from points of the mat to the panel's edge.
    shift = mat.derived.offset  # type: ignore[union-attr]
    edge = to_shapely(sleeve.facet("panel 1").region, 0.0005).exterior
    gaps = [
        edge.distance(shapely.Point(x + shift[0], y + shift[1]))
        for x, y in flattened(mat.outline.outer, 0.0005)
    ]
    assert max(gaps) == pytest.approx(border, abs=0.01)
    assert min(gaps) == pytest.approx(border, abs=0.01)


@settings(max_examples=40)
@given(
    st.lists(length, min_size=1, max_size=6),
    length,
    st.sampled_from(["across", "down"]),
    st.sampled_from(["mountain", "valley"]),
)
def test_facets_of_a_chain_cover_its_paper(
    parts: list[float], cross: float, direction: str, bend: str
) -> None:
    label = "high" if direction == "across" else "wide"
    listed = ", ".join(f"part {i} = {v} mm" for i, v in enumerate(parts, start=1))
    source = (
        f"{FRONT}```piece trial, in card\n"
        f"panels {direction}, {cross} mm {label}, {bend}: {listed}\n```\n"
    )
    trial = made(source).piece("trial")
    assert sum(area(f.region) for f in trial.facets) == pytest.approx(area(trial.outline))
    assert len(trial.hinges) == len(parts) - 1
    long = sum(parts)
    box = (long, cross) if direction == "across" else (cross, long)
    assert trial.bounds == pytest.approx((0.0, 0.0, *box))


@settings(max_examples=40)
@given(length, length, st.floats(1.0, 9.0), st.floats(0.0, 0.9))
def test_glue_strips_stay_on_their_panel(
    width: float, deep: float, strip: float, share: float
) -> None:
    taper = round(share * min(width / 2, deep), 2)
    strip = round(strip, 2)
    source = (
        f"{FRONT}```piece trial, in card\npanel base, {width} x 40 mm\n"
        f"panel flap, on top of base, {deep} mm deep, {taper} mm taper, mountain\n"
        f"glue along left and right of flap, {strip} mm wide, on back face\n```\n"
    )
    trial = made(source).piece("trial")
    paper = to_shapely(trial.facet("flap").region)
    for zone in trial.glue_zones:
        shape = to_shapely(zone.region)
        assert shape.difference(paper.buffer(1e-6)).area == pytest.approx(0.0, abs=1e-6)
        side = math.hypot(deep, taper)
        assert shape.area <= strip * side + 1e-6


def test_the_same_source_gives_the_same_values() -> None:
    source = FRONT + "\n".join([SIZES, DRAWER, SLEEVE, MAT])
    assert repr(made(source)) == repr(made(source))
