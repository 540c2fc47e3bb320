"""Layers that are round, pointed or behind a window, and rooms that are no plain tray.

The expected figures are worked out by hand from the patterns below.
"""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text, numbers

ROUND = """
```piece disc, in card
outline  circle, 60 mm across
```

```piece sun, in patterned paper
mat      on disc, 4 mm border
glue     along left and right and top and bottom, {wide} wide, on back face
```

```step
glue     sun to disc
```
"""


def test_a_round_mat_has_an_even_border_and_glue_that_stays_on_it() -> None:
    """26 mm in radius on 30 mm; a strip along its left is a segment of the circle."""
    compiled = compile_text(ROUND.format(wide="5 mm"))
    assert codes(compiled) == []
    assert numbers(compiled, "border-uneven")["greatest_mm"] == pytest.approx(4.0, abs=0.01)
    assert numbers(compiled, "glue-leaves-panel")["outside_mm2"] == 0.0


def test_what_is_said_of_four_strips_is_said_once() -> None:
    compiled = compile_text(ROUND.format(wide="3 mm"))
    assert codes(compiled) == ["glue-too-narrow"]
    assert compiled.diagnostics[0].notes == ("The same is true of glue 2, glue 3 and glue 4.",)


STAR = """
```piece card, in card
outline  rectangle, 80 x 70 mm
{window}
```

```piece star, in patterned paper
outline  star, 5 points, 50 mm across
```

```step
{how}
```
"""


def test_the_edges_of_a_star_are_no_sides() -> None:
    """Laid in the middle it has no border at the left and another at the right."""
    compiled = compile_text(STAR.format(window="", how="glue star to card"))
    assert "border-uneven" not in codes(compiled)


PANE = """
```piece card, in card
outline  rectangle, 100 x 80 mm
window   circle, 10 mm across, 3 times, evenly, along 20 mm below top, called eye
```

```piece pane, in tracing paper
outline  rectangle, 90 x 20 mm
```

```fits
pane covers each eye with at least 4 mm to spare
```

```step
turn     over card
tape     pane behind each eye of card
```
"""


def test_a_pane_is_taped_once_behind_a_row_of_windows_and_shows_no_border() -> None:
    """10 mm from the card's top and 50 mm from its bottom: nobody sees that."""
    compiled = compile_text(PANE)
    assert codes(compiled) == []


BOX = """
```piece box, in card
form     gable box, inside = 80 x 50 x 40 mm, rise = 20 mm, handle = 32 mm
```

```sizes
packet = 70 x {down} x 30 mm
```

```fits
packet goes into box with at least 1 mm to spare
```

```step
score    box
turn     over box
fold     each wall of box
fold     each tab of box
glue     each tab of box
fold     front handle and back handle of box
fold     front roof and back roof of box
fold     catch of box
```
"""


@pytest.mark.parametrize(
    ("down", "expected"), [("49 mm", []), ("49.5 mm", ["does-not-go-in"]), ("30 mm", [])]
)
def test_under_a_gable_roof_all_of_the_floor_is_free(down: str, expected: list[str]) -> None:
    """The handles stand over the middle of the floor, above the eaves."""
    assert codes(compile_text(BOX.format(down=down))) == expected


BAG = """
```piece bag, in cover 65
form     gift bag, wide = 90 mm, thick = 40 mm, high = 150 mm
```

```sizes
bulbs = {size}
```

```fits
bulbs goes into bag with at least 1 mm to spare
```

```step
score    bag
turn     over bag
fold     each half of bag
fold     back and seam of bag
glue     seam of bag
fold     each dust flap of bag
fold     front flap of bag
fold     back flap of bag
glue     foot glue of bag to front flap of bag
```
"""


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ("80 x 120 x 39 mm", []),
        ("84 x 120 x 39 mm", ["does-not-go-in"]),  # each gusset leans in by 20 mm * sin(8°)
        ("80 x 120 x 39.5 mm", ["does-not-go-in"]),  # the seam takes a caliper, the crease a hair
    ],
)
def test_a_bag_is_as_deep_as_its_gussets(size: str, expected: list[str]) -> None:
    assert codes(compile_text(BAG.format(size=size))) == expected


def test_the_room_of_a_bag() -> None:
    compiled = compile_text(BAG.format(size="80 x 120 x 30 mm"))
    room = numbers(compiled, "does-not-go-in")
    lean = 20.0 * 0.13917310096  # the sine of 8 degrees
    assert room["across_free_mm"] == pytest.approx(90.0 - 2 * lean, abs=0.01)
    assert room["deep_free_mm"] == pytest.approx(40.0 * 0.99026806874 - 0.24, abs=0.01)


EYES = """
```piece card, in card
outline  rectangle, 100 x 40 mm
window   rectangle, 20 x 20 mm, at 40 mm right of middle of left, called left eye
window   rectangle, 20 x 20 mm, at 61 mm right of middle of left, called right eye
```

```step
lay      card
```
"""


def test_windows_that_are_too_near_are_told_by_their_names() -> None:
    (finding,) = compile_text(EYES).diagnostics
    assert "is left between left eye and right eye" in finding.message


PILLOW = """
```piece pillow, in card
form   pillow box, wide = 80 mm, long = 140 mm
```

```piece belt, in paper
band   down, around pillow when closed, 30 mm wide, 15 mm overlap, 1 mm ease
```

```step
score   pillow
turn    over pillow
{seam}
glue    seam of pillow
fold    front of pillow
```

```step
{ends}
score   belt
wrap    belt around pillow
glue    overlap of belt
```
"""
ENDS = "fold    left front end and right front end of pillow\nturn    over pillow\n"
ENDS += "fold    left back end and right back end of pillow"


def test_a_band_round_what_is_pressed_in_is_refused_in_few_words() -> None:
    said = PILLOW.format(seam="fold    seam of pillow", ends=ENDS)
    (finding,) = compile_text(said).diagnostics
    assert finding.code == "not-closed"
    assert finding.message.endswith("left back end and right back end of pillow are not folded")
    assert "before they are pressed" in finding.notes[0]


def test_a_tab_that_was_not_folded_is_told_so() -> None:
    found = compile_text(PILLOW.format(seam="", ends="")).diagnostics
    missed = next(d for d in found if d.code == "tab-misses")
    assert missed.notes == ("No step has folded seam: ‘fold seam of pillow’.",)
