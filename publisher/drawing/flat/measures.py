"""Which lengths of a piece its drawing shows, each once, and in which order they choose.

Lengths that print alike along the same direction are one measure with several spots where it
may be shown.
"""

from __future__ import annotations

from publisher.drawing.flat.lengths import Across, Measure, extent, printed
from publisher.drawing.flat.panel_measures import far_edges, overall, panels, slanted_tabs, tabs
from publisher.drawing.flat.part_measures import (
    bevels,
    borders,
    glue,
    islands,
    marks,
    openings,
    radii,
    slanted_glue,
    square_windows,
)
from publisher.drawing.flat.places import places
from publisher.model.types import Pattern, Piece

_TURNS = (
    "edge",
    "panel",
    "tab",
    "place",
    "window",
    "notch",
    "slit",
    "perforation",
    "island",
    "bridge",
    "radius",
    "corner",
    "mark",
    "glue",
    "border",
    "overall",
)


def measures_of(pattern: Pattern, piece: Piece) -> tuple[Measure, ...]:
    """Every measure of the piece."""
    parts = (overall, panels, tabs, far_edges, glue, square_windows, places)
    across = _merged([measure for part in parts for measure in part(piece)])
    across += _merged(list(borders(pattern, piece)))
    return (
        *across,
        *slanted_tabs(piece),
        *slanted_glue(piece),
        *openings(piece),
        *islands(piece),
        *radii(piece),
        *bevels(piece),
        *marks(piece),
    )


def in_turn(measures: tuple[Measure, ...]) -> list[Measure]:
    """The measures in the order in which they choose their places.

    Outer edges that are shorter than their panels first, as they lie within them. Then chains
    of panels, the ones within others before the others, and the long ones before the short,
    so that a short one has its neighbours to go by. Then small parts; the overall size last.
    """
    panels = [m for m in measures if isinstance(m, Across) and m.what == "panel"]

    def holds(measure: Across) -> int:
        low, high = extent(measure.spots[0], measure.axis)
        ends = [extent(m.spots[0], m.axis) for m in panels if m.axis == measure.axis]
        return sum(1 for a, b in ends if low <= a and b <= high and b - a < high - low)

    def turn(measure: Measure) -> tuple[int, int, float]:
        place = _TURNS.index(measure.what)
        if isinstance(measure, Across) and measure.what == "panel":
            return (place, holds(measure), -measure.mm)
        return (place, 0, 0.0)

    return sorted(measures, key=turn)


def _merged(found: list[Across]) -> list[Across]:
    """Equal lengths of one kind and direction become one; the overall size outranks panels."""
    kept: dict[tuple[str, str, str], Across] = {}
    for measure in found:
        group = "size" if measure.what in ("overall", "panel") else measure.what
        # A border is the same all round, whichever way it is measured.
        axis = "" if measure.what == "border" else measure.axis
        key = (group, axis, printed(measure.mm))
        first = kept.get(key)
        if first is None:
            kept[key] = measure
        elif first.what == measure.what and first.axis == measure.axis:
            spots = (*first.spots, *(s for s in measure.spots if s not in first.spots))
            kept[key] = Across(first.what, first.name, first.axis, first.mm, spots)
    return list(kept.values())
