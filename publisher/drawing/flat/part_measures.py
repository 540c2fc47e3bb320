"""Lengths of glue zones, borders of mats, openings, and arcs of the outline."""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.drawing.flat.board import Axis
from publisher.drawing.flat.features import least_width, mouth_of, outline_arcs, score_arcs
from publisher.drawing.flat.lengths import NEAR_MM, Across, Anchor, Pointed, extent, printed
from publisher.drawing.flat.places import foremost_points
from publisher.geometry.measure import centroid, path_bounds
from publisher.geometry.path import Point, Segment
from publisher.geometry.segments import direction_at, point_at
from publisher.model.marked import WHOLE
from publisher.model.types import GlueZone, MatOf, Opening, Pattern, Piece


def _is_whole_tab(piece: Piece, zone: GlueZone) -> bool:
    """Whether the zone covers a tab, so that the tab's own depth says it all."""
    box = path_bounds(zone.region.outer)
    return any(
        p.kind == "tab"
        and p.name == zone.panel
        and max(abs(a - b) for a, b in zip(box, p.bounds, strict=True)) < 0.05
        for p in piece.panels
    )


def glue(piece: Piece) -> Iterator[Across]:
    for zone in piece.glue_zones:
        _, direction = least_width(zone.region)
        if _is_whole_tab(piece, zone) or min(abs(c) for c in direction) > NEAR_MM:
            continue
        box = path_bounds(zone.region.outer)
        axis: Axis = "x" if abs(direction[0]) > 0.5 else "y"
        low, high = extent(box, axis)
        yield Across("glue", zone.name, axis, high - low, (box,))


def slanted_glue(piece: Piece) -> Iterator[Pointed]:
    """Glue zones along slanted edges: a leader to the middle of the zone."""
    found: dict[str, Pointed] = {}
    for zone in piece.glue_zones:
        width, direction = least_width(zone.region)
        if _is_whole_tab(piece, zone) or min(abs(c) for c in direction) <= NEAR_MM:
            continue
        middle = centroid(zone.region)
        anchors = tuple(Anchor(middle, (k * direction[0], k * direction[1])) for k in (1.0, -1.0))
        before = found.get(printed(width))
        found[printed(width)] = Pointed(
            "glue",
            before.name if before else zone.name,
            ((width, "wide"),),
            (*before.anchors, *anchors) if before else anchors,
        )
    yield from found.values()


def panel_beneath(pattern: Pattern, piece: Piece) -> tuple[Piece, str, Point] | None:
    """The piece and panel that a mat belongs to, and where the mat's origin lies on it."""
    derived = piece.derived
    if not isinstance(derived, MatOf):
        return None
    for other in pattern.pieces:
        if other.name == derived.piece and any(p.name == derived.panel for p in other.panels):
            return other, derived.panel, derived.offset
    return None


def borders(pattern: Pattern, piece: Piece) -> Iterator[Across]:
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
        if end - start < NEAR_MM:
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
        and opening.shape not in WHOLE
        and len(segments) == 4
        and all(
            min(abs(s.start[0] - x) for x in (box[0], box[2])) < NEAR_MM
            and min(abs(s.start[1] - y) for y in (box[1], box[3])) < NEAR_MM
            for s in segments
        )
    )


def square_windows(piece: Piece) -> Iterator[Across]:
    for opening in piece.openings:
        if _is_square_window(opening):
            box = path_bounds(opening.path)
            yield Across("window", opening.name, "x", box[2] - box[0], (box,))
            yield Across("window", opening.name, "y", box[3] - box[1], (box,))


def openings(piece: Piece) -> Iterator[Pointed]:
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


def islands(piece: Piece) -> Iterator[Pointed]:
    """How far islands reach, at their tips, and how wide their bridges are."""
    found: dict[tuple[str, str], Pointed] = {}

    def add(measure: Pointed) -> None:
        key = (measure.what, printed(measure.lengths[0][0]))
        before = found.get(key)
        if before is not None:
            anchors = (*before.anchors, *measure.anchors)
            measure = Pointed(before.what, before.name, before.lengths, anchors)
        found[key] = measure

    for island in piece.islands:
        if island.shape in WHOLE:
            continue
        x0, y0, x1, y1 = path_bounds(island.region.outer)
        spots = ((x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2))
        away = ((-1.0, 0.0), (1.0, 0.0))
        anchors = (
            tuple(Anchor(p, out) for p, out in island.tips)
            if island.tips
            else tuple(Anchor(p, out) for p, out in zip(spots, away, strict=True))
        )
        add(Pointed("island", island.name, ((island.width_mm, "across"),), anchors))
    for bridge in piece.bridges:
        middle = centroid(bridge.region)
        sides = tuple(Anchor(middle, out) for out in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0)))
        add(Pointed("bridge", bridge.name, ((bridge.width_mm, "wide"),), sides))
    yield from found.values()


def _lengths(opening: Opening) -> tuple[tuple[float, str], ...]:
    width, depth = opening.width_mm, opening.depth_mm
    if opening.kind in ("slit", "perforation") and opening.shape in ("line", "path"):
        return ((width, "long"),)
    if opening.shape in ("circle", "ring", "polygon", "star"):
        return ((width, "across"),)
    if opening.shape == "half round" and abs(depth - width / 2) < 0.05:
        return ((width, "wide"),)
    return ((width, "wide"), (depth, "high" if opening.kind == "window" else "deep"))


def _anchors(piece: Piece, opening: Opening) -> tuple[Anchor, ...]:
    box = path_bounds(opening.path)
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    if opening.kind in ("slit", "perforation") and opening.shape not in ("line", "path"):
        return tuple(_beside(s) for s in opening.path.segments)
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
    return tuple(Anchor(at, out) for at, out in foremost_points(opening.path))


def _beside(segment: Segment) -> Anchor:
    """The middle of a segment, left to the side away from the tongue that it is part of."""
    (dx, dy) = direction_at(segment, 0.5)
    return Anchor(point_at(segment, 0.5), (-dy, dx))


def radii(piece: Piece) -> Iterator[Pointed]:
    """Arcs of the outline that no opening tells of (mats round a notch, rounded corners), and
    those of curved scores."""
    found: dict[str, Pointed] = {}
    for arc, middle, inward in (*outline_arcs(piece), *score_arcs(piece)):
        key = printed(arc.radius_mm)
        anchor = Anchor(middle, inward)
        if key in found:
            found[key] = Pointed(
                "radius", piece.name, found[key].lengths, (*found[key].anchors, anchor)
            )
        else:
            found[key] = Pointed("radius", piece.name, ((arc.radius_mm, "radius"),), (anchor,))
    yield from found.values()


def marks(piece: Piece) -> Iterator[Pointed]:
    """How large what is drawn or engraved is."""
    found: dict[tuple[str, str], Pointed] = {}
    for mark in piece.marks:
        if mark.shape == "path":
            lengths: tuple[tuple[float, str], ...] = (
                (mark.width_mm, "wide"),
                (mark.height_mm, "high"),
            )
        elif mark.shape == "line":
            lengths = ((mark.width_mm, "long"),)
        elif abs(mark.width_mm - mark.height_mm) < NEAR_MM:
            lengths = ((mark.width_mm, "across"),)
        else:
            lengths = ((mark.width_mm, "wide"), (mark.height_mm, "high"))
        key = (mark.shape, "/".join(printed(mm) for mm, _ in lengths))
        anchors = tuple(
            Anchor(a.at, (-a.towards[0], -a.towards[1]))
            for path in mark.paths
            for a in map(_beside, path.segments[:4])
        )
        before = found.get(key)
        name = before.name if before else mark.name
        anchors = (*before.anchors, *anchors) if before else anchors
        found[key] = Pointed("mark", name, lengths, anchors)
    yield from found.values()


def bevels(piece: Piece) -> Iterator[Pointed]:
    """How deep bevelled corners are; those that are rounded or scooped are told by their arcs."""
    found: dict[str, Pointed] = {}
    x0, y0, x1, y1 = piece.bounds
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    for corner in piece.corners:
        if corner.cut != "bevelled":
            continue
        (x, y), key = corner.at, printed(corner.size_mm)
        out = (math.copysign(1.0, x - middle[0]), math.copysign(1.0, y - middle[1]))
        half = corner.size_mm / 2.0
        anchor = Anchor((x - out[0] * half, y - out[1] * half), (-out[0], -out[1]))
        before = found.get(key)
        anchors = (*before.anchors, anchor) if before else (anchor,)
        found[key] = Pointed("corner", piece.name, ((corner.size_mm, "bevel"),), anchors)
    yield from found.values()
