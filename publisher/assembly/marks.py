"""``score``, ``press``, ``colour``, ``hold`` and their like: done to a face, nothing moves."""

from __future__ import annotations

from publisher.assembly.bodies import taken_up
from publisher.assembly.change import Change, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.layering import looks_up
from publisher.assembly.targets import acted_on, panel_name, target_bodies
from publisher.assembly.types import Body, Mark, State
from publisher.model.types import Action, Face, Piece, Target

_WHAT = {
    "score": "score",
    "press": "press",
    "crease": "press",
    "cut": "cut",
    "colour": "colour",
    "stamp": "colour",
    "hold": "hold",
    "dry": "dry",
}
_ON_PANELS = frozenset({"colour", "hold"})


def mark(kit: Kit, state: State, action: Action) -> Change:
    """Mark the face that the action names, else the one that lies up."""
    targets = acted_on(action)
    start = taken_up(kit, state, [b for t in targets for b in target_bodies(state, t)])
    what = _WHAT[action.verb]
    marks: dict[tuple[str, Face], list[str]] = {}
    for target in targets:
        for body in target_bodies(start, target):
            piece = kit.pieces[start.body(body).piece]
            face = action.face or face_up(kit, start.body(body))
            names = marks.setdefault((body, face), [])
            if what in _ON_PANELS or what == "dry":
                found = [panel_name(target)] if target.part and what in _ON_PANELS else []
            else:
                found = _cuts(piece, target) if what == "cut" else _lines(piece, target)
            names += [n for n in found if n not in names]
    if not marks:
        return Change(start, start, findings=(not_yet(action, f"‘{action.verb}’ of this"),))
    motions = tuple(Mark(body, what, tuple(names), face) for (body, face), names in marks.items())
    return Change(start, start, motions)


def face_up(kit: Kit, body: Body) -> Face:
    """The face of the body's resting facet that looks up."""
    normal = body.facet_pose(kit.resting[body.piece]).normal
    return "front" if looks_up(normal) > 0 else "back"


def _lines(piece: Piece, target: Target) -> list[str]:
    if target.kind == "piece" or not target.part:
        return [s.name for s in piece.scores]
    if target.kind == "opening":
        return [o.name for o in piece.openings if o.name == target.part]
    wanted = (target.part, panel_name(target))
    return [s.name for s in piece.scores if s.name in wanted or s.fold in wanted]


def _cuts(piece: Piece, target: Target) -> list[str]:
    if target.kind == "piece" or not target.part:
        return [o.name for o in piece.openings]
    name = panel_name(target)
    return [o.name for o in piece.openings if target.part == o.name or name == o.panel]
