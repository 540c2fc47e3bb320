"""Flat drawings: what they say is true, stands once, and lies on nothing."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from publisher.drawing.flat.lengths import Across
from publisher.drawing.flat.measures import measures_of
from publisher.drawing.piece_drawing import ROOM_MM, draw_piece
from publisher.drawing.types import Drawing, Fill, Label, Stroke
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Arc
from publisher.model.types import Pattern, Piece
from publisher.pipeline import check_pattern
from publisher.units import both, figures_in, kind_for, one
from tests.compiled import workshop
from tests.drawing.clean import faults, shortened, strokes
from tests.drawing.makeshift import Maker, Side, pattern_of
from tests.handmade import envelope_pattern, sliding_box_pattern

WALLET = (
    Maker()
    .first("cover", 140.0, 60.0)
    .grow("spine", "bottom", "cover", 3.0)
    .grow("back", "bottom", "spine", 95.0)
    .grow("pocket", "bottom", "back", 65.0)
    .strip("left", "pocket", 5.0, "back")
    .strip("right", "pocket", 5.0, "back")
    .notch("bottom", "pocket", 24.0)
    .piece("wallet body")
)


def _lantern() -> Piece:
    maker = Maker().first("side 1", 60.0, 110.0)
    for n in (2, 3, 4):
        maker.grow(f"side {n}", "right", f"side {n - 1}", 60.0)
    maker.grow("seam", "right", "side 4", 12.0, "tab", 3.0)
    for n in (1, 2, 3, 4):
        maker.grow(f"foot {n}", "bottom", f"side {n}", 12.0, "tab", 12.0)
        maker.grow(f"rim {n}", "top", f"side {n}", 12.0, "tab", 12.0)
        maker.window(f"side {n}", 36.0, 80.0)
    return maker.piece("lantern")


CASES: list[tuple[Pattern, Piece]] = [
    *[
        (p, piece)
        for d in (12.0, 22.0, 30.0, 40.0)
        for p in [sliding_box_pattern(d)]
        for piece in p.pieces
    ],
    *[(envelope_pattern(), piece) for piece in envelope_pattern().pieces],
    *[(pattern_of([piece]), piece) for piece in (WALLET, _lantern())],
    (pattern_of([WALLET], "in"), WALLET),
]
IDS = [f"{n}-{piece.name}" for n, (_, piece) in enumerate(CASES)]


def texts(drawing: Drawing, *roles: str) -> list[str]:
    return [i.text for i in drawing.items if isinstance(i, Label) and i.role in roles]


def figures(drawing: Drawing, unit: str) -> list[str]:
    """The figures in one unit, as written, words taken off."""
    found = []
    for text in texts(drawing, "dimension"):
        found += [f.written for f in figures_in(text) if f.unit == unit]
    return found


@pytest.mark.parametrize(("pattern", "piece"), CASES, ids=IDS)
def test_nothing_overlaps_or_crosses(pattern: Pattern, piece: Piece) -> None:
    drawing = draw_piece(pattern, piece)
    assert faults(drawing) == []
    assert drawing.width_mm <= ROOM_MM[0]
    assert drawing.height_mm <= ROOM_MM[1]


@pytest.mark.parametrize(("pattern", "piece"), CASES, ids=IDS)
def test_every_measure_stands_once_in_both_units(pattern: Pattern, piece: Piece) -> None:
    drawing = draw_piece(pattern, piece)
    lengths: list[float] = []
    for measure in measures_of(pattern, piece):
        if isinstance(measure, Across):
            lengths.append(measure.mm)
        else:
            lengths += [mm for mm, _ in measure.lengths]
    for unit in ("mm", "in"):
        expected = sorted(one(mm, kind=kind_for(mm), unit=unit) for mm in lengths)
        assert sorted(figures(drawing, unit)) == expected
    assert len(texts(drawing, "label")) == 1, "no measure was left without a place"


@pytest.mark.parametrize(("pattern", "piece"), CASES, ids=IDS)
def test_every_panel_is_told(pattern: Pattern, piece: Piece) -> None:
    """Each panel's width and height is on a dimension line of that length and direction."""
    drawing = draw_piece(pattern, piece)
    spans: dict[str, set[float]] = {"x": set(), "y": set()}
    for item in drawing.items:
        if isinstance(item, Stroke) and item.role == "dimension":
            points = [p for path in item.paths[:-2] for p in (path.start, path.end)]
            ticks = [path.start for path in item.paths[-2:]]
            upright = abs(ticks[0][0] - ticks[1][0]) < 1e-6
            axis, k = ("y", 1) if upright else ("x", 0)
            length = abs(ticks[0][k] - ticks[1][k]) / drawing.scale
            spans[axis].add(round(length, 3))
            assert points
    for panel in piece.panels:
        if panel.kind == "panel":
            for axis, mm in (("x", panel.width_mm), ("y", panel.height_mm)):
                near = [s for s in spans[axis] if abs(s - mm) < 0.26]
                assert near, f"{panel.name} {axis} {mm}"


@pytest.mark.parametrize(("pattern", "piece"), CASES, ids=IDS)
def test_a_figure_says_what_its_line_measures(pattern: Pattern, piece: Piece) -> None:
    drawing = draw_piece(pattern, piece)
    by_id = {i.id: i for i in drawing.items}
    seen = 0
    for stem in {i.id.removesuffix("-line") for i in drawing.items if i.id.endswith("-line")}:
        line = by_id[f"{stem}-line"]
        assert isinstance(line, Stroke)
        a, b = (path.start for path in line.paths[-2:])
        length = max(abs(a[0] - b[0]), abs(a[1] - b[1])) / drawing.scale
        words = [i.text for i in drawing.items if i.id in (stem, f"{stem}-1", f"{stem}-2")]
        said = [f.mm for text in words if isinstance(text, str) for f in figures_in(text)]
        assert len(said) == 2
        for mm in said:
            assert mm == pytest.approx(length, abs=0.8), stem
        seen += 1
    assert seen >= 2


@pytest.mark.parametrize(("pattern", "piece"), CASES, ids=IDS)
def test_the_paper_has_its_size_at_the_stated_scale(pattern: Pattern, piece: Piece) -> None:
    drawing = draw_piece(pattern, piece)
    (paper,) = (i for i in drawing.items if isinstance(i, Fill) and i.id == "paper")
    box = path_bounds(paper.rings[0])
    own = piece.bounds
    assert box[2] - box[0] == pytest.approx((own[2] - own[0]) * drawing.scale)
    assert box[3] - box[1] == pytest.approx((own[3] - own[1]) * drawing.scale)
    (note,) = texts(drawing, "label")
    found = re.match(r"front face, 1:([\d.]+)", note)
    assert found
    assert 1.0 / float(found[1]) == pytest.approx(drawing.scale)
    assert f"1:{found[1]}" in drawing.alt


def test_arcs_are_kept() -> None:
    pattern = sliding_box_pattern()
    for name, count in (("sleeve", 4), ("sleeve mat", 2)):
        drawing = draw_piece(pattern, pattern.piece(name))
        (outline,) = (i for i in drawing.items if i.id == "outline")
        assert isinstance(outline, Stroke)
        arcs = [s for p in outline.paths for s in p.segments if isinstance(s, Arc)]
        assert len(arcs) == count


def test_every_panel_is_named_where_it_lies() -> None:
    pattern = sliding_box_pattern()
    drawing = draw_piece(pattern, pattern.piece("drawer"))
    assert sorted(texts(drawing, "name")) == sorted(p.name for p in pattern.piece("drawer").panels)
    (paper,) = (i for i in drawing.items if i.id == "paper")
    assert isinstance(paper, Fill)
    x0, y0, _, _ = path_bounds(paper.rings[0])
    for item in drawing.items:
        if isinstance(item, Label) and item.role == "name":
            left, top, right, bottom = pattern.piece("drawer").panel(item.text).bounds
            assert x0 + left * drawing.scale < item.at[0] < x0 + right * drawing.scale
            assert y0 + top * drawing.scale < item.at[1] < y0 + bottom * drawing.scale


def test_folds_are_drawn_by_their_direction() -> None:
    piece = (
        Maker()
        .first("upper", 148.0, 105.0)
        .grow("lower", "bottom", "upper", 105.0, bend="valley")
        .piece()
    )
    drawing = draw_piece(pattern_of([piece]), piece)
    assert len(strokes(drawing, "valley")) == 1
    assert not strokes(drawing, "mountain")
    assert "valley" in drawing.signs
    assert "Valley fold" in drawing.alt


def test_glue_on_the_far_face_is_drawn_as_seen_through() -> None:
    pattern = envelope_pattern()
    far = draw_piece(pattern, pattern.piece("envelope"))
    assert {i.role for i in far.items if isinstance(i, Fill)} >= {"glue-through"}
    assert "glue-through" in far.signs
    assert "Glue on the back face: strip 1 on bottom flap, which meets left side" in far.alt
    near = draw_piece(sliding_box_pattern(), sliding_box_pattern().piece("drawer"))
    assert "glue" in near.signs
    assert "glue-through" not in near.signs


def test_glue_borders_keep_off_outlines_and_scores() -> None:
    pattern = sliding_box_pattern()
    drawing = draw_piece(pattern, pattern.piece("sleeve"))
    borders = [line for _, line in strokes(drawing, "glue-border")]
    others = [line for _, line in strokes(drawing, "outline", "mountain")]
    assert borders
    assert min(a.distance(b) for a in borders for b in others) == pytest.approx(0.55, abs=0.02)


def test_a_mat_shows_the_panel_beneath_it() -> None:
    pattern = sliding_box_pattern()
    drawing = draw_piece(pattern, pattern.piece("sleeve mat"))
    ((_, ghost),) = strokes(drawing, "ghost")
    outlines = [line for _, line in strokes(drawing, "outline")]
    assert min(ghost.distance(o) for o in outlines) == pytest.approx(4.0 * drawing.scale, abs=0.02)
    assert max(ghost.hausdorff_distance(o) for o in outlines) < 6.0
    assert "panel 1 of sleeve" in texts(drawing, "label")[0]


def test_a_mat_on_a_whole_piece_names_it_once() -> None:
    pattern = check_pattern(workshop(), "plan-wallet").pattern
    assert pattern is not None
    drawing = draw_piece(pattern, pattern.piece("label mat"))
    assert texts(drawing, "label")[0].endswith("; broken line: label")
    assert "It goes behind label, standing out 3 mm" in drawing.alt


def test_the_alternative_text_tells_the_model() -> None:
    pattern = sliding_box_pattern()
    alt = draw_piece(pattern, pattern.piece("sleeve")).alt
    for said in (
        "Sleeve, flat, seen on its front face at 1:2.5.",
        "Cut from card",
        both(85.8).split(" ")[0],
        "Mountain folds, by 90°",
        "4 half round notches, 24 mm (15/16 in) wide and 12 mm (1/2 in) deep",
        "Glue on the front face: overlap, which meets panel 1",
    ):
        assert said in alt
    mat = draw_piece(pattern, pattern.piece("sleeve mat")).alt
    assert "It goes on panel 1 of sleeve, leaving 4 mm (3/16 in)" in mat


def test_a_drawing_depends_on_its_own_piece_only() -> None:
    """A change elsewhere in the pattern leaves the drawing as it was."""
    before, after = sliding_box_pattern(22.0), sliding_box_pattern(30.0)
    name = "sleeve mat"
    assert draw_piece(before, before.piece(name)) == draw_piece(after, after.piece(name))
    assert draw_piece(before, before.piece("drawer")) != draw_piece(after, after.piece("drawer"))


def test_the_first_unit_comes_first() -> None:
    drawing = draw_piece(pattern_of([WALLET], "in"), WALLET)
    whole = [t for t in texts(drawing, "dimension") if "(" in t]
    assert whole
    assert all(t.index(" in") < t.index(" mm") for t in whole)


def test_a_very_large_piece_is_drawn_too() -> None:
    piece = Maker().first("banner", 2400.0, 200.0).piece()
    drawing = draw_piece(pattern_of([piece]), piece)
    assert drawing.scale == 0.1
    assert faults(drawing) == []


def test_a_tiny_piece_is_drawn_at_full_size() -> None:
    piece = replace(Maker().first("dot", 6.0, 4.0).piece(), panels=())
    drawing = draw_piece(pattern_of([piece]), piece)
    assert drawing.scale == 1.0
    assert faults(drawing) == []
    assert sorted(figures(drawing, "mm")) == ["4 mm", "6 mm"]


# ---------------------------------------------------------------- any piece at all

HALVES = st.integers(2, 340).map(lambda n: n / 2.0)
SIDES: tuple[Side, ...] = ("top", "right", "bottom", "left")


@st.composite
def trays(draw: st.DrawFn) -> Piece:
    width, height = (draw(st.integers(40, 340)) / 2.0 for _ in range(2))
    maker = Maker().first("base", width, height)
    for side in SIDES:
        if draw(st.booleans()):
            maker.grow(f"{side} wall", side, "base", draw(st.integers(26, 100)) / 2.0)
    walls = {p.name for p in maker.panels}
    for side in ("top", "bottom"):
        if f"{side} wall" in walls and draw(st.booleans()):
            depth = draw(st.integers(10, 24)) / 2.0
            maker.grow(f"{side} left tab", "left", f"{side} wall", depth, "tab", 2.0)
            maker.grow(f"{side} right tab", "right", f"{side} wall", depth, "tab", 2.0)
    return maker.piece()


@st.composite
def strips(draw: st.DrawFn) -> Piece:
    side: Side = draw(st.sampled_from(("right", "bottom")))
    maker = Maker().first("panel 1", draw(HALVES) + 20.0, draw(HALVES) + 20.0)
    for n in range(2, draw(st.integers(2, 6))):
        depth = draw(st.one_of(st.integers(6, 24), st.integers(40, 180))) / 2.0
        maker.grow(f"panel {n}", side, f"panel {n - 1}", depth)
    last = maker.panels[-1].name
    if draw(st.booleans()):
        maker.grow("overlap", side, last, draw(st.integers(12, 30)) / 2.0, "tab", 1.0)
    wide = [p for p in maker.panels if p.width_mm >= 50 and p.height_mm >= 50]
    if wide and draw(st.booleans()):
        panel = draw(st.sampled_from(wide))
        if draw(st.booleans()):
            maker.window(panel.name, panel.width_mm - 30.0, panel.height_mm / 2.0)
        else:
            maker.hole(panel.name, 8.0, (15.0, 20.0))
    return maker.piece()


@settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(st.one_of(trays(), strips()), st.sampled_from(("mm", "in")))
def test_any_piece_is_drawn_without_a_fault(piece: Piece, first_unit: str) -> None:
    pattern = pattern_of([piece], "mm" if first_unit == "mm" else "in")
    drawing = draw_piece(pattern, piece)
    assert faults(drawing) == []
    said = sorted(figures(drawing, "mm"))
    lengths = [
        mm
        for m in measures_of(pattern, piece)
        for mm in ([m.mm] if isinstance(m, Across) else [mm for mm, _ in m.lengths])
    ]
    notes = " ".join(texts(drawing, "label")[1:])
    said += [f.written for f in figures_in(notes) if f.unit == "mm"]
    assert sorted(said) == sorted(one(mm, kind=kind_for(mm), unit="mm") for mm in lengths)


def test_the_search_for_faults_finds_them() -> None:
    """The test of the tests: a drawing that is disturbed is found out."""
    pattern = sliding_box_pattern()
    drawing = draw_piece(pattern, pattern.piece("drawer"))
    label = next(i for i in drawing.items if isinstance(i, Label) and i.text == "base")
    moved = replace(label, at=(label.at[0], label.at[1] + 21.0))
    assert faults(replace(drawing, items=(*drawing.items, moved)))
    upside_down = replace(label, turn_deg=180.0)
    items = tuple(upside_down if i is label else i for i in drawing.items)
    assert any("head" in f for f in faults(replace(drawing, items=items)))
    line = next(i for i in drawing.items if isinstance(i, Stroke) and i.role == "dimension")
    cross = replace(
        line,
        role="extension",
        paths=(
            replace(
                line.paths[0],
                segments=(
                    replace(
                        line.paths[0].segments[0],
                        start=(drawing.width_mm / 2, 7.0),
                        end=(drawing.width_mm / 2 + 4.0, drawing.height_mm - 8.0),
                    ),
                ),
            ),
        ),
    )
    assert any("crosses" in f for f in faults(replace(drawing, items=(*drawing.items, cross))))
    assert shortened(strokes(drawing, "outline")[0][1]).length > 0
