"""What sticks out of a card that is closed flat."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from publisher.assembly.kit import Kit, polygon_of, shape_of, shape_round
from publisher.assembly.layering import in_frame
from publisher.assembly.types import Body, FacetId, State
from publisher.folding.linkage import Key
from publisher.geometry.space import Pose
from publisher.model.types import Fold, Piece

if TYPE_CHECKING:
    from shapely import Polygon

_FAR_MM = 10_000.0
_SAME_LINE = 1e-6
OUT_MM = 0.05
"""What sticks out less than this does not show; as for glued parts. Our own choice."""


def sticking_out(
    kit: Kit, state: State, bodies: Sequence[Body], driver: Sequence[Key]
) -> tuple[tuple[tuple[FacetId, float], ...], float]:
    """The facets between the halves that reach beyond them, each with how far (mm), and how
    far within their edges the innermost rest stays (infinite where there is none)."""
    from shapely import Point, union_all

    poses = {(b.id, name): pose for b in bodies for name, pose in b.facets}
    body_id = driver[0][0]
    piece = kit.pieces[next(b.piece for b in bodies if b.id == body_id)]
    names = {fold for _, fold in driver}
    halves = {
        (body_id, facet) for h in piece.hinges if h.fold in names for facet in (h.parent, h.child)
    }
    covers = {
        other
        for bond in state.bonds
        for one, other in ((bond.first, bond.second), (bond.second, bond.first))
        if one in halves and other in poses and other not in halves
    }
    if not halves:
        # The fold was cut through everywhere: no two halves hang on it.
        return (), math.inf
    frame = poses[min(halves)].inverse()
    pieces = {b.id: b.piece for b in bodies}

    def flat(facet: FacetId) -> Polygon:
        shape = kit.shapes[pieces[facet[0]], facet[1]]
        return polygon_of(in_frame(shape, frame.after(poses[facet])))

    card = [flat(facet) for facet in sorted(covers)]
    card += [flat(facet) for facet in sorted(halves)]
    folds = [piece.fold(name) for name in sorted(names)]
    if one_line(folds):
        card += _halves(piece, folds, body_id, poses, frame)
    whole = union_all(card)
    out: list[tuple[FacetId, float]] = []
    inside = math.inf
    for facet in sorted(set(poses) - halves - covers):
        corners = [Point(p) for p in flat(facet).exterior.coords]
        beyond = max(float(whole.distance(p)) for p in corners)
        if beyond > OUT_MM:
            out.append((facet, beyond))
        else:
            inside = min(inside, *(float(whole.boundary.distance(p)) for p in corners))
    return tuple(out), inside


def one_line(folds: Sequence[Fold]) -> bool:
    """Whether all these folds lie in one line."""
    (x, y), (u, v) = folds[0].start, folds[0].end
    size = math.dist(folds[0].start, folds[0].end)
    return all(
        abs((u - x) * (p[1] - y) - (v - y) * (p[0] - x)) < _SAME_LINE * size
        for fold in folds
        for p in (fold.start, fold.end)
    )


def _halves(
    piece: Piece, folds: Iterable[Fold], body: str, poses: dict[FacetId, Pose], frame: Pose
) -> list[Polygon]:
    """The paper of the piece on each side of its folds, as if nothing were cut out of it."""
    from shapely import Polygon

    found = []
    for fold in folds:
        (x, y), (u, v) = fold.start, fold.end
        dx, dy = (u - x) * _FAR_MM, (v - y) * _FAR_MM
        for facet, side in _sides(piece, fold):
            # The parent lies on the right hand of start -> end; y runs down.
            nx, ny = -dy * side, dx * side
            half = Polygon(
                [
                    (x - dx, y - dy),
                    (u + dx, v + dy),
                    (u + dx + nx, v + dy + ny),
                    (x - dx + nx, y - dy + ny),
                ]
            )
            cut = Polygon(shape_of(piece.outline).outer).intersection(half)
            parts = [g for g in getattr(cut, "geoms", [cut]) if g.area > 1.0]
            into = frame.after(poses[body, facet])
            for part in parts:
                ring = tuple((float(a), float(b)) for a, b in part.exterior.coords)
                found.append(polygon_of(in_frame(shape_round(ring), into)))
    return found


def _sides(piece: Piece, fold: Fold) -> list[tuple[str, float]]:
    hinge = next((h for h in piece.hinges if h.fold == fold.name), None)
    return [(hinge.parent, 1.0), (hinge.child, -1.0)] if hinge else []
