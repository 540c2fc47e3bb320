"""Forms: their lines with the caller's sizes and names, and their mistakes at the call."""

from __future__ import annotations

import pytest

from publisher.diagnostics.render import render
from publisher.model.types import Piece
from publisher.pipeline import Outcome
from tests.compiled import codes, compile_text

TRAY = """---
form: dish
summary: A dish with two walls.
---

```sizes
inside = asked
rim    = asked, else 10 mm, from 5 mm to 20 mm
twice  = 2 * rim
```

```piece dish
panel  floor, inside
panel  wall, on left and right of floor, twice deep, mountain by 90 degrees
glue   along left of wall 1, 6 mm wide, on back face, called seam
```
"""

FLAP = """---
form: flap
summary: A flap on an edge.
---

```sizes
edge = asked
rise = asked, else 8 mm
half = length of edge / 2
```

```piece flap
panel  leaf, on edge, rise deep, half wide, valley by 90 degrees
panel  tip, on top of leaf, 2 mm deep, valley, when rise is over 100 mm
```
"""

FORMS = {"content/forms/dish.md": TRAY, "shared/forms/flap.md": FLAP}


def made(lines: str, forms: dict[str, str] | None = None, more: str = "") -> Outcome:
    body = f"\n```piece box, in card\n{lines}\n```\n{more}\n```step\nlay box\n```\n"
    return compile_text(body, forms=FORMS if forms is None else forms)


def piece(lines: str, forms: dict[str, str] | None = None, more: str = "") -> Piece:
    outcome = made(lines, forms, more)
    assert codes(outcome) == [], render(outcome.diagnostics, outcome.sources, "full")
    assert outcome.pattern is not None
    return outcome.pattern.piece("box")


def test_a_form_is_its_lines_with_the_callers_sizes() -> None:
    box = piece("form dish, inside = 60 x 40 mm, rim = 7 mm")
    assert [p.name for p in box.panels] == ["floor", "wall 1", "wall 2"]
    assert box.bounds == pytest.approx((0, 0, 60 + 4 * 7, 40))


def test_what_is_not_given_has_its_default() -> None:
    assert piece("form dish, inside = 60 x 40 mm").bounds[2] == pytest.approx(60 + 4 * 10)


def test_left_is_the_forms_name_and_right_the_callers() -> None:
    sizes = "```sizes\ninside = 5 mm\nrim = inside + 1 mm\n```\n"
    box = piece("form dish, inside = (6 * inside) x (4 * inside), rim = rim", more=sizes)
    assert box.bounds == pytest.approx((0, 0, 30 + 4 * 6, 20))


def test_called_parts_have_the_name_first_and_are_found_by_either() -> None:
    box = piece(
        "form dish, inside = 60 x 40 mm, called base\n"
        "window circle, 10 mm across, at middle of floor of base\n"
        "window circle, 5 mm across, at middle of base wall 1"
    )
    assert [p.name for p in box.panels] == ["base floor", "base wall 1", "base wall 2"]
    assert {o.panel for o in box.openings} == {"base floor", "base wall 1"}
    assert [z.name for z in box.glue_zones] == ["base seam"]


def test_a_detail_grows_on_the_callers_edge_and_two_have_names_of_their_own() -> None:
    box = piece(
        "outline rectangle, 60 x 40 mm\n"
        "form flap, edge = top, called lid\n"
        "form flap, edge = right, rise = 12 mm, called ear"
    )
    leaves = {p.name: p for p in box.panels if p.name.endswith("leaf")}
    assert leaves["lid leaf"].width_mm == pytest.approx(30)
    assert leaves["lid leaf"].height_mm == pytest.approx(8)
    assert leaves["ear leaf"].width_mm == pytest.approx(12)
    assert leaves["ear leaf"].height_mm == pytest.approx(20)


def test_a_detail_stands_on_a_part_of_another_form() -> None:
    box = piece(
        "form dish, inside = 60 x 40 mm, called base\n"
        "form flap, edge = top of floor of base, called lid"
    )
    assert box.fold("lid leaf").parent == "base floor"


def test_several_edges_give_several_parts() -> None:
    box = piece("outline rectangle, 60 x 60 mm\nform flap, edge = top, called ear")
    assert "ear leaf" in [p.name for p in box.panels]


def test_each_of_a_form_takes_its_own_parts_alone() -> None:
    lines = (
        "form dish, inside = 60 x 40 mm, called base\n"
        "panel wall, on top of base floor, 10 mm deep, mountain by 90 degrees"
    )
    step = "```step\nscore box\nfold each wall of base of box\n```\n"
    body = f"\n```piece box, in card\n{lines}\n```\n\n{step}"
    outcome = compile_text(body, forms=FORMS)
    assert codes(outcome) == []
    assert outcome.pattern is not None
    _, action = outcome.pattern.steps[0].actions
    assert [t.part for t in action.subjects] == ["base wall 1", "base wall 2"]


def test_the_designers_own_form_counts_before_a_shared_one() -> None:
    small = TRAY.replace("2 * rim", "rim")
    forms = {"content/forms/dish.md": small, "shared/forms/dish.md": TRAY}
    assert piece("form dish, inside = 60 x 40 mm", forms).bounds[2] == pytest.approx(80)


def test_a_form_calls_a_form() -> None:
    outer = (
        "---\nform: deep dish\nsummary: A dish from a dish.\n---\n\n"
        "```sizes\nspan = asked\nrim = 3 mm\n```\n\n"
        "```piece deep dish\nform dish, inside = span x (span / 2), rim = 2 * rim\n"
        "notch half round, 8 mm across, at middle of top of floor\n```\n"
    )
    forms = {**FORMS, "content/forms/deep-dish.md": outer}
    box = piece("form deep dish, span = 50 mm, called d", forms)
    assert box.bounds == pytest.approx((0, 0, 50 + 4 * 6, 25))
    assert [p.name for p in box.panels] == ["d floor", "d wall 1", "d wall 2"]


def test_the_forms_own_name_is_the_piece() -> None:
    own = TRAY.replace("2 * rim", "rim + 10 * caliper of dish")
    box = piece("form dish, inside = 60 x 40 mm", {"content/forms/dish.md": own})
    assert box.bounds[2] == pytest.approx(60 + 2 * (10 + 10 * box.stock.caliper_mm))


def test_a_condition_is_the_forms_own() -> None:
    short = piece("outline rectangle, 180 x 40 mm\nform flap, edge = top, called lid")
    tall = piece("outline rectangle, 180 x 40 mm\nform flap, edge = top, rise = 120 mm, called lid")
    assert len(short.panels) == 2
    assert len(tall.panels) > 2


# ---------------------------------------------------------------- mistakes


def test_a_mistake_inside_is_shown_at_the_call_with_the_forms_line_second() -> None:
    outcome = made("form dish, inside = 60 x 40 mm, rim = 25 mm")
    (finding,) = outcome.diagnostics
    assert finding.code == "out-of-range"
    assert [p.span.file for p in finding.places] == [
        "content/trial/pattern.md",
        "content/forms/dish.md",
    ]
    assert outcome.sources["content/forms/dish.md"] == TRAY


def test_a_line_that_cannot_be_built_is_shown_at_the_call() -> None:
    broken = TRAY.replace("along left of wall 1", "along tip of wall 1")
    outcome = made("form dish, inside = 60 x 40 mm", {"content/forms/dish.md": broken})
    (finding,) = outcome.diagnostics
    assert finding.places[0].span.file == "content/trial/pattern.md"
    assert finding.places[1].span.line == 15
    assert finding.places[1].label == "in the form"


def test_a_form_that_is_wrong_in_itself_is_told_at_the_call() -> None:
    outcome = made("form dish, inside = 60 x 40 mm", {"f/dish.md": TRAY.replace("panel", "pannel")})
    assert codes(outcome) == ["unknown-statement"]
    (finding,) = outcome.diagnostics
    assert finding.places[0].span.file == "content/trial/pattern.md"
    assert finding.places[1].span.line == 13


def test_a_mistake_two_forms_deep_shows_every_call() -> None:
    head = "---\nform: outer\nsummary: One more.\n---\n\n"
    outer = f"{head}```piece outer\nform dish, inside = 29 x 29 mm, rim = 21 mm\n```\n"
    outcome = made("form outer", {**FORMS, "content/forms/outer.md": outer})
    (finding,) = outcome.diagnostics
    assert finding.code == "out-of-range"
    assert [p.span.file for p in finding.places] == [
        "content/trial/pattern.md",
        "content/forms/outer.md",
        "content/forms/dish.md",
    ]


def test_forms_that_call_each_other_are_a_circle() -> None:
    def form(name: str, other: str) -> str:
        return f"---\nform: {name}\nsummary: S.\n---\n\n```piece {name}\nform {other}\n```\n"

    forms = {"f/one.md": form("one", "two"), "f/two.md": form("two", "one")}
    outcome = made("form one", forms)
    assert codes(outcome) == ["goes-in-a-circle"]
    assert "‘one’ needs ‘two’ needs ‘one’" in outcome.diagnostics[0].message


def test_forms_that_multiply_are_bounded() -> None:
    def form(name: str, line: str) -> str:
        calls = "\n".join(line.format(i) for i in range(20))
        return f"---\nform: {name}\nsummary: S.\n---\n\n```piece {name}\n{calls}\n```\n"

    forms = {f"f/f{n}.md": form(f"f{n}", f"form f{n + 1}, called c{{}}") for n in range(6)}
    forms["f/f6.md"] = form("f6", "score along {} mm below top, from left to right")
    outcome = made("outline rectangle, 60 x 60 mm\nform f0", forms)
    assert "too-many-parts" in codes(outcome)


def test_a_form_without_a_piece_and_one_with_two() -> None:
    head = "---\nform: dish\nsummary: S.\n---\n\n"
    assert codes(made("form dish", {"f/d.md": head})) == ["no-paper"]
    two = head + "```piece one\noutline rectangle, 9 x 9 mm\n```\n\n```piece two\n```\n"
    assert codes(made("form dish", {"f/d.md": two})) == ["two-outlines"]


def test_a_pattern_is_no_form() -> None:
    text = "---\ntitle: Dish\nsummary: S.\n---\n"
    assert "front-matter-missing-key" in codes(made("form dish", {"f/dish.md": text}))


def test_an_empty_form() -> None:
    assert codes(made("form dish", {"f/dish.md": "\n"})) == ["empty-file"]
