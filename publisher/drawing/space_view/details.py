"""What is too small on paper to be read, and where it is told best.

A fold or a slit is told by its length, two folds or cuts beside each other by what is between
them, a strip of glue by its width. What looks alike needs to be shown once, at an end or a corner,
where it is seen how it lies to the edges.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np
import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Frame, Mark
from publisher.drawing.space_view.faces import Scene
from publisher.drawing.space_view.glued import GlueArea
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.projected import carried
from publisher.drawing.space_view.shapes import PieceShape, zone_papers
from publisher.drawing.space_view.strips import (
    ALIKE,
    INWARD_MM,
    LEAST_MM,
    LENGTH_WANTED_MM,
    WIDTH_WANTED_MM,
    Detail,
    Strip,
    length,
    middle,
    of_strips,
    strip_width,
    times_for,
    told_once,
)
from publisher.drawing.types import LineRole
from publisher.geometry.path import Point

STRIP_MM = 4.0
"""A strip of glue is told from this width on: three or four lines of its hatch."""
NARROW_MM = 2.0
"""What lies between two folds or cuts, or a fold and an edge, is told from this width on."""
MOST = 2  # circles in a picture
_ALIKE_MM = 0.5
_LONG_MM = 3.0  # so far lines must run beside each other
_PARALLEL = 0.06
_ON_MM = 0.2
_RIB_MM2 = 1.0
_FOLDS: tuple[LineRole, ...] = ("mountain", "valley")


def find_details(
    frame: Frame,
    shapes: Mapping[str, PieceShape],
    scene: Scene,
    lines: Sequence[Drawn],
    glue: Sequence[GlueArea],
) -> list[Detail]:
    """What is too small in a picture, at most ``MOST``."""
    marked = [line for line in lines if line.role in _FOLDS]
    if frame.action.verb == "push":  # of what comes out, faces are narrow that are seen edge-on
        return _short(frame, marked)
    pairs = _pairs(marked)
    found = _narrow(pairs) or _flaps(shapes, scene, marked) or _short(frame, marked)
    found += _cuts(frame, lines)
    found += _glue(shapes, scene, glue)
    return found[:MOST]


# ---------------------------------------------------------------- lines


def _parts(lines: Iterable[Drawn]) -> list[LineString]:
    parts = shapely.get_parts(many(line.geometry for line in lines))
    return [part for part in parts if not part.is_empty]


def _short(frame: Frame, marked: Sequence[Drawn]) -> list[Detail]:
    """Lines of a kind of which none is long enough; and short ones that are scored, where another
    kind is scored beside them, from which they cannot be told."""
    short: list[LineString] = []
    scored = any(isinstance(m, Mark) and m.what == "score" for m in frame.motions)
    mixed = scored and len({line.role for line in marked}) > 1
    for role in _FOLDS:
        own = _parts(line for line in marked if line.role == role)
        if own and (mixed or max(part.length for part in own) < LEAST_MM):
            short += [part for part in own if part.length < LEAST_MM]
    return _longest(short, "fold")


def _longest(short: Sequence[LineString], kind: str) -> list[Detail]:
    """The longest of short lines stand for the rest."""
    if not short:
        return []
    longest = max(part.length for part in short)
    middles = [middle(part) for part in short if part.length > longest - _ALIKE_MM]
    return [Detail(kind, tuple(middles), times_for(longest, LENGTH_WANTED_MM))]


def _pairs(marked: Sequence[Drawn]) -> list[tuple[float, LineString]]:
    """Where two lines run beside each other too near: how near, and the middle between them."""
    found: list[tuple[float, LineString]] = []
    runs = [(d.body, part) for d in marked for part in _straight(d.geometry)]
    for k, (body, one) in enumerate(runs):
        for other_body, other in runs[k + 1 :]:
            if body == other_body and one.distance(other) < NARROW_MM:
                found += _beside(one, other)
    return found


def _straight(geometry: BaseGeometry) -> list[LineString]:
    """The long straight stretches of lines."""
    points, of = shapely.get_coordinates(shapely.get_parts(geometry), return_index=True)
    ends = np.stack((points[:-1], points[1:]), axis=1)[of[1:] == of[:-1]]
    run = ends[:, 1] - ends[:, 0]
    return list(shapely.linestrings(ends[np.hypot(run[:, 0], run[:, 1]) >= _LONG_MM]))


def _beside(one: LineString, other: LineString) -> Iterator[tuple[float, LineString]]:
    a, b = shapely.get_coordinates(one)
    long = float(np.hypot(*(b - a)))
    way = (b - a) / long
    offset = shapely.get_coordinates(other) - a
    along, aside = offset @ way, way[0] * offset[:, 1] - way[1] * offset[:, 0]
    if abs(aside[1] - aside[0]) > _PARALLEL * abs(along[1] - along[0]):
        return
    low, high = max(0.0, float(along.min())), min(long, float(along.max()))
    gap = float(abs(aside.mean()))
    if high - low < _LONG_MM or not _ON_MM < gap < NARROW_MM:
        return
    off = np.array((-way[1], way[0])) * float(aside.mean()) / 2.0
    yield gap, LineString([a + way * low + off, a + way * high + off])


def _narrow(pairs: Sequence[tuple[float, LineString]]) -> list[Detail]:
    """The narrowest of strips between lines, at their ends."""
    if not pairs:
        return []
    least = min(gap for gap, _ in pairs)
    times = times_for(least, WIDTH_WANTED_MM)
    places = [
        place
        for gap, middle in pairs
        if gap <= ALIKE * least
        for place in _near_ends(middle, INWARD_MM / times)
    ]
    return [Detail("fold", tuple(places), times)]


def _near_ends(line: LineString, inward: float) -> list[Point]:
    inward = min(inward, line.length / 2.0)
    ends = (line.interpolate(inward), line.interpolate(line.length - inward))
    return [(float(p.x), float(p.y)) for p in ends]


def _flaps(shapes: Mapping[str, PieceShape], scene: Scene, marked: Sequence[Drawn]) -> list[Detail]:
    """Narrow facets that are turned about a fold that is marked, or lie between it and another
    crease; none where one as wide shows more of itself, because it lies otherwise."""
    if not marked or all(strip_width(item.area) >= NARROW_MM for item in scene.items):
        return []
    at_hinges: dict[tuple[str, str], list[LineString]] = {}
    for shape in shapes.values():
        for hinge, flat in shape.hinges:
            for facet in (hinge.parent, hinge.child):
                at_hinges.setdefault((shape.piece.name, facet), []).append(flat)
    sides: list[tuple[int, LineString]] = []
    for k, (item, seen) in enumerate(zip(scene.items, scene.seen, strict=True)):
        actor = item.actor
        bent = actor.facet in shapes[actor.piece.name].bend_of
        if item.ghost or item.plane is None or bent or seen.is_empty:
            continue
        own = at_hinges.get((actor.piece.name, actor.facet), [])
        if actor.moving or len(own) > 1:
            sides += [(k, flat) for flat in own]
    strips = []
    for k in _beside_marked(scene, sides, marked):
        item = scene.items[k]
        piece = item.actor.piece.name
        flat_mm = strip_width(shapes[piece].facets[item.actor.facet].paper)
        small = strip_width(item.area) < NARROW_MM
        strips.append(Strip(piece, flat_mm, scene.seen[k], small, True))
    return told_once(strips, "fold")


def _beside_marked(
    scene: Scene, sides: Sequence[tuple[int, LineString]], marked: Sequence[Drawn]
) -> list[int]:
    """The places of facets of which a side, a flat line, is long and lies on a marked line."""
    if not sides:
        return []
    of = np.array([k for k, _ in sides])
    matrices = np.array([item.matrix for item in scene.items])[of]
    lines = carried(
        [flat for _, flat in sides], matrices, np.array([item.shift for item in scene.items])[of]
    )
    middles = shapely.line_interpolate_point(lines, 0.5, normalized=True)
    bodies = np.array([item.actor.body for item in scene.items])[of]
    found = np.zeros(len(of), dtype=bool)
    for one in marked:
        found |= (bodies == one.body) & shapely.dwithin(one.geometry, middles, _ON_MM)
    found &= shapely.length(lines) >= _LONG_MM
    return sorted(set(of[found].tolist()))


# ---------------------------------------------------------------- strips


def _glue(shapes: Mapping[str, PieceShape], scene: Scene, glue: Sequence[GlueArea]) -> list[Detail]:
    """Narrow strips of glue."""
    of_body = {item.actor.body: shapes[item.actor.piece.name] for item in scene.items}
    zones: dict[tuple[str, str], list[GlueArea]] = {}
    for one in glue:
        zones.setdefault((one.body, one.zone), []).append(one)
    strips = []
    for (body, name), own in zones.items():
        whole = united(one.area for one in own)
        most = max(own, key=lambda one: (round(one.area.area), not one.through))
        shape = of_body[body]
        flat = zone_papers(shape.piece, (z for z in shape.piece.glue_zones if z.name == name))
        flat_mm = strip_width((flat or [shape.facets[most.facet].paper])[0])
        narrow = bool(shapely.buffer(whole, -STRIP_MM / 2.0, quad_segs=1).is_empty)
        small = narrow or length(whole) < LEAST_MM
        strips.append(Strip(shape.piece.name, flat_mm, most.area, small, not most.through))
    return told_once(strips, "glue")


# ---------------------------------------------------------------- cuts


def _cuts(frame: Frame, lines: Sequence[Drawn]) -> list[Detail]:
    """Cuts of which none is long, and narrow strips in and between what is cut out."""
    marks = [m for m in frame.motions if isinstance(m, Mark) and m.what in ("cut", "press")]
    bodies = {mark.body for mark in marks if mark.names}
    own = [d for d in lines if d.body in bodies and d.role in ("cut", "outline-moving")]
    parts = _parts(own)
    if parts and max(part.length for part in parts) < LEAST_MM:
        return _longest(parts, "cut")
    areas = shapely.get_parts(shapely.polygonize(parts))
    if not len(areas):
        return []
    whole = united(areas)
    wide = shapely.buffer(whole, NARROW_MM / 2.0, join_style="mitre")
    closed = shapely.buffer(wide, -NARROW_MM / 2.0, join_style="mitre")
    between = shapely.get_parts(shapely.difference(closed, whole))
    narrow = [rib for rib in between if rib.area > _RIB_MM2]
    narrow += [a for a in areas if shapely.buffer(a, -NARROW_MM / 2.0, quad_segs=1).is_empty]
    return [of_strips(narrow, "cut")] if narrow else []
