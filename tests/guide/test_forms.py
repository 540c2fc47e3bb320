"""Every form has its page, its example builds, and so do the corners of all its ranges."""

from __future__ import annotations

import math
import re
from itertools import product

import pytest

from publisher.diagnostics.render import render
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.geometry.space import Vector, lift
from publisher.language import ast
from publisher.language.evaluate import evaluate
from publisher.language.program import Form
from publisher.language.say import said
from publisher.language.values import Angle, Length, Number, SizeValue, Value
from tests.compiled import HEAD, workshop
from tests.guide.form_pages import (
    EXAMPLES,
    FORMS,
    built,
    example_of,
    file_of,
    index,
    library,
    page,
    picture,
    rows_picture,
)
from tests.suite.runners import NothingKnown

NAMES = list(library())
LARGE = HEAD.replace("licence: personal\n", "licence: personal\nsheet: a2\n")
ABOUT_THE_SHEET = {"piece-larger-than-sheet"}
"""The largest corners go on no common sheet whole, which is no fault of the form: who needs one so
large says with ‘divide’ where it may be cut in two. Folds across the grain are looked for only by a
thorough check, since the smaller the piece the more ways it can be laid."""
NARROW = {("envelope", "room"), ("frustum", "tab"), ("envelope", "side"), ("envelope", "strip")}
"""Ranges that the thing itself keeps under three to one: an envelope that fits its card, tabs and
glue strips that must hold and may not reach beyond the flap that they lie on."""


def form_named(name: str) -> Form:
    return library()[name]


@pytest.mark.parametrize("name", NAMES)
def test_the_form_is_right_in_itself(name: str) -> None:
    form = form_named(name)
    assert form.findings == ()
    assert form.piece is not None
    assert all(size.note is not None for size in form.asked.values())


@pytest.mark.parametrize("name", NAMES)
def test_the_page_is_current(name: str) -> None:
    file = FORMS / f"{file_of(form_named(name))}.md"
    text = file.read_text(encoding="utf-8")
    assert text == page(form_named(name)), "run: python -m tests.guide.form_pages"
    drawn = file.with_suffix(".svg").read_text(encoding="utf-8")
    assert drawn == picture(form_named(name)), "run: python -m tests.guide.form_pages"


def test_the_picture_of_rows_is_current() -> None:
    drawn = (FORMS.parent / "rows.svg").read_text(encoding="utf-8")
    assert drawn == rows_picture(), "run: python -m tests.guide.form_pages"


def test_the_list_is_current() -> None:
    assert (FORMS / "index.md").read_text(encoding="utf-8") == index()
    pages = {p.stem for p in FORMS.glob("*.md")} - {"index"}
    assert pages == {file_of(form_named(n)) for n in NAMES} == {p.stem for p in EXAMPLES.glob("*")}


@pytest.mark.parametrize("name", NAMES)
def test_the_example_builds(name: str) -> None:
    outcome = built(example_of(form_named(name)))
    assert not outcome.diagnostics, render(outcome.diagnostics, outcome.sources, "full")
    assert outcome.checks
    assert {c.result for c in outcome.checks} == {"pass"}


@pytest.mark.parametrize("name", NAMES)
def test_the_corners_of_its_ranges_build(name: str) -> None:
    form = form_named(name)
    ranged = [size for size in form.asked.values() if size.least is not None]
    assert ranged
    for corner in product(*[(size.least, size.most) for size in ranged]):
        chosen = {s.name.text: said(v) for s, v in zip(ranged, corner, strict=True) if v}
        outcome = built(with_sizes(example_of(form), chosen), LARGE)
        told = [d for d in outcome.diagnostics if d.code not in ABOUT_THE_SHEET]
        assert told == [], f"{chosen}\n" + render(told, outcome.sources, "full")
        assert outcome.checks
        results = {c.result for c in outcome.checks if c.code not in ABOUT_THE_SHEET}
        assert results == {"pass"}, chosen


@pytest.mark.parametrize("name", NAMES)
def test_ranges_are_wide(name: str) -> None:
    for size in form_named(name).asked.values():
        if size.least is None or (name, size.name.text) in NARROW or size.most is None:
            continue
        for least, most in zip(figures(size.least), figures(size.most), strict=True):
            assert most >= 3 * least - 1e-9 or name == "star", size.name.text


def test_the_index_of_the_guide_leads_there() -> None:
    text = (FORMS.parent / "index.md").read_text(encoding="utf-8")
    assert "(forms/index.md)" in text or "(forms/)" in text
    assert len(NAMES) >= 10
    assert workshop().forms


def with_sizes(example: str, chosen: dict[str, str]) -> str:
    """The example with other values in its ``sizes`` fence."""
    for name, value in chosen.items():
        example, count = re.subn(
            rf"^({re.escape(name)} *= ).*$", rf"\g<1>{value}", example, flags=re.MULTILINE
        )
        assert count == 1, f"the example has no size ‘{name}’"
    return example


def figures(expr: ast.Expr) -> list[float]:
    value: Value | None = evaluate(expr, NothingKnown())
    match value:
        case Length():
            return [value.mm]
        case Angle():
            return [value.deg]
        case Number():
            return [value.value]
        case SizeValue():
            return [p.mm for p in value.parts]
        case _:
            raise AssertionError(said(expr))


@pytest.mark.parametrize("same", [15, 60])
def test_a_step_as_deep_as_it_is_high(same: int) -> None:
    """Its nose lies on the fold itself: there the paper is scored the other way."""
    sizes = {"rise": f"{same} mm", "tread": f"{same} mm"}
    outcome = built(with_sizes(example_of(form_named("pop-up step")), sizes), LARGE)
    assert not outcome.diagnostics, render(outcome.diagnostics, outcome.sources, "full")
    assert {c.result for c in outcome.checks} == {"pass"}


def test_a_gift_bag_is_pressed_flat() -> None:
    """With its seam glued and its foot open, both gussets go all the way in between front and
    back: every upright fold is folded flat, the tube stays closed, and all paper lies level."""
    example = example_of(form_named("gift bag"))
    tube = example[: example.index("```step\nfold   each dust flap")]
    press = "fold   left inner half and right inner half of bag by 180 degrees"
    outcome = built(f"{tube}```step\n{press}\n```\n")
    assert [d.code for d in outcome.diagnostics] == ["glue-not-used"]
    assert outcome.story is not None
    assert outcome.pattern is not None
    (body,) = outcome.story.end.bodies
    angles = dict(body.angles)
    upright = [n for n in angles if "half" in n or n in ("back", "seam")]
    assert len(upright) == 6
    assert [round(angles[n], 6) for n in upright] == [180.0] * 6
    piece = outcome.pattern.pieces[0]
    into = body.facet_pose("front").inverse()
    for facet, pose in body.facets:
        for segment in piece.facet(facet).region.outer.segments:
            assert abs(into.after(pose).apply(lift(segment.start))[2]) < 1e-6


def test_a_gable_box_closes_at_its_ridge() -> None:
    """Both folds of the handles come to lie on one line, as high as the eaves and the rise above
    the base, and the holes for the hand on each other."""
    outcome = built(example_of(form_named("gable box")))
    assert outcome.pattern is not None
    assert outcome.story is not None
    piece = outcome.pattern.pieces[0]
    (body,) = outcome.story.end.bodies
    into = body.facet_pose("base").inverse()

    def landed(facet: str, *points: Point) -> list[Vector]:
        return [into.after(body.facet_pose(facet)).apply(lift(p)) for p in points]

    ridge = []
    for handle in ("front handle", "back handle"):
        fold = piece.fold(handle)
        ends = landed(handle, fold.start, fold.end)
        assert all(abs(abs(z) - (40.0 + 20.0)) < 1e-6 for _, _, z in ends)
        ridge.append(sorted(ends))
    assert all(math.dist(a, b) < 1e-6 for a, b in zip(*ridge, strict=True))
    holes = {o.name: path_bounds(o.path) for o in piece.openings}
    middles = []
    for name in ("front", "back"):
        x0, y0, x1, y1 = holes[f"{name} hole"]
        middles += landed(f"{name} handle", ((x0 + x1) / 2, (y0 + y1) / 2))
    assert math.dist(*middles) < 1e-6
