"""Every mistake is answered at its word, and one run reports all of them."""

from __future__ import annotations

import pytest

from tests.model.making import compiled, faults, faults_of, made, word
from tests.model.sources import DRAWER, FRONT, SIZES, SLIDING_BOX, STEPS

BASE = "panel base, 60 x 40 mm\n"
CASES = [
    # lines of a piece, code, underlined word, in the message
    (BASE + "panel wall, on botom of base, 20 mm deep, mountain", "", "botom", "no ‘botom’"),
    (BASE + "panel wall, on bottom of bse, 20 mm deep, mountain", "", "bse", "‘base’"),
    (
        BASE + "panel wall, on bottom of base, -20 mm deep, mountain",
        "not-positive",
        "-20 mm",
        "-20",
    ),
    (
        BASE + "panel wall, on bottom of base, 0 mm deep, mountain",
        "not-positive",
        "0 mm",
        "nothing",
    ),
    (BASE + "panel wall, on bottom of base, mountain", "missing-phrase", "panel", "deep"),
    (BASE + "panel wall, on bottom of base, 20 mm deep", "missing-phrase", "panel", "mountain"),
    (
        BASE + "panel wall, on bottom of base, 20 mm deep, mountain by 190 degrees",
        "wrong-angle",
        "190 degrees",
        "180",
    ),
    (
        BASE + "panel wall, on bottom of base, 20 mm deep, mountain by 9 mm",
        "wrong-unit",
        "9 mm",
        "",
    ),
    (BASE + "panel base, on bottom of base, 20 mm deep, mountain", "name-taken", "base", "already"),
    (BASE + "panel other, 20 x 20 mm", "missing-phrase", "other", "first panel"),
    (BASE + "outline rectangle, 20 x 20 mm", "two-outlines", "outline", "already"),
    ("panel base, 60 mm", "wrong-unit", "60 mm", "2 lengths"),
    ("panel base, 60 x 0 mm", "not-positive", "60 x 0 mm", "nothing"),
    ("panel base, 60000 x 40 mm", "too-large", "60000 x 40 mm", "no paper"),
    ("outline rectangle, -6 x 40 mm", "not-positive", "-6 x 40 mm", "nothing"),
    (
        "panels down, 60 mm wide, mountain: one = 20 mm, two = -3 mm",
        "not-positive",
        "-3 mm",
        "length of two",
    ),
    ("panels down, 60 mm wide, mountain: one = 20 mm, one = 30 mm", "name-taken", "one", "already"),
    ("panels down, mountain: one = 20 mm, two = 30 mm", "missing-phrase", "panels", "wide"),
    (
        "panel one, on bottom of two, 20 mm deep, mountain\n"
        "panel two, on bottom of one, 20 mm deep, mountain",
        "goes-in-a-circle",
        "two",
        "circle",
    ),
    (BASE + "tab on top of base, 8 mm deep, 40 mm taper, mountain", "too-much-taper", "40 mm", ""),
    (BASE + "tab on top of base, 8 mm deep, 95 degrees taper, mountain", "wrong-angle", "95 d", ""),
    (
        BASE + "tab on top and left of base, 8 mm deep, mountain, meets right of base and"
        " left of base and bottom of base",
        "lists-differ",
        "right of base",
        "pair in order",
    ),
    (BASE + "notch half round, 20 mm wide, at middle of base", "notch-off-edge", "middle", ""),
    (BASE + "notch vee, 80 mm wide, at middle of top of base", "notch-off-edge", "middle", "free"),
    (
        BASE + "notch square, 20 mm wide, 50 mm deep, at middle of top of base",
        "notch-too-deep",
        "middle",
        "beyond",
    ),
    (
        BASE + "panel wall, on top of base, 20 mm deep, mountain\n"
        "notch vee, 9 mm wide, at middle of top of base",
        "notch-on-fold",
        "middle",
        "between base and wall",
    ),
    (BASE + "window circle, 60 mm across, at middle", "window-leaves-paper", "middle", "beyond"),
    (BASE + "window circle, 40 mm across, at middle", "window-meets-edge", "middle", "edge"),
    (BASE + "slit 70 mm long, across, at middle", "slit-leaves-paper", "middle", "beyond"),
    (BASE + "glue along left of base, 70 mm wide, on back face", "glue-leaves-panel", "70 mm", ""),
    (BASE + "glue along left of base, 5 mm wide", "which-face", "glue", "face"),
    (BASE + "glue on middle of base, on back face", "wrong-place", "middle", "panel"),
    (BASE + "score along 90 mm below top of base, valley", "line-off-paper", "90 mm", "paper"),
    (BASE + "score between base and base, called gutter", "no-fold-there", "score", "no fold"),
    (BASE + "panel wall, on each corner of base, 2 mm deep, mountain", "wrong-place", "each", ""),
    ("tab on top of base, 20 mm deep, mountain", "", "base", "base"),
    ("panel base, 60 x 40", "", "", "of what"),
    ("mat on trial, 4 mm border", "goes-in-a-circle", "trial", "itself"),
    (
        "band down, around trial when closed, 30 mm wide",
        "goes-in-a-circle",
        "trial",
        "itself",
    ),
    (
        BASE + "panel wall, on bottom of base, 20 mm deep, 80 mm wide, mountain",
        "too-wide",
        "80 mm",
        "wider",
    ),
]


@pytest.mark.parametrize(("lines", "code", "underlined", "said"), CASES)
def test_answered_at_the_word(lines: str, code: str, underlined: str, said: str) -> None:
    text = f"{FRONT}```piece trial, in card\n{lines}\n```\n"
    found = [f for f in compiled(text)[1] if f.severity == "error"]
    assert len(found) == 1, [(f.code, f.message) for f in found]
    finding = found[0]
    assert not code or finding.code == code
    assert word(text, finding).startswith(underlined)
    assert said in finding.message
    assert finding.message[0] == finding.message[0].lower()
    assert not finding.message.endswith(".")


def test_a_piece_named_twice() -> None:
    two = "```piece card one, in card\noutline rectangle, 9 x 9 mm\n```\n"
    codes = [f.code for f in faults(two + "\n" + two)]
    assert codes == ["name-taken"]


def test_unknown_stock_has_a_nearest_one() -> None:
    (finding,) = faults("```piece card one, in crad\noutline rectangle, 9 x 9 mm\n```\n")
    assert "‘card’" in finding.message


def test_panels_that_need_the_same_paper() -> None:
    (finding,) = faults_of(
        "panel base, 60 x 40 mm\n"
        "panel wall, on bottom of base, 30 mm deep, mountain\n"
        "panel side, on left of base, 30 mm deep, mountain\n"
        "panel wing, on left of wall, 30 mm deep, mountain\n"
        "panel ear, on bottom of side, 30 mm deep, mountain"
    )
    assert finding.code == "panels-collide"
    assert dict(finding.numbers)["shared_mm2"] == pytest.approx(900.0)


def test_mats_of_each_other() -> None:
    found = faults(
        "```piece card one, in card\nmat on card two, 2 mm border\n```\n\n"
        "```piece card two, in card\nmat on card one, 2 mm border\n```\n"
    )
    assert [f.code for f in found] == ["goes-in-a-circle"]
    assert "‘card one’" in found[0].message
    assert "‘card two’" in found[0].message


def test_size_and_piece_in_a_circle() -> None:
    found = faults(
        "```sizes\nedge = width of card one\n```\n\n"
        "```piece card one, in card\noutline rectangle, edge x 20 mm\n```\n"
    )
    assert "goes-in-a-circle" in [f.code for f in found]


def test_border_that_leaves_nothing() -> None:
    found = faults(
        "```piece card one, in card\noutline rectangle, 60 x 20 mm\n```\n\n"
        "```piece card two, in card\nmat on card one, 10 mm border\n```\n"
    )
    assert [f.code for f in found] == ["border-too-wide"]
    assert dict(found[0].numbers) == {"border_mm": 10.0}


def test_one_run_reports_all() -> None:
    text = SLIDING_BOX
    text = text.replace("on bottom of base, depth", "on botom of base, depth")
    text = text.replace("at middle of left", "at midle of left")
    text = text.replace("fold     each wall of drawer", "fold     each wal of drawer")
    text = text.replace("stack goes into drawer", "stak goes into drawer")
    lines = sorted(f.places[0].span.line for f in compiled(text)[1])
    wanted = [
        i
        for i, line in enumerate(text.split("\n"), start=1)
        if any(slip in line for slip in ("botom", "midle", "wal of", "stak"))
    ]
    assert set(wanted) <= set(lines)
    assert len(lines) == len(wanted)


def test_what_follows_from_a_fault_is_not_told_again() -> None:
    text = FRONT + "\n".join([SIZES, DRAWER.replace("tab deep", "-3 mm deep", 1), STEPS])
    found = [f for f in compiled(text)[1] if f.code == "not-positive"]
    assert len(found) == 1


STEP_CASES = [
    ("fold each wal of drawer", "wal"),
    ("fold front wal of drawer", "front wal"),
    ("fold base of drawer", "base of drawer"),
    ("fold front wall of draer", "draer"),
    ("glue tab 9 of drawer", "tab 9"),
    ("slide drawer 3 into drawer", "drawer 3"),
    ("fold front wall of drawer by 3 mm", "3 mm"),
    ("flod front wall of drawer", "flod"),
]


@pytest.mark.parametrize(("line", "underlined"), STEP_CASES)
def test_steps_are_answered_too(line: str, underlined: str) -> None:
    text = FRONT + "\n".join([SIZES, DRAWER, f"```step\n{line}\n```\n"])
    found = compiled(text)[1]
    assert len(found) == 1, [(f.code, f.message) for f in found]
    assert word(text, found[0]) == underlined


def test_part_of_two_pieces() -> None:
    body = (
        "```piece card one, in card\n"
        "panels down, 40 mm wide, mountain: front = 20 mm, back = 20 mm\n```\n\n"
        "```piece card two, in card\n"
        "panels down, 40 mm wide, mountain: front = 9 mm, back = 9 mm\n```\n"
    )
    (finding,) = faults(body + "\n```step\nfold back\n```\n")
    assert finding.code == "several-meant"
    assert "back of card one" in finding.message
    assert faults(body + "\n```step\nscore card one\nfold back of card two\n```\n") == []
    # A step tries the piece first that it named first.
    pattern = made(FRONT + body + "\n```step\nscore card two\nfold back\n```\n")
    assert pattern.steps[0].actions[1].subjects[0].piece == "card two"


def test_unknown_licence_sheet_and_machine() -> None:
    said = "licence: persnal\nsheet: a44\nmachine: drag knive"
    text = SLIDING_BOX.replace("licence: personal", said)
    codes = {f.code: f.message for f in compiled(text)[1]}
    assert "‘personal’" in codes["unknown-licence"]
    assert "‘a4’" in codes["unknown-sheet"]
    assert "‘drag knife’" in codes["unknown-machine"]


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("tab     = 12 mm", "tab     = 12 mn"),
        ("tab     = 12 mm", 'tab     = 1/2"'),
        ("tab      on left and right of front wall, tab deep", "tab      on left, tab depe"),
        ("piece drawer, in card", "piece drawer in card"),
        ("piece sleeve, in card", "piece sleeve, in crad"),
        ("```sizes", "```size"),
        ("```fits", "```fit"),
        ("mat      on panel 1", "mta      on panel 1"),
        ("stack   = 120 x 80 x 20 mm", "stack   : 120 x 80 x 20 mm"),
    ],
)
def test_what_stands_on_a_refused_line_is_not_told_again(right: str, wrong: str) -> None:
    assert right in SLIDING_BOX
    found = compiled(SLIDING_BOX.replace(right, wrong, 1))[1]
    assert len(found) == 1, [(f.code, f.message) for f in found]
