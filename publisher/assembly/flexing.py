"""How panels bend and flaps along their curves go in, from one angle to the next.

While its panel is bent a flap stands in one of two ways: it carries the panel on, or it is the
panel's mirror image in the plane of the curve. On one side of a crease as on the other the paper
has the curve's own geodesic curvature kg, so both stand at the angle a off its osculating plane
for which cos a = kg / k; and -a is the only other way. A flap leaves the one for the other in a
snap, unless its panel goes flat meanwhile. So panels, and flaps that are in all the time, go
exactly, as ``bending`` tells for every lean. Flaps that go in or come out turn about their curves,
as evenly as hands press them. Their paper is squeezed on the way: its strips come to lie a little
over each other at each ruling, by less than the curve turns there more in space than on paper.

Panels bulge before flaps go in: a flap that went in as its panel begins to bend would have to pass
through the flap across from it, which still stands out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from msgspec import Struct

from publisher.assembly.bending import standing
from publisher.assembly.creased import Bent, bent_panels
from publisher.assembly.creases import bend_name, crease_name, resting_strip
from publisher.geometry.space import Pose
from publisher.model.types import Piece

_FLAT_DEG = 1e-6
_HALVINGS = 60
_MOST_DEG = 179.0


class Flexing(Struct, frozen=True):
    """Bent panels on their way. ``leans_deg`` is how far flaps that are in lean from the rulings,
    at the start and at the end; ``pressed`` are the curves whose flaps are in, at the start and
    at the end. ``off`` has for each fold how far it stands from where bending alone would have
    it, at both ends. ``still`` is the facet that stays."""

    piece: Piece
    bent: Mapping[str, Bent]
    leans_deg: tuple[float, float]
    pressed: tuple[tuple[str, ...], tuple[str, ...]]
    off: Mapping[str, tuple[float, float]]
    still: str

    def at(self, share: float) -> dict[str, float]:
        """The angles of all folds that bending has a part in, when hands have gone a share of
        their way."""
        lean = self.lean_deg(share)
        before, after = self.pressed
        stay = [score for score in before if score in after]
        angles = standing(self.piece, self.bent, lean, stay)
        found = dict(angles)
        flaps = (before, self.leans_deg[0] * (1.0 - share)), (after, self.leans_deg[1] * share)
        for pressed, in_deg in flaps:
            if len(pressed) > len(stay) and in_deg:
                there = standing(self.piece, self.bent, lean, pressed)
                part = min(1.0, in_deg / lean)
                for name, angle in angles.items():
                    found[name] += (there[name] - angle) * part
        for name, (start, end) in self.off.items():
            found[name] += start * (1.0 - share) + end * share
        return found

    def lean_deg(self, share: float) -> float:
        """Panels come first and go last."""
        start, end = self.leans_deg
        if self.pressed[0] == self.pressed[1]:
            return start + (end - start) * share
        if end >= start:
            return start + (end - start) * _first(share)
        return end + (start - end) * _first(1.0 - share)


def _first(share: float) -> float:
    """Panels are nearly as far as they go when flaps are half in."""
    return 1.0 - (1.0 - share) ** 3


def flexing(
    piece: Piece,
    before: Mapping[str, float],
    folds: Sequence[tuple[str, float, float]],
    poses: Mapping[str, Pose],
) -> Flexing | None:
    """None where folds that turn from ``before`` are not those of flaps along curves. ``poses`` are
    those of the facets at the start."""
    if not any(piece.fold(name).part_of for name, _, _ in folds):
        return None
    bent = bent_panels(piece)
    if not bent:
        return None
    after = {**before, **{name: end for name, _, end in folds}}
    leans = _lean_deg(bent, before), _lean_deg(bent, after)
    scores = [c.score for own in bent.values() for c in own.curves]
    states = [(before, leans[0]), (after, leans[1])]
    pressed = [tuple(s for s in scores if _in(s, angles)) for angles, _ in states]
    ends = [
        standing(piece, bent, lean, own) for (_, lean), own in zip(states, pressed, strict=True)
    ]
    off = {
        name: (before.get(name, 0.0) - ends[0][name], after.get(name, 0.0) - ends[1][name])
        for name in ends[0]
    }
    return Flexing(piece, bent, leans, (pressed[0], pressed[1]), off, resting_strip(bent, poses))


def _in(score: str, angles: Mapping[str, float]) -> bool:
    return abs(angles.get(crease_name(score, 1), 0.0)) > _FLAT_DEG


def _lean_deg(bent: Mapping[str, Bent], angles: Mapping[str, float]) -> float:
    """The lean for which panels stand so: they turn the more, the more flaps lean."""
    name, own = next((n, own) for n, own in bent.items() if own.curves)
    turned = sum(angles.get(bend_name(name, i), 0.0) for i in range(1, len(own.at_mm) - 1))

    def turns(lean_deg: float) -> float:
        try:
            slopes = own.slopes(math.tan(math.radians(lean_deg) / 2.0))
        except ValueError:  # more than paper can follow
            return math.inf
        return math.degrees(slopes[0] - slopes[-1])

    if abs(turned) < _FLAT_DEG:
        return 0.0
    low, high = 0.0, _MOST_DEG
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if turns(middle) < turned else (low, middle)
    return (low + high) / 2.0
