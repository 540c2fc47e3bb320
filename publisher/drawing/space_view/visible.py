"""Hidden faces: what is seen of each facet, computed on polygons.

For each pair of facets that overlap on paper, their depths are compared over the overlap
itself (an affine function, so its vertices decide), not by sorting whole faces. Facets that
lie on each other go by the layer order. What lies nearer is taken away from what lies behind.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from msgspec import Struct
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId
from publisher.drawing.space_view.camera import Array
from publisher.drawing.space_view.many import (
    GRID_MM,
    Geometries,
    joined,
    many,
    moved_to_grid,
    united,
)
from publisher.drawing.space_view.pairs import DEPTH_MM, facing_pairs
from publisher.drawing.space_view.projected import Projected
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.together import Together

_LAYER_MM = 3.0  # facets whose order is known lie nearer than this
SLIVER_MM = 0.02  # narrower than this is no area
_CLEAR_MM = 1e-3
_EMPTY = Polygon()

Layers = Mapping[tuple[FacetId, FacetId], int]


def layer_table(above: Sequence[tuple[FacetId, FacetId, int]]) -> Layers:
    """Pairs of facets both ways round: (a, b) -> +1 where b lies on a's front side, -1 back."""
    return {(lower, upper): side for lower, upper, side in above}


def _contact(a: Projected, b: Projected, layers: Layers) -> bool:
    """Whether ``a`` is nearer, of two facets that lie on each other."""
    side = layers.get((a.actor.id, b.actor.id))
    if side is not None:
        return (side > 0) != (a.face == "front")
    side = layers.get((b.actor.id, a.actor.id))
    if side is not None:
        return (side > 0) == (b.face == "front")
    # Nobody said. A ghost is drawn on what is there; a tab lies behind the panel it meets
    # (common practice, no source); else the later facet lies on the earlier one.
    if a.ghost != b.ghost:
        return a.ghost
    tabs = [_is_tab(a), _is_tab(b)]
    if tabs[0] != tabs[1]:
        panel_shows_front = (b if tabs[0] else a).face == "front"
        return tabs[1] == panel_shows_front
    return False


def _ordered(a: Projected, b: Projected, layers: Layers) -> bool:
    return (a.actor.id, b.actor.id) in layers or (b.actor.id, a.actor.id) in layers


def _is_tab(item: Projected) -> bool:
    piece, facet = item.actor.piece, item.actor.piece.facet(item.actor.facet)
    return any(p.name == facet.panel and p.kind == "tab" for p in piece.panels)


def _nearer_part(overlap: BaseGeometry, difference: Array) -> BaseGeometry:
    """The part of ``overlap`` where the affine ``difference`` (a, b, c) is positive."""
    a, b, c = difference
    length = float(np.hypot(a, b))
    normal = np.array([a, b]) / length
    foot = -c / length * normal
    along = np.array([-normal[1], normal[0]])
    x0, y0, x1, y1 = overlap.bounds
    reach = 2.0 * (abs(x0) + abs(x1) + abs(y0) + abs(y1) + float(np.abs(foot).sum()) + 1.0)
    corners = (
        foot + along * reach,
        foot + (along + normal) * reach,
        foot + (normal - along) * reach,
        foot - along * reach,
    )
    part = shapely.intersection(overlap, Polygon(corners))
    if part.geom_type == "GeometryCollection":  # with edges that only touch the line
        part = MultiPolygon([p for p in shapely.get_parts(part) if p.geom_type == "Polygon"])
    return part


def clean(area: BaseGeometry) -> BaseGeometry:
    """The polygons of an area without slivers and without pinholes."""
    return cleaned([area])[0]


def cleaned(areas: Sequence[BaseGeometry] | Geometries) -> list[BaseGeometry]:
    """``clean`` for many at once."""
    parts, owners = shapely.get_parts(many(areas), return_index=True)
    wide = (shapely.get_type_id(parts) == 3) & _have_width(parts)
    for k in np.flatnonzero(wide & (shapely.get_num_interior_rings(parts) > 0)):
        holes: Any = shapely.get_rings(parts[k])[1:]
        real = _have_width(shapely.polygons(holes))
        if not real.all():
            parts[k] = Polygon(parts[k].exterior, list(holes[real]))
    kept: list[list[Polygon]] = [[] for _ in areas]
    for k in np.flatnonzero(wide):
        kept[owners[k]].append(parts[k])
    return [own[0] if len(own) == 1 else MultiPolygon(own) if own else _EMPTY for own in kept]


def _have_width(parts: Geometries) -> npt.NDArray[np.bool_]:
    return np.asarray(2.0 * shapely.area(parts) > SLIVER_MM * shapely.length(parts))


class Hiding(Struct, frozen=True):
    """What hides a facet: the places of those ``by`` which it is hidden wherever both are, and
    ``parts``, areas of others that are nearer only there. ``over`` are the places of those than
    which it is nearer itself, anywhere."""

    by: list[int]
    parts: list[BaseGeometry]
    over: set[int]


def occluders(
    items: Sequence[Projected],
    layers: Layers,
    layers_after: Layers,
    shapes: Mapping[str, PieceShape],
) -> list[Hiding]:
    """For each facet what is nearer.

    A ghost hides nothing; it can be hidden, and lies among the others as ``layers_after``
    tells. Clear paper hides clear paper alone.
    """
    hiding = [Hiding([], [], set()) for _ in items]
    areas = many(item.area for item in items)
    ghosts = np.array([item.ghost for item in items], dtype=bool)
    pairs = facing_pairs(items, areas, ghosts, shapes)
    first, second, gaps = pairs.first, pairs.second, pairs.gaps
    most, least, unclear = pairs.most.copy(), pairs.least.copy(), pairs.unclear
    clear = np.flatnonzero(~unclear)
    apart = clear[~shapely.intersects(areas[first[clear]], areas[second[clear]])]
    overlaps = np.full(len(first), None, dtype=object)
    overlaps[unclear] = shapely.intersection(areas[first[unclear]], areas[second[unclear]])
    touching = unclear & ~(shapely.area(overlaps) > SLIVER_MM**2)
    touching[apart] = True
    points, of = shapely.get_coordinates(overlaps, return_index=True)
    depths = points[:, 0] * gaps[of, 0] + points[:, 1] * gaps[of, 1] + gaps[of, 2]
    most[unclear], least[unclear] = -np.inf, np.inf
    np.maximum.at(most, of, depths)
    np.minimum.at(least, of, depths)

    a_first = np.where(unclear, most > DEPTH_MM, most > -least)
    b_first = np.where(unclear, least < -DEPTH_MM, ~a_first)
    ghostly = ghosts[first] | ghosts[second]
    # The known order of two parallel facets that lie near each other counts more than their
    # planes, for those of folds have no thickness. A liner that is glued inside a card lies
    # beyond the plane of the other half when that is closed.
    level = ~ghostly & (most - least <= DEPTH_MM) & (np.maximum(most, -least) <= _LAYER_MM)
    for k in np.flatnonzero(~touching & (level | ~(a_first | b_first))).tolist():
        a, b = items[first[k]], items[second[k]]
        if not (a_first[k] or b_first[k]) or _ordered(a, b, layers):
            a_first[k] = _contact(a, b, layers_after if ghostly[k] else layers)
            b_first[k] = not a_first[k]

    for near, far, sign, nearer in ((first, second, 1.0, a_first), (second, first, -1.0, b_first)):
        at = np.flatnonzero(nearer & ~touching)
        through = (a_first & b_first)[at].tolist()
        for k, i, j, part in zip(
            at.tolist(), near[at].tolist(), far[at].tolist(), through, strict=True
        ):
            hiding[i].over.add(j)
            if items[i].ghost or (items[i].clear and not items[j].clear):
                continue
            if part:
                hiding[j].parts.append(_nearer_part(overlaps[k], sign * gaps[k]))
            else:
                hiding[j].by.append(i)
    return hiding


def visible_areas(
    items: Sequence[Projected],
    hiding: Sequence[Hiding],
    groups: Sequence[Together],
    on_grid: bool = True,
) -> list[BaseGeometry]:
    """What is seen of each facet, without slivers; empty for one seen edge-on. Where nothing
    is taken from an area it is the facet's own. ``groups`` are taken together where all of
    one hides a facet or misses it: many facets lie behind the same ones. Off the grid it is
    quicker, and may lose a part of what hides; of ghosts and clear paper it never does."""
    group_of = {k: n for n, group in enumerate(groups) for k in group.places}
    covers = [_covers(k, own, groups, group_of) for k, own in enumerate(hiding)]
    seen = many(item.area for item in items)
    hidden = [k for k, own in enumerate(hiding) if covers[k] or own.parts]
    nearer = [
        [groups[-1 - n].area if n < 0 else items[n].area for n in covers[k]] + hiding[k].parts
        for k in hidden
    ]
    over = many(area for areas in nearer for area in areas)
    of = np.repeat(np.array(hidden, dtype=int), [len(areas) for areas in nearer])
    shapely.prepare(over)
    gone = np.zeros(len(items), dtype=bool)
    gone[of[shapely.covers(over, seen[of])]] = True
    seen[gone] = _EMPTY
    known: dict[tuple[int, ...], BaseGeometry] = {}
    cut, hiders, exact = [], [], []
    for k, areas in zip(hidden, nearer, strict=True):
        if gone[k]:
            continue
        cut.append(k)
        exact.append(on_grid or items[k].ghost or items[k].clear)
        if len(areas) > 2 and not exact[-1]:
            together = None if hiding[k].parts else known.get(covers[k])
            if together is None:
                together = joined(areas)
                if not hiding[k].parts:
                    known[covers[k]] = together
            areas = [together]
        hiders.append(areas)
    seen[cut] = _taken_away(seen[cut], hiders, np.array(exact, dtype=bool))
    found = cleaned(seen)
    whole = shapely.get_num_interior_rings(seen) == 0
    behind = set(hidden)
    for k, item in enumerate(items):
        if whole[k] and k not in behind and not found[k].is_empty:
            found[k] = item.area
    return found


def _taken_away(
    areas: Geometries, hiders: Sequence[Sequence[BaseGeometry]], exact: npt.NDArray[np.bool_]
) -> Geometries:
    """Areas without what hides each: on the grid where that is asked for, and where off it edges
    that all but fall on each other would leave a needle, a slit or a neck."""
    found = areas.copy()
    found[~exact] = moved_to_grid(areas[~exact])
    for turn in range(max(map(len, hiders), default=0)):
        at = [k for k, own in enumerate(hiders) if len(own) > turn and not exact[k]]
        found[at] = shapely.difference(found[at], moved_to_grid(hiders[k][turn] for k in at))
    again = np.flatnonzero(exact | narrow(found)).tolist()
    taken = many(hiders[k][0] if len(hiders[k]) == 1 else united(hiders[k]) for k in again)
    found[again] = shapely.difference(areas[again], taken, grid_size=GRID_MM)
    return found


def narrow(areas: Sequence[BaseGeometry] | Geometries) -> npt.NDArray[np.bool_]:
    """Which areas have corners that all but touch another edge or corner of theirs."""
    return np.asarray(shapely.minimum_clearance(areas) < _CLEAR_MM)


def _covers(
    k: int, own: Hiding, groups: Sequence[Together], group_of: Mapping[int, int]
) -> tuple[int, ...]:
    """What hides a facet wherever both are: places of facets, and of groups as -1 - place."""
    if not group_of or len(own.by) < 2:
        return tuple(sorted(own.by))
    count = Counter(group_of[j] for j in own.by if j in group_of)
    whole = {
        n
        for n, members in count.items()
        if members > 1 and k not in groups[n].places and not groups[n].places & own.over
    }
    single = [j for j in own.by if group_of.get(j) not in whole]
    return (*(-1 - n for n in sorted(whole)), *sorted(single))
