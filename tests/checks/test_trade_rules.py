"""The trade's checks on both sides of their edges; the figures are from ``practice.toml``."""

from __future__ import annotations

import pytest

from publisher.checks.context import Context
from publisher.checks.rules import grain
from tests.compiled import codes, compile_text, numbers

LABEL = "outline  rectangle, 80 x 60 mm\n"
FOLDED = "panels   down, 80 mm wide, mountain: upper = 50 mm, lower = 50 mm\n"


def found(lines: str, after: str = "", stock: str = "card") -> list[str]:
    step = "" if "```step" in after else "```step\nlay card\n```\n"
    return codes(compile_text(f"```piece card, in {stock}\n{lines}\n```\n{after}\n{step}"))


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        # Bridges: 2 mm at the least, here on both sides of a window in 80 mm.
        (LABEL + "window rectangle, 76 x 30 mm, at middle", []),
        (LABEL + "window rectangle, 76.1 x 30 mm, at middle", ["bridge-too-narrow"]),
        # Slivers: strips narrower than 0.5 mm; a window up to 0.4 mm of the edge is both.
        (
            LABEL + "window rectangle, 79.2 x 30 mm, at middle",
            ["sliver", "bridge-too-narrow"],
        ),
        (LABEL + "window rectangle, 78.9 x 30 mm, at middle", ["bridge-too-narrow"]),
        # Holes: 1.5 mm across.
        (LABEL + "window circle, 1.5 mm across, at middle", []),
        (LABEL + "window circle, 1.4 mm across, at middle", ["hole-too-small"]),
        # Cuts 1.5 mm off a score, on it, and almost on it.
        (FOLDED + "slit 30 mm long, across, at 1.5 mm below middle of top of lower", []),
        (
            FOLDED + "slit 30 mm long, across, at 1.4 mm below middle of top of lower",
            ["cut-too-near-score"],
        ),
        (
            FOLDED + "slit 30 mm long, across, at 0.19 mm below middle of top of lower",
            ["lines-almost-same"],
        ),
        (FOLDED + "slit 30 mm long, down, at 15 mm below middle of top of lower", []),
        # Slits that close a ring, and slits that leave it open.
        (
            LABEL + "slit from (20 mm, 20 mm) to (60 mm, 20 mm)\n"
            "slit from (60 mm, 20 mm) to (40 mm, 45 mm)\n"
            "slit from (40 mm, 45 mm) to (20 mm, 20 mm)",
            ["part-falls-out"],
        ),
        (
            LABEL + "slit from (20 mm, 20 mm) to (60 mm, 20 mm)\n"
            "slit from (60 mm, 20 mm) to (40 mm, 45 mm)\n"
            "slit from (40 mm, 45 mm) to (22 mm, 22.5 mm)",
            [],
        ),
        # Scores side by side: five thicknesses of 0.4 mm card.
        (
            "panels down, 60 mm wide, mountain by 90 degrees: "
            "upper = 40 mm, spine = 2 mm, lower = 40 mm",
            [],
        ),
        (
            "panels down, 60 mm wide, mountain by 90 degrees: "
            "upper = 40 mm, spine = 1.9 mm, lower = 40 mm",
            ["scores-too-near"],
        ),
        # A tab of 8 mm.
        (
            "panel base, 80 x 50 mm\n"
            "panel wall, on top of base, 20 mm deep, mountain by 90 degrees\n"
            "tab on left of wall, 8 mm deep, mountain by 90 degrees",
            [],
        ),
        (
            "panel base, 80 x 50 mm\n"
            "panel wall, on top of base, 20 mm deep, mountain by 90 degrees\n"
            "tab on left of wall, 7.9 mm deep, mountain by 90 degrees",
            ["tab-too-narrow"],
        ),
    ],
)
def test_what_is_cut_and_scored(lines: str, expected: list[str]) -> None:
    assert found(lines) == expected


def flap(deep: str) -> list[str]:
    return found(
        "panel back, 80 x 50 mm\n"
        f"panel flap, on top of back, {deep} deep, mountain\n"
        "panel pocket, on bottom of back, 40 mm deep, mountain"
    )


def test_a_flap_as_long_as_what_it_lies_on() -> None:
    assert flap("50 mm") == []
    assert flap("50.2 mm") == []  # within the tolerance of a size
    assert flap("50.3 mm") == ["flap-sticks-out"]


BOOK = """
```sizes
notes = 70 x 45 x {thick} mm
```

```piece card, in card
panel    front, 80 x 50 mm
panel    spine, on bottom of front, {spine} deep, mountain by 90 degrees
panel    back, on bottom of spine, 50 mm deep, mountain by 90 degrees
panel    pocket, on left of back, 75 mm deep, mountain
```

```fits
notes goes into pocket of card with at least 1 mm to spare
```

```step
lay card
```
"""


@pytest.mark.parametrize(
    ("thick", "spine", "expected"),
    [
        # The pocket, 0.4, and 2 of notes between the covers.
        ("2", "2.4 mm", []),
        ("2", "2.3 mm", ["spine-too-narrow"]),
        ("2.1", "2.4 mm", ["spine-too-narrow"]),
    ],
)
def test_a_spine_for_papers_and_contents(thick: str, spine: str, expected: list[str]) -> None:
    text = BOOK.replace("{thick}", thick).replace("{spine}", spine)
    assert codes(compile_text(text)) == expected


def test_the_walls_of_a_tray_are_no_spine() -> None:
    lines = (
        "panel base, 80 x 5 mm\n"
        "panel front wall, on bottom of base, 20 mm deep, mountain by 90 degrees\n"
        "panel back wall, on top of base, 20 mm deep, mountain by 90 degrees\n"
    )
    assert "spine-too-narrow" not in found(lines)


@pytest.mark.parametrize(
    ("stock", "steps", "expected"),
    [
        ("card", "fold lower of card", ["fold-not-scored"]),
        ("card", "score card\nturn over card\nfold lower of card", []),
        ("paper", "fold lower of card", []),
    ],
)
def test_heavy_paper_is_scored(stock: str, steps: str, expected: list[str]) -> None:
    lines = FOLDED if "turn" in steps else FOLDED.replace("mountain", "valley")
    assert found(lines, f"```step\n{steps}\n```\n", stock) == expected


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        # A4 less 5 mm all round is 200 x 287, the grain along its long side. Folds run across:
        # turned by a quarter, the piece's height must fit in 200.
        ("150 mm wide, mountain: upper = 100 mm, lower = 100 mm", "pass"),
        ("150 mm wide, mountain: upper = 100 mm, lower = 100.1 mm", "warning"),
        # Larger than the sheet either way: that is said elsewhere.
        ("290 mm wide, mountain: upper = 110 mm, lower = 110 mm", "pass"),
    ],
)
def test_folds_along_the_grain(size: str, expected: str) -> None:
    outcome = compile_text(f"```piece card, in card\npanels down, {size}\n```\n")
    assert outcome.pattern is not None
    assert outcome.story is not None
    from tests.compiled import workshop

    (result,) = grain.check(Context(outcome.pattern, outcome.story, workshop().trade))
    assert result.result == expected


MAT = """
```piece folder, in card
panels   down, 60 mm wide, {bend}: front = 40 mm, back = 40 mm
glue     along {where}, 8 mm wide, on front face
```

```piece mat, in patterned paper
mat      on back of folder, 4 mm border
```

```step
score    folder
glue     mat to back of folder
{turn}fold     back of folder
```
"""


@pytest.mark.parametrize(
    ("bend", "turn", "where", "expected"),
    [
        ("mountain", "turn over folder\n", "left of front", []),
        ("mountain", "turn over folder\n", "left of back", ["layer-over-glue"]),
        ("valley", "", "left of front", ["layer-hidden"]),
    ],
)
def test_layers_are_seen_and_lie_over_no_glue(
    bend: str, turn: str, where: str, expected: list[str]
) -> None:
    text = MAT.replace("{bend}", bend).replace("{turn}", turn).replace("{where}", where)
    # No step glues what lies along the edge: it is there for the layers alone.
    assert [c for c in codes(compile_text(text)) if c != "glue-not-used"] == expected


def test_a_border_as_wide_as_the_glue_keeps_off_it() -> None:
    text = MAT.replace("{bend}", "mountain").replace("{turn}", "turn over folder\n")
    text = text.replace("{where}", "left of back").replace("8 mm wide", "4 mm wide")
    assert codes(compile_text(text)) == []


CARD = "```piece card, in card\noutline rectangle, 60 x 40 mm\n```\n```step\nlay card\n```\n"


@pytest.mark.parametrize(
    ("prose", "expected"),
    [
        ("Write a name on the top, then wait.", ["top-of-what"]),
        ("Turn it until the bottom and the label meet.", ["top-of-what"]),
        ("Write a name at the top of the card.", []),
        ("The bottom edge stays bare.", []),
        ("Its first panel is the top of the box, its third the bottom.", []),
        ("![A card on a table](card.jpg)", []),
        ("![](card.jpg)", ["picture-without-words"]),
    ],
)
def test_what_the_text_says(prose: str, expected: list[str]) -> None:
    assert codes(compile_text(f"{prose}\n\n{CARD}")) == expected


def test_figures_stand_behind_every_verdict() -> None:
    outcome = compile_text(
        f"```piece card, in card\n{LABEL}window circle, 20 mm across, at middle\n```\n"
    )
    assert numbers(outcome, "bridge-too-narrow") == pytest.approx(
        {"width_mm": 20, "least_mm": 2}, abs=0.01
    )
