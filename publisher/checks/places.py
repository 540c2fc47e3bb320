"""Where the things lie that a claim speaks of: flat shapes in space, at the end of the steps.

Where a claim says a state ("when closed", "when flat") and speaks of one piece alone, that
piece is folded for itself; else everything lies as the last step leaves it.
"""

from __future__ import annotations

import shapely
from msgspec import Struct
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId
from publisher.checks.context import Context
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.space import Pose, dot, lift
from publisher.model.folding import closed_angles, facet_poses
from publisher.model.types import Claim, Facet, Opening, Panel, Piece, Target

CHORD_MM = 0.002
PARALLEL = 0.9998
"""Least cosine between the normals of faces that count as parallel (1.1 degrees)."""


class Shape(Struct, frozen=True):
    """A flat thing: ``flat`` in the coordinates of its piece, which ``pose`` carries to where it
    lies. ``facet`` is the paper that it belongs to."""

    facet: FacetId
    piece: str
    flat: BaseGeometry
    pose: Pose


def seen_from(home: Pose, shape: Shape) -> BaseGeometry:
    """The shape, straight onto the plane of ``home``, in the flat coordinates of what lies
    there."""
    into = home.inverse().after(shape.pose)
    (a, b, _), (d, e, _), _ = into.rotation
    x, y, _ = into.shift
    return shapely.transform(shape.flat, lambda p: p @ [[a, -d], [-b, e]] + [x, -y])


def parallel(first: Shape, second: Shape) -> bool:
    return abs(dot(first.pose.normal, second.pose.normal)) > PARALLEL


def away_mm(home: Pose, shape: Shape) -> float:
    """How far over the plane of ``home`` a shape lies that is parallel to it; below it less
    than 0."""
    point = shapely.get_coordinates(shape.flat)[0]
    into = home.inverse().after(shape.pose)
    return into.apply(lift((float(point[0]), float(point[1]))))[2]


def located(context: Context, claim: Claim) -> tuple[tuple[Shape, ...], tuple[Shape, ...]]:
    """The shapes of a claim's subject and of its object; none for what has no place."""
    subject, other = claim.subject, claim.object
    states = {*subject.state, *(other.state if other is not None else ())}
    alone = other is not None and subject.piece == other.piece and subject.kind != "made"
    state = ""
    if alone:
        state = next((s for s in ("flat", "open", "closed") if s in states), "")
    first = _shapes(context, subject, state)
    return first, _shapes(context, other, state) if other is not None else ()


def _shapes(context: Context, target: Target, state: str) -> tuple[Shape, ...]:
    if target.kind == "made":
        bodies = dict(context.story.end.made).get(target.part or target.piece, ())
        return tuple(s for b in bodies for s in _of_body(context, b, target))
    piece = _thing(context, target.piece)
    if piece is None:
        return ()
    if state:
        angles = closed_angles(piece) if state == "closed" else {}
        return _of_piece(piece, f"{piece.name} alone", facet_poses(piece, angles), target)
    bodies = tuple(
        b.id
        for b in context.story.end.bodies
        if b.piece == piece.name and b.placed and target.copy in (0, b.copy)
    )
    return tuple(s for b in bodies for s in _of_body(context, b, target))


def _thing(context: Context, name: str) -> Piece | None:
    """A piece, or what a step puts somewhere by its size; None for what no step moves."""
    handled = context.story.handled or context.pattern
    return next((p for p in handled.pieces if p.name == name), None)


def _of_body(context: Context, body_id: str, target: Target) -> tuple[Shape, ...]:
    body = context.story.end.body(body_id)
    piece = _thing(context, body.piece)
    assert piece is not None
    return _of_piece(piece, body.id, dict(body.facets), target)


def _of_piece(piece: Piece, body: str, poses: dict[str, Pose], target: Target) -> tuple[Shape, ...]:
    def shape(facet: Facet, flat: BaseGeometry) -> Shape:
        return Shape((body, facet.name), piece.name, flat, poses[facet.name])

    if target.kind in ("piece", "made", "object"):
        return tuple(shape(f, to_shapely(f.region, CHORD_MM)) for f in piece.facets)
    if target.kind == "panel":
        mine = [f for f in piece.facets if f.panel == target.part]
        return tuple(shape(f, to_shapely(f.region, CHORD_MM)) for f in mine)
    found = _flat(piece, target)
    if found is None:
        return ()
    flat, panel = found
    homes = [f for f in piece.facets if panel in (None, f.panel)] or list(piece.facets)
    home = min(homes, key=lambda f: round(_outside(f, flat), 6))
    return (shape(home, flat),)


def _outside(facet: Facet, flat: BaseGeometry) -> float:
    """How badly a facet, its holes filled, holds a shape."""
    filled = shapely.Polygon(flattened(facet.region.outer, CHORD_MM))
    return float(filled.distance(flat)) + float(flat.difference(filled.buffer(0.01)).length)


def _flat(piece: Piece, target: Target) -> tuple[BaseGeometry, str | None] | None:
    """An edge, fold, opening, island or glue zone of a piece, and the panel it lies in."""
    if target.kind == "edge":
        edge, _, of = target.part.partition(" of ")
        panel = piece.panel(of) if of else piece.panels[0]
        line = panel.edge(edge)
        return shapely.LineString([line.start, line.end]), panel.name
    if target.kind == "fold":
        fold = piece.fold(target.part)
        return shapely.LineString([fold.start, fold.end]), fold.parent
    for opening in piece.openings:
        if target.kind == "opening" and opening.name == target.part:
            return _opening(opening, piece), opening.panel
    for island in piece.islands:
        if target.kind == "island" and island.name == target.part:
            return to_shapely(island.region, CHORD_MM), island.panel
    for zone in piece.glue_zones:
        if target.kind == "glue" and zone.name == target.part:
            return to_shapely(zone.region, CHORD_MM), zone.panel
    return None


def _opening(opening: Opening, piece: Piece) -> BaseGeometry:
    """A window with what was cut away; a notch as far as it goes into the panel; a line."""
    line = _line(opening.path)
    if opening.kind not in ("window", "notch"):
        return line
    cut: BaseGeometry = shapely.Polygon(line.coords)
    panels = [p for p in piece.panels if p.name == opening.panel]
    if opening.kind == "notch" and panels:
        cut = cut.intersection(_ring(panels[0]))
    return cut


def _ring(panel: Panel) -> shapely.Polygon:
    return shapely.Polygon(panel.ring)


def _line(path: Path) -> shapely.LineString:
    points = flattened(path, CHORD_MM)
    return shapely.LineString([*points, points[0]] if path.closed else points)
