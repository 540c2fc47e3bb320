"""How makers say a line at the cutting table, and what they are told to write.

Each line is told once, and after its way out nothing is left to say of it.
"""

from __future__ import annotations

import time

import pytest

from publisher.diagnostics import Diagnostic, Span
from publisher.language.turns import LONGEST, turn_of_speech
from publisher.language.words import Mode
from tests.language.reading import fence, piece, quoted, read, sizes

MODES: tuple[Mode, ...] = ("header", "sizes", "piece", "step", "fits", "spoken")
FOLDER = "panels down, 140 mm wide, mountain: back = 90 mm, pocket = 65 mm, flap = 20 mm"
STEP = piece(FOLDER)


def _nowhere(start: int, end: int) -> Span:
    return Span("content/hat/pattern.md", start, end, 1, 1)


def _told(body: str) -> tuple[Diagnostic, str]:
    _, findings, text = read(body)
    assert len(findings) == 1, [f.message for f in findings]
    return findings[0], text


def _after_its_way_out(finding: Diagnostic, text: str) -> str:
    edit = finding.ways_out[0].edit
    assert edit is not None
    return text[: edit.span.start] + edit.text + text[edit.span.end :]


@pytest.mark.parametrize(
    ("said", "written", "word"),
    [
        ("turn the body over", "turn over body", "the body over"),
        ("fold up the pocket", "fold the pocket", "up"),
        ("fold over each flap of body", "fold each flap of body", "over"),
        ("fold the pocket over", "fold the pocket", "over"),
        ("fold the pocket over the back", "fold the pocket", "over the back"),
        ("fold pocket onto back by 90 degrees", "fold pocket by 90 degrees", "onto back"),
        ("open up body by 90 degrees", "open body by 90 degrees", "up"),
        ("hold flap of body for 1 1/2 minutes", "hold flap of body, 1 1/2 minutes", "for"),
        ("dry body for about 1 hour", "dry body, 1 hour", "for about"),
        ("hold flap of body with a clip", 'hold flap of body "a clip"', "with a clip"),
        ("stamp body using a leaf stamp", 'stamp body "a leaf stamp"', "using a leaf stamp"),
        ("tape flap with 6 mm tape", 'tape flap "6 mm tape"', "with 6 mm tape"),
        ("colour flap of body dark green", 'colour flap of body "dark green"', "dark green"),
        ('colour body, "green"', 'colour body "green"', ","),
        ("glue flap on to back", "glue flap on back", "on to"),
        ("slide tea light in to body", "slide tea light into body", "in to"),
        ("lay tea light onto body", "lay tea light on body", "onto"),
        ("glue tea light inside body", "glue tea light into body", "inside"),
        ("flip body", "turn over body", "flip"),
        ("fold pocket 45 degrees", "fold pocket by 45 degrees", "45"),
        ("fold pocket, 45 degrees", "fold pocket by 45 degrees", ","),
        ("fold every flap of body", "fold each flap of body", "every flap"),
        ("fold all the flaps of body", "fold each flap of body", "all the flaps"),
        ("slide tea light to body", "slide tea light into body", "to"),
        ("put tea light on body", "lay tea light on body", "put"),
    ],
)
def test_lines_of_a_step(said: str, written: str, word: str) -> None:
    finding, text = _told(STEP + fence("step", said))
    assert quoted(text, finding) == word
    mended = _after_its_way_out(finding, text)
    assert written in mended
    assert read(STEP + fence("step", written))[1] == []


@pytest.mark.parametrize(
    ("said", "written", "word"),
    [
        (
            "3 windows, circle, 3 mm across, along 9 mm below top of flap",
            "window circle, 3 mm across, along 9 mm below top of flap, 3 times",
            None,
        ),
        (
            "window circle, 3 mm across, 4 times, evenly spaced, along top of flap",
            "window circle, 3 mm across, 4 times, evenly, along top of flap",
            "evenly spaced",
        ),
        (
            "window circle, 3 mm across, in the middle of flap",
            "window circle, 3 mm across, at middle of flap",
            "in the middle",
        ),
        (
            "window circle, 3 mm across, at the centre of flap",
            "window circle, 3 mm across, at middle of flap",
            "at the centre",
        ),
        (
            "window circle, 3 mm across, at middle of flap, 3 times, 9 mm apart, in a row",
            "window circle, 3 mm across, at middle of flap, 3 times, 9 mm apart, across",
            "in a row",
        ),
        (
            "window circle, 3 mm across, 6 mm from the left of flap",
            "window circle, 3 mm across, 6 mm in from left of flap",
            "6 mm from the left",
        ),
        (
            "window circle, 3 mm across, 6 mm from the left",
            "window circle, 3 mm across, 6 mm in from left",
            "6 mm from the left",
        ),
        (
            "window circle, 3 mm across, at middle of flap, aligned to top of back",
            "window circle, 3 mm across, at middle of flap, aligned with top of back",
            "aligned to",
        ),
        (
            "window circle pane across 3 mm, at middle of flap",
            "window circle, 3 mm across, called pane, at middle of flap",
            "circle pane across 3 mm",
        ),
        (
            "window circle pane across 3, at middle of flap",
            "window circle, 3 mm across, called pane, at middle of flap",
            "circle pane across 3",
        ),
        (
            "window circle, across 3 mm, at middle of flap",
            "window circle, 3 mm across, at middle of flap",
            "across 3 mm",
        ),
        (
            "window rectangle, 5 by 8 mm, at middle of flap",
            "window rectangle, 5 x 8 mm, at middle of flap",
            "5 by 8 mm",
        ),
        (
            "window rectangle, 5 mm by 8 mm, at middle of flap",
            "window rectangle, 5 mm x 8 mm, at middle of flap",
            "5 mm by 8 mm",
        ),
        (
            "hole circle, 3 mm across, at middle of flap",
            "window circle, 3 mm across, at middle of flap",
            "hole",
        ),
    ],
)
def test_lines_of_a_piece(said: str, written: str, word: str | None) -> None:
    finding, text = _told(piece(FOLDER, said))
    if word is not None:
        assert quoted(text, finding) == word
    assert written in _after_its_way_out(finding, text)
    assert read(piece(FOLDER, written))[1] == []


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("rounded corners, 4 mm radius", "corners rounded, 4 mm radius"),
        ('draw letters "HI", 9 mm high, at middle of flap', 'draw letters, saying "HI", 9 mm'),
        ("draw letters, saying HI, 9 mm high, at middle of flap", 'saying "HI", 9 mm high'),
        ("score across the middle, valley", "score along middle, across, valley"),
        ("score along 9 mm from top of flap, valley", "score along 9 mm below top of flap, valley"),
        ("score along 9 mm from the left of flap, valley", "along 9 mm right of left of flap"),
        ("mat on tea light, border 4 mm", "mat on tea light, 4 mm border"),
        ("glue along left of flap, 5 mm wide, on the back", "5 mm wide, on back face"),
        ("panel tongue on top of back, 9 mm deep, valley", "panel tongue, on top of back"),
        ("panel tongue, on top of back, 9 mm deep, valley 90 degrees", "valley by 90 degrees"),
        ("tab on left of back, 9 mm, mountain", "tab on left of back, 9 mm deep, mountain"),
    ],
)
def test_more_lines_of_a_piece(said: str, written: str) -> None:
    finding, text = _told(piece(FOLDER, said))
    mended = _after_its_way_out(finding, text)
    assert written in mended
    line = next(at for at in mended.splitlines() if written in at)
    assert read(piece(FOLDER, line))[1] == []


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("body in card", "body, in card"),
        ("body, from card", "body, in card"),
        ("body, card", "body, in card"),
        ("body, in card stock", "body, in card"),
        ("body, two copies, in card", "body, 2 copies, in card"),
    ],
)
def test_lines_that_open_a_piece(said: str, written: str) -> None:
    finding, text = _told(piece(FOLDER, header=said))
    mended = _after_its_way_out(finding, text)
    assert f"piece {written}\n" in mended


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("wall is 20 mm", "wall = 20 mm"),
        ("wall is = 20 mm", "wall = 20 mm"),
        ("wall = 20 mm from 10 mm to 30 mm", "wall = 20 mm, from 10 mm to 30 mm"),
        ("wall = 20 mm (outside)", 'wall = 20 mm "outside"'),
        ("wall = 20 mm, 10 mm to 30 mm", "wall = 20 mm, from 10 mm to 30 mm"),
        ("wall = 20 mm, between 10 mm and 30 mm", "wall = 20 mm, from 10 mm to 30 mm"),
        ("wall = 20 mm, min 10 mm, max 30 mm", "wall = 20 mm, from 10 mm to 30 mm"),
    ],
)
def test_sizes(said: str, written: str) -> None:
    finding, text = _told(sizes(said))
    assert written in _after_its_way_out(finding, text)
    assert read(sizes(written))[1] == []


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("tea light fits into body", "tea light goes into body"),
        ("flap is inside back", "flap stays inside back"),
        ("body fits around tea light", "body slides on tea light"),
        ("left of flap lines up with left of back", "left of flap lies flush with left of back"),
        ("flap hides back", "flap covers back"),
        ("flap overlaps back", "flap reaches back"),
        ("body opens flat", "body opens to 180 degrees"),
        ("flap stays inside back by 2 mm", "flap stays inside back with at least 2 mm to spare"),
    ],
)
def test_claims(said: str, written: str) -> None:
    finding, text = _told(STEP + fence("fits", said))
    assert written in _after_its_way_out(finding, text)
    assert read(STEP + fence("fits", written))[1] == []


@pytest.mark.parametrize(
    ("mode", "line"),
    [
        ("step", 'glue flop of body on back "all edges, firmly"'),
        ("step", 'fold flap of boddy by 90 degrees "turn it on to the left"'),
        ("piece", 'draw letters, saying "all in a row", 9 mm hihg, at middle of flap'),
        ("piece", "draw letters, saying “in the middle”, 9 mm hihg, at middle of flap"),
        ("sizes", 'gap = 3 mmm "usual, 3 mm to 5 mm"'),
        ("sizes", "inside = (wall + 4 mm x (wall + 9 mm)"),
        ("sizes", "inside = (wall + 4 mm) x (wall + 9 mm"),
        ("sizes", "gap = wall and (wall / 2)"),
        ("sizes", "gap is 3 mm, wall = 4 mm"),
        ("piece", "window rectangle, 20 mm wide 30 mm high, at middle of flap"),
        ("piece", "3 windows"),
        ("fits", "flap slides on body with 1 mm too 2 mm to spare"),
        ("fits", "left of flop lies flush with left of back"),
    ],
)
def test_what_is_no_turn_of_speech_is_told_as_it_is(mode: Mode, line: str) -> None:
    """Words in quotation marks are the author's, and right words need no others."""
    assert turn_of_speech(mode, line, _nowhere) is None
    _, found, _ = read(STEP + fence(mode, line) if mode != "piece" else piece(FOLDER, line))
    assert found


@pytest.mark.parametrize(
    ("mode", "line"),
    [
        ("sizes", "inside = (width of packet + 4 mm) x (height of packet + 4 mm)"),
        ("sizes", "inside = 4 mm x (wall)"),
        ("header", "lid from box, in card"),
        ("header", "sleeve, in card, on back face up"),
        ("piece", "window rectangle, 20 mm wid, 9 mm high, called side 2 mm"),
    ],
)
def test_lines_that_no_turn_of_speech_fits(mode: Mode, line: str) -> None:
    assert turn_of_speech(mode, line, _nowhere) is None


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("window circle called eye across 3 mm, at middle of flap", "window circle, 3 mm across"),
        ("window circle eye diameter 3 mm, at middle of flap", "3 mm across, called eye, at"),
        ("window circle, diameter 3 mm, at middle of flap", "window circle, 3 mm across, at"),
        ("panel tongue, on top of back, depth of 9 mm, valley", "on top of back, 9 mm deep, val"),
        ("window rectangle, width 8 mm, 5 mm high, at middle of flap", "8 mm wide, 5 mm high, at"),
        ("window rectangle, 8 mm wide, height 5 mm, at middle of flap", "8 mm wide, 5 mm high"),
        ("score from 9 mm, 9 mm of flap, length 5 mm, valley", "of flap, 5 mm long, valley"),
    ],
)
def test_a_measure_stands_before_its_word(said: str, written: str) -> None:
    finding, text = _told(piece(FOLDER, said))
    mended = _after_its_way_out(finding, text)
    assert written in mended
    assert "called called" not in mended


def test_words_before_their_measures_are_mended_one_by_one() -> None:
    _mended_one_by_one(
        "notch square, depth 5 mm, width 4 mm, at middle of top of flap",
        ("square, 5 mm deep, width 4 mm,", "square, 5 mm deep, 4 mm wide,"),
    )
    _mended_one_by_one(
        "window rectangle wide 8 mm high 5 mm, at middle of flap",
        (
            "rectangle 8 mm wide high 5 mm,",
            "rectangle 8 mm wide 5 mm high,",
            "rectangle, 8 mm wide 5 mm high,",
            "rectangle, 8 mm wide, 5 mm high,",
        ),
    )


def _mended_one_by_one(said: str, ways: tuple[str, ...]) -> None:
    text = piece(FOLDER, said)
    for written in ways:
        _, found, whole = read(text)
        mended = _after_its_way_out(found[0], whole)
        assert written in mended
        text = mended.removeprefix(whole[: len(whole) - len(text)])
    assert read(text)[1] == []


def test_quotation_marks_stay_round_what_is_said() -> None:
    finding, text = _told(STEP + fence("step", 'fold up the flap "all in to a row"'))
    assert 'fold the flap "all in to a row"' in _after_its_way_out(finding, text)


def test_what_has_no_words_yet_is_said() -> None:
    finding, _ = _told(STEP + fence("fits", "body holds 12 packets"))
    assert "give 12 packets together a size" in finding.message
    finding, _ = _told(STEP + fence("step", "fold body in half"))
    assert finding.message.startswith("say which panel moves")


def test_what_can_be_asked_of_a_thing() -> None:
    finding, text = _told("\nIt is {lenght of body} long.\n" + STEP)
    assert "{length of body}" in _after_its_way_out(finding, text)
    _, findings, _ = read(STEP + fence("fits", "body closes to width x high"))
    assert [f.message.rpartition(": ")[2] for f in findings] == [
        "‘width of body’",
        "‘height of body’",
    ]


def test_a_size_that_a_row_asks_for_is_told_as_a_size() -> None:
    finding, _ = _told(piece(FOLDER, "row along 9 mm below top of back: 3 of pane"))
    assert finding.message == "there is no size called ‘pane’"


def test_a_variant_and_a_second_value() -> None:
    finding, text = _told(sizes("deep = 20 mm", "variant small deep = 10 mm"))
    mended = _after_its_way_out(finding, text)
    assert "variant small: deep = 10 mm" in mended
    finding, _ = _told(sizes("deep = 20 mm", "wall = 2 mm when deep is over 9 mm"))
    assert finding.message == "‘when’ belongs to a second value: ‘…, or 9 mm when …’"


def test_a_size_is_printed_in_both_units_without_asking() -> None:
    finding, text = _told("\nIt is {deep in inches} deep.\n" + sizes("deep = 20 mm"))
    assert "{deep} deep" in _after_its_way_out(finding, text)


@pytest.mark.parametrize("said", ["1", "5 mm ", "a ", "saying ", "across ", "on front ", "with x "])
def test_long_lines_are_answered_at_once(said: str) -> None:
    began = time.process_time()
    for long in (LONGEST, 20 * LONGEST):
        for mode in MODES:
            turn_of_speech(mode, ("fold " + said * long)[:long], _nowhere)
    assert time.process_time() - began < 0.5


def test_a_part_is_said_before_its_piece() -> None:
    patch = piece("mat on body flap, 4 mm border", header="patch, in card")
    finding, text = _told(piece(FOLDER) + patch)
    assert "mat on flap of body, 4 mm border" in _after_its_way_out(finding, text)
