"""Moves in words: what goes where, which way, each to its own place, and where it comes to rest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from publisher.assembly.types import FacetId, Frame, MoveMotion
from publisher.drawing.space_view.layers import called, touching
from publisher.drawing.space_view.lists import gathered, listed, the
from publisher.drawing.space_view.lying_words import face_up
from publisher.drawing.space_view.place_words import (
    body_name,
    heading,
)
from publisher.drawing.space_view.resting_words import border, own_host, rest, targets
from publisher.drawing.space_view.stage import Stage, named_bodies
from publisher.geometry.space import norm, scaled
from publisher.model.types import Action, Piece, Target
from publisher.units import Ruler

_VERBS = {
    "slide": "Slide",
    "lay": "Lay",
    "wrap": "Wrap",
    "set": "Set",
    "tuck": "Tuck",
    "pull": "Pull",
    "thread": "Slide",
}
_FROM_ABOVE = ("lay", "set")
_FLUSH_MM = 1.5
_SAME_MM = 0.25
_MOST_UNDER = 4


def move_sentences(
    frame: Frame,
    motions: Sequence[MoveMotion],
    stage: Stage,
    pieces: Mapping[str, Piece],
    ruler: Ruler,
) -> Iterator[str]:
    """A sentence for each move; one for copies that go to a place each."""

    def alike(motion: MoveMotion) -> tuple[object, ...]:
        return (motion.manner, [pieces[b].name for b in motion.bodies], _way(motion, stage))

    for _, group in groupby(motions, alike):
        own = list(group)
        if len(own) > 1:
            yield _each(frame, own, stage, pieces, ruler)
        else:
            yield _one(frame, own[0], stage, pieces, ruler)


def _way(motion: MoveMotion, stage: Stage) -> str:
    """Which way it goes; "" for down where it is laid."""
    away = stage.away.get(motion.bodies[0], (0.0, 0.0, 0.0))
    if norm(away) < 1e-6:
        return ""
    way = heading(scaled(away, -1.0))
    return "" if way == "down" and motion.manner in _FROM_ABOVE else f" {way}"


def _verb(frame: Frame, motion: MoveMotion) -> str:
    if frame.action.verb == "mount" and motion.manner == "lay":
        return "Press"
    return _VERBS.get(motion.manner, "Move")


def _relation(action: Action, manner: str) -> str:
    if manner == "lay" and action.relation in ("to", ""):
        return "on"
    return "out of" if action.relation == "out from" else action.relation


def _each(
    frame: Frame,
    motions: Sequence[MoveMotion],
    stage: Stage,
    pieces: Mapping[str, Piece],
    ruler: Ruler,
) -> str:
    """Copies that go the same way, each to its own place."""
    bodies = [b for m in motions for b in m.bodies]
    names = [body_name(pieces[b], b) for b in bodies]
    first = motions[0]
    relation = _relation(frame.action, first.manner)
    places = [_own_places(frame, b, pieces) for b in bodies]
    verb, way = _verb(frame, first), _way(first, stage)
    face = _face(frame, bodies)
    edges = border(frame, bodies[0], pieces, ruler)
    if any(border(frame, b, pieces, ruler) != edges for b in bodies):
        edges = ""
    if all(len(own) == 1 for own in places) and len(set(map(tuple, places))) == len(places):
        flat = [own[0] for own in places]
        of = _of_piece(frame.action.objects)
        if flat == sorted(flat, key=_number) and names == sorted(names, key=_number):
            return (
                f"{verb} {gathered(names)}{face}{way} {relation} {gathered(flat)}{of}, "
                f"each {relation} its own{edges}."
            )
        pairs = (f"{n} {relation} {the([p])}" for n, p in zip(names, flat, strict=True))
        return f"{verb}{way} {listed(pairs)}{of}{face}{edges}."
    where = f" {relation} {targets(frame.action.objects)}" if frame.action.objects else ""
    return f"{verb} {gathered(names)}{face}{way}{where}{edges}."


def _number(name: str) -> int:
    last = name.rpartition(" ")[2]
    return int(last) if last.isdigit() else 0


def _of_piece(objects: Sequence[Target]) -> str:
    pieces = list(dict.fromkeys(t.piece for t in objects if t.part))
    return f" of {the(pieces)}" if len(pieces) == 1 else ""


def _own_places(frame: Frame, body: str, pieces: Mapping[str, Piece]) -> list[str]:
    """Those of the things named to which a body itself comes."""
    hosts = own_host(frame.after, frame.before, body)
    if not hosts:
        own = [(body, f) for f, _ in frame.after.body(body).facets]
        hosts = list(touching(frame.after, own))
    found = []
    for target in frame.action.objects:
        name = target.said or target.part or target.piece
        if any(_speaks_of(target, host, pieces, frame) for host in hosts):
            found.append(name)
    return list(dict.fromkeys(found))


def _speaks_of(target: Target, host: FacetId, pieces: Mapping[str, Piece], frame: Frame) -> bool:
    """Whether a target is the facet, lies in it, or is the body that it belongs to."""
    if host[0] not in named_bodies(frame.before, target):
        return False
    if not target.part:
        return True
    piece = pieces[host[0]]
    panel = piece.facet(host[1]).panel
    opening = next((o for o in piece.openings if o.name == target.part), None)
    return target.part in (panel, host[1]) or (opening is not None and opening.panel == panel)


def _one(
    frame: Frame, motion: MoveMotion, stage: Stage, pieces: Mapping[str, Piece], ruler: Ruler
) -> str:
    action = frame.action
    named = [b for t in action.subjects for b in named_bodies(frame.before, t)]
    first = [b for b in motion.bodies if b in named] or list(motion.bodies)
    others = [body_name(pieces[b], b) for b in motion.bodies if b not in first]
    what = gathered(body_name(pieces[b], b) for b in first)
    where = ""
    if action.objects:
        where = f" {_relation(action, motion.manner)} {targets(action.objects)}"
    if motion.manner == "thread":
        where = _through(action)
    elif motion.manner == "pull" and not where:
        where = _out_of(frame, motion, pieces)
    way = _way(motion, stage)
    face = _face(frame, first)
    along = f", {gathered(others)} with it" if others else ""
    each = _part_by_part(frame, motion, pieces)
    end = each or rest(frame, motion, stage, pieces, ruler)
    return f"{_verb(frame, motion)} {what}{face}{way}{where}{along}{end}."


def _face(frame: Frame, bodies: Sequence[str]) -> str:
    """Which face of something flat is up when it is there."""
    faces = {face_up(frame.after.body(b)) for b in bodies}
    face = faces.pop() if len(faces) == 1 else ""
    return f", {face} face up," if face else ""


def _out_of(frame: Frame, motion: MoveMotion, pieces: Mapping[str, Piece]) -> str:
    """Out of what something is pulled that the line does not name: what it lies against."""
    own = [(b, f) for b in motion.bodies for f, _ in frame.before.body(b).facets]
    held = {body for body, _ in touching(frame.before, own) if body in pieces}
    names = [body_name(pieces[b.id], b.id) for b in frame.before.bodies if b.id in held]
    return f" out of {gathered(names)}" if names else ""


def _through(action: Action) -> str:
    """Through which openings a strip goes, and on which side of the paper it runs between."""
    ways = [f"{'out' if k % 2 else 'in'} at {the([t.part])}" for k, t in enumerate(action.objects)]
    paper = action.objects[0].piece
    ways[0] += f", behind the {paper}"
    return f" through the {paper}: {listed(ways)}"


def _part_by_part(frame: Frame, motion: MoveMotion, pieces: Mapping[str, Piece]) -> str:
    """Which of its parts comes to which other: "the left foot on rim 1"."""
    pairs: dict[str, list[str]] = {}
    for bond in frame.after.bonds:
        if any(bond.same(old) for old in frame.before.bonds):
            continue
        for one, other in ((bond.first, bond.second), (bond.second, bond.first)):
            if one[0] in motion.bodies and other[0] not in motion.bodies:
                pairs.setdefault(called(one, pieces), []).append(called(other, pieces))
    if len(pairs) < 2 or any(len(set(own)) > 1 for own in pairs.values()):
        return ""
    if len({own[0] for own in pairs.values()}) < len(pairs):
        return ""
    return ": " + listed(f"{the([one])} on {the([own[0]])}" for one, own in pairs.items())
