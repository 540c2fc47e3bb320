"""The nearest known word."""

from __future__ import annotations

from publisher.diagnostics import nearest, nearest_phrase


def test_slips_are_found() -> None:
    names = ["pocket", "flap", "tab", "divider length", "back"]
    assert nearest("pokcet", names) == "pocket"
    assert nearest("devider lenght", names) == "divider length"
    assert nearest("Pocket", names) == "pocket"
    assert nearest("tba", ["tab", "top", "lid"]) == "tab"


def test_what_is_unlike_stays_unanswered() -> None:
    assert nearest("sleeve", ["tab", "border"]) is None
    assert nearest("a", []) is None
    assert nearest_phrase("sleeve", ["tab"]) == ""
    assert nearest_phrase("pokcet", ["pocket"]) == " Nearest: ‘pocket’."


def test_the_answer_does_not_depend_on_order() -> None:
    choices = ["side 1", "side 2", "side 3"]
    assert nearest("side", choices) == nearest("side", choices[::-1]) == "side 1"
