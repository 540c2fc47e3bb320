"""``glue`` and ``tape``: parts that lie on each other hold; a part that lies elsewhere is
brought to its place first."""

from __future__ import annotations

from typing import Literal

from publisher.assembly.approach import first_of, move_approach
from publisher.assembly.bodies import (
    bodies_of,
    carried,
    joined,
    posed,
    taken_up,
    with_bodies,
)
from publisher.assembly.change import Approach, Change, Wet, finding, not_yet
from publisher.assembly.contact import reaches
from publisher.assembly.kit import Kit
from publisher.assembly.layering import Papers, both_ways
from publisher.assembly.placing import Seat, named_facet, seat
from publisher.assembly.targets import panel_name, target_bodies, zones_of
from publisher.assembly.travel import NOTHING, hover, travel
from publisher.assembly.types import Body, Mark, Motion, MoveMotion, State
from publisher.geometry.space import Vector, moved, scaled
from publisher.model.types import Action, Face, GlueZone, Panel, Piece, Target

_By = Literal["glue", "tape"]
_LEVEL, _LEVEL_MM = 1.0 - 1e-9, 1e-6


def glue(kit: Kit, state: State, action: Action) -> Change:
    if not action.objects:
        return _glue_zones(kit, state, action)
    return _glue_to(kit, state, action)


def _glue_zones(kit: Kit, state: State, action: Action) -> Change:
    """Glue on the named tabs, panels or zones; what it holds follows from where things lie."""
    start = taken_up(kit, state, [b for t in action.subjects for b in target_bodies(state, t)])
    wet: list[Wet] = []
    findings = []
    for target in action.subjects:
        if not target_bodies(start, target):
            findings.append(not_yet(action, "Gluing this"))
        for body in bodies_of(start, target_bodies(start, target)):
            found = _wet_parts(kit, start, action, body, target)
            wet += found
            if not found:
                text = f"{body.piece} has no glue zone, so it is not said where glue goes"
                panel = kit.pieces[body.piece].panels[-1].name
                note = f"Say it in the piece, for example ‘glue on {panel}, on back face’."
                findings.append(finding("no-glue-zone", action, text, target, notes=(note,)))
    return Change(start, start, _marks(wet), wet=tuple(wet), findings=tuple(findings))


def _wet_parts(kit: Kit, state: State, action: Action, body: Body, target: Target) -> list[Wet]:
    piece = kit.pieces[body.piece]
    zones = zones_of(piece, target)
    if zones:
        return [_wet_zone(state, action, body, piece, zone, target) for zone in zones]
    panel = _panel(piece, panel_name(target))
    if panel is None:
        return []
    partners = ((body.id, panel.meets[0]),) if panel.meets else ()
    face: Face | None = action.face or ("front" if panel.kind == "tab" else None)
    edge = panel.meets[1] if panel.meets else ""
    return [Wet(body.id, panel.name, "", face, partners, edge, _by(action), target.span)]


def _wet_zone(
    state: State, action: Action, body: Body, piece: Piece, zone: GlueZone, target: Target
) -> Wet:
    panel = _panel(piece, zone.panel or "")
    partners: tuple[tuple[str, str], ...] = ()
    edge = ""
    if zone.meets is not None:
        others = [b.id for b in state.bodies if b.piece == zone.meets[0]]
        ids = [body.id] if body.id in others else others
        partners = tuple((other, zone.meets[1]) for other in ids)
    elif panel is not None and panel.meets is not None:
        partners = ((body.id, panel.meets[0]),)
    if panel is not None and panel.meets is not None:
        edge = panel.meets[1] if (body.id, panel.meets[0]) in partners else ""
    span = target.span
    return Wet(body.id, zone.panel or "", zone.name, zone.face, partners, edge, _by(action), span)


def _by(action: Action) -> _By:
    return "tape" if action.verb == "tape" else "glue"


def _panel(piece: Piece, name: str) -> Panel | None:
    return next((p for p in piece.panels if p.name == name), None)


def _marks(wet: list[Wet]) -> tuple[Motion, ...]:
    """What is glued or taped on which face, one mark for each body and face."""
    marks: dict[tuple[str, str, Face], list[str]] = {}
    for one in wet:
        names = marks.setdefault((one.body, one.by, one.face or "front"), [])
        name = one.zone or one.panel
        if name and name not in names:
            names.append(name)
    return tuple(Mark(b, by, tuple(names), face) for (b, by, face), names in marks.items())


# ---------------------------------------------------------------- one part to another


def _glue_to(kit: Kit, state: State, action: Action) -> Change:
    pairs = _pairs(state, action)
    if not pairs:
        return Change(state, state, findings=(not_yet(action, "Gluing this to that"),))
    start = taken_up(kit, state, [on for _, _, on, _ in pairs])
    end = start
    wet: list[Wet] = []
    motions: list[Motion] = []
    approaches: list[Approach] = []
    brought: dict[str, Face] = {}
    for body_id, subject, on_id, target in pairs:
        body, on = end.body(body_id), end.body(on_id)
        if body_id in brought or _lies_there(kit, end, action, body, subject, on, target):
            face = brought.get(body_id)
            wet += _wet_joint(kit, end, action, body, subject, on, target, face)
            continue
        more = [(s, t) for b, s, o, t in pairs if (b, o) == (body_id, on_id)][1:]
        place = seat(kit, end, action, body, subject, on, target, more)
        start, end, moves, path = bring(kit, start, end, body, on, place)
        motions += moves
        brought[body_id] = seated_face(place)
        approaches.append(move_approach(end, joined(end, [body_id]), path))
        wet += _wet_seat(kit, end, action, end.body(body_id), subject, on, target, place)
    wet = list(dict.fromkeys(wet))  # behind five windows of one wall it is spread once
    return Change(
        start,
        end,
        (*_marks(wet), *motions),
        wet=tuple(wet),
        # The one that came last says how it lies on those that were there.
        approach=first_of(approaches[::-1]),
    )


def _lies_there(
    kit: Kit, state: State, action: Action, body: Body, subject: Target, on: Body, target: Target
) -> bool:
    """Whether a body holds to the other, or lies on it as it was put. A mat is always brought
    to the place that it was drawn for."""
    if not body.placed or not on.placed:
        return False
    if on.id in joined(state, [body.id]):
        return True
    if kit.pieces[body.piece].derived is not None:
        return False
    wet = _wet_joint(kit, state, action, body, subject, on, target)
    return any(reach.holds for one in wet for reach in reaches(Papers(kit), state, one))


def _pairs(state: State, action: Action) -> list[tuple[str, Target, str, Target]]:
    """Which body is glued to which: lists of one length pair in order, one alone goes with
    each of many."""
    ours = [(b, t) for t in action.subjects for b in target_bodies(state, t)]
    theirs = [(b, t) for t in action.objects for b in target_bodies(state, t)]
    if len(ours) == len(theirs):
        return [(*a, *b) for a, b in zip(ours, theirs, strict=True)]
    if len(theirs) == 1 or len(ours) == 1:
        return [(*a, *b) for a in ours for b in theirs]
    return []


def _wet_joint(
    kit: Kit,
    state: State,
    action: Action,
    body: Body,
    subject: Target,
    on: Body,
    target: Target,
    seated: Face | None = None,
) -> list[Wet]:
    """Glue between parts that are on one thing already; ``seated`` is the face that a body was
    just laid down on."""
    piece = kit.pieces[body.piece]
    panel = _panel_meant(kit, on.piece, target)
    zones = zones_of(piece, subject)
    meeting = [z for z in zones if z.meets == (on.piece, panel)]
    chosen = meeting or [z for z in zones if z.meets is None]
    partners = ((on.id, panel),)
    own = panel_name(subject) if subject.part else ""
    by, span = _by(action), subject.span
    if not chosen:
        face = action.face or seated or _face_towards(kit, state, body, own, on, panel)
        return [Wet(body.id, own, "", face, partners, "", by, span, target.line_mm)]
    line = target.line_mm
    return [
        Wet(body.id, z.panel or "", z.name, z.face, partners, "", by, span, line) for z in chosen
    ]


def _panel_meant(kit: Kit, piece: str, target: Target) -> str:
    """The panel of what is named: of a window that it is cut in; "" of a whole piece."""
    if not target.part:
        return ""
    facet = named_facet(kit, kit.pieces[piece], target)
    return kit.pieces[piece].facet(facet).panel if facet else panel_name(target)


def seated_face(place: Seat) -> Face:
    """The face of a body that looks at what it was laid on."""
    return "back" if (place.side > 0) != place.over else "front"


def _face_towards(
    kit: Kit, state: State, body: Body, own: str, on: Body, panel: str
) -> Face | None:
    """On which face of a body the part lies that it is glued to, by the order of the layers;
    None where it does not lie on it yet."""
    ours = {(body.id, f) for f in _facets(kit, body, own)}
    theirs = {(on.id, f) for f in _facets(kit, on, panel)}
    for (one, other), side in sorted(both_ways(state).items()):
        if one in ours and other in theirs:
            return "front" if side > 0 else "back"
    return None


def _facets(kit: Kit, body: Body, panel: str) -> tuple[str, ...]:
    return kit.facets_of(body.piece, panel) if panel else tuple(n for n, _ in body.facets)


def _wet_seat(
    kit: Kit,
    state: State,
    action: Action,
    body: Body,
    subject: Target,
    on: Body,
    target: Target,
    place: Seat,
) -> list[Wet]:
    """Glue under a part that was just brought to its place."""
    piece, theirs = kit.pieces[body.piece], kit.pieces[on.piece]
    face = seated_face(place)
    zones = [z for z in zones_of(piece, subject) if z.face == face]
    partners = ((on.id, theirs.facet(place.on).panel if target.part else ""),)
    by, span = _by(action), subject.span
    line = target.line_mm
    if zones:
        return [
            Wet(body.id, z.panel or "", z.name, z.face, partners, "", by, span, line) for z in zones
        ]
    panels = (
        [piece.facet(place.facet).panel] if subject.part else _flat_panels(kit, body, place.facet)
    )
    return [Wet(body.id, panel, "", face, partners, "", by, span, line) for panel in panels]


def _flat_panels(kit: Kit, body: Body, facet: str) -> list[str]:
    """The panels of a body that lie in one plane with a facet."""
    into = body.facet_pose(facet).inverse()
    level = []
    for name, pose in body.facets:
        seen = into.after(pose)
        if seen.normal[2] > _LEVEL and abs(seen.shift[2]) < _LEVEL_MM:
            level.append(kit.pieces[body.piece].facet(name).panel)
    return list(dict.fromkeys(level))


def bring(
    kit: Kit, start: State, end: State, body: Body, on: Body, place: Seat
) -> tuple[State, State, tuple[Motion, ...], Vector]:
    """Bring a body to its seat. Gives start, end, motions and the last leg of the path."""
    normal = on.facet_pose(place.on).normal
    towards = scaled(normal, float(place.side))
    if not body.placed:
        end = with_bodies(end, [posed(kit, body, place.pose, dict(body.angles))])
        away = hover(kit, end, [body.id], towards)
        start = with_bodies(start, [carried(end.body(body.id), moved(away))])
        return start, end, (MoveMotion((body.id,), (away, NOTHING), "lay"),), away
    group = joined(end, [body.id])
    motion = place.pose.after(body.pose.inverse())
    before = end
    end = with_bodies(end, [carried(b, motion) for b in bodies_of(end, group)])
    away = hover(kit, end, [body.id], towards)
    return start, end, travel(kit, before, end, group, body.id, away, "lay"), away
