"""A fold as it is told: what turns about which crease, which way, how far and to where."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.assembly.types import Body, FoldMotion, Frame
from publisher.drawing.space_view.fold_words import driven, turned_name, turned_panel
from publisher.drawing.space_view.place_words import box_middle, heading, middle, side
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.sides import other
from publisher.drawing.space_view.turning import turning_facet
from publisher.geometry.space import Vector, add, cross, dot, lift, norm, scaled, sub, unit
from publisher.model.types import Face, Piece

STILL_DEG, FLAT_DEG = 0.5, 170.0
_STILL_MM = 1e-3
_LEVEL, _UPRIGHT = 0.95, 0.05

Kind: TypeAlias = Literal["new", "on", "through", "back"]


class Turned(Struct, frozen=True):
    """One fold as it is told. ``part`` turns about the crease on the side ``at`` of ``beside``;
    ``way`` is up, down, inwards or outwards, ``heads`` the same by where the maker sits, and
    ``inward`` whether that is towards the middle of what stands still. ``inside`` are the faces
    that turn towards each other. ``after`` is the fold that turns ``beside`` in the same motion,
    "" where that stands still."""

    name: str
    part: str
    facet: str
    beside: str
    at: str
    way: str
    heads: str
    inward: bool
    kind: Kind
    inside: Face
    by_deg: float
    end_deg: float
    ends: str
    after: str = ""

    @property
    def alike(self) -> tuple[Kind, Face, float, float]:
        return (self.kind, self.inside, self.by_deg, self.end_deg)


def turned_folds(
    frame: Frame, motion: FoldMotion, piece: Piece, names: Sequence[str]
) -> list[Turned]:
    """The folds in order from what stands still outwards."""
    shape = piece_shape(piece)
    moving = frozenset(motion.moving)
    before, after = frame.before.body(motion.body), frame.after.body(motion.body)
    centre = _centre(piece, motion, after)
    hinges = [shape.of_fold[n] for n in names if n in shape.of_fold]
    of_panel = {turned_panel(piece, motion, h.fold): h.fold for h in hinges}
    found: list[Turned] = []
    for hinge in hinges:
        facet = turning_facet(shape, hinge, moving)
        beside = hinge.parent if facet == hinge.child else hinge.child
        pose = before.facet_pose(facet)
        ends = pose.apply(lift(hinge.start)), pose.apply(lift(hinge.end))
        start, end = next((s, e) for n, s, e in motion.folds if n == hinge.fold)
        fold = piece.fold(hinge.fold)
        sense = 1.0 if fold.bend == "valley" else -1.0
        travel = (end - start) * sense * (1.0 if facet == hinge.child else -1.0)
        place = box_middle(piece, facet, pose)
        run = scaled(cross(unit(sub(ends[1], ends[0])), sub(place, ends[0])), travel)
        kind = _kind(start, end)
        told_from = start if kind == "back" else end
        bend = fold.bend if told_from >= 0.0 else other(fold.bend)
        panel = piece.facet(beside).panel
        found.append(
            Turned(
                hinge.fold,
                turned_name(piece, motion, hinge.fold),
                facet,
                panel,
                _at(ends, box_middle(piece, beside, before.facet_pose(beside))),
                _way(run, place, centre),
                _way(run, place, None),
                centre is not None and dot(run, sub(centre, place)) > _STILL_MM * norm(run),
                kind,
                "back" if bend == "mountain" else "front",
                round(abs(end - start), 1),
                round(abs(end), 1),
                _ends(pose.normal, after.facet_pose(facet).normal),
                of_panel.get(panel, "") if beside in moving else "",
            )
        )
    return _in_turn(found)


def _in_turn(found: Sequence[Turned]) -> list[Turned]:
    """Each fold followed by those that hang on what it turns."""
    of_all = {t.name for t in found}
    ordered: list[Turned] = []

    def take(one: Turned) -> None:
        if one not in ordered:
            ordered.append(one)
            for beyond in found:
                if beyond.after == one.name:
                    take(beyond)

    for one in found:
        if one.after not in of_all:
            take(one)
    return [*ordered, *(t for t in found if t not in ordered)]


def _centre(piece: Piece, motion: FoldMotion, body: Body) -> Vector | None:
    """The middle of what stands still."""
    still = [f.name for f in piece.facets if f.name not in motion.moving]
    points = [box_middle(piece, name, body.facet_pose(name)) for name in still]
    return middle(points) if points else None


def _at(crease: tuple[Vector, Vector], inner: Vector) -> str:
    """On which side of a part with its middle at ``inner`` a crease is."""
    along = unit(sub(crease[1], crease[0]))
    out = sub(scaled(add(*crease), 0.5), inner)
    return side(sub(out, scaled(along, dot(out, along))))


def _kind(start: float, end: float) -> Kind:
    if start * end >= 0.0 and abs(end) < abs(start):
        return "back"
    if start * end < 0.0:
        return "through"
    return "on" if abs(start) > STILL_DEG else "new"


def _way(run: Vector, place: Vector, centre: Vector | None) -> str:
    """The way that a part sets out on."""
    if norm(run) < 1e-6:
        return ""
    if abs(run[2]) > 0.5 * norm(run):
        return "up" if run[2] > 0.0 else "down"
    inwards = dot(run, sub(centre, place)) if centre is not None else 0.0
    if abs(inwards) < 1e-6 * norm(run):
        return heading(run)
    return "inwards" if inwards > 0.0 else "outwards"


def _ends(before: Vector, after: Vector) -> str:
    if abs(before[2]) > _LEVEL and abs(after[2]) < _UPRIGHT:
        return ", to stand upright"
    if abs(before[2]) < _UPRIGHT and abs(after[2]) > _LEVEL:
        return ", to lie level"
    return ""


def made_by_hand(
    frame: Frame, motion: FoldMotion, piece: Piece, made: Mapping[str, Sequence[str]] | None
) -> list[str]:
    """The folds of a motion that hands make, of those ``made`` by body."""
    own = driven(frame, motion, piece)
    return own if made is None else [n for n in own if n in made.get(motion.body, ())]
