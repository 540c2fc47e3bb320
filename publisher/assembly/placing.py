"""Where a piece lies that is laid on a part of another one: mats by their place, all else by
the names of what is aligned."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.kit import Kit
from publisher.assembly.on_lines import on_lines
from publisher.assembly.one_line import about_one_line, spread
from publisher.assembly.targets import edge_name, panel_name
from publisher.assembly.types import Body, State
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Point
from publisher.geometry.space import Pose, Vector, add, dot, lift, moved, turned
from publisher.model.folding import outward
from publisher.model.types import Action, Edge, Face, MatOf, Panel, Piece, Target


class Seat(Struct, frozen=True):
    """Where a body shall be. ``facet`` of it lies on the facet ``on`` of another body, on the
    front face of that (``side`` +1) or its back face (-1); ``over`` where it is turned over."""

    pose: Pose
    facet: str
    on: str
    side: int
    over: bool = False


def seat(
    kit: Kit,
    state: State,
    action: Action,
    body: Body,
    subject: Target,
    on: Body,
    target: Target,
    more: Sequence[tuple[Target, Target]] = (),
) -> Seat:
    """The place of ``body``, whose part ``subject`` is laid on the part ``target`` of ``on``.

    ``more`` are further parts that shall meet parts of ``on`` at the same time. Glue on the
    face that would look away turns the body over.
    """
    ours, theirs = kit.pieces[body.piece], kit.pieces[on.piece]
    named = named_facet(kit, theirs, target)
    if isinstance(ours.derived, MatOf) and ours.derived.piece == on.piece:
        panel = kit.facets_of(on.piece, ours.derived.panel)
        if panel and (not named or named in panel):
            side = -1 if ours.derived.behind else 1
            own = ours.facets[0].name
            return _seated(kit, body, own, on, named or panel[0], side, ours.derived.offset)
    if isinstance(theirs.derived, MatOf) and theirs.derived.piece == body.piece:
        return _under_its_mat(kit, body, on, theirs, theirs.derived)
    side = -1 if action.relation == "behind" or action.face == "back" else 1
    facet = named or kit.resting[on.piece]
    own = named_facet(kit, ours, subject) or kit.resting[body.piece]
    over = _glued_away(ours, own, side)
    if subject.kind == target.kind == "piece" and spread(kit, body) and spread(kit, on):
        subject, target = _whole(subject), _whole(target)
    pairs = [(subject, target), *more]
    if target.line_mm is not None:
        glued = _faces_glued(ours, own)
        ways = {w: _level(ours, own, theirs, facet, side, w) for w in (False, True)}
        ways = {over: ways[over]} if glued else ways
        standing, over = on_lines(kit, body, own, on, facet, ways, side, pairs)
        return Seat(standing, own, facet, side, over)
    if more or over:
        place = _jointly(kit, body, own, on, facet, side, pairs, over)
    else:
        offset, turn = _aligned(ours, subject, own, theirs, target, facet)
        place = _seated(kit, body, own, on, facet, side, offset, turn)
    pose = about_one_line(kit, body, on, place.pose)
    return place if pose is None else replace(place, pose=pose)


def named_facet(kit: Kit, piece: Piece, target: Target) -> str:
    """The facet that a target names, or "" where it names the piece or a bare edge."""
    if target.kind == "piece" or not target.part:
        return ""
    facets = kit.facets_of(piece.name, panel_name(target))
    if facets:
        return facets[0]
    lies_in = {z.name: z.panel for z in piece.glue_zones} | {
        o.name: o.panel for o in piece.openings
    }
    panel = lies_in.get(target.part)
    facets = kit.facets_of(piece.name, panel) if panel else ()
    return facets[0] if facets else ""


def _thick(piece: Piece, facet: str, side: int) -> float:
    """How far the paper reaches from a facet's plane to one of its faces, mm."""
    return piece.stock.caliper_mm if float(side) in outward(piece, facet) else 0.0


def _level(ours: Piece, own: str, theirs: Piece, on: str, side: int, over: bool = False) -> float:
    """Height of our facet's plane over theirs, along their front's direction, mm; ``over`` where
    our facet is turned over."""
    return side * (_thick(theirs, on, side) + _thick(ours, own, side if over else -side))


def _seated(
    kit: Kit,
    body: Body,
    own: str,
    on: Body,
    facet: str,
    side: int,
    offset: Point,
    turn_deg: float = 0.0,
) -> Seat:
    ours, theirs = kit.pieces[body.piece], kit.pieces[on.piece]
    level = _level(ours, own, theirs, facet, side)
    place = moved(add(lift(offset), (0.0, 0.0, level)))
    if turn_deg:
        # Flat turns go clockwise as seen (y down), so the body frame turns by the opposite.
        place = place.after(turned((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -turn_deg))
    hung = kit.hang(body.piece, dict(body.angles))[own]
    return Seat(on.facet_pose(facet).after(place).after(hung.inverse()), own, facet, side)


def _under_its_mat(kit: Kit, body: Body, mat_body: Body, mat: Piece, derived: MatOf) -> Seat:
    """The place of a piece whose mat lies there already."""
    side = -1 if derived.behind else 1
    ours = kit.pieces[body.piece]
    own = next(iter(kit.facets_of(body.piece, derived.panel)), kit.resting[body.piece])
    facet = mat.facets[0].name
    level = _level(mat, facet, ours, own, side)
    place = moved(add(lift(derived.offset), (0.0, 0.0, level)))
    hung = kit.hang(body.piece, dict(body.angles))[own]
    pose = mat_body.facet_pose(facet).after(place.inverse()).after(hung.inverse())
    return Seat(pose, own, facet, -side)


# ---------------------------------------------------------------- several parts at once

_QUARTERS = (0.0, 90.0, 180.0, 270.0)


def _glued_away(piece: Piece, facet: str, side: int) -> bool:
    """Whether all glue on a facet is on the face that would look away from what is below."""
    return _faces_glued(piece, facet) == {"front" if side > 0 else "back"}


def _faces_glued(piece: Piece, facet: str) -> set[Face]:
    panel = piece.facet(facet).panel
    return {z.face for z in piece.glue_zones if z.panel == panel}


def _jointly(
    kit: Kit,
    body: Body,
    own: str,
    on: Body,
    facet: str,
    side: int,
    pairs: Sequence[tuple[Target, Target]],
    over: bool,
) -> Seat:
    """The quarter turn and the place by which the middles of all pairs are nearest."""
    ours, theirs = kit.pieces[body.piece], kit.pieces[on.piece]
    hung = kit.hang(body.piece, dict(body.angles))
    home, ground = hung[own].inverse(), on.facet_pose(facet).inverse()
    level = _level(ours, own, theirs, facet, side, over)
    here: list[Vector] = []
    there: list[Vector] = []
    for subject, target in pairs:
        part = named_facet(kit, ours, subject) or own
        below = named_facet(kit, theirs, target) or facet
        middle = _middle(ours, subject, _edge(ours, subject, part), part)
        here.append(home.apply(hung[part].apply(lift(middle))))
        middle = _middle(theirs, target, _edge(theirs, target, below), below)
        there.append(ground.apply(on.facet_pose(below).apply(lift(middle))))
    best: tuple[float, float, Pose] | None = None
    for quarter in _QUARTERS:
        spin = turned((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -quarter)
        if over:
            spin = spin.after(turned((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), 180.0))
        laid = [spin.apply(p) for p in here]
        x, y = (sum(t[i] - p[i] for p, t in zip(laid, there, strict=True)) for i in (0, 1))
        shift = (x / len(laid), y / len(laid), level)
        off = sum(
            math.hypot(p[0] + shift[0] - t[0], p[1] + shift[1] - t[1])
            for p, t in zip(laid, there, strict=True)
        )
        pose = on.facet_pose(facet).after(moved(shift).after(spin)).after(home)
        turn = -_alike(pose, body.pose) if body.placed else 0.0
        if best is None or (round(off, 6), round(turn, 6)) < best[:2]:
            best = (round(off, 6), round(turn, 6), pose)
    assert best is not None
    return Seat(best[2], own, facet, side, over)


def _alike(one: Pose, other: Pose) -> float:
    """How little two poses are turned against each other: 3 where not at all."""
    pairs = zip(one.rotation, other.rotation, strict=True)
    return sum(dot(a, b) for a, b in pairs)


# ---------------------------------------------------------------- aligned by names


def _aligned(
    ours: Piece, subject: Target, own: str, theirs: Piece, target: Target, facet: str
) -> tuple[Point, float]:
    """Offset of our flat origin in their flat coordinates, and a turn about our origin.

    Two edges: ours along theirs, middle on middle, both papers on the same side of it. Else
    the middle of what is named on the middle of what it is laid on, axes kept.
    """
    edges = (_edge(ours, subject, own), _edge(theirs, target, facet))
    if edges[0] is not None and edges[1] is not None:
        return _edge_on_edge(edges[0], edges[1])
    here = _middle(ours, subject, edges[0], own)
    there = _middle(theirs, target, edges[1], facet)
    return (there[0] - here[0], there[1] - here[1]), 0.0


def _whole(target: Target) -> Target:
    """The target, so marked that its middle is that of the whole blank."""
    return replace(target, state=("open",))


def _panel(piece: Piece, name: str) -> Panel | None:
    return next((p for p in piece.panels if p.name == name), None)


def _edge(piece: Piece, target: Target, facet: str) -> Edge | None:
    if target.kind != "edge":
        return None
    panel = _panel(piece, panel_name(target)) or _panel(piece, piece.facet(facet).panel)
    name = edge_name(target) or target.part
    return next((e for e in panel.edges if e.name == name), None) if panel else None


def _edge_on_edge(ours: Edge, theirs: Edge) -> tuple[Point, float]:
    def direction(edge: Edge) -> complex:
        return complex(edge.end[0] - edge.start[0], edge.end[1] - edge.start[1])

    ratio = direction(theirs) / direction(ours)
    turn = ratio / abs(ratio)
    here = complex(*_midpoint(ours)) * turn
    there = complex(*_midpoint(theirs))
    offset = there - here
    return (offset.real, offset.imag), _degrees(turn)


def _degrees(turn: complex) -> float:
    return math.degrees(cmath.phase(turn))


def _midpoint(edge: Edge) -> Point:
    return ((edge.start[0] + edge.end[0]) / 2.0, (edge.start[1] + edge.end[1]) / 2.0)


def _middle(piece: Piece, target: Target, edge: Edge | None, facet: str) -> Point:
    zone = next((z for z in piece.glue_zones if z.name == target.part), None)
    if target.kind in ("glue", "edge") and zone is not None:
        return _box_middle(path_bounds(zone.region.outer))
    opening = next((o for o in piece.openings if o.name == target.part), None)
    if target.kind == "opening" and opening is not None:
        return _box_middle(path_bounds(opening.path))
    if edge is not None:
        return _midpoint(edge)
    panel = _panel(piece, piece.facet(facet).panel)
    alone = target.kind == "piece" and (len(piece.facets) == 1 or "open" in target.state)
    return _box_middle(piece.bounds if alone or panel is None else panel.bounds)


def _box_middle(bounds: tuple[float, float, float, float]) -> Point:
    x0, y0, x1, y1 = bounds
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
