"""What is said of one after another of a series is said once."""

from __future__ import annotations

from publisher.diagnostics import Diagnostic, Place, Span, told_once

_HERE = Span("content/hat/pattern.md", 10, 14, 2, 3)
_THERE = Span("content/hat/pattern.md", 30, 34, 4, 3)


def _says(message: str, span: Span = _HERE) -> Diagnostic:
    return Diagnostic("glue-misses", "error", message, (Place(span),))


def test_one_of_a_series_names_the_others() -> None:
    said = [_says(f"the glue at strip {n} runs off by 2 mm") for n in (3, 1, 2, 4, 5)]
    (one,) = told_once(said)
    assert one.message == "the glue at strip 3 runs off by 2 mm"
    assert one.notes == ("The same is true of strip 1, strip 2, strip 4 and strip 5.",)
    (one,) = told_once(said[1:2] + said[2:3])
    assert one.notes == ("The same is true of strip 2.",)


def test_many_in_a_row_are_named_by_their_ends() -> None:
    (one,) = told_once([_says(f"tab {n} is narrow") for n in range(1, 13)])
    assert one.notes == ("The same is true of tab 2 to tab 12.",)


def test_what_differs_otherwise_is_told_apart() -> None:
    lengths = [_says(f"tab 1 is {n} mm long") for n in (3, 4)]
    places = [_says("tab 1 is narrow"), _says("tab 2 is narrow", _THERE)]
    plain = [_says("the net is open"), _says("the net is open")]
    for said in (lengths, places, plain):
        assert told_once(said) == said
