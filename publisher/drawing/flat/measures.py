"""Which lengths of a piece its drawing shows, each once.

Everything here is in model mm, in the piece's own coordinates. Lengths that print alike along
the same direction are one measure with several spots where it may be shown.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from publisher.drawing.flat.arcs import mouth_of, outline_arcs
from publisher.drawing.flat.board import Axis, Box
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.model.types import Fold, GlueZone, MatOf, Opening, Panel, Pattern, Piece
from publisher.units import kind_for, one

What: TypeAlias = Literal[
    "overall", "panel", "tab", "glue", "border", "notch", "window", "slit", "radius"
]

_NEAR_MM = 1e-6
_TURNS = ("panel", "tab", "window", "notch", "slit", "radius", "glue", "border", "overall")


@dataclass(frozen=True, slots=True)
class Across:
    """A length along x or y, to be shown with a dimension line.

    Each of ``spots`` is a box (x_min, y_min, x_max, y_max) whose extent along ``axis`` is the
    length; one of them is shown.
    """

    what: What
    name: str
    axis: Axis
    mm: float
    spots: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class Anchor:
    """A point that a leader may lead to, and the direction in which it leaves."""

    at: Point
    towards: Point


@dataclass(frozen=True, slots=True)
class Pointed:
    """Lengths told beside a leader: each with the word that says what it is ("wide")."""

    what: What
    name: str
    lengths: tuple[tuple[float, str], ...]
    anchors: tuple[Anchor, ...]


Measure: TypeAlias = Across | Pointed


def printed(mm: float) -> str:
    """What makes two lengths the same to a maker: how they print in both units."""
    kind = kind_for(mm)
    return f"{one(mm, kind=kind, unit='mm')} {one(mm, kind=kind, unit='in')}"


def extent(box: Box, axis: Axis) -> tuple[float, float]:
    return (box[0], box[2]) if axis == "x" else (box[1], box[3])


def measures_of(pattern: Pattern, piece: Piece) -> tuple[Measure, ...]:
    """Every measure of the piece."""
    parts = (_overall, _panels, _tabs, _glue, _square_windows)
    across = _merged([measure for part in parts for measure in part(piece)])
    across += _merged(list(_borders(pattern, piece)))
    return (*across, *_slanted_tabs(piece), *_openings(piece), *_radii(piece))


def in_turn(measures: tuple[Measure, ...]) -> list[Measure]:
    """The measures in the order in which they choose their places.

    Chains of panels first, of these the ones within others first and then the long ones, so
    that a short one has its neighbours to go by; then small parts; the overall size last.
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


# ---------------------------------------------------------------- sizes


def _overall(piece: Piece) -> Iterator[Across]:
    box = piece.bounds
    yield Across("overall", piece.name, "x", box[2] - box[0], (box,))
    yield Across("overall", piece.name, "y", box[3] - box[1], (box,))


def _panels(piece: Piece) -> Iterator[Across]:
    for panel in piece.panels:
        if panel.kind == "panel":
            yield Across("panel", panel.name, "x", panel.width_mm, (panel.bounds,))
            yield Across("panel", panel.name, "y", panel.height_mm, (panel.bounds,))


def _folds_to_tabs(piece: Piece) -> Iterator[tuple[Panel, Fold]]:
    folds = {fold.child: fold for fold in piece.folds}
    for panel in piece.panels:
        if panel.kind == "tab" and panel.name in folds:
            yield panel, folds[panel.name]


def _tabs(piece: Piece) -> Iterator[Across]:
    for tab, fold in _folds_to_tabs(piece):
        (x1, y1), (x2, y2) = fold.start, fold.end
        if abs(y1 - y2) < _NEAR_MM:
            yield Across("tab", tab.name, "y", tab.height_mm, (tab.bounds,))
        elif abs(x1 - x2) < _NEAR_MM:
            yield Across("tab", tab.name, "x", tab.width_mm, (tab.bounds,))


def _slanted_tabs(piece: Piece) -> Iterator[Pointed]:
    """Tabs on a slanted edge: their depth cannot be shown along x or y."""
    found: dict[str, Pointed] = {}
    for tab, fold in _folds_to_tabs(piece):
        dx, dy = fold.end[0] - fold.start[0], fold.end[1] - fold.start[1]
        if min(abs(dx), abs(dy)) < _NEAR_MM:
            continue
        length = math.hypot(dx, dy)
        out = (dy / length, -dx / length)  # the child lies on the left of the fold
        depth = max(
            (x - fold.start[0]) * out[0] + (y - fold.start[1]) * out[1] for x, y in tab.ring
        )
        middle = ((fold.start[0] + fold.end[0]) / 2, (fold.start[1] + fold.end[1]) / 2)
        anchor = Anchor((middle[0] + out[0] * depth, middle[1] + out[1] * depth), out)
        key = printed(depth)
        before = found[key].anchors if key in found else ()
        name = found[key].name if key in found else tab.name
        found[key] = Pointed("tab", name, ((depth, "deep"),), (*before, anchor))
    yield from found.values()


# ---------------------------------------------------------------- glue and borders


def _is_whole_tab(piece: Piece, zone: GlueZone) -> bool:
    """Whether the zone covers a tab, so that the tab's own depth says it all."""
    box = path_bounds(zone.region.outer)
    return any(
        p.kind == "tab"
        and p.name == zone.panel
        and max(abs(a - b) for a, b in zip(box, p.bounds, strict=True)) < 0.05
        for p in piece.panels
    )


def _glue(piece: Piece) -> Iterator[Across]:
    for zone in piece.glue_zones:
        if _is_whole_tab(piece, zone):
            continue
        box = path_bounds(zone.region.outer)
        width, height = box[2] - box[0], box[3] - box[1]
        axis: Axis = "x" if width <= height else "y"
        yield Across("glue", zone.name, axis, min(width, height), (box,))


def panel_beneath(pattern: Pattern, piece: Piece) -> tuple[Piece, str, Point] | None:
    """The piece and panel that a mat belongs to, and where the mat's origin lies on it."""
    derived = piece.derived
    if not isinstance(derived, MatOf):
        return None
    for other in pattern.pieces:
        if other.name == derived.piece and any(p.name == derived.panel for p in other.panels):
            return other, derived.panel, derived.offset
    return None


def _borders(pattern: Pattern, piece: Piece) -> Iterator[Across]:
    found = panel_beneath(pattern, piece)
    if found is None:
        return
    other, name, (dx, dy) = found
    beneath = other.panel(name).bounds
    x0, y0, x1, y1 = (beneath[0] - dx, beneath[1] - dy, beneath[2] - dx, beneath[3] - dy)
    own = piece.bounds
    for axis, low, high in (
        ("y", own[3], y1),
        ("y", own[1], y0),
        ("x", own[0], x0),
        ("x", own[2], x1),
    ):
        start, end = min(low, high), max(low, high)
        if end - start < _NEAR_MM:
            continue
        if axis == "x":
            yield Across("border", piece.name, "x", end - start, ((start, own[1], end, own[3]),))
        else:
            yield Across("border", piece.name, "y", end - start, ((own[0], start, own[2], end),))


# ---------------------------------------------------------------- openings


def _is_square_window(opening: Opening) -> bool:
    """Whether a window can be measured along x and y from side to side."""
    segments = opening.path.segments
    box = path_bounds(opening.path)
    return (
        opening.kind == "window"
        and len(segments) == 4
        and all(
            min(abs(s.start[0] - x) for x in (box[0], box[2])) < _NEAR_MM
            and min(abs(s.start[1] - y) for y in (box[1], box[3])) < _NEAR_MM
            for s in segments
        )
    )


def _square_windows(piece: Piece) -> Iterator[Across]:
    for opening in piece.openings:
        if _is_square_window(opening):
            box = path_bounds(opening.path)
            yield Across("window", opening.name, "x", box[2] - box[0], (box,))
            yield Across("window", opening.name, "y", box[3] - box[1], (box,))


def _openings(piece: Piece) -> Iterator[Pointed]:
    found: dict[tuple[str, str, str], Pointed] = {}
    for opening in piece.openings:
        if _is_square_window(opening):
            continue
        lengths = _lengths(opening)
        key = (opening.kind, opening.shape, "/".join(printed(mm) for mm, _ in lengths))
        before = found.get(key)
        anchors = _anchors(piece, opening)
        found[key] = Pointed(
            opening.kind,
            before.name if before else opening.name,
            lengths,
            (*before.anchors, *anchors) if before else anchors,
        )
    yield from found.values()


def _lengths(opening: Opening) -> tuple[tuple[float, str], ...]:
    width, depth = opening.width_mm, opening.depth_mm
    if opening.kind == "slit" and opening.shape == "line":
        return ((width, "long"),)
    if opening.shape == "circle":
        return ((width, "across"),)
    if opening.shape == "half round" and abs(depth - width / 2) < 0.05:
        return ((width, "wide"),)
    return ((width, "wide"), (depth, "deep" if opening.kind == "notch" else "high"))


def _anchors(piece: Piece, opening: Opening) -> tuple[Anchor, ...]:
    box = path_bounds(opening.path)
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    mouth = mouth_of(piece, opening)
    if mouth is not None:
        # From the bottom of the notch, on into the paper.
        (x1, y1), (x2, y2) = mouth.start, mouth.end
        at = ((x1 + x2) / 2, (y1 + y2) / 2)
        away = (middle[0] - at[0], middle[1] - at[1])
        length = math.hypot(*away) or 1.0
        unit = (away[0] / length, away[1] / length)
        deep = (at[0] + unit[0] * opening.depth_mm, at[1] + unit[1] * opening.depth_mm)
        return (Anchor(deep, unit),)
    return (
        Anchor((box[2], middle[1]), (1.0, 0.0)),
        Anchor((box[0], middle[1]), (-1.0, 0.0)),
        Anchor((middle[0], box[3]), (0.0, 1.0)),
        Anchor((middle[0], box[1]), (0.0, -1.0)),
    )


def _radii(piece: Piece) -> Iterator[Pointed]:
    """Arcs of the outline that no opening tells of: mats round a notch, rounded corners."""
    found: dict[str, Pointed] = {}
    for arc, middle, inward in outline_arcs(piece):
        key = printed(arc.radius_mm)
        anchor = Anchor(middle, inward)
        if key in found:
            found[key] = Pointed(
                "radius", piece.name, found[key].lengths, (*found[key].anchors, anchor)
            )
        else:
            found[key] = Pointed("radius", piece.name, ((arc.radius_mm, "radius"),), (anchor,))
    yield from found.values()
