"""Whether glue meets what it shall hold: planes, areas and mated edges, measured."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from publisher.assembly.change import Wet
from publisher.assembly.kit import Shape, landed, polygon_of, shape_of
from publisher.assembly.layering import SHARED_MM2, Papers, both_ways, in_frame, side_between
from publisher.assembly.types import Body, Bond, FacetId, State
from publisher.geometry.space import Pose, Vector, dot, sub
from publisher.model.types import GlueZone

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

TOLERANCE_MM = 0.05
"""Beyond the calipers of both papers; below what a scoring board shows. Our own choice."""

PARALLEL_DEG = 1.0


class Reach(Struct, frozen=True):
    """How a glued panel stands to one facet.

    ``angle_deg`` is between their planes, ``away_mm`` the largest distance of the glue from
    the partner's plane, ``shared_mm2`` how much of the glue lies over the partner,
    ``edge_mm`` the distance between the mated edges (0 where none is named). ``faces`` is
    whether the partner lies on the face that carries the glue.
    """

    first: FacetId
    second: FacetId
    angle_deg: float
    away_mm: float
    shared_mm2: float
    edge_mm: float
    faces: bool
    allowed_mm: float

    @property
    def holds(self) -> bool:
        return (
            self.faces
            and self.angle_deg <= PARALLEL_DEG
            and self.away_mm <= self.allowed_mm
            and self.shared_mm2 > SHARED_MM2
            and self.edge_mm <= self.allowed_mm
        )

    @property
    def residual_mm(self) -> float:
        """The distance between the mated edges. Where edges are not named, how far the glue
        stands off beyond the calipers."""
        return max(self.edge_mm, self.away_mm - self.allowed_mm + TOLERANCE_MM, 0.0)

    @property
    def numbers(self) -> tuple[tuple[str, float], ...]:
        return (
            ("angle_deg", self.angle_deg),
            ("away_mm", self.away_mm),
            ("edge_mm", self.edge_mm),
            ("shared_mm2", self.shared_mm2),
            ("allowed_mm", self.allowed_mm),
        )


def reaches(papers: Papers, state: State, wet: Wet) -> list[Reach]:
    """The wet panel against each of its partners' facets, the best one first."""
    body = state.body(wet.body)
    fold = _mated_fold(papers, body, wet)
    partners = [
        _partner(other, facet, _edge_gap(papers, fold, other, wet, facet))
        for partner, panel in wet.partners
        for other in (state.body(partner),)
        if other.placed
        for facet in _facets(papers, other, panel)
    ]
    spread = [_spread(papers, body, wet, own) for own in _glued(papers, body, wet)]
    found = [
        _reach(papers, state, wet, glue, partner)
        for glue in spread
        for partner in partners
        if partner.id != glue.id
    ]
    return sorted(found, key=_rank)


class _Spread(Struct, frozen=True):
    """Where glue lies on a facet of a body, in the facet's flat coordinates."""

    id: FacetId
    body: Body
    pose: Pose
    shape: Shape


def _spread(papers: Papers, body: Body, wet: Wet, facet: str) -> _Spread:
    shape = glued_shape(papers, body, wet, facet)
    return _Spread((body.id, facet), body, body.facet_pose(facet), shape)


class _Partner(Struct, frozen=True):
    """A facet that glue may meet: its pose, the way back from it, how far its edge is off."""

    id: FacetId
    body: Body
    pose: Pose
    back: Pose
    edge_mm: float


def _partner(other: Body, facet: str, edge_mm: float) -> _Partner:
    pose = other.facet_pose(facet)
    return _Partner((other.id, facet), other, pose, pose.inverse(), edge_mm)


def _rank(reach: Reach) -> tuple[bool, bool, float, float, FacetId, FacetId]:
    return (
        not reach.holds,
        reach.angle_deg > PARALLEL_DEG,
        -round(reach.shared_mm2, 6),
        round(reach.away_mm + reach.edge_mm, 6),
        reach.first,
        reach.second,
    )


def _facets(papers: Papers, body: Body, panel: str) -> tuple[str, ...]:
    if not panel:
        return tuple(f.name for f in papers.kit.pieces[body.piece].facets)
    return papers.kit.facets_of(body.piece, panel)


def _glued(papers: Papers, body: Body, wet: Wet) -> tuple[str, ...]:
    """The facets of the wet panel: where folds part it, only those that the zone lies in."""
    own = _facets(papers, body, wet.panel)
    zone = zone_of(papers, body, wet)
    if zone is None or len(own) < 2:
        return own
    glue = polygon_of(shape_of(zone.region))
    lies_in = [f for f in own if glue.intersection(papers.polygon(body.piece, f)).area > SHARED_MM2]
    return tuple(lies_in) or own


def zone_of(papers: Papers, body: Body, wet: Wet) -> GlueZone | None:
    zones = papers.kit.pieces[body.piece].glue_zones
    return next((z for z in zones if z.name == wet.zone), None) if wet.zone else None


def glued_shape(papers: Papers, body: Body, wet: Wet, facet: str) -> Shape:
    zone = zone_of(papers, body, wet)
    return shape_of(zone.region) if zone is not None else papers.kit.shapes[body.piece, facet]


def _reach(papers: Papers, state: State, wet: Wet, glue: _Spread, partner: _Partner) -> Reach:
    one, two = glue.body, partner.body
    first, second = glue.id, partner.id
    pose = glue.pose
    into = partner.back.after(pose)
    there = landed(into, glue.shape.outer)
    away = max((p[2] for p in there), key=abs)
    cosine = min(1.0, abs(dot(pose.normal, partner.pose.normal)))
    angle = math.degrees(math.acos(cosine)) if cosine < 1.0 - 1e-12 else 0.0
    shared = 0.0
    if angle <= PARALLEL_DEG and _boxes_meet(there, papers.kit.shapes[two.piece, second[1]]):
        paper = papers.polygon(two.piece, second[1])
        shared = float(polygon_of(in_frame(glue.shape, into)).intersection(paper).area)
    allowed = sum(papers.kit.pieces[b.piece].stock.caliper_mm for b in (one, two)) + TOLERANCE_MM
    astray = angle > PARALLEL_DEG or abs(away) > allowed or shared <= SHARED_MM2
    return Reach(
        first,
        second,
        angle,
        abs(away),
        shared,
        partner.edge_mm,
        astray or _faces(state, wet, first, second, pose, away),
        allowed,
    )


def _boxes_meet(points: Sequence[Vector], shape: Shape) -> bool:
    """Whether points as ``landed`` gives them (y up) can lie on a shape at all."""
    x0, y0, x1, y1 = shape.bounds
    xs, ys = [p[0] for p in points], [-p[1] for p in points]
    return min(xs) < x1 and max(xs) > x0 and min(ys) < y1 and max(ys) > y0


def _faces(
    state: State, wet: Wet, first: FacetId, second: FacetId, pose: Pose, away: float
) -> bool:
    """Whether the partner lies on the glued face: by the layer order, else by position."""
    if wet.face is None:
        return True
    wanted = 1 if wet.face == "front" else -1
    side = side_between(state, first, second)
    if side is None and abs(away) > TOLERANCE_MM:
        # Where the glue is, not where its piece's frame begins: planes may stand at an angle.
        other = state.body(second[0]).facet_pose(second[1])
        side = -1 if away * dot(pose.normal, other.normal) > 0 else 1
    return side is None or side == wanted


def _mated_fold(papers: Papers, one: Body, wet: Wet) -> list[Vector] | None:
    """Both ends of the fold that a glued tab hangs on; None where no edge is to meet it."""
    piece = papers.kit.pieces[one.piece]
    wanted = wet.edge or wet.line_mm
    fold = next((f for f in piece.folds if f.child == wet.panel), None) if wanted else None
    on = next(iter(_facets(papers, one, wet.panel)), None)
    if fold is None or on is None:
        return None
    return landed(one.facet_pose(on), (fold.start, fold.end))


def _edge_gap(
    papers: Papers, fold: Sequence[Vector] | None, two: Body, wet: Wet, facet: str
) -> float:
    """Distance between a tab's fold and the partner's edge: of the shorter one's ends from
    the longer one, mm."""
    if fold is None:
        return 0.0
    if wet.line_mm is not None:
        theirs = landed(two.facet_pose(facet), wet.line_mm)
        return min(_ends_off(fold, theirs), _ends_off(theirs, fold))
    other = papers.kit.pieces[two.piece]
    panel = next((p for p in other.panels if p.name == other.facet(facet).panel), None)
    edge = next((e for e in panel.edges if e.name == wet.edge), None) if panel else None
    if edge is None:
        return 0.0
    theirs = landed(two.facet_pose(facet), (edge.start, edge.end))
    return min(_ends_off(fold, theirs), _ends_off(theirs, fold))


def _ends_off(ends: Sequence[Vector], line: Sequence[Vector]) -> float:
    along = sub(line[1], line[0])
    length = dot(along, along)
    worst = 0.0
    for end in ends:
        part = max(0.0, min(1.0, dot(sub(end, line[0]), along) / length)) if length else 0.0
        foot = [a + part * d for a, d in zip(line[0], along, strict=True)]
        worst = max(worst, math.dist(end, foot))
    return worst


# ---------------------------------------------------------------- glue without a partner


def caught(papers: Papers, state: State, wet: Wet) -> list[Bond]:
    """The bonds that glue without a named partner makes: with each facet that lies on the
    glued face over the zone, as far as no other paper lies between."""
    body = state.body(wet.body)
    sides = both_ways(state)
    bonds: list[Bond] = []
    for own in _glued(papers, body, wet):
        here = (body.id, own)
        there = [other for one, other in sides if one == here]
        wanted = None if wet.face is None else 1 if wet.face == "front" else -1
        near = [o for o in there if wanted is None or sides[here, o] == wanted]
        glue: BaseGeometry = polygon_of(glued_shape(papers, body, wet, own))
        for other in _nearest_first(sides, here, near):
            two = state.body(other[0])
            into = body.facet_pose(own).inverse().after(two.facet_pose(other[1]))
            shape = polygon_of(in_frame(papers.kit.shapes[two.piece, other[1]], into))
            if float(glue.intersection(shape).area) > SHARED_MM2:
                bonds.append(Bond(here, other, wet.by, wet.zone))
                glue = glue.difference(shape)
    return bonds


def _nearest_first(
    sides: Mapping[tuple[FacetId, FacetId], int], here: FacetId, others: Sequence[FacetId]
) -> list[FacetId]:
    """By how many of the others lie between each of them and ``here``."""

    def between(other: FacetId) -> int:
        side = sides[other, here]
        return sum(sides.get((other, third)) == side for third in others if third != other)

    return sorted(others, key=lambda o: (between(o), o))
