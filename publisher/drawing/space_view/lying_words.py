"""How things lie, in words: which face is up, which part is on which side, where they are open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import shapely
from msgspec import Struct

from publisher.assembly.types import Body, Frame, MoveMotion, State
from publisher.drawing.space_view.layers import called
from publisher.drawing.space_view.lists import gathered, listed, the
from publisher.drawing.space_view.many import Geometries, many
from publisher.drawing.space_view.place_words import (
    at_side,
    body_name,
    box_middle,
    middle,
    side,
    spread,
)
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.stage import joined
from publisher.geometry.measure import area, path_bounds
from publisher.geometry.space import Pose, Vector, dot, lift, scaled, sub, unit
from publisher.model.types import Piece

_LEVEL, _UPRIGHT = 0.99, 0.05
_WAYS: tuple[Vector, ...] = (
    (-1.0, 0.0, 0.0),
    (1.0, 0.0, 0.0),
    (0.0, -1.0, 0.0),
    (0.0, 1.0, 0.0),
    (0.0, 0.0, 1.0),
    (0.0, 0.0, -1.0),
)
_MANY = {"lies": "lie", "is": "are", "rests": "rest", "stands": "stand"}
_DEPTH = ("near", "far")
_ON_TABLE_MM = 0.05
_SHUT_DEG = 170.0
_SHUT = 4
"""Of six ways out of a hollow thing so many at least are shut."""


class Heard(Struct, frozen=True):
    """What the words of earlier pictures leave to be said: whether the view is told, whether it
    is the first picture of all, and the bodies of which is told how they lie: those that were
    not seen before, and those taken up again."""

    view: bool = True
    first: bool = True
    new: frozenset[str] | None = None
    again: frozenset[str] = frozenset()

    def fresh(self, body: str) -> bool:
        return self.new is None or body in self.new


def heard(
    frames: Sequence[Frame], shown: Sequence[Sequence[str]], views: Sequence[str]
) -> list[Heard]:
    """For each frame what was heard when its words begin."""
    found: list[Heard] = []
    met: set[str] = set()
    for k, (frame, bodies) in enumerate(zip(frames, shown, strict=True)):
        new = frozenset(bodies) - met
        last = set(shown[k - 1]) if k else set()
        moved = {b for b in met & set(bodies) if k and _lies_else(frames[k - 1], frame, b)}
        again = frozenset((set(bodies) - last - new) | moved)
        found.append(Heard(k == 0 or views[k] != views[k - 1], k == 0, new, again))
        met |= set(bodies)
    return found


def _lies_else(last: Frame, now: Frame, body: str) -> bool:
    """Whether a body is turned another way than the last picture left it."""
    was = next((b for b in last.after.bodies if b.id == body), None)
    there = now.before.body(body)
    if was is None or not was.facets or not there.facets:
        return False
    before, after = was.facets[0][1].rotation, there.facets[0][1].rotation
    return any(
        abs(a - b) > 0.02
        for one, other in zip(before, after, strict=True)
        for a, b in zip(one, other, strict=True)
    )


def lying(frame: Frame, shown: Sequence[str], pieces: Mapping[str, Piece], said: Heard) -> str:
    """How what is new or taken up again lies before the action."""
    told = [b for b in shown if said.fresh(b) or b in said.again]
    told = [b for b in told if said.fresh(b) or not _within(frame.before, b, shown, pieces)]
    clauses: dict[tuple[str, str], list[str]] = {}
    done: set[str] = set()
    flat = {b for b in shown if _laid_as_it_is(frame, b, pieces)}
    for body_id in told:
        if body_id in done:
            continue
        group = [b for b in joined(frame.before, [body_id]) if b in shown]
        done |= set(group)
        if not set(group) <= set(told) and not set(group) & said.again:
            continue
        host = max(group, key=lambda b: size(pieces[b]))
        if host in flat:
            continue
        how = _how(frame.before, host, group, pieces, said.fresh(host))
        clauses.setdefault(how, []).append(body_name(pieces[host], host))
    return listed(
        f"{gathered(names)} {verb if len(names) == 1 else _MANY[verb]} {how}"
        for (verb, how), names in clauses.items()
    )


def _within(state: State, body: str, others: Sequence[str], pieces: Mapping[str, Piece]) -> bool:
    """Whether a body lies inside another one, which tells where it is."""
    low, high = spread({body: (pieces[body], state.body(body))}).whole()
    for other in others:
        if other == body or size(pieces[other]) <= size(pieces[body]):
            continue
        least, most = spread({other: (pieces[other], state.body(other))}).whole()
        if all(least[k] - 1.0 < low[k] and high[k] < most[k] + 1.0 for k in range(3)):
            return True
    return False


def _laid_as_it_is(frame: Frame, body: str, pieces: Mapping[str, Piece]) -> bool:
    """Whether a sheet of one panel travels as it lies: its face is told with its way."""
    if not any(isinstance(m, MoveMotion) and body in m.bodies for m in frame.motions):
        return False
    face = face_up(frame.before.body(body))
    alone = len({f.panel for f in pieces[body].facets}) == 1
    return alone and bool(face) and face == face_up(frame.after.body(body))


def size(piece: Piece) -> float:
    return round(sum(area(f.region) for f in piece.facets), 1)


def _how(
    state: State, host: str, group: Sequence[str], pieces: Mapping[str, Piece], new: bool
) -> tuple[str, str]:
    """A verb, and how."""
    piece, body = pieces[host], state.body(host)
    own = {host: (piece, body)}
    if face := face_up(body):
        return "lies", f"flat, {face} face up" + (_layout(own, ", ") if new else "")
    if all(abs(pose.normal[2]) > _LEVEL for _, pose in body.facets):
        return "is", "folded flat" + (_crease(piece, body) or _layout(own, ", "))
    if all(abs(pose.normal[2]) < _UPRIGHT for _, pose in body.facets):
        return "stands", "upright" + _runs(body) + _notched(piece, body)
    how = hollow(state, {b: (pieces[b], state.body(b)) for b in group})
    if how.startswith("open"):
        return "is", how
    return ("rests", how) if how else ("is", "partly folded")


def _crease(piece: Piece, body: Body) -> str:
    """On which side the crease is between the two largest panels that lie on each other."""
    turned = dict(body.angles)
    sizes: dict[str, float] = {}
    for facet in piece.facets:
        sizes[facet.panel] = sizes.get(facet.panel, 0.0) + area(facet.region)
    shut = [f for f in piece.folds if not f.smooth and abs(turned.get(f.name, 0.0)) > _SHUT_DEG]
    if not shut:
        return ""
    fold = max(shut, key=lambda f: round(min(sizes.get(f.child, 0), sizes.get(f.parent, 0)), 1))
    hinge = next((h for h in piece.hinges if h.fold == fold.name), None)
    if hinge is None:
        return ""
    pose = body.facet_pose(hinge.parent)
    ends = pose.apply(lift(hinge.start)), pose.apply(lift(hinge.end))
    off = sub(middle(ends), box_middle(piece, hinge.parent, pose))
    along = unit(sub(ends[1], ends[0]))
    name = side(sub(off, scaled(along, dot(off, along))))
    return f", the crease between {the([fold.parent])} and {the([fold.child])} {at_side(name)}"


def _runs(body: Body) -> str:
    """Which way a sheet that stands runs on the table."""
    normals = (pose.normal for _, pose in body.facets)
    across = {(round(abs(x), 1), round(abs(y), 1)) for x, y, _ in normals}
    ways = {(1.0, 0.0): " from near to far", (0.0, 1.0): " from left to right"}
    return ways.get(next(iter(across)), "") if len(across) == 1 else ""


def _notched(piece: Piece, body: Body) -> str:
    """At which edge the notches of a sheet are."""
    sides: dict[str, list[str]] = {}
    low, high = spread({body.id: (piece, body)}).whole()
    for opening in piece.openings:
        if opening.kind == "notch" and len(piece.facets) == 1:
            x0, y0, x1, y1 = path_bounds(opening.path)
            at = body.facets[0][1].apply(lift(((x0 + x1) / 2.0, (y0 + y1) / 2.0)))
            up = at[2] > (low[2] + high[2]) / 2.0
            sides.setdefault("top" if up else "bottom", []).append(opening.name)
    return "".join(f", {gathered(names)} {at_side(name)}" for name, names in sides.items())


def face_up(body: Body) -> str:
    """Which face of a flat thing is up; "" where it is not flat."""
    levels = {round(pose.normal[2], 2) for _, pose in body.facets}
    if levels and min(levels) > _LEVEL:
        return "front"
    return "back" if levels and max(levels) < -_LEVEL else ""


def _layout(bodies: Mapping[str, tuple[Piece, Body]], joint: str) -> str:
    """Which parts are left, right, near and far."""
    found = spread(bodies)
    ends = {**found.at_ends(0), **found.at_ends(1)}
    for name, parts in ends.items():
        beside = {part for other, own in ends.items() if other != name for part in own}
        ends[name] = [part for part in parts if part not in beside] or parts
    places = [f"{gathered(names)} {at_side(name)}" for name, names in ends.items()]
    return f"{joint}{listed(places)}" if places else ""


def above_and_below(bodies: Mapping[str, tuple[Piece, Body]]) -> dict[str, list[str]]:
    """The parts at the top and at the bottom."""
    return spread(bodies).at_ends(2)


def hollow(state: State, bodies: Mapping[str, tuple[Piece, Body]]) -> str:
    """On which part a hollow thing rests and where it is open: "on side 3, open at the left and
    right"."""
    ends = spread(bodies).whole()
    rests = _resting(state, bodies, ends[0][2])
    ways = open_ways(bodies, ends)
    where = f"open {at_side(ways[0])}" if ways else ""
    if len(ways) > 1:
        where = f"open at the {listed(ways)}{' sides' if set(ways) & set(_DEPTH) else ''}"
    return ", ".join(part for part in (f"on {rests}" if rests else "", where) if part)


def _resting(state: State, bodies: Mapping[str, tuple[Piece, Body]], floor: float) -> str:
    """The part on the table, whose height is ``floor``, or the edges of several."""
    pieces = {b: piece for b, (piece, _) in bodies.items()}
    lowest = {
        (body_id, facet): pose
        for body_id, (piece, body) in bodies.items()
        for facet, pose in body.facets
        if abs(pose.normal[2]) > _LEVEL and box_middle(piece, facet, pose)[2] < floor + _ON_TABLE_MM
    }
    over = set()
    for lower, upper, sign in state.above:
        if lower in lowest and upper in lowest:
            over.add(upper if lowest[lower].normal[2] * sign > 0.0 else lower)
    sizes: dict[str, float] = {}
    for facet_id in lowest:
        if facet_id not in over:
            name, region = called(facet_id, pieces), pieces[facet_id[0]].facet(facet_id[1]).region
            sizes[name] = sizes.get(name, 0.0) + area(region)
    names = [n for n, size in sizes.items() if size > 0.5 * max(sizes.values())]
    return gathered(names).replace("the ", "its ", 1)


def open_ways(bodies: Mapping[str, tuple[Piece, Body]], ends: tuple[Vector, Vector]) -> list[str]:
    """The sides on which a hollow thing is open: where a way out of its middle meets no paper,
    windows counted as paper. None where it is no more than a folded sheet. ``ends`` are its least
    and greatest coordinates."""
    x, y, z = ((a + b) / 2.0 for a, b in zip(*ends, strict=True))
    centre = (x + 0.137, y + 0.091, z + 0.053)  # no way out runs along a crease
    papers = []
    poses: list[Pose] = []
    for piece, body in bodies.values():
        facets = piece_shape(piece).facets
        papers += [facets[facet].paper for facet, _ in body.facets]
        poses += [pose for _, pose in body.facets]
    shut = _met(centre, poses, many(papers))
    ways = [way for way, closed in zip(_WAYS, shut, strict=True) if not closed]
    if not 0 < len(ways) <= len(_WAYS) - _SHUT:
        return []
    if len(ways) == 2 and any(a + b for a, b in zip(*ways, strict=True)):
        return []
    return [side(way) for way in ways]


def _met(centre: Vector, poses: Sequence[Pose], papers: Geometries) -> list[bool]:
    """For each of the ways out of a point whether it meets one of some papers, all brought to the
    papers' own frames."""
    rotations = np.array([pose.rotation for pose in poses])
    at = np.einsum("kj,kji->ki", np.array(centre) - [pose.shift for pose in poses], rotations)
    runs = np.array(_WAYS) @ rotations  # (papers, ways, 3)
    level = np.abs(runs[..., 2]) < 1e-6
    far = -at[:, None, 2] / np.where(level, 1.0, runs[..., 2])
    x, y, _ = np.moveaxis(at[:, None] + runs * far[..., None], -1, 0)
    left, top, right, bottom = shapely.bounds(papers).T[..., None]
    inside = (left <= x) & (x <= right) & (top <= -y) & (-y <= bottom)
    paper, way = np.nonzero(inside & ~level & (far > 0.0))
    whole: Any = shapely.polygons(shapely.get_exterior_ring(papers[paper]))
    met = way[shapely.contains_xy(whole, x[paper, way], -y[paper, way])]
    return [k in met for k in range(len(_WAYS))]
