"""Supplies follow from sheets, steps and glue zones; cautions follow from supplies."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from publisher.booklet.cautions import SIGNALS, SMALL, cautions_for, read_cautions, small_in
from publisher.booklet.supplies import glue_area_mm2, supplies_for
from publisher.booklet.types import Supply
from publisher.model.types import Pattern
from tests.booklet.book import ROOT, envelope_sheets, sliding_box_sheets
from tests.compiled import compile_text, workshop
from tests.handmade import envelope_pattern, sliding_box_pattern


def by_name(pattern: Pattern) -> dict[str, Supply]:
    return {supply.name: supply for supply in supplies_for(pattern, sliding_box_sheets(pattern))}


def test_paper_is_counted_by_stock_and_sheet() -> None:
    pattern = sliding_box_pattern()
    papers = [s for s in supplies_for(pattern, sliding_box_sheets(pattern)) if s.kind == "paper"]
    assert [(s.what, s.amount) for s in papers] == [
        ("Card", "2 sheets A4"),
        ("Patterned paper", "1 sheet A4"),
    ]
    assert papers[0].note == "about 300 g/m², 0.4 mm (0.016 in) thick"


def test_tools_follow_the_verbs() -> None:
    assert set(by_name(sliding_box_pattern())) == {
        "paper", "knife", "ruler", "scoring", "folder", "weight", "glue",
    }  # fmt: skip
    envelope = envelope_pattern()
    assert "weight" not in {s.name for s in supplies_for(envelope, envelope_sheets(envelope))}


def test_a_plain_cut_piece_wants_neither_scoring_tool_nor_glue() -> None:
    mat = replace(sliding_box_pattern().pieces[2], derived=None)
    pattern = replace(sliding_box_pattern(), pieces=(mat,), steps=())
    assert {s.name for s in supplies_for(pattern, ())} == {"knife", "ruler"}


def test_glue_is_measured_over_zones_and_mats() -> None:
    # Worked by hand: four tabs (22 + 18) / 2 * 12, the overlap 124.8 * 12; the mat 116.8 * 77.8
    # without its two notches, circle segments of radius 16 whose chord lies 4 from the centre.
    tabs = 4 * (22.0 + 18.0) / 2 * 12.0
    overlap = 124.8 * 12.0
    segment = 16.0**2 * math.acos(4.0 / 16.0) - 4.0 * math.sqrt(16.0**2 - 4.0**2)
    mat = 116.8 * 77.8 - 2 * segment
    assert glue_area_mm2(sliding_box_pattern()) == pytest.approx(tabs + overlap + mat)


def test_glue_is_said_in_the_authors_unit_first_and_rounded_up() -> None:
    # Two strips of 10 x 67 mm: 13.4 cm², 2.08 square inches.
    assert glue_area_mm2(envelope_pattern()) == pytest.approx(1340.0)
    envelope = envelope_pattern()
    glue = [s for s in supplies_for(envelope, ()) if s.name == "glue"]
    assert glue[0].amount == "for 15 cm² (3 sq in)"
    meta = replace(envelope.meta, first_unit="in")
    glue = [s for s in supplies_for(replace(envelope, meta=meta), ()) if s.kind == "glue"]
    assert glue[0].amount == "for 3 sq in (15 cm²)"


def house_cautions_text() -> str:
    return (ROOT / "shared/cautions.toml").read_text("utf-8")


def test_cautions_follow_the_tools_grave_ones_first() -> None:
    cautions, wrong = read_cautions(house_cautions_text())
    assert wrong == ()
    supplies = supplies_for(sliding_box_pattern(), ())
    found = cautions_for(cautions, supplies)
    assert {"blades", "glue", "table top"} <= {c.name for c in found}
    ranks = [SIGNALS.index(c.signal) for c in found]
    assert ranks == sorted(ranks)
    without_glue = cautions_for(cautions, [s for s in supplies if s.name != "glue"])
    assert "glue" not in {c.name for c in without_glue}
    assert {c.name for c in cautions_for(cautions, ())} == {"other rules"}


def test_each_house_caution_is_brought_in_by_something_that_exists() -> None:
    cautions, _ = read_cautions(house_cautions_text())
    known = set(by_name(sliding_box_pattern())) | {"always", "tape", "stick", SMALL}
    assert {c.when for c in cautions} <= known


def test_a_wrong_signal_word_is_told_at_its_line() -> None:
    text = '[x]\nsignal = "beware"\nwhen = "knife"\nhazard = "h"\navoid = "a"\nsource = "own"\n'
    cautions, wrong = read_cautions(text)
    assert len(cautions) == 1
    assert wrong[0].places[0].span.line == 2
    assert "danger, warning, caution, notice" in wrong[0].message


def test_small_parts_are_warned_of_by_name() -> None:
    """A disc 20 mm across goes down a cylinder of 31.7 mm, a card of 60 by 40 does not; the word
    for what could kill is WARNING, and it comes first (ANSI Z535.6-2011)."""
    outcome = compile_text(
        "```piece disc, in card\noutline circle, 20 mm across\n```\n\n"
        "```piece leaf, in card\noutline rectangle, 60 x 40 mm\n```\n\n"
        "```step\nlay disc\nlay leaf\n```\n"
    )
    assert outcome.pattern is not None
    assert outcome.story is not None
    small = small_in(outcome.pattern, outcome.story, workshop().trade)
    assert small == ("disc",)
    cautions, _ = read_cautions(house_cautions_text())
    first, *others = cautions_for(cautions, (), small)
    assert (first.name, first.signal) == ("small parts", "warning")
    assert "these are small: disc." in first.hazard
    assert {c.name for c in others} == {"other rules"}


STUCK = """```piece pouch, in paper
panels   down, 100 mm wide, mountain: front = 60 mm, back = 60 mm
glue     along left of front, 8 mm wide, on back face, called one strip
glue     along right of front, 8 mm wide, on back face, called other strip
```

```step
score    pouch
turn     over pouch
{stuck}
fold     back of pouch
```
"""


@pytest.mark.parametrize(
    ("stuck", "expected"),
    [
        ("glue     front of pouch", {"glue"}),
        ("tape     front of pouch", {"tape"}),
        ("glue     one strip of pouch\ntape     other strip of pouch", {"glue", "tape"}),
    ],
)
def test_what_the_steps_stick_with_is_on_the_list(stuck: str, expected: set[str]) -> None:
    pattern = compile_text(STUCK.replace("{stuck}", stuck)).pattern
    assert pattern is not None
    listed = {s.name for s in supplies_for(pattern, ()) if s.kind == "glue"}
    assert listed == expected
