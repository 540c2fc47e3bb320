"""Patterns on their sheets, for tests of what is written for them."""

from __future__ import annotations

from functools import cache
from pathlib import Path as FilePath

from msgspec.structs import replace

from publisher.cutfiles import WRITERS, CutOptions, sheet_lines
from publisher.geometry.booleans import region_difference
from publisher.geometry.path import Arc, Line, Path, Region, circle, polygon
from publisher.layout import Sheet, lay_out
from publisher.model.types import Opening, Pattern, Piece, Score
from publisher.trade import FILES, Trade, read_trade
from tests.handmade import BOX_FILE, CARD, at, envelope_pattern, sliding_box_pattern

SHARED = FilePath(__file__).parents[1] / "shared"


@cache
def trade() -> Trade:
    found, wrong = read_trade({n: (SHARED / n).read_text(encoding="utf-8") for n in FILES})
    assert wrong == ()
    return found


def window_card() -> Piece:
    """A wide card with a round window, two slits (one curved) and curved scores; two copies.

    280 across, so that it must lie turned on A4. The curved score is an arc of radius 50 over
    80, sagitta 20, as on a pillow's end.
    """
    span = at(BOX_FILE, 90)
    sheet = Region(polygon([(0.0, 0.0), (280.0, 0.0), (280.0, 90.0), (0.0, 90.0)]))
    cutters = [Region(circle((60.0, 45.0), 21.5)), Region(circle((140.0, 0.0), 10.0))]
    (outline,) = region_difference(sheet, *cutters)
    slits = (
        Path((Line((200.0, 20.0), (200.0, 70.0)),), False),
        Path((Arc((220.0, 60.0), (260.0, 60.0), (240.0, 60.0), clockwise=True),), False),
    )
    arc = Path((Arc((100.0, 60.0), (180.0, 60.0), (140.0, 90.0), clockwise=True),), False)
    straight = Path((Line((100.0, 0.0), (100.0, 90.0)),), False)
    base = sliding_box_pattern().pieces[2]
    return replace(
        base,
        name="window card",
        stock=CARD,
        copies=2,
        outline=outline,
        scores=(
            Score("bow", arc, "valley", None, span),
            Score("line", straight, "mountain", None, span),
        ),
        openings=tuple(
            Opening(f"slit {i + 1}", "slit", "line", p, None, 50.0, 0.0, span)
            for i, p in enumerate(slits)
        ),
        derived=None,
    )


def window_pattern() -> Pattern:
    return replace(sliding_box_pattern(), name="window-card", pieces=(window_card(),))


def laid(pattern: Pattern) -> tuple[Pattern, tuple[Sheet, ...]]:
    sheets, found = lay_out(pattern, trade())
    assert found == []
    return pattern, sheets


def all_laid() -> list[tuple[Pattern, tuple[Sheet, ...]]]:
    return [laid(p) for p in (sliding_box_pattern(), envelope_pattern(), window_pattern())]


def written(
    pattern: Pattern, sheet: Sheet, file_format: str, options: CutOptions | None = None
) -> bytes:
    """One sheet in one format."""
    return WRITERS[file_format](sheet_lines(pattern, sheet, options, trade()))
