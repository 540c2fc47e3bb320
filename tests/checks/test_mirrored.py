"""Which face lies up, and which way round a piece is cut: what fails, what passes, the way out."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from publisher.checks.rules.mirrored import is_own_mirror
from publisher.geometry.path import Region, polygon
from publisher.model.types import Piece
from tests.compiled import codes, compile_text
from tests.handmade import sliding_box_pattern

HIDDEN, MIRRORED = "good-side-hidden", "not-mirrored"
SQUARE = "rectangle, 60 x 40 mm"
WING = "points, at (0 mm, 0 mm) and (60 mm, 0 mm) and (60 mm, 20 mm) and (0 mm, 50 mm)"
BY_BACK = "glue rectangle, 30 x 10 mm, at middle, on back face"


def lined(lining: str, how: str, stock: str = "patterned paper", base: str = "80 x 60 mm") -> str:
    return (
        f"```piece folder, in card\noutline rectangle, {base}\n```\n\n"
        f"```piece lining, in {stock}\noutline {lining}\n```\n\n"
        f"```step\n{how}\n```\n"
    )


@pytest.mark.parametrize(
    ("lining", "how", "stock", "expected"),
    [
        # Behind, by its front: what is printed looks at the card.
        (SQUARE, "glue lining behind folder", "patterned paper", [HIDDEN]),
        (f"{SQUARE}\n{BY_BACK}", "glue lining behind folder", "patterned paper", []),
        (SQUARE, "glue lining to folder", "patterned paper", []),
        # A paper that is alike on both sides may lie as it likes, unless it is drawn on.
        (SQUARE, "glue lining behind folder", "paper", []),
        (
            f"{SQUARE}\ndraw circle, 20 mm across, at middle",
            "glue lining behind folder",
            "paper",
            [HIDDEN],
        ),
    ],
)
def test_the_good_side_is_the_one_that_is_seen(
    lining: str, how: str, stock: str, expected: list[str]
) -> None:
    assert codes(compile_text(lined(lining, how, stock))) == expected


@pytest.mark.parametrize(("across", "expected"), [(8, ["layer-hidden"]), (20, [])])
def test_what_is_behind_a_window_lies_right(across: int, expected: list[str]) -> None:
    """Through a small one hardly anything is seen of it; but that is the side to be seen."""
    text = lined(SQUARE, "glue lining behind folder").replace(
        "80 x 60 mm\n", f"80 x 60 mm\nwindow circle, {across} mm across, at middle\n"
    )
    assert codes(compile_text(text)) == expected


def test_what_is_covered_on_both_sides_is_hidden_and_not_turned() -> None:
    text = lined(SQUARE, "glue lining behind folder\nglue cover behind lining").replace(
        "```step", "```piece cover, in card\noutline rectangle, 80 x 60 mm\n```\n\n```step"
    )
    assert codes(compile_text(text)) == ["layer-hidden"]


@pytest.mark.parametrize(
    ("lining", "way"),
    [
        (SQUARE, "glue lining by its back face"),
        (WING, "mirror the outline of lining, and glue it by its back face"),
    ],
)
def test_the_way_out_mirrors_only_what_needs_it(lining: str, way: str) -> None:
    outcome = compile_text(lined(lining, "glue lining behind folder"))
    (finding,) = outcome.diagnostics
    assert [w.text for w in finding.ways_out] == [way]


PAIR = """
```piece folder, in card
panels   across, 50 mm high, mountain: west = 60 mm, east = 60 mm
trim     points, at (0 mm, 0 mm) and (120 mm, 0 mm) and (120 mm, 50 mm) and (60 mm, 20 mm)
         and (0 mm, 50 mm)
```

{wings}

```step
score    folder
glue     {first} to west of folder
glue     {second} to east of folder
```
"""


def test_a_pair_for_two_hands_is_two_pieces() -> None:
    """The folder is lower at its fold; both of its halves fall towards it."""
    wing = "outline  points, at (0 mm, 0 mm) and (60 mm, 0 mm) and (60 mm, 20 mm) and (0 mm, 50 mm)"
    copies = f"```piece wing, 2 copies, in card\n{wing}\n```"
    pair = f"```piece one, in card\n{wing}\n```\n\n```piece other, in card\n{wing}, mirrored\n```"
    wrong = PAIR.replace("{wings}", copies)
    wrong = wrong.replace("{first}", "wing 1").replace("{second}", "wing 2")
    right = PAIR.replace("{wings}", pair).replace("{first}", "one").replace("{second}", "other")
    assert codes(compile_text(right)) == []
    assert codes(compile_text(wrong)) == [MIRRORED]


def shaped(*points: tuple[float, float]) -> Piece:
    return replace(sliding_box_pattern().pieces[0], outline=Region(polygon(list(points))))


@pytest.mark.parametrize(
    ("points", "own"),
    [
        (((0, 0), (60, 0), (60, 40), (0, 40)), True),
        (((0, 0), (60, 0), (30, 40)), True),
        (((0, 0), (60, 0), (0, 60)), True),  # its axis leans
        (((0, 0), (60, 0), (0, 40)), False),
        (((0, 0), (60, 0), (75, 30), (15, 30)), False),  # a half turn alone brings it back
        (((0, 0), (50, 0), (80, 40), (30, 40)), True),  # a rhombus
    ],
)
def test_what_is_its_own_mirror_image(points: tuple[tuple[float, float], ...], own: bool) -> None:
    assert is_own_mirror(shaped(*points)) == own
