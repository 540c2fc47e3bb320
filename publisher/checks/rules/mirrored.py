"""A paper with one good side lies with that side out, and a piece that is not its own mirror image
is cut the way round in which it fits.

Two slips have one cause: who draws a piece sees its front face, and who glues it may see its back.
The good side then looks at the other paper; or the outline, drawn for one hand, is laid on the
other.
"""

from __future__ import annotations

import math

import shapely
from msgspec import Struct
from shapely.affinity import rotate, scale
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Body
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.lying import CHORD_MM, hidden, shape_of
from publisher.checks.places import Shape, parallel, seen_from
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.space import lift
from publisher.model.types import Piece

HIDDEN = "good-side-hidden"
MIRRORED = "not-mirrored"
MOST_HIDDEN = 0.9
"""As of a layer that decorates: more than so much of a face under paper is hidden."""
MOST_OUT, NOTHING_OUT = 0.01, 0.001
"""So much of a piece beyond its partner is no slip of the knife, and so little is within it."""
WINDOW_MM2 = 1.0
SAME = 0.002
EDGE_MM = 0.05
LEVEL_MM = 0.05


def check(context: Context) -> Results:
    for piece in context.pattern.pieces:
        for body in context.story.end.bodies:
            if body.piece == piece.name and body.placed:
                if is_one_sided(piece):
                    yield from _good_side(context, piece, body)
                yield from _as_it_lies(context, piece, body)


def is_one_sided(piece: Piece) -> bool:
    """Whether its faces are not alike: printed on one, or drawn on. A straight line is a guide
    that something is laid along."""
    drawn = (m for m in piece.marks if m.kind != "register" and m.straight is None)
    return piece.stock.patterned or any(drawn)


# ---------------------------------------------------------------- the good side


class Faces(Struct, frozen=True):
    """Shares of a piece's front and back under other paper. ``framed``: some of the front is seen
    through a window."""

    front: float
    back: float
    framed: bool

    @property
    def wrong(self) -> bool:
        """Whether the good side is hidden and the other one seen."""
        return not self.framed and self.front > MOST_HIDDEN and self.back < 1.0 - MOST_HIDDEN


def faces_of(context: Context, piece: Piece, body: Body) -> Faces:
    handled = context.handled(piece.name)
    whole = front = back = 0.0
    framed = False
    for facet in handled.facets:
        mine = shape_of(handled, body, facet.name)
        # A card that is closed hides its own inside, and opens again.
        under = hidden(context, mine, "front", by_itself=False)
        framed = framed or _through_a_window(mine.flat, under)
        whole += float(mine.flat.area)
        front += float(under.area)
        back += float(hidden(context, mine, "back").area)
    return Faces(front / whole, back / whole, framed)


def _through_a_window(flat: BaseGeometry, under: BaseGeometry) -> bool:
    parts = shapely.get_parts(flat.difference(under))
    return any(p.area > WINDOW_MM2 and p.distance(flat.boundary) > EDGE_MM for p in parts)


def _good_side(context: Context, piece: Piece, body: Body) -> Results:
    faces = faces_of(context, piece, body)
    numbers = (("front_hidden_share", faces.front), ("back_hidden_share", faces.back))
    if not faces.wrong:
        yield passed(HIDDEN, body.id, numbers, f"the good side of {piece.name} can be seen")
        return
    if is_own_mirror(piece):
        note = "Its outline is its own mirror image: it only needs to be turned over."
        way = f"glue {piece.name} by its back face"
    else:
        note = "Turned over, its outline would not fit: it is not its own mirror image."
        way = f"mirror the outline of {piece.name}, and glue it by its back face"
    yield failed(
        HIDDEN,
        body.id,
        numbers,
        f"the good side of {piece.name} looks at the paper it lies on, and its back is seen",
        piece.span,
        notes=(note,),
        ways_out=(way,),
        severity="warning",
    )


def is_own_mirror(piece: Piece) -> bool:
    """Whether the piece, turned over, can be laid so that its outline is as before. An axis of
    symmetry goes through the middle, and through a corner of the hull or the middle of a side."""
    flat = to_shapely(piece.outline, CHORD_MM)
    hull = flat.convex_hull.simplify(CHORD_MM)
    corners = shapely.get_coordinates(hull)[:-1].tolist()
    sides = zip(corners, [*corners[1:], corners[0]], strict=True)
    spots = [*corners, *([(a + b) / 2.0 for a, b in zip(p, q, strict=True)] for p, q in sides)]
    return any(_same(flat, _over(flat, x, y)) for x, y in spots)


def _over(flat: BaseGeometry, x: float, y: float) -> BaseGeometry:
    """Turned over about the line through its middle and a point."""
    middle = flat.centroid
    lean = math.degrees(math.atan2(y - middle.y, x - middle.x))
    return rotate(scale(flat, 1.0, -1.0, origin=middle), 2.0 * lean, origin=middle)


def _same(first: BaseGeometry, second: BaseGeometry) -> bool:
    return float(first.symmetric_difference(second).area) < SAME * float(first.area)


# ---------------------------------------------------------------- the way round that fits


def _as_it_lies(context: Context, piece: Piece, body: Body) -> Results:
    """A flat piece that is glued on another sticks out of it, and mirrored it would not."""
    measured = _out(context, piece, body)
    if measured is None:
        return
    other, out, mirrored = measured
    numbers = (("beyond_share", out), ("mirrored_share", mirrored), ("most_share", MOST_OUT))
    subject = f"{body.id} on {other}"
    if _is_other_hand(out, mirrored):
        yield failed(
            MIRRORED,
            subject,
            numbers,
            f"{piece.name} sticks out of {other}; its mirror image would not",
            piece.span,
            notes=(f"{out:.0%} of it lies beyond {other}.",),
            ways_out=(f"mirror the outline of {piece.name}",),
        )
    else:
        yield passed(
            MIRRORED, subject, numbers, f"{piece.name} lies the right way round on {other}"
        )


def is_for_the_other_hand(context: Context, name: str) -> bool:
    """Whether a copy of the piece sticks out of what it is glued to, and mirrored it would not."""
    piece = context.pattern.piece(name)
    bodies = [b for b in context.story.end.bodies if b.piece == name and b.placed]
    found = (_out(context, piece, body) for body in bodies)
    return any(_is_other_hand(out, mirrored) for _, out, mirrored in filter(None, found))


def _is_other_hand(out: float, mirrored: float) -> bool:
    return out > MOST_OUT and mirrored < NOTHING_OUT


def _out(context: Context, piece: Piece, body: Body) -> tuple[str, float, float] | None:
    """What a flat piece is glued to, and which share of it and of its mirror image lies beyond."""
    handled = context.handled(piece.name)
    if len(handled.facets) != 1:
        return None
    mine = shape_of(handled, body, handled.facets[0].name)
    below = _below(context, mine)
    if below is None:
        return None
    other, paper = below
    return other, _beyond(mine.flat, paper), min(_beyond(f, paper) for f in _mirrored(mine.flat))


def _below(context: Context, mine: Shape) -> tuple[str, BaseGeometry] | None:
    """The piece that this one is glued to, and all of its paper in that plane, windows filled."""
    end = context.story.end
    ends = [(b.first, b.second) for b in end.bonds if b.by != "tuck"]
    there = sorted(b for a, b in ends if a == mine.facet)  # what this one is glued to
    for body_id, facet in there:
        body = end.body(body_id)
        theirs = context.handled(body.piece)
        home = body.facet_pose(facet).inverse()
        level = []
        for own in theirs.facets:
            shape = shape_of(theirs, body, own.name)
            point = shapely.get_coordinates(shape.flat)[0]
            height = home.apply(shape.pose.apply(lift((float(point[0]), float(point[1])))))[2]
            if parallel(shape, mine) and abs(height) < LEVEL_MM:
                level.append(seen_from(mine.pose, shape).buffer(EDGE_MM))
        paper = shapely.union_all(level)
        filled = [shapely.Polygon(part.exterior) for part in shapely.get_parts(paper)]
        if filled:
            return theirs.name, shapely.union_all(filled)
    return None


def _mirrored(flat: BaseGeometry) -> tuple[BaseGeometry, BaseGeometry]:
    """Mirrored in its place, sideways and up and down."""
    x0, y0, x1, y1 = flat.bounds
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    return scale(flat, -1.0, 1.0, origin=middle), scale(flat, 1.0, -1.0, origin=middle)


def _beyond(flat: BaseGeometry, paper: BaseGeometry) -> float:
    return float(flat.difference(paper).area) / float(flat.area)
