"""Lists with commas: ``a, b and c`` says the same as ``a and b and c``."""

from __future__ import annotations

import pytest

from publisher.language import ast
from publisher.language.ast import Offset, Prep, Ref
from tests.language.reading import fence, findings, piece, program, quoted, read, sizes

PANELS = "panels down, 140 mm wide, mountain: pocket = 65 mm, flap = 60 mm, side = 40 mm"


def refs(prep: Prep) -> list[str]:
    return [p.text for p in prep.places if isinstance(p, Ref)]


def last(line: str, *more: str) -> ast.Statement:
    return program(sizes(*more) + piece(PANELS, line)).pieces[0].statements[-1]


@pytest.mark.parametrize(
    ("commas", "ands"),
    [
        (
            "glue along left, right and bottom of pocket, 5 mm wide, on back face",
            "glue along left and right and bottom of pocket, 5 mm wide, on back face",
        ),
        (
            "notch vee, 3 mm wide, at middle of left of pocket, flap and side",
            "notch vee, 3 mm wide, at middle of left of pocket and flap and side",
        ),
        (
            "tab on left of pocket, left of flap and left of side, 6 mm deep, meets right of "
            "pocket, right of flap and right of side",
            "tab on left of pocket and left of flap and left of side, 6 mm deep, meets right of "
            "pocket and right of flap and right of side",
        ),
    ],
)
def test_commas_say_what_and_says(commas: str, ands: str) -> None:
    first, second = last(commas), last(ands)
    assert [refs(p) for p in first.preps("along", "at", "on", "meets")] == [
        refs(p) for p in second.preps("along", "at", "on", "meets")
    ]
    assert [(p.label, p.setting) for p in first.phrases] == [
        (p.label, p.setting) for p in second.phrases
    ]


def test_after_a_direction_the_list_is_what_it_is_measured_from() -> None:
    prep = last("window circle, 6 mm across, at 5 mm above middle of pocket, flap and side").prep(
        "at"
    )
    assert prep is not None
    (offset,) = prep.places
    assert isinstance(offset, Offset)
    assert [b.text for b in offset.bases if isinstance(b, Ref)] == [
        "middle of pocket",
        "middle of flap",
        "middle of side",
    ]


def test_points_can_be_a_list() -> None:
    line = last("window points, at (5 mm, 5 mm), (25 mm, 5 mm) and (15 mm, 20 mm)")
    (prep,) = line.preps("at")
    assert len(prep.places) == 3


def test_measures_of_two_panels_are_no_list_of_places() -> None:
    line = last("tab on left and right of flap, short and tall deep", "short = 5 mm", "tall = 9 mm")
    (prep,) = line.preps("on")
    assert refs(prep) == ["left of flap", "right of flap"]
    deep = line.labelled("deep")
    assert deep is not None
    assert isinstance(deep.value, ast.Several)


def test_a_panel_may_be_called_as_a_measure_is() -> None:
    """``side`` is a measure of a polygon; here it is the last of a list of panels."""
    line = last("window polygon, 6 sides, 9 mm across, at middle of pocket, flap and side")
    assert refs(line.preps("at")[0])[-1] == "middle of side"
    assert line.labelled("side") is None


def test_in_steps_and_claims() -> None:
    body = (
        piece(PANELS)
        + piece("panel base, 60 x 40 mm", header="lid, in card")
        + piece("panel base, 90 x 40 mm", header="liner, in paper")
        + fence("step", "fold pocket, flap and side of body", "glue body, lid and liner to lid")
        + fence("fits", "body, lid and liner closes to 60 x 40 x 1 mm")
    )
    found = program(body)
    fold, glue = found.steps[0].statements
    assert isinstance(fold.phrases[0].value, ast.Several)
    assert len(fold.phrases[0].value.items) == 3
    assert len(fold.phrases) == 1
    assert isinstance(glue.phrases[0].value, ast.Several)
    assert glue.prep("to") is not None
    assert [s.text for s in found.claims[0].subjects if isinstance(s, Ref)] == [
        "body",
        "lid",
        "liner",
    ]


def test_a_bare_measure_may_follow_a_place() -> None:
    """``light`` is a size, no fourth window."""
    line = last("window rectangle, at middle of pocket and flap, light", "light = 9 x 9 mm")
    assert len(line.bare()) == 1


@pytest.mark.parametrize(
    ("line", "word", "says", "mended"),
    [
        (
            "tab on left of flap, right of flap, 6 mm deep",
            "right of flap",
            "‘and’ is missing",
            "left of flap and right of flap, 6 mm",
        ),
        (
            "tab on left of flap and right of flap, left of side, 6 mm deep",
            "left of side",
            "‘and’ stands before the last",
            "right of flap and left of side, 6 mm",
        ),
        (
            "tab on left of flap, right of flap, and left of side, 6 mm deep",
            ",",
            "no comma before ‘and’",
            "right of flap and left of side, 6 mm",
        ),
        (
            "window points, at (5 mm, 5 mm), (25 mm, 5 mm), (15 mm, 20 mm)",
            "(15 mm, 20 mm)",
            "‘and’ is missing",
            "(25 mm, 5 mm) and (15 mm, 20 mm)",
        ),
    ],
)
def test_a_list_that_is_wrong(line: str, word: str, says: str, mended: str) -> None:
    _, found, text = read(piece(PANELS, line))
    (finding,) = found
    assert finding.code == "syntax"
    assert says in finding.message
    assert quoted(text, finding) == word
    (way,) = finding.ways_out
    assert way.edit is not None
    after = text[: way.edit.span.start] + way.edit.text + text[way.edit.span.end :]
    assert mended in after
    assert findings(after.split("---\n", 2)[2]) == []
