"""Letters to cut against the font file as another library reads it (fontTools).

Areas by fontTools' AreaPen, outlines by evaluating the font's own curves.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

import pytest
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from publisher.drawing.fonts import face_file
from publisher.geometry.measure import area, path_bounds
from publisher.geometry.path import Path, Point
from publisher.geometry.segments import nearest_on, point_at
from publisher.model.shaping.lettering import Lettering, NoFontError, NoLetterError, lettering

FACES = [("Fira Sans", 600), ("Spectral", 700)]
WITHIN_MM = 0.01


@cache
def font(family: str, weight: int) -> TTFont:
    return TTFont(face_file(family, weight))


@cache
def data(family: str, weight: int) -> bytes:
    return face_file(family, weight).read_bytes()


def set_in(family: str, weight: int, text: str, cap_mm: float = 20.0) -> Lettering:
    return lettering(data(family, weight), text, cap_mm, 0.0)


def cap_units(family: str, weight: int) -> float:
    tables = font(family, weight)
    glyph = tables["glyf"][tables.getBestCmap()[ord("H")]]
    return float(glyph.yMax)


def rings(made: Lettering) -> list[Path]:
    return [ring for region in made.regions for ring in (region.outer, *region.holes)]


@pytest.mark.parametrize(("family", "weight"), FACES)
@pytest.mark.parametrize("letter", list("HOBgSe&8Q"))
def test_a_letter_has_the_area_of_its_outline(family: str, weight: int, letter: str) -> None:
    tables = font(family, weight)
    glyphs = tables.getGlyphSet()
    pen = AreaPen(glyphs)
    glyphs[tables.getBestCmap()[ord(letter)]].draw(pen)
    scale = 20.0 / cap_units(family, weight)
    made = set_in(family, weight, letter)
    total = sum(area(r) for r in made.regions)
    length = sum(ring.length_mm for ring in rings(made))
    # The arcs lie within 0.01 mm of the curves, mostly on both sides of them.
    assert abs(total - abs(pen.value) * scale * scale) < 0.2 * WITHIN_MM * length


def quadratic_points(family: str, weight: int, letter: str, scale: float) -> list[Point]:
    """Points on the letter's own curves and lines, in mm, y down."""
    tables = font(family, weight)
    glyphs = tables.getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[tables.getBestCmap()[ord(letter)]].draw(pen)
    found: list[Point] = []
    at = start = (0.0, 0.0)
    for name, points in pen.value:
        if name == "moveTo":
            at = start = points[0]
        elif name == "lineTo":
            found += [mixed(at, points[0], t / 8) for t in range(9)]
            at = points[0]
        elif name == "qCurveTo":
            # Between two off-curve points lies one on the curve, halfway (TrueType).
            inner = list(points[:-1])
            ends = [mixed(a, b, 0.5) for a, b in pairwise(inner)] + [points[-1]]
            for control, end in zip(inner, ends, strict=True):
                for k in range(17):
                    t = k / 16
                    found.append(mixed(mixed(at, control, t), mixed(control, end, t), t))
                at = end
        elif name == "closePath":
            at = start
    return [(x * scale, -y * scale) for x, y in found]


def mixed(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)


@pytest.mark.parametrize(("family", "weight"), FACES)
@pytest.mark.parametrize("letter", list("OSg"))
def test_arcs_stay_within_a_hundredth_of_the_curves(family: str, weight: int, letter: str) -> None:
    made = set_in(family, weight, letter)
    points = quadratic_points(family, weight, letter, 20.0 / cap_units(family, weight))
    segments = [s for ring in rings(made) for s in ring.segments]
    assert len(points) > 50
    for point in points:
        away = min(math.dist(nearest_on(s, point), point) for s in segments)
        assert away <= WITHIN_MM + 1e-6


@pytest.mark.parametrize(("family", "weight"), FACES)
def test_and_the_curves_within_a_hundredth_of_the_arcs(family: str, weight: int) -> None:
    made = set_in(family, weight, "S")
    points = quadratic_points(family, weight, "S", 20.0 / cap_units(family, weight))
    for ring in rings(made):
        for segment in ring.segments:
            middle = point_at(segment, 0.5)
            # Sixteen points on every curve: the nearest lies along it, so look across.
            near = sorted(points, key=lambda p: math.dist(p, middle))[:2]
            assert off_line(middle, *near) <= 2.0 * WITHIN_MM


def off_line(p: Point, a: Point, b: Point) -> float:
    length = math.dist(a, b)
    if length < 1e-9:
        return math.dist(p, a)
    return abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length


@pytest.mark.parametrize(("family", "weight"), FACES)
def test_a_capital_is_as_high_as_it_is_said(family: str, weight: int) -> None:
    (letter,) = set_in(family, weight, "H", 13.0).regions
    _, top, _, bottom = path_bounds(letter.outer)
    assert (top, bottom) == pytest.approx((-13.0, 0.0), abs=1e-9)


def test_words_are_as_wide_as_they_are_said() -> None:
    made = lettering(data("Fira Sans", 600), "Garden", 1.0, 90.0)
    left = min(path_bounds(r.outer)[0] for r in made.regions)
    right = max(path_bounds(r.outer)[2] for r in made.regions)
    assert (right - left, made.width_mm) == pytest.approx((90.0, 90.0), abs=1e-6)
    assert left == pytest.approx(made.left_mm)


def test_letters_stand_as_far_apart_as_the_font_says() -> None:
    """The advance of a letter from hmtx; H and H have no kerning in this font."""
    tables = font("Fira Sans", 600)
    name = tables.getBestCmap()[ord("H")]
    advance, _ = tables["hmtx"][name]
    made = set_in("Fira Sans", 600, "HH")
    first, second = sorted(path_bounds(r.outer)[0] for r in made.regions)
    assert second - first == pytest.approx(advance * 20.0 / cap_units("Fira Sans", 600), abs=1e-6)


def test_pairs_are_kerned() -> None:
    """A and V are set closer than their advances: both faces have that pair in GPOS."""
    for family, weight in FACES:
        tables = font(family, weight)
        advance, _ = tables["hmtx"][tables.getBestCmap()[ord("A")]]
        _, bearing = tables["hmtx"][tables.getBestCmap()[ord("V")]]
        plain = (advance + bearing) * 20.0 / cap_units(family, weight)
        made = set_in(family, weight, "AV")
        right = max(path_bounds(r.outer)[0] for r in made.regions)
        assert right < plain - 0.3


def test_counters_are_holes() -> None:
    holes = {c: sum(len(r.holes) for r in set_in("Fira Sans", 600, c).regions) for c in "HAB8o"}
    assert holes == {"H": 0, "A": 1, "B": 2, "8": 2, "o": 1}
    assert len(set_in("Fira Sans", 600, "i").regions) == 2


def test_what_cannot_be_set() -> None:
    with pytest.raises(NoLetterError, match="\N{CJK UNIFIED IDEOGRAPH-798F}"):
        set_in("Fira Sans", 600, "a\N{CJK UNIFIED IDEOGRAPH-798F}")
    for wrong in (b"", b"no font at all", data("Fira Sans", 600)[:40]):
        with pytest.raises(NoFontError):
            lettering(wrong, "a", 10.0, 0.0)
    assert set_in("Fira Sans", 600, "  ").regions == ()
