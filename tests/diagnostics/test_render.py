"""Findings as a person and as a program reads them."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.diagnostics.render import render


def span_of(text: str, part: str, file: str = "content/wallet/pattern.md", nth: int = 0) -> Span:
    start = -1
    for _ in range(nth + 1):
        start = text.index(part, start + 1)
    before = text[:start].replace("\r\n", "\n").replace("\r", "\n")
    line = before.count("\n") + 1
    last_break = max(text.rfind("\n", 0, start), text.rfind("\r", 0, start))
    return Span(file, start, start + len(part), line, start - last_break)


WALLET = "one\ntwo\nglue     along left and right of pocket, 12 mm wide, on back face\n"


def finding(span: Span, label: str = "") -> Diagnostic:
    return Diagnostic(
        code="pocket-too-tight",
        severity="error",
        message="the plan does not go into the pocket of body",
        places=(Place(span, label),),
        numbers=(("free_mm", 116.0), ("wanted_mm", 123.0)),
        notes=("the plan is 120 mm wide; 116 mm is free between the glue lines",),
        ways_out=(
            WayOut("glue lines at most 8.5 mm wide", Edit(span, "8.5 mm wide")),
            WayOut("a body at least 147 mm wide"),
        ),
    )


def test_the_full_form_underlines_the_words() -> None:
    said = finding(span_of(WALLET, "12 mm wide"), "takes 24 mm of the 140 mm")
    assert render([said], {"content/wallet/pattern.md": WALLET}, "full") == (
        "error[pocket-too-tight]: the plan does not go into the pocket of body\n"
        "  content/wallet/pattern.md:3:42\n"
        "    3 | glue     along left and right of pocket, 12 mm wide, on back face\n"
        "      |                                          ^^^^^^^^^^ takes 24 mm of the 140 mm\n"
        "  the plan is 120 mm wide; 116 mm is free between the glue lines\n"
        "  ways out: glue lines at most 8.5 mm wide, or a body at least 147 mm wide\n"
    )


def test_the_concise_form_is_one_line() -> None:
    said = finding(span_of(WALLET, "12 mm wide"))
    assert render([said], {}, "concise") == (
        "content/wallet/pattern.md:3:42: error[pocket-too-tight]: "
        "the plan does not go into the pocket of body\n"
    )


def test_the_json_form_holds_everything() -> None:
    said = finding(span_of(WALLET, "12 mm wide"), "takes 24 mm")
    (read,) = json.loads(render([said], {}, "json"))
    assert read["code"] == "pocket-too-tight"
    assert read["severity"] == "error"
    assert read["places"][0] == {
        "file": "content/wallet/pattern.md",
        "start": WALLET.index("12 mm wide"),
        "end": WALLET.index("12 mm wide") + 10,
        "line": 3,
        "column": 42,
        "label": "takes 24 mm",
    }
    assert read["numbers"] == {"free_mm": 116.0, "wanted_mm": 123.0}
    assert read["ways_out"][0]["edit"]["text"] == "8.5 mm wide"
    assert read["ways_out"][1]["edit"] is None
    assert render([], {}, "json") == "[]\n"


def test_second_places_and_other_files() -> None:
    shown = "a = 4 mm\nb = 5 mm\n"
    d = Diagnostic(
        "named-twice",
        "error",
        "two sizes are called a",
        (
            Place(span_of(shown, "b", "x.md"), "again here"),
            Place(span_of(shown, "a", "x.md"), "first here"),
        ),
    )
    assert render([d], {"x.md": shown}, "full") == (
        "error[named-twice]: two sizes are called a\n"
        "  x.md:2:1\n"
        "    2 | b = 5 mm\n"
        "      | ^ again here\n"
        "  and x.md:1:1\n"
        "    1 | a = 4 mm\n"
        "      | ^ first here\n"
    )


def underlined(text: str, part: str) -> tuple[str, str]:
    d = Diagnostic("x", "error", "m", (Place(span_of(text, part, "f")),))
    lines = render([d], {"f": text}, "full").split("\n")
    return lines[2], lines[3]


def test_tabs_take_their_columns() -> None:
    line, mark = underlined("panel\tbase, wdith\n", "wdith")
    assert line.index("wdith") == mark.index("^")
    assert "\t" not in line
    line, mark = underlined("a\tb = 5\tmm\n", "5\tmm")
    assert line.index("5") == mark.index("^")
    assert mark.count("^") == line.index("mm") + 2 - line.index("5")


def test_wide_characters_take_two_columns_and_marks_none() -> None:
    _, mark = underlined("紙箱 = wdith\n", "wdith")
    assert mark.index("^") == len("    1 | ") + 2 * 2 + 3
    _, mark = underlined("cafe\u0301 = wdith\n", "wdith")
    assert mark.index("^") == len("    1 | ") + 4 + 3
    _, mark = underlined("x = 紙箱\n", "紙箱")
    assert mark.count("^") == 4


def test_line_ends_of_every_kind() -> None:
    for end in ("\n", "\r\n", "\r"):
        line, mark = underlined(f"one{end}two = 5{end}three{end}", "5")
        assert line == "    2 | two = 5"
        assert mark == "      |       ^"


def test_a_span_over_several_lines_says_so() -> None:
    text = "form tray,\n  inside = box\n"
    _, mark = underlined(text, "tray,\n  inside")
    assert mark.endswith("^^^^^ and the lines after it")


def test_the_end_of_the_text_can_be_underlined() -> None:
    text = "a = 4 mm,"
    d = Diagnostic("x", "error", "m", (Place(Span("f", len(text), len(text), 1, 10)),))
    assert render([d], {"f": text}, "full").split("\n")[3] == "      |          ^"


def test_a_long_line_is_shown_round_the_place() -> None:
    text = "x" * 5000 + " wdith " + "y" * 5000
    line, mark = underlined(text, "wdith")
    assert len(line) < 140
    assert line.index("wdith") == mark.index("^")
    assert line.count("…") == 2


def test_control_characters_cannot_move_the_cursor() -> None:
    text = "a\x1b[2Jb\u202ec = wdith\n"
    line, mark = underlined(text, "wdith")
    assert "\x1b" not in line
    assert "\u202e" not in line
    assert line.index("wdith") == mark.index("^")
    d = Diagnostic("x", "error", "odd \x1b[1m name", ())
    assert "\x1b" not in render([d], {}, "full") + render([d], {}, "concise")


def test_reading_order_and_a_place_outside_the_text() -> None:
    text = "one\ntwo\n"
    late = Diagnostic("b", "warning", "late", (Place(span_of(text, "two", "f")),))
    early = Diagnostic("z", "error", "early", (Place(span_of(text, "one", "f")),))
    lost = Diagnostic("a", "error", "lost", (Place(Span("f", 90, 95, 40, 3), "there"),))
    placeless = Diagnostic("n", "error", "nowhere", ())
    said = render([lost, late, early, placeless], {"f": text}, "concise").split("\n")
    assert [s.split(": ")[-1] for s in said[:-1]] == ["nowhere", "early", "late", "lost"]
    assert "there" in render([lost], {"f": text}, "full")


@given(
    st.text(max_size=60),
    st.integers(0, 80),
    st.integers(0, 80),
    st.integers(1, 9),
    st.integers(1, 90),
)
def test_no_place_and_no_text_breaks_the_rendering(
    text: str, start: int, length: int, line: int, column: int
) -> None:
    d = finding(Span("f", start, start + length, line, column), text)
    for form in ("full", "concise", "json"):
        assert render([d], {"f": text}, form).endswith("\n")
