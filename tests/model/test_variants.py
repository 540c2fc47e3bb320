"""Variants of whole patterns: each is checked, one can be built, findings say which."""

from __future__ import annotations

from publisher.bundle import folder_name
from publisher.diagnostics import Diagnostic
from publisher.language import parse
from publisher.language.variants import variant_named
from publisher.pipeline import Outcome, check_text
from publisher.source import read_document
from tests.compiled import HEAD, compile_text, workshop

TRAY = """
```sizes
stack = 80 x 60 x 18 mm                   "what it holds"
room  = 3 mm, from 2 mm to 9 mm
deep  = 20 mm, or 15 mm when room is over 5 mm
variant US A2: stack = 111 x 146 x 20 mm, room = 4 mm
variant loose: room = {loose}
```

```piece tray, in card
panel    base, (width of stack + room) x (height of stack + room)
panel    front wall, on bottom of base, deep deep, mountain by 90 degrees
panel    back wall, on top of base, deep deep, mountain by 90 degrees
panel    left wall, on left of base, deep deep, mountain by 90 degrees
panel    right wall, on right of base, deep deep, mountain by 90 degrees
```

```fits
stack goes into tray with 1 mm to 6 mm to spare
```

The base is {width of base of tray} wide.

```step
score    tray
turn     over tray
fold     each wall of tray
```
"""


def tray(loose: str = "5 mm") -> str:
    return TRAY.replace("{loose}", loose)


def compile_as(body: str, variant: str) -> Outcome:
    text = HEAD.replace("{units}", "mm") + body
    trade = workshop().trade
    return check_text(text.encode(), "content/trial/pattern.md", "trial", trade, variant=variant)


def test_each_variant_is_looked_at() -> None:
    outcome = compile_text(tray())
    assert outcome.diagnostics == ()
    assert outcome.variants == ("US A2", "loose")
    pattern = outcome.pattern
    assert pattern is not None
    assert pattern.variant == ""
    assert pattern.meta.title == "Trial piece"
    assert pattern.piece("tray").panel("base").width_mm == 83.0


def test_a_finding_says_which_variant() -> None:
    """With 9 mm of room the walls are 15 mm high, and the stack 18."""
    (finding,) = compile_text(tray("9 mm")).diagnostics
    assert finding.code == "does-not-go-in"
    assert finding.message.startswith("variant ‘loose’: ")


def test_a_variant_keeps_to_the_ranges() -> None:
    outcome = compile_text(tray("12 mm"))
    first = outcome.diagnostics[0]
    assert first.code == "out-of-range"
    assert first.message.startswith("variant ‘loose’: ‘room’ is 12 mm, above its own range")
    line = first.places[0].span.line
    assert outcome.sources[first.places[0].span.file].splitlines()[line - 1].startswith("variant")


def test_one_variant_is_built() -> None:
    outcome = compile_as(tray(), "us-a2")
    assert outcome.diagnostics == ()
    pattern = outcome.pattern
    assert pattern is not None
    assert (pattern.variant, pattern.meta.title) == ("US A2", "Trial piece, US A2")
    assert pattern.piece("tray").panel("base").width_mm == 115.0
    assert pattern.piece("tray").panel("base").height_mm == 150.0
    assert folder_name(pattern) == "trial-1.0.0-us-a2"
    assert folder_name(pattern, "A4 maker") == "trial-1.0.0-us-a2-a4-maker"
    said = "".join(run.text for block in pattern.body for run in block.runs)
    assert "115 mm" in said


def test_what_a_variant_does_not_set_follows() -> None:
    """``deep`` is 15 mm when room is over 5 mm, so with 6 mm the walls are lower."""
    pattern = compile_as(tray("6 mm"), "loose").pattern
    assert pattern is not None
    assert pattern.piece("tray").panel("front wall").height_mm == 15.0


def test_the_choice_stands_whatever_the_condition_says() -> None:
    body = tray("6 mm").replace("room = 6 mm", "room = 6 mm, deep = 19 mm")
    pattern = compile_as(body, "loose").pattern
    assert pattern is not None
    assert pattern.piece("tray").panel("front wall").height_mm == 19.0


def named(name: str) -> Diagnostic:
    text = HEAD.replace("{units}", "mm") + tray()
    document, _ = read_document(text, "content/trial/pattern.md")
    assert document is not None
    found = variant_named(parse(document)[0], name)
    assert isinstance(found, Diagnostic)
    return found


def test_a_misspelt_variant_gets_the_nearest() -> None:
    finding = named("lose")
    assert finding.code == "unknown-variant"
    assert finding.message == "there is no variant ‘lose’. Nearest: ‘loose’"
    assert [w.text for w in finding.ways_out] == ["write ‘loose’"]
    assert finding.places[0].span.line == 18
    assert named("giant").notes == ("There is us a2, loose.",)


def test_names_given_twice() -> None:
    body = """
```sizes
deep = 3 mm
variant mini: deep = 2 mm, deep = 1 mm
variant Mini: deep = 1 mm
```
"""
    found = compile_text(body).diagnostics
    assert [f.message for f in found] == [
        "‘deep’ is already set in ‘mini’",
        "‘mini’ is already a variant",
    ]


def test_what_cannot_be_read_is_told_once() -> None:
    body = tray().replace("deep deep, mountain", "deep, moutain", 1)
    found = compile_text(body).diagnostics
    assert len({(f.code, f.places[0].span) for f in found}) == len(found)
    assert not any(f.message.startswith("variant") for f in found)


def test_a_fault_of_all_is_told_once() -> None:
    body = tray().replace("1 mm to 6 mm to spare", "20 mm to 26 mm to spare")
    (finding,) = compile_text(body).diagnostics
    assert not finding.message.startswith("variant")
