# ruff: noqa: E501 - a slip, its word and its answer read best on one line
"""What a beginner is told. Each finding underlines the word that it quotes."""

from __future__ import annotations

import pytest

from publisher.diagnostics import Diagnostic
from publisher.language import evaluate_sizes
from tests.language.reading import Shelf, fence, piece, quoted, read, sizes

PANELS = "panels down, 140 mm wide, mountain: pocket = 65 mm, flap = 20 mm"


def told(body: str) -> tuple[Diagnostic, str]:
    """The only finding, of parsing or of working the sizes out, and what it underlines."""
    program, findings, text = read(body)
    shelf = Shelf()
    evaluate_sizes(program, shelf)
    (finding,) = [*findings, *shelf.reports]
    return finding, quoted(text, finding)


def mended(body: str) -> str:
    """The text after the first way out."""
    _, findings, text = read(body)
    shelf = Shelf()
    evaluate_sizes(read(body)[0], shelf)
    edit = (findings or shelf.reports)[0].ways_out[0].edit
    assert edit is not None
    return text[: edit.span.start] + edit.text + text[edit.span.end :]


# ---------------------------------------------------------------- the ten


def test_a_number_without_unit() -> None:
    body = sizes("tab = 12 mm + 5")
    finding, word = told(body)
    assert (finding.message, word) == ("5 of what? Write 5 mm or 5 in", "5")
    assert "12 mm + 5 mm" in mended(body)


def test_a_misspelt_name() -> None:
    body = sizes("pocket = 65 mm", "flap = pokcet / 2")
    finding, word = told(body)
    assert (finding.message, word) == ("there is no ‘pokcet’. Nearest: ‘pocket’, line 14", "pokcet")
    assert quoted(read(body)[2], finding, 1) == "pocket"
    assert "flap = pocket / 2" in mended(body)


def test_a_missing_comma() -> None:
    body = piece(PANELS, "notch half round 30 mm wide, at middle of top of pocket")
    finding, word = told(body)
    assert finding.message == "put a comma before 30 mm: ‘half round, 30 mm wide’"
    assert word == "30 mm"
    assert "notch half round, 30 mm wide" in mended(body)


def test_a_word_too_many() -> None:
    finding, word = told(piece(PANELS) + fence("step", "fold flap up"))
    assert word == "up"
    assert finding.message == (
        "‘flap’ is known, ‘flap up’ is not. Leave out ‘up’: the score says which way"
    )


def test_inches_for_copies() -> None:
    body = piece(PANELS, header="body, 2 in card")
    finding, word = told(body)
    assert word == "2 in"
    assert finding.message == "‘2 in’ is 2 inches. For 2 of them write ‘2 copies, in card’"
    assert "piece body, 2 copies, in card" in mended(body)


def test_x_for_times() -> None:
    body = sizes("side = 60 mm", "strip = 2 x side")
    finding, word = told(body)
    assert word == "2"
    assert finding.message == "x joins the parts of a size. To multiply write 2 * side"
    assert "strip = 2 * side" in mended(body)


def test_a_hyphen_for_a_minus() -> None:
    body = sizes("back = 9 mm", "spine = 3 mm", "rest = back-spine")
    finding, word = told(body)
    assert word == "back-spine"
    assert finding.message == (
        "‘back-spine’ is read as one name. To take away, leave spaces: back - spine"
    )
    assert "rest = back - spine" in mended(body)


def test_glue_without_a_face() -> None:
    finding, word = told(piece(PANELS, "glue along left of pocket, 5 mm wide"))
    assert word == "glue"
    assert finding.message == "on which face? Add ‘on front face’ or ‘on back face’"


def test_a_part_of_two_pieces() -> None:
    body = (
        piece(PANELS, header="body, in card")
        + piece(PANELS, header="cover, in card")
        + fence("step", "fold flap")
    )
    finding, word = told(body)
    assert word == "flap"
    assert finding.message == "‘flap’ is a panel of body and of cover. Say ‘flap of body’"
    assert "fold flap of body" in mended(body)
    # The first name's piece is tried first.
    found = read(
        piece(PANELS, header="body, in card")
        + piece(PANELS, header="cover, in card")
        + fence("step", "glue pocket of body to flap")
    )
    assert found[1] == []


def test_a_comma_at_the_end() -> None:
    body = piece(PANELS, "notch vee, 3 mm wide,", "panel x1, on top of flap, 3 mm deep")
    finding, word = told(body)
    assert word == ","
    assert finding.message == (
        "this line ends with a comma. Indent the next line to go on, or take the comma away"
    )


# ---------------------------------------------------------------- further slips


@pytest.mark.parametrize(
    ("body", "word", "message"),
    [
        (sizes("tab 12 mm"), "12 mm", "‘=’ is missing between ‘tab’ and ‘12 mm’"),
        (sizes("tab: 12 mm"), ":", "write ‘tab = …’: a size has an equals sign, not a colon"),
        (sizes("tab"), "tab", "‘tab’ has no value"),
        (sizes("tab ="), "=", "something is missing after ‘=’: a measure or a name is wanted"),
        (sizes("tab = 12 mn"), "mn", "‘mn’ is no unit"),
        (sizes("tab = 12 inches"), "inches", "‘inches’ is no unit here"),
        (sizes("over = 12 mm"), "over", "‘over’ has a meaning of its own, so it cannot be a name"),
        (sizes("a = 12 mm"), "a", "‘a’ is passed over when a line is read; it cannot be a name"),
        (sizes("tab = (3 mm + 2 mm"), "(", "this bracket is not closed"),
        (sizes("tab = 3 mm)"), ")", "no bracket is open here"),
        (sizes("b = 1 mm + 2 mm x 3 mm"), "x", "a sum beside x stands in brackets: (a + b) x c"),
        (sizes("b = 1 mm x 2 mm + 3 mm"), "+", "a sum beside x stands in brackets: (a + b) x c"),
        (sizes("b = 1 x 2 x 3 x 4 mm"), "x", "a size has at most three parts: across, down, deep"),
        (sizes("b = 3 mm + x"), "x", "‘x’ joins the parts of a size, so it cannot be a name"),
        (sizes("b = sqaure root(4)"), "sqaure root", "there is no function ‘sqaure root’. Nearest: ‘square root’"),
        (sizes("b = asked"), "b = asked", "‘asked’ belongs in a form; here the size needs a value"),
        (sizes("tab = 3 mm", "variant mini: tub = 2 mm"), "tub", "there is no ‘tub’. Nearest: ‘tab’, line 14"),
        (piece("pannel wall, 3 x 4 mm"), "pannel", "no line of a piece begins with ‘pannel’. Nearest: ‘panel’"),
        (piece("fold wall"), "fold", "no line of a piece begins with ‘fold’; it belongs in a step"),
        (piece(PANELS, "slit across, 3 mm tall, at middle of flap"), "tall", "‘slit’ takes ‘long’, ‘wide’, ‘high’, ‘deep’, ‘times’, ‘apart’ and ‘short’; ‘tall’ is not one of them. Nearest: ‘high’"),
        (piece(PANELS, "window rectangle, 3 mm tall, 3 mm wide, at middle of flap"), "tall", "‘window’ takes ‘wide’, ‘high’, ‘deep’, ‘across’, ‘side’, ‘sides’, ‘points’, ‘radius’, ‘times’, ‘apart’ and ‘short’; ‘tall’ is not one of them. Nearest: ‘high’"),
        (piece(PANELS, "notch sqare, 3 mm wide, at middle of top of flap"), "sqare", None),
        (piece(PANELS, "notch vee, 3 mm wide, behind flap"), "behind", "‘notch’ takes ‘at’, ‘along’, ‘from’ and ‘to’; ‘behind’ is not one of them"),
        (piece(PANELS, "notch vee, 3 mm wide deep, at middle of flap"), "deep", "put a comma before ‘deep’"),
        (piece(PANELS, "tab on left of flap, 3 mm deep mountain"), "mountain", "put a comma before ‘mountain’"),
        (piece(PANELS, "notch vee, 3 mm wide, mirrored, at middle of flap"), "mirrored", "‘mirrored’ is part of the language, but nothing builds it yet"),
        (piece(PANELS, "form tray, inside = 3 mm"), "tray", "there is no form called ‘tray’"),
        (piece(PANELS, "notch vee, 3 mm wide, at middle of flaps"), "flaps", "there are no plurals here: say ‘each flap’"),
        (piece(PANELS, "window circle, 3 mm across, 2 in from left"), "2 in", "‘2 in’ is inches here. For a place write ‘2 mm in from …’ or ‘2 in in from …’"),
        (piece(PANELS, "notch, 3 mm wide, at top"), ",", None),
        (piece("panels down, 3 mm wide: pokcet"), "pokcet", "there is no size called ‘pokcet’"),
        (piece("outline rectangle 60 x 40 mm"), "60", "put a comma before 60: ‘outline rectangle, 60 …’"),
        (piece("outline polygon 6 sides, 40 mm across"), "6", "put a comma before 6: ‘outline polygon, 6 …’"),
        (piece(PANELS, header="body, in crad"), "crad", "there is no stock called ‘crad’. Nearest: ‘card’"),
        (piece(PANELS, header="body"), "body", "in which paper? Add for example ‘in card’: ‘piece body, in card’"),
        (piece(PANELS, header=""), "piece", "this piece has no name: write ‘piece drawer, in card’"),
        (piece(PANELS, header="body, in card, shiny"), "shiny", None),
        (piece(PANELS) + fence("step", "fold"), "fold", "fold what? Nothing follows ‘fold’"),
        (piece(PANELS) + fence("step", "fodl body"), "fodl", "no line of a step begins with ‘fodl’. Nearest: ‘fold’"),
        (piece(PANELS) + fence("step", "fold body's flap"), "body's flap", "there are no possessives here: say ‘flap of body’"),
        (piece(PANELS) + fence("step", "fold each flop of body"), "flop", "nothing is called ‘flop’. Nearest: ‘flap’"),
        (piece(PANELS) + fence("step", "turn body ovr"), "ovr", None),
        (piece(PANELS) + fence("step", "slide body behind body"), "behind", None),
        (piece(PANELS) + fence("step make it", "close body"), "make it", "nothing stands after ‘step’ here. A step takes its name from the heading above it"),
        (piece(PANELS) + fence("fits", "tea light goes in body"), "goes in", "nothing is proven by ‘goes in’. Nearest: ‘goes into’"),
        (piece(PANELS) + fence("fits", "tea light"), "tea light", "this line does not say what fits what"),
        (piece(PANELS) + fence("fits", "tea light goes into body with 2 mm"), "2 mm", "‘to spare’ is missing at the end"),
        (piece(PANELS) + fence("fits", "tee light goes into body"), "tee light", "there is no ‘tee light’. Nearest: ‘tea light’"),
        (piece(PANELS) + fence("fits", "body closes to 3 x 4 mm with 2 mm to spare"), "with 2 mm to spare", "‘closes to’ takes no ‘with … to spare’"),
        (fence("size", "tab = 3 mm"), "size", "there is no ‘size’ fence. Nearest: ‘sizes’"),
        ("\nCut {pokcet} off.\n" + sizes("pocket = 3 mm"), "pokcet", "there is no ‘pokcet’. Nearest: ‘pocket’, line 16"),
        ("\nCut {3 +} off.\n", "+", "something is missing after ‘+’: a measure or a name is wanted"),
    ],
)  # fmt: skip
def test_slips(body: str, word: str, message: str | None) -> None:
    finding, underlined = told(body)
    assert underlined == word
    if message is not None:
        assert finding.message == message


# ---------------------------------------------------------------- names given twice


def test_names_given_twice() -> None:
    for body, second, first in (
        (sizes("tab = 3 mm", "tab = 4 mm"), 15, 14),
        (piece(PANELS) + piece(PANELS), 17, 13),
        (piece(PANELS, "panel flap, on top of pocket, 3 mm deep"), 15, 14),
        (sizes("body = 3 mm") + piece(PANELS), 17, 14),
    ):
        finding, _ = told(body)
        assert finding.code == "name-taken"
        assert [p.span.line for p in finding.places] == [second, first]


def test_a_part_may_share_the_name_of_its_size() -> None:
    _, findings, _ = read(sizes("flap = 3 mm") + piece("panels down, 9 mm wide: flap, 2 of flap"))
    assert findings == []


def test_names_from_outside_are_passed_over_when_nothing_is_known_of_them() -> None:
    body = piece(PANELS, header="body, in velvet") + fence("fits", "pebble goes into body")
    assert read(body, None)[1] == []
    assert sorted(f.code for f in read(body)[1]) == ["unknown-name", "unknown-name"]


def test_a_refused_line_is_the_only_one_told() -> None:
    """What it would have named is not also unknown to the lines that use it."""
    body = (
        sizes("border = 4 inches", "rim = border / 2", "free = width of lid")
        + piece("panel base 60 x 40 mm", "panel wall, on top of base, border deep, mountain")
        + piece("panels down, 9 mm wide, : side = 3 mm", "notch vee, rim wide, at top of side")
        + piece("mat on base of lid, border", header="lid, in card, 3 in card, in")
        + fence("step", "glue body to lid, , called cross", "fold each side of body", "press cross")
        + "\nThe border is {border}, the lid {width of lid}.\n"
    ).replace("body, in card\npanels", "strip, in card\npanels")
    program, findings, _ = read(body)
    shelf = Shelf()
    evaluate_sizes(program, shelf)
    lines = [f.places[0].span.line for f in [*findings, *shelf.reports]]
    assert lines == [14, 20, 25, 29, 34], [f.message for f in [*findings, *shelf.reports]]


# ---------------------------------------------------------------- one slip, one finding


def test_inches_with_their_sign() -> None:
    body = sizes('pocket = 4 3/4", from 4 in to 6 in  "width"', "flap = pocket / 2")
    finding, word = told(body)
    assert finding.message == "inches are written ‘4 3/4 in’; quotation marks stand round words"
    assert word == '4 3/4"'
    assert "pocket = 4 3/4 in, from" in mended(body)


def test_a_line_that_was_moved_in() -> None:
    body = piece(
        PANELS, "notch half round, 30 mm wide, at middle of top of pocket", "  tab on left"
    )
    finding, word = told(body)
    assert finding.message.startswith("‘tab’ begins with spaces, so it is read as the end")
    assert word == "tab"
    assert "\ntab on left" in mended(body)


@pytest.mark.parametrize("end", ["of", "and", ","])
def test_a_line_that_goes_on_is_no_slip(end: str) -> None:
    """A first word may be a name too: ``panel 1`` after ``of`` is meant so."""
    panels = "panels down, 140 mm wide, mountain: 2 of side"
    line = {"of": "middle of", "and": "middle of top of side 1 and", ",": "middle of side 1,"}[end]
    more = {"of": "tab", "and": "tab", ",": "called tab"}[end]
    body = piece(panels, f"window circle, 30 mm across, at {line}", f"  {more}")
    assert not any("begins with spaces" in f.message for f in read(body)[1])


def test_a_misspelt_fence_is_read_as_the_one_that_was_meant() -> None:
    body = fence("size", "tab = 12 mm") + fence("step", "score tray") + piece(PANELS)
    _, findings, _ = read(body.replace("score tray", "score wallet"))
    assert [f.code for f in findings if f.code != "unknown-name"] == ["unknown-fence"]
    program, _, _ = read(fence("size", "tab = 12 mm"))
    assert program.size("tab") is not None


def test_an_unknown_paper_is_answered_with_those_that_there_are() -> None:
    finding, word = told(piece(PANELS, header="body, in vellum"))
    assert word == "vellum"
    assert finding.notes[0].startswith("The papers are card, paper, patterned paper, tracing paper")
