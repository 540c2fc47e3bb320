"""What a line on a sheet is for, and how each file format names it. Said once, here."""

from __future__ import annotations

from dataclasses import dataclass

LINE_WIDTH_MM = 0.25


@dataclass(frozen=True, slots=True)
class Role:
    """``name`` ends the ids in SVG; ``layer`` is the DXF layer and the PDF's optional content.

    ``dash_mm`` is drawn, gap, drawn, gap, ... in mm, nothing where the line is whole. A reader
    must be able to tell roles apart without colour: all lines are black.
    """

    name: str
    layer: str
    title: str
    dash_mm: tuple[float, ...]


SCORE_VALLEY = Role("score-valley", "SCORE-VALLEY", "score, valley fold", (3.0, 1.5))
SCORE_MOUNTAIN = Role(
    "score-mountain", "SCORE-MOUNTAIN", "score, mountain fold", (6.0, 1.2, 0.6, 1.2, 0.6, 1.2)
)
CUT = Role("cut", "CUT", "cut through", ())

ROLES = (SCORE_VALLEY, SCORE_MOUNTAIN, CUT)
"""In the order of work: paper is scored while it still lies firm in its sheet."""
