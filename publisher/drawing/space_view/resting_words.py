"""Where a thing that moves comes to rest, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from publisher.assembly.types import FacetId, Frame, MoveMotion, State
from publisher.drawing.space_view.layers import called, touching
from publisher.drawing.space_view.lists import gathered, listed, the
from publisher.drawing.space_view.lying_words import face_up
from publisher.drawing.space_view.place_words import Spread, corners, heading, length, spread
from publisher.drawing.space_view.stage import Stage, named_bodies
from publisher.geometry.space import Vector, dot, norm, scaled, unit
from publisher.model.types import Piece, Target
from publisher.units import Ruler

_LEVEL = 0.99
_FLUSH_MM = 1.5
_SAME_MM = 0.25
_MOST_UNDER = 4


def own_host(state: State, last: State, body: str) -> list[FacetId]:
    """The facets to which a body is joined anew."""
    found: list[FacetId] = []
    for bond in state.bonds:
        if any(bond.same(old) for old in last.bonds):
            continue
        for one, other in ((bond.first, bond.second), (bond.second, bond.first)):
            if one[0] == body and other not in found:
                found.append(other)
    return found


def targets(objects: Sequence[Target]) -> str:
    """The objects, what belongs to one piece together."""
    said = []
    for (piece, copy, whole), group in groupby(objects, lambda t: (t.piece, t.copy, _is_whole(t))):
        body = f"{piece} {copy}" if copy else piece
        own = [body if whole and not t.part else t.said or t.part or body for t in group]
        parts = gathered(own)
        said.append(parts if whole or own == [piece] else f"{parts} of {the([body])}")
    return listed(said)


def _is_whole(target: Target) -> bool:
    return target.kind in ("piece", "made", "object") or not target.part


def rest(
    frame: Frame, motion: MoveMotion, stage: Stage, pieces: Mapping[str, Piece], ruler: Ruler
) -> str:
    """Where it comes to rest."""
    if motion.manner in ("pull", "thread", "wrap"):
        return ""
    if motion.manner == "lay":
        return border(frame, motion.bodies[0], pieces, ruler)
    away = stage.away.get(motion.bodies[0], (0.0, 0.0, 0.0))
    if norm(away) < 1e-6:
        return ""
    way = unit(scaled(away, -1.0))
    own = [(b, f) for b in motion.bodies for f, _ in frame.after.body(b).facets]
    met = touching(frame.after, own)
    under = [called(f, pieces) for f, to in met.items() if dot(to, way) > 0.9]
    named = {t.part or t.piece for t in frame.action.objects}
    under = [name for name in dict.fromkeys(under) if name not in named]
    if len(under) > 0 and (len(under) <= _MOST_UNDER or gathered(under).count(",") == 0):
        return f", to lie on {gathered(under)}"
    if motion.manner == "set":
        return _centred(frame, motion, pieces, ruler)
    return _how_far(frame, motion, way, pieces, ruler)


def _box_of(
    frame: Frame, objects: Sequence[Target], pieces: Mapping[str, Piece]
) -> tuple[Vector, Vector] | None:
    """Least and greatest coordinates of what is named, when all is done."""
    found = Spread()
    for target in objects:
        for body_id in named_bodies(frame.after, target):
            if body_id not in pieces:
                continue
            piece, body = pieces[body_id], frame.after.body(body_id)
            for facet, pose in body.facets:
                if target.part in ("", piece.facet(facet).panel):
                    found.add("", corners(piece, facet, pose))
    return found.whole() if found else None


def _centred(frame: Frame, motion: MoveMotion, pieces: Mapping[str, Piece], ruler: Ruler) -> str:
    """Where the middle of what is set down is over that of what it is set on."""
    theirs = _box_of(frame, frame.action.objects, pieces)
    if theirs is None:
        return ""
    ours = spread({b: (pieces[b], frame.after.body(b)) for b in motion.bodies}).whole()
    off = [(a + b - c - d) / 2.0 for a, b, c, d in zip(*ours, *theirs, strict=True)]
    said = [
        f"{length(abs(far), ruler)} {heading((far, 0.0, 0.0) if k == 0 else (0.0, far, 0.0))}"
        for k, far in enumerate(off[:2])
        if abs(far) > _FLUSH_MM
    ]
    return f", its middle {listed(said)} of the middle there" if said else ", middle on middle"


def _how_far(
    frame: Frame, motion: MoveMotion, way: Vector, pieces: Mapping[str, Piece], ruler: Ruler
) -> str:
    """How the ends lie to those of what it goes into or over."""
    theirs = _box_of(frame, frame.action.objects, pieces)
    if theirs is None:
        return ""
    axis = max(range(3), key=lambda k: abs(way[k]))
    ours = spread({b: (pieces[b], frame.after.body(b)) for b in motion.bodies}).whole()
    if way[axis] < 0.0:
        ahead, behind = ours[0][axis] - theirs[0][axis], theirs[1][axis] - ours[1][axis]
    else:
        ahead, behind = theirs[1][axis] - ours[1][axis], ours[0][axis] - theirs[0][axis]
    if abs(ahead) < _FLUSH_MM and abs(behind) < _FLUSH_MM:
        return ", until both ends are flush"
    if frame.action.relation in ("over", "on", "around"):
        whose = targets(frame.action.objects)
        return f", until {length(ahead, ruler)} of {whose} still shows" if ahead > _FLUSH_MM else ""
    if behind < -_FLUSH_MM:
        return f", until {length(-behind, ruler)} of it still stands out"
    return ", all the way in"


def border(frame: Frame, body: str, pieces: Mapping[str, Piece], ruler: Ruler) -> str:
    """How far from the edges something is laid."""
    hosts = own_host(frame.after, frame.before, body)
    if len({host for host, _ in hosts}) != 1 or not face_up(frame.after.body(body)):
        return ""
    under, over = Spread(), spread({body: (pieces[body], frame.after.body(body))}).whole()
    for host, facet in hosts:
        pose = frame.after.body(host).facet_pose(facet)
        if abs(pose.normal[2]) < _LEVEL:
            return ""
        under.add("", corners(pieces[host], facet, pose))
    low, high = under.whole()
    gaps = {
        "left": over[0][0] - low[0],
        "right": high[0] - over[1][0],
        "near": over[0][1] - low[1],
        "far": high[1] - over[1][1],
    }
    if min(gaps.values()) < -_SAME_MM:
        return ""
    if max(gaps.values()) - min(gaps.values()) < _SAME_MM:
        most = max(gaps.values())
        return ", edge on edge" if most < _SAME_MM else f", {length(most, ruler)} from every edge"
    by_gap: dict[str, list[str]] = {}
    for name, gap in gaps.items():
        by_gap.setdefault(
            "flush with" if gap < _SAME_MM else length(gap, ruler) + " from", []
        ).append(name)
    return ", " + listed(
        f"{far} the {listed(names)} edge{'s' if len(names) > 1 else ''}"
        for far, names in by_gap.items()
    )
