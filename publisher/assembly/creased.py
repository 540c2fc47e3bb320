"""Panels that are scored along curves: where their rulings run.

A panel bends with its rulings square to the curve's chord. The curve comes to lie in a plane, and
what lies beyond it is the mirror image, in that plane, of the bent panel carried on: so paper
folds along a planar curve without being stretched (J. Mitani, "Column-shaped Origami Design Based
on Mirror Reflections", Journal for Geometry and Graphics 16, 2012). Between the rulings the paper
is flat here, the curve a chord; for such strips the same holds exactly. ``creases`` cuts them,
``bending`` says at which angles they stand.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.curves import curved_scores
from publisher.geometry.path import Arc, Line, Path, Point
from publisher.geometry.segments import nearest_on, point_at
from publisher.model.types import Bend, Panel, Piece, Score

STRIP_MM = 5.0
LEAST_STRIPS, MOST_STRIPS = 13, 41
_NEAR_MM = 1e-6
_FAR_MM = 1000.0


class Curve(Struct, frozen=True):
    """A curved score across a panel. ``depths_mm`` is how far it lies from its chord towards
    the panel's middle at each ruling; ``out`` is +1 where the flap lies on the side to which v
    points, else -1; ``level_mm`` is where the chord lies along v."""

    score: str
    bend: Bend
    depths_mm: tuple[float, ...]
    out: int
    level_mm: float


class Bent(Struct, frozen=True):
    """A panel with its rulings: they run along ``v`` and stand at ``at_mm`` along ``u`` from
    ``origin``, ends included. A tab has no curves; it bends as the panel that it is glued to."""

    panel: str
    origin: Point
    u: Point
    v: Point
    at_mm: tuple[float, ...]
    curves: tuple[Curve, ...]

    def point(self, s: float, w: float) -> Point:
        return (
            self.origin[0] + s * self.u[0] + w * self.v[0],
            self.origin[1] + s * self.u[1] + w * self.v[1],
        )

    def along(self, curve: Curve) -> list[Point]:
        """Where a curve crosses each ruling."""
        levels = (curve.level_mm - curve.out * depth for depth in curve.depths_mm)
        return [self.point(s, level) for s, level in zip(self.at_mm, levels, strict=True)]

    def seen(self, p: Point) -> Point:
        """A point of the piece along u and v from the origin."""
        x, y = p[0] - self.origin[0], p[1] - self.origin[1]
        return (x * self.u[0] + y * self.u[1], x * self.v[0] + y * self.v[1])

    def slopes(self, lean: float) -> list[float]:
        """How steep each strip stands against the chord, in radians; ``lean`` is the tangent of
        the angle between the plane of the curve and the rulings. A sine beyond 1 raises
        ValueError: the paper would have to stretch."""
        depths = self.curves[0].depths_mm
        pairs = zip(depths, depths[1:], self.at_mm, self.at_mm[1:], strict=False)
        return [math.asin(lean * (b - a) / (t - s)) for a, b, s, t in pairs]


def bent_panels(piece: Piece) -> dict[str, Bent]:
    """Every panel with curved scores from edge to edge, and the tabs that lie along one; by
    name. Nothing where they cannot bend together."""
    curves = list(curved_scores(piece).values())
    found: dict[str, Bent] = {}
    for panel in piece.panels:
        own = [s for s in curves if _crosses(s, panel)]
        if own:
            bent = _bent(panel, own)
            if bent is None:
                return {}
            found[panel.name] = bent
    if any(p.kind == "panel" and p.name not in found for p in piece.panels):
        return {}
    for panel in piece.panels:
        if panel.kind == "tab":
            tab = _tab(piece, panel, found)
            if tab is None:
                return {}
            found[panel.name] = tab
    return found


def _crosses(score: Score, panel: Panel) -> bool:
    return all(
        any(math.dist(nearest_on(Line(e.start, e.end), p), p) < _NEAR_MM for e in panel.edges)
        for p in (score.path.start, score.path.end)
    )


def _bent(panel: Panel, scores: Sequence[Score]) -> Bent | None:
    (x0, y0), (x1, y1) = scores[0].path.start, scores[0].path.end
    if (x1, y1) < (x0, y0):
        (x0, y0), (x1, y1) = (x1, y1), (x0, y0)
    width = math.dist((x0, y0), (x1, y1))
    u = ((x1 - x0) / width, (y1 - y0) / width)
    count = 2 * round(width / (2.0 * STRIP_MM)) + 1  # odd: the strip in the middle lies level
    count = max(LEAST_STRIPS, min(MOST_STRIPS, count))
    at = tuple(width * i / count for i in range(count + 1))
    bare = Bent(panel.name, (x0, y0), u, (-u[1], u[0]), at, ())
    middle = bare.seen(middle_of(panel))[1]
    curves = []
    for score in scores:
        ends = sorted(bare.seen(p) for p in (score.path.start, score.path.end))
        level = ends[0][1]
        square = abs(ends[0][0]) < _NEAR_MM and abs(ends[1][0] - width) < _NEAR_MM
        heights = [_height(bare, score.path, s) for s in at]
        if not square or abs(ends[1][1] - level) > _NEAR_MM or None in heights:
            return None
        out = -1 if middle > level else 1
        depths = tuple(out * (level - h) for h in heights if h is not None)
        curves.append(Curve(score.name, score.bend, depths, out, level))
    if any(
        abs(a - b) > 1e-3
        for c in curves
        for a, b in zip(curves[0].depths_mm, c.depths_mm, strict=True)
    ):
        return None
    places = [[c.level_mm - c.out * d for d in c.depths_mm] for c in curves if c.out < 0]
    beyond = [[c.level_mm - c.out * d for d in c.depths_mm] for c in curves if c.out > 0]
    for low in places:
        for high in beyond:
            if any(b - a < _NEAR_MM for a, b in zip(low, high, strict=True)):
                return None  # the curves of both ends meet
    return replace(bare, curves=tuple(curves))


def middle_of(panel: Panel) -> Point:
    x0, y0, x1, y1 = panel.bounds
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)


def _height(bent: Bent, path: Path, s: float) -> float | None:
    """Where a path lies along v at a place along u: exactly, on its arcs and lines."""
    for segment in path.segments:
        a, b = bent.seen(segment.start), bent.seen(segment.end)
        low, high = min(a[0], b[0]) - _NEAR_MM, max(a[0], b[0]) + _NEAR_MM
        if not low <= s <= high:
            continue
        if not isinstance(segment, Arc):
            return a[1] + (b[1] - a[1]) * (s - a[0]) / (b[0] - a[0])
        cu, cv = bent.seen(segment.centre)
        radius = math.dist(segment.start, segment.centre)
        rise = math.sqrt(max(0.0, radius * radius - (s - cu) ** 2))
        top = bent.seen(point_at(segment, 0.5))[1]
        return cv + rise if top > cv else cv - rise
    return None


def _tab(piece: Piece, tab: Panel, bent: Mapping[str, Bent]) -> Bent | None:
    """The rulings of a tab: as far from its fold as those of the panel that it meets are from
    the edge that it meets."""
    fold = next((f for f in piece.folds if f.child == tab.name), None)
    if fold is None or tab.meets is None or tab.meets[0] not in bent:
        return None
    partner = bent[tab.meets[0]]
    middle = partner.seen(middle_of(piece.panel(tab.meets[0])))
    edge = piece.panel(tab.meets[0]).edge(tab.meets[1])
    from_start = partner.seen(edge.start)[0] < middle[0]
    width = partner.at_mm[-1]
    beyond = sorted(s if from_start else width - s for s in partner.at_mm)
    (x, y), (p, q) = fold.start, fold.end
    length = math.dist(fold.start, fold.end)
    v = ((p - x) / length, (q - y) / length)
    u = (v[1], -v[0])
    own = Bent(tab.name, fold.start, u, v, (), ())
    reach = max(own.seen(c)[0] for c in tab.ring)
    if reach < _NEAR_MM:
        own = replace(own, u=(-u[0], -u[1]))
        reach = max(own.seen(c)[0] for c in tab.ring)
    at = (*(s for s in beyond if s < reach - _NEAR_MM), reach)
    return replace(own, at_mm=at)
