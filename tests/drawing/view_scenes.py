"""Scenes and readers of drawings that several tests of the views share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly import Body, FacetId, Frame, Motion, State, Story, assemble
from publisher.drawing.space_view import draw_cover, draw_story
from publisher.drawing.types import Drawing, Fill, Label, Stroke
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path
from publisher.geometry.space import Pose, moved, turned
from publisher.model.folding import facet_poses
from publisher.model.types import Action, Meta, Pattern, Piece
from tests.handmade import at, envelope_pattern, piece_target, sliding_box_pattern

Above = tuple[tuple[FacetId, FacetId, int], ...]

FRONT_UP = Pose()
BACK_UP = turned((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), 180.0)


@cache
def box(depth_mm: float = 22.0) -> tuple[Pattern, Story, tuple[Drawing, ...]]:
    """The sliding box: pattern, story, step drawings."""
    pattern = sliding_box_pattern(depth_mm)
    story, findings = assemble(pattern)
    assert not findings
    return pattern, story, draw_story(pattern, story)


@cache
def letter() -> tuple[Pattern, Story, tuple[Drawing, ...]]:
    """The envelope: pattern, story, step drawings."""
    pattern = envelope_pattern()
    story, findings = assemble(pattern)
    assert not findings
    return pattern, story, draw_story(pattern, story)


def all_drawings() -> list[Drawing]:
    """Every step view and cover that the tests look at."""
    found: list[Drawing] = []
    for pattern, story, drawings in (box(), box(30.0), letter()):
        found += [*drawings, draw_cover(pattern, story)]
    return found


def named(drawings: Sequence[Drawing], name: str) -> Drawing:
    return next(d for d in drawings if d.name == name)


# ---------------------------------------------------------------- scenes by hand


def body(piece: Piece, pose: Pose, angles: Mapping[str, float], placed: bool = True) -> Body:
    """A copy of a piece, its first facet's frame at ``pose``."""
    facets = tuple((n, pose.after(p)) for n, p in facet_poses(piece, angles).items())
    kept = tuple((f.name, angles.get(f.name, 0.0)) for f in piece.folds)
    name = piece.name.replace(" ", "-") + "-1"
    return Body(name, piece.name, 1, pose, kept, facets, placed)


def centred(piece: Piece, facet: str, turn: Pose = FRONT_UP, up: float = 0.0) -> Pose:
    """The pose that lays the middle of a facet over the origin, turned as given."""
    x0, y0, x1, y1 = piece.panel(facet).bounds
    return moved((0.0, 0.0, up)).after(turn).after(moved((-(x0 + x1) / 2, (y0 + y1) / 2, 0.0)))


def state(bodies: Sequence[Body], above: Above = ()) -> State:
    return State(tuple(bodies), (), above)


def pattern_of(*pieces: Piece) -> Pattern:
    """A pattern of pieces alone."""
    meta = Meta("Try", "", "1.0.0", "2026-11-25", "free", "mm", "easy", "", "personal")
    return Pattern("try", "content/try/pattern.md", meta, (), pieces, (), (), ())


def frame_of(
    verb: str, piece: Piece, before: State, motions: Sequence[Motion], after: State | None = None
) -> Frame:
    """One action on a whole piece."""
    subject = (piece_target(piece.name),)
    action = Action(verb, subject, "", (), None, "", None, at("content/try/pattern.md", 1))
    return Frame(1, action, before, tuple(motions), after or before, 0.0)


# ---------------------------------------------------------------- reading drawings


def fills(drawing: Drawing, *roles: str) -> list[Fill]:
    return [i for i in drawing.items if isinstance(i, Fill) and i.role in roles]


def strokes(drawing: Drawing, *roles: str) -> list[Stroke]:
    return [i for i in drawing.items if isinstance(i, Stroke) and i.role in roles]


def labels(drawing: Drawing) -> list[Label]:
    return [i for i in drawing.items if isinstance(i, Label)]


def area(fill: Fill) -> BaseGeometry:
    """Even-odd area of a fill."""
    whole: BaseGeometry = shapely.Polygon()
    for ring in fill.rings:
        whole = shapely.symmetric_difference(whole, shapely.Polygon(flattened(ring)))
    return whole


def line(path: Path) -> BaseGeometry:
    points = flattened(path)
    return shapely.LineString([*points, points[0]] if path.closed else points)


def ink(*items: Stroke) -> BaseGeometry:
    return shapely.union_all([line(p) for item in items for p in item.paths])
