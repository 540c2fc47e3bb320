"""``slide ribbon through first slit and second slit of card``: a strip goes in at one opening,
runs behind the paper, and comes out at the next.

The strip is cut at the openings into stretches that lie before and behind the paper in turn. In
the model all of it lies in one plane with the paper, as thin things do; the layer order tells
which stretch is on which side.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.bodies import carried, posed, taken_up, with_bodies
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.layering import both_ways
from publisher.assembly.targets import target_bodies
from publisher.assembly.travel import NOTHING, travel
from publisher.assembly.types import Body, Bond, FacetId, Motion, MoveMotion, State
from publisher.diagnostics import Diagnostic
from publisher.geometry.booleans import split_region
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Line, Path, Point
from publisher.geometry.space import Pose, Vector, add, lift, moved, scaled, sub, turned, unit
from publisher.model.shaping.facets import hinges_of
from publisher.model.types import Action, Facet, Fold, Opening, Pattern, Piece, Target
from publisher.units import both

CLEARANCE_MM = 10.0
"""Free between the strip and the first opening before it goes in; our own choice, for the eye."""

_RAISED_MM = 8.0
_FAR_MM = 1000.0
_LEAST_MM = 0.01


class Way(Struct, frozen=True):
    """The way through some openings of one panel. ``middle`` is half-way between the first and
    the last, ``along`` the unit direction, both in the piece's flat coordinates; ``stops_mm``
    are the openings' places along it, from the middle; ``room_mm`` is the narrowest of them."""

    panel: str | None
    middle: Point
    along: Point
    stops_mm: tuple[float, ...]
    room_mm: float


def way_through(openings: Sequence[Opening]) -> Way | None:
    """None where they do not follow each other on one panel."""
    if not openings or len({o.panel for o in openings}) != 1:
        return None
    spots = [_middle(o.path) for o in openings]
    middle = ((spots[0][0] + spots[-1][0]) / 2.0, (spots[0][1] + spots[-1][1]) / 2.0)
    if len(openings) == 1:
        (x0, y0), (x1, y1) = openings[0].path.start, openings[0].path.end
        across = math.dist((x0, y0), (x1, y1))
        along = ((y1 - y0) / across, (x0 - x1) / across) if across > _LEAST_MM else (1.0, 0.0)
        along = along if (along[0], along[1]) > (0.0, 0.0) else (-along[0], -along[1])
    else:
        far = math.dist(spots[0], spots[-1])
        if far < _LEAST_MM:
            return None
        along = ((spots[-1][0] - spots[0][0]) / far, (spots[-1][1] - spots[0][1]) / far)
    stops = tuple(_share(along, middle, spot) for spot in spots)
    if any(b - a < _LEAST_MM for a, b in itertools.pairwise(stops)):
        return None
    return Way(openings[0].panel, middle, along, stops, min(_wide(o.path, along) for o in openings))


def _middle(path: Path) -> Point:
    x0, y0, x1, y1 = path_bounds(path)
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)


def _share(along: Point, origin: Point, p: Point) -> float:
    return along[0] * (p[0] - origin[0]) + along[1] * (p[1] - origin[1])


def _wide(path: Path, along: Point) -> float:
    """How wide an opening is for what goes through it along this way."""
    beside = [along[0] * y - along[1] * x for x, y in flattened(path, 0.05)]
    return max(beside) - min(beside)


# ---------------------------------------------------------------- the strip in stretches


def threaded(pattern: Pattern) -> Iterator[tuple[str, Way]]:
    """What steps slide through openings, and on which way."""
    pieces = {piece.name: piece for piece in pattern.pieces}
    for step in pattern.steps:
        for action in step.actions:
            for subject, objects in _each(action):
                one = replace(action, subjects=(subject,), objects=objects)
                way = way_through(_openings(pieces, objects)) if is_threading(one) else None
                if way is not None:
                    yield subject.piece, way


def _each(action: Action) -> list[tuple[Target, tuple[Target, ...]]]:
    """What goes through what: one thing through all, or one of many each through its own."""
    if len(action.subjects) == 1:
        return [(action.subjects[0], action.objects)]
    if len(action.subjects) == len(action.objects):
        pairs = zip(action.subjects, action.objects, strict=True)
        return [(subject, (one,)) for subject, one in pairs]
    return []


def is_threading(action: Action) -> bool:
    return (
        action.verb == "slide"
        and action.relation == "through"
        and bool(action.objects)
        and all(t.kind == "opening" for t in action.objects)
        and len({(t.piece, t.copy) for t in action.objects}) == 1
        and [t.kind in ("piece", "object") for t in action.subjects] == [True]
    )


def _openings(pieces: Mapping[str, Piece], targets: Sequence[Target]) -> list[Opening]:
    found = []
    for target in targets:
        piece = pieces.get(target.piece)
        named = piece.openings if piece is not None else ()
        found += [o for o in named if o.name == target.part]
    return found


def stretch_name(piece: str, number: int) -> str:
    return f"stretch {number} of {piece}"


def in_stretches(piece: Piece, way: Way) -> Piece:
    """The strip cut where it goes through the openings, when it is drawn in by half. A piece of
    several facets, or one that is too short, stays as it is."""
    if len(piece.facets) != 1:
        return piece
    x0, y0, x1, y1 = path_bounds(piece.outline.outer)
    lying = x1 - x0 >= y1 - y0
    cuts = []
    for stop in way.stops_mm:
        at = ((x0 + x1) if lying else (y0 + y1)) / 2.0 + stop
        ends = ((at, -_FAR_MM), (at, _FAR_MM)) if lying else ((_FAR_MM, at), (-_FAR_MM, at))
        cuts.append(ends)
    facet = piece.facets[0]
    parts = split_region(facet.region, [Path((Line(*c),), closed=False) for c in cuts])
    if len(parts) != len(cuts) + 1:
        return piece
    ordered = sorted(parts, key=lambda r: path_bounds(r.outer)[0 if lying else 1])
    facets = [
        Facet(stretch_name(piece.name, i), facet.panel, region)
        for i, region in enumerate(ordered, 1)
    ]
    none = (0.0, 0.0)
    panel = facet.panel
    flat = Fold("", none, none, "valley", 0.0, panel, panel, piece.span, smooth=True)
    folds = (
        *piece.folds,
        *(
            replace(flat, name=f"way {i} through for {piece.name}", start=start, end=end)
            for i, (start, end) in enumerate(cuts, 1)
        ),
    )
    return replace(piece, folds=folds, facets=tuple(facets), hinges=hinges_of(folds, facets))


# ---------------------------------------------------------------- drawn in


def thread(kit: Kit, state: State, action: Action) -> Change:
    """The strip is drawn in until as much of it stands out behind as before."""
    way = way_through(_openings(kit.pieces, action.objects))
    ours = [b for t in action.subjects for b in target_bodies(state, t)]
    theirs = list(dict.fromkeys(b for t in action.objects for b in target_bodies(state, t)))
    if way is None or len(ours) != 1 or len(theirs) != 1:
        note = "Name openings of one panel in the order in which it goes through them."
        return Change(state, state, findings=(not_yet(action, "Threading this", note),))
    start = taken_up(kit, state, [*theirs, *ours])
    body, holder = start.body(ours[0]), start.body(theirs[0])
    facets = kit.facets_of(holder.piece, way.panel or "")
    on = facets[0] if facets else kit.resting[holder.piece]
    side = 1 if holder.facet_pose(on).normal[2] > -1e-9 else -1
    faults = _faults(kit, action, kit.pieces[body.piece], way)
    if len(body.facets) != len(way.stops_mm) + 1:
        return Change(start, start, findings=faults or (_short(kit, action, body, way),))
    pose = _drawn_in(kit, body, holder.facet_pose(on), way, side)
    end = with_bodies(start, [posed(kit, body, pose, dict(body.angles))])
    frame = holder.facet_pose(on)
    long = max(_size(kit.pieces[body.piece]))
    back = frame.turn(scaled(lift(way.along), -(long + CLEARANCE_MM)))
    away = add(back, scaled(frame.normal, side * _RAISED_MM))
    motions: tuple[Motion, ...]
    if state.body(body.id).placed:
        motions = travel(kit, start, end, (body.id,), body.id, away, "thread")
    else:
        start = with_bodies(start, [carried(end.body(body.id), moved(away))])
        motions = (MoveMotion((body.id,), (away, NOTHING), "thread"),)
    bonds = tuple(
        Bond((body.id, name), (holder.id, on), "tuck", "") for name, _ in body.facets[1:2]
    )
    approach = _in_turn(start, end, body, holder, on, side)
    return Change(start, end, motions, bonds=bonds, findings=faults, approach=approach)


def drawn_back(kit: Kit, body: Body) -> Vector | None:
    """From where a strip is threaded to where it is out again, the way it came; None of what is
    no such strip."""
    piece = kit.pieces[body.piece]
    ends = [f for f in piece.facets if f.name.startswith("stretch ")]
    if len(ends) < 2 or ends[0].name != stretch_name(piece.name, 1):
        return None
    first, last = (_middle(f.region.outer) for f in (ends[0], ends[-1]))
    back = body.facet_pose(ends[0].name).turn(sub(lift(first), lift(last)))
    return scaled(unit(back), max(_size(piece)) + CLEARANCE_MM)


def _size(piece: Piece) -> tuple[float, float]:
    x0, y0, x1, y1 = path_bounds(piece.outline.outer)
    return x1 - x0, y1 - y0


def _drawn_in(kit: Kit, body: Body, frame: Pose, way: Way, side: int) -> Pose:
    """The strip's middle on the middle of the way, its length along it, its front face towards
    where it comes from."""
    piece = kit.pieces[body.piece]
    wide, high = _size(piece)
    lean = math.degrees(math.atan2(way.along[1], way.along[0])) - (0.0 if wide >= high else 90.0)
    nowhere, upwards = (0.0, 0.0, 0.0), (0.0, 0.0, 1.0)
    # Flat turns go clockwise as seen (y down), so the body frame turns by the opposite.
    place = moved(lift(way.middle)).after(turned(nowhere, upwards, -lean))
    if side < 0:
        own = (1.0, 0.0, 0.0) if wide >= high else (0.0, 1.0, 0.0)
        place = place.after(turned(nowhere, own, 180.0))
    home = moved(scaled(lift(_middle(piece.outline.outer)), -1.0))
    first = body.facets[0][0]
    hung = kit.hang(body.piece, dict(body.angles))[first]
    return frame.after(place).after(home).after(hung.inverse())


def _in_turn(before: State, end: State, body: Body, holder: Body, on: str, side: int) -> Approach:
    """The first stretch lies before the paper, the next behind it, and so on. What else lies
    there is before the strip or behind it as it is before or behind the paper; where it is on
    the strip's own side, the strip lies next to the paper if it goes through, else on top."""
    front = end.body(holder.id).facet_pose(on).normal
    sides = both_ways(before)
    numbers = {name: i for i, (name, _) in enumerate(body.facets)}

    def beside(stretch: str, other: FacetId) -> float:
        own = side if numbers[stretch] % 2 == 0 else -side
        if other[0] == holder.id:
            return float(own)
        theirs = sides.get(((holder.id, on), other), 0)
        if theirs == own and own != side:
            return float(-own)
        return float(own if theirs in (0, own) else -theirs)

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        if (first[0] == body.id) == (second[0] == body.id):
            return None
        poses = []
        for mine, other in ((first, second), (second, first)):
            pose = end.body(mine[0]).facet_pose(mine[1])
            if mine[0] == body.id:
                pose = moved(scaled(front, beside(mine[1], other))).after(pose)
            poses.append(pose)
        return poses[0], poses[1]

    return approach


def _faults(kit: Kit, action: Action, piece: Piece, way: Way) -> tuple[Diagnostic, ...]:
    spare = way.room_mm - min(_size(piece))
    if spare >= -1e-9:
        return ()
    lacking = both(-spare, kind="thin", first=kit.pattern.meta.first_unit)
    text = f"{piece.name} is wider than what it goes through: {lacking} is missing"
    return (finding("no-way-in", action, text, None, (("missing_mm", -spare),)),)


def _short(kit: Kit, action: Action, body: Body, way: Way) -> Diagnostic:
    piece = kit.pieces[body.piece]
    if len(piece.panels) > 1:
        return not_yet(action, "Threading a folded piece")
    least = way.stops_mm[-1] - way.stops_mm[0]
    lacking = least - max(_size(piece))
    if lacking <= 0:
        note = "One strip goes through the same openings wherever it is threaded."
        return not_yet(action, "Threading this on several ways", note)
    said = both(max(lacking, 0.0), kind="thin", first=kit.pattern.meta.first_unit)
    text = f"{piece.name} does not reach through all that it shall go through: {said} is missing"
    return finding("no-way-in", action, text, None, (("missing_mm", lacking),))
