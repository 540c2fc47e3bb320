"""Where and which way, in words, as one sits at the table: x to the right, y away, z up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import chain

from publisher.assembly.types import Body
from publisher.drawing.space_view.shapes import piece_shape
from publisher.geometry.space import Pose, Vector, lift, scaled
from publisher.model.types import Piece
from publisher.units import Ruler, kind_for, one

_WAYS = (("to the right", "to the left"), ("away from you", "towards you"), ("up", "down"))
_SIDES = (("right", "left"), ("far", "near"), ("top", "bottom"))
_AT = {"near": "nearest you", "far": "at the far side"}
_EDGES: Mapping[str, Vector] = {
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
    "top": (0.0, 1.0, 0.0),
    "bottom": (0.0, -1.0, 0.0),
}
"""The edges of a flat piece as directions in its own frame."""
_ASLANT = 0.5  # less than this of the main direction is not told
_SAME_MM = 1.0


def heading(v: Vector) -> str:
    """The main direction of a motion, from where the maker sits."""
    axis = max(range(3), key=lambda k: round(abs(v[k]), 6))
    return _WAYS[axis][0 if v[axis] > 0 else 1]


def side(v: Vector) -> str:
    """On which side of a thing a place lies: "left", "near", "far left"."""
    order = sorted(range(3), key=lambda k: (-round(abs(v[k]), 6), k))
    most = abs(v[order[0]])
    named = [k for k in order[:2] if abs(v[k]) > _ASLANT * most]
    return " ".join(_SIDES[k][0 if v[k] > 0 else 1] for k in sorted(named, key=lambda k: -k))


def edge_side(name: str, pose: Pose) -> str:
    """Where an edge is as the paper lies, that the flat piece names left, right, top or bottom."""
    return side(pose.turn(_EDGES[name]))


def at_side(name: str) -> str:
    """ "at the left", "nearest you"."""
    return _AT.get(name, f"at the {name}")


def corners(piece: Piece, facet: str, pose: Pose) -> list[Vector]:
    """The corners in space of the flat box round a facet."""
    x0, y0, x1, y1 = piece_shape(piece).facets[facet].bounds
    return [pose.apply(lift(p)) for p in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]


def box_middle(piece: Piece, facet: str, pose: Pose) -> Vector:
    """The middle in space of the flat box round a facet."""
    x0, y0, x1, y1 = piece_shape(piece).facets[facet].bounds
    return pose.apply(lift(((x0 + x1) / 2.0, (y0 + y1) / 2.0)))


def middle(points: Sequence[Vector]) -> Vector:
    x, y, z = map(sum, zip(*points, strict=True))
    return scaled((x, y, z), 1.0 / len(points))


class Spread(dict[str, tuple[Vector, Vector]]):
    """Least and greatest coordinates of parts, by name."""

    def add(self, name: str, points: Iterable[Vector]) -> None:
        x, y, z = zip(*self.get(name, ()), *points, strict=True)
        self[name] = (min(x), min(y), min(z)), (max(x), max(y), max(z))

    def whole(self) -> tuple[Vector, Vector]:
        x, y, z = zip(*chain(*self.values()), strict=True)
        return (min(x), min(y), min(z)), (max(x), max(y), max(z))

    def at_ends(self, axis: int) -> dict[str, list[str]]:
        """The parts at each end of an axis, by the side's name; not those that reach from one
        end to the other, nor at an end where most of the parts are."""
        if len(self) < 2:
            return {}
        low, high = (end[axis] for end in self.whole())
        if high - low < 2.0 * _SAME_MM:
            return {}
        first = [n for n, (a, _) in self.items() if a[axis] < low + _SAME_MM]
        last = [n for n, (_, b) in self.items() if b[axis] > high - _SAME_MM]
        found = {
            _SIDES[axis][1]: [n for n in first if n not in last],
            _SIDES[axis][0]: [n for n in last if n not in first],
        }
        return {name: own for name, own in found.items() if own and 2 * len(own) <= len(self)}


def spread(bodies: Mapping[str, tuple[Piece, Body]]) -> Spread:
    """The panels of some bodies where they are; a body of one panel by its own name."""
    found = Spread()
    for body_id, (piece, body) in bodies.items():
        alone = len({f.panel for f in piece.facets}) == 1
        for facet, pose in body.facets:
            name = body_name(piece, body_id) if alone else piece.facet(facet).panel
            found.add(name, corners(piece, facet, pose))
    return found


def body_name(piece: Piece, body: str) -> str:
    """The piece's name, with the copy's number where there are several."""
    return piece.name if piece.copies == 1 else f"{piece.name} {body.rsplit('-', 1)[-1]}"


def angle(degrees: float) -> str:
    return f"{degrees:.1f}".rstrip("0").rstrip(".") + " degrees"


def length(mm: float, ruler: Ruler) -> str:
    """A length as a maker measures it, in the author's first unit."""
    return one(mm, kind=kind_for(mm), unit=ruler.first, ruler=ruler)
