"""A band round a folder with a spine: the folder lies on its larger panel, and the band goes round
it as it was measured, whichever panel the designer began with."""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text

ORDERS = {
    "back": (
        "panel  back, 90 x 60 mm\n"
        "panel  spine, on right of back, 8 mm deep, mountain by 90 degrees\n"
        "panel  front, on right of spine, 90 mm deep, mountain by 90 degrees",
        "fold   spine of folder\nfold   front of folder",
    ),
    "front": (
        "panel  front, 90 x 60 mm\n"
        "panel  spine, on left of front, 8 mm deep, mountain by 90 degrees\n"
        "panel  back, on left of spine, 90 mm deep, mountain by 90 degrees",
        "fold   spine of folder\nfold   back of folder",
    ),
    "spine": (
        "panel  spine, 8 x 60 mm\n"
        "panel  back, on left of spine, 90 mm deep, mountain by 90 degrees\n"
        "panel  front, on right of spine, 90 mm deep, mountain by 90 degrees",
        "fold   back of folder\nfold   front of folder",
    ),
}


def folder(first: str, direction: str, turn: str = "") -> str:
    panels, folds = ORDERS[first]
    return f"""# Folder

```piece folder, in card
{panels}
```

```piece band, in card
band   {direction}, around folder when closed, 20 mm wide, 8 mm overlap, 1 mm ease
```

```step
score  folder
turn   over folder
{folds}
{turn}
score  band
turn   over band
wrap   band around folder
glue   overlap of band
```
"""


@pytest.mark.parametrize("turn", ["", "turn   over folder", "turn   over folder by 90 degrees"])
@pytest.mark.parametrize(
    ("first", "direction"),
    [("back", "down"), ("back", "across"), ("front", "down"), ("front", "across"),
     ("spine", "across")],
)  # fmt: skip
def test_a_band_goes_round_a_folder(first: str, direction: str, turn: str) -> None:
    outcome = compile_text(folder(first, direction, turn))
    assert codes(outcome) == []
    assert outcome.story is not None
    for frame in outcome.story.frames:
        assert frame.residual_mm < 1e-6


@pytest.mark.parametrize("first", ["back", "front"])
def test_a_folder_lies_on_its_panel_and_not_on_its_spine(first: str) -> None:
    outcome = compile_text(folder(first, "down"))
    assert outcome.story is not None
    closed = outcome.story.frames[3].after.body("folder-1")
    assert abs(closed.facet_pose("spine").normal[2]) < 1e-9
    assert closed.facet_pose(first).normal[2] == pytest.approx(-1.0)
