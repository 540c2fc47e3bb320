"""Reading a shape: ``rectangle, 60 x 40 mm``, ``star, 5 points, 30 mm across``, ``points, …``."""

from __future__ import annotations

import math

from msgspec.structs import replace

from publisher.geometry import shapes as draw
from publisher.geometry.booleans import region_union
from publisher.geometry.canonical import oriented
from publisher.geometry.measure import path_bounds
from publisher.geometry.offset import Corners, offset_region
from publisher.geometry.path import Path, Region, circle, polygon
from publisher.geometry.segments import reversed_path
from publisher.geometry.simple import crosses_itself
from publisher.geometry.transform import mirrored, rotated, translated
from publisher.language.statements.spec import SHAPES
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.things import AtPoint
from publisher.model.statements.cut_corners import rectangle_with_corners
from publisher.model.statements.paths import read_path
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.shape import Shape
from publisher.model.statements.sizes import read_size

LEAST_SIDES = 3


def read_shape(bench: Bench, phrases: Phrases, example: str) -> Shape:
    """The shape that the line names, turned and mirrored as it says."""
    word = phrases.word(*SHAPES)
    if word is None:
        raise phrases.missing(f"its shape ({', '.join(SHAPES[:-1])} or {SHAPES[-1]})", example)
    shape = _READERS[word](bench, phrases)
    return _laid(bench, phrases, shape)


def _laid(bench: Bench, phrases: Phrases, shape: Shape) -> Shape:
    shape = _offset(bench, phrases, shape)
    if phrases.word("mirrored") is not None:
        shape = shape.through(mirrored)
    turn = phrases.turned()
    if turn is not None:
        by = bench.degrees(turn)
        shape = shape.through(lambda region: rotated(region, by))
    return shape


def _offset(bench: Bench, phrases: Phrases, shape: Shape) -> Shape:
    """``grown by 3 mm``, ``shrunk by 3 mm``: every edge moved so far out or in; corners that open
    stay sharp, or are ``rounded`` or ``bevelled``."""
    grown = phrases.by_after("grown", "by how much it is grown", "grown by 3 mm")
    shrunk = phrases.by_after("shrunk", "by how much it is shrunk", "shrunk by 3 mm")
    said = grown or shrunk
    if said is None:
        return shape
    if grown is not None and shrunk is not None:
        raise refuse("said-twice", "it is grown or shrunk, not both", shrunk.span)
    by = bench.positive(said, "distance") * (1.0 if grown is not None else -1.0)
    word = phrases.word("rounded", "bevelled")
    corners: Corners = "mitred"
    if word is not None:
        corners = "rounded" if word == "rounded" else "bevelled"
    found = [r for part in (shape.region, *shape.more) for r in offset_region(part, by, corners)]
    if shape.frame is not None:
        found = list(region_union(found))
    if not found or (len(found) > 1 and shape.frame is None):
        raise refuse(
            "shape-closed",
            "nothing is left of this shape" if not found else "this shape falls into several",
            said.span,
            numbers=(("by_mm", by),),
        )
    region, *more = found
    if shape.frame is not None:
        frame = offset_region(shape.frame, by)
        return replace(shape, region=region, more=tuple(more), frame=frame[0] if frame else None)
    x0, y0, x1, y1 = path_bounds(region.outer)
    size = (x1 - x0, y1 - y0)
    if shape.word in ("polygon", "star"):
        across = 2.0 * max(math.hypot(*s.start) for s in region.outer.segments)
        size = (across, across)
    return Shape(shape.word, region, *size, shape.fixed, shape.middle)


def _rectangle(bench: Bench, phrases: Phrases) -> Shape:
    width, height = read_size(bench, phrases, phrases.head, "rectangle, 60 x 40 mm")
    ring = rectangle_with_corners(bench, phrases, draw.rectangle_ring(width, height))
    return Shape("rectangle", Region(ring), width, height)


def _circle(bench: Bench, phrases: Phrases) -> Shape:
    across = _across(bench, phrases, "circle, 6 mm across")
    return Shape("circle", Region(circle((0.0, 0.0), across / 2.0)), across, across)


def _ellipse(bench: Bench, phrases: Phrases) -> Shape:
    width, height = read_size(bench, phrases, phrases.head, "ellipse, 60 x 40 mm")
    if max(width, height) > 500.0 * min(width, height):
        raise refuse(
            "too-small",
            "this ellipse is so flat that it is a line",
            phrases.span,
            numbers=(("width_mm", width), ("height_mm", height)),
        )
    return Shape("ellipse", Region(draw.ellipse_ring(width, height)), width, height)


def _ring(bench: Bench, phrases: Phrases) -> Shape:
    example = "ring, 40 mm across, 6 mm wide"
    wide = phrases.labelled("wide")
    across = _across(bench, phrases, example)
    if wide is None:
        raise phrases.missing("how wide the ring itself is", example)
    width = bench.positive(bench.value(wide), "width of the ring")
    if 2.0 * width >= across:
        raise refuse(
            "shape-closed",
            "a ring as wide as this has no hole: twice its width is all it is across",
            wide.span,
            numbers=(("across_mm", across), ("width_mm", width)),
        )
    hole = reversed_path(circle((0.0, 0.0), across / 2.0 - width))
    return Shape("ring", Region(circle((0.0, 0.0), across / 2.0), (hole,)), across, across)


def _polygon(bench: Bench, phrases: Phrases) -> Shape:
    example = "polygon, 6 sides, 40 mm across"
    count = _count(bench, phrases, "sides", LEAST_SIDES, example)
    side = phrases.labelled("side")
    if side is not None:
        radius = draw.radius_of_side(count, bench.positive(bench.value(side), "side"))
    else:
        radius = _across(bench, phrases, example) / 2.0
    ring = draw.ring_of(draw.regular_corners(count, radius))
    return Shape("polygon", Region(ring), 2.0 * radius, 2.0 * radius)


def _star(bench: Bench, phrases: Phrases) -> Shape:
    example = "star, 5 points, 30 mm across"
    count = _count(bench, phrases, "points", LEAST_SIDES, example)
    radius = _across(bench, phrases, example) / 2.0
    deep = phrases.labelled("deep")
    if deep is not None:
        depth = bench.positive(bench.value(deep), "depth of the notches")
        inner = radius - depth
        if inner <= 0.0:
            raise refuse(
                "shape-closed",
                "the notches of this star reach its middle",
                deep.span,
                numbers=(("depth_mm", depth), ("radius_mm", radius)),
            )
    elif count < 5:
        raise phrases.missing(
            "how deep the notches between its points are", f"{example}, 9 mm deep"
        )
    else:
        inner = draw.star_inner(count, radius)
    ring = draw.ring_of(draw.star_corners(count, radius, inner))
    return Shape("star", Region(ring), 2.0 * radius, 2.0 * radius)


def _half_round(bench: Bench, phrases: Phrases) -> Shape:
    deep = phrases.labelled("deep", "high")
    wide = _across(bench, phrases, "half round, 24 mm wide")
    depth = bench.positive(bench.value(deep), "depth") if deep is not None else wide / 2.0
    return Shape("half round", Region(draw.half_round_ring(wide, depth)), wide, depth)


def _points(bench: Bench, phrases: Phrases) -> Shape:
    example = "points, at (0 mm, 0 mm) and (60 mm, 0 mm) and (30 mm, 40 mm)"
    places = phrases.places("at")
    things = bench.things(places)
    corners = [t.at for t in things if isinstance(t, AtPoint)]
    if len(corners) != len(things) or len(corners) < LEAST_SIDES:
        raise phrases.missing("three points or more", example)
    return _fixed("points", polygon(corners), phrases)


def _path(bench: Bench, phrases: Phrases) -> Shape:
    return _fixed("path", read_path(bench, phrases), phrases)


def _fixed(word: str, ring: Path, phrases: Phrases) -> Shape:
    if len(ring.segments) > draw.MOST_CORNERS:
        raise refuse(
            "wrong-count",
            f"a shape has at most {draw.MOST_CORNERS} corners",
            phrases.span,
            numbers=(("corners", float(len(ring.segments))),),
        )
    if crosses_itself(ring):
        raise refuse(
            "shape-crosses-itself",
            "this line crosses or touches itself, so it is not said what lies inside",
            phrases.span,
            notes=("Give the points in the order in which one walks round the shape",),
        )
    ring = oriented(ring, clockwise=True)
    x0, y0, x1, y1 = path_bounds(ring)
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    moved = translated(ring, -middle[0], -middle[1])
    return Shape(word, Region(moved), x1 - x0, y1 - y0, True, middle)


def _letters(bench: Bench, phrases: Phrases) -> Shape:
    from publisher.model.statements.letters import read_letters  # few patterns have words

    made = read_letters(bench, phrases)
    first, *more = made.regions
    size = (made.width_mm, made.height_mm)
    frame = Region(draw.rectangle_ring(*size))
    return Shape("letters", first, *size, more=tuple(more), frame=frame)


def _artwork(bench: Bench, phrases: Phrases) -> Shape:
    # Few patterns have drawings from files.
    from publisher.model.statements.artwork import read_artwork, regions_of

    made = read_artwork(bench, phrases)
    parts = regions_of(made)
    if not parts:
        raise refuse("drawing-empty", "nothing lies within these lines", made.said.span)
    frame = Region(draw.rectangle_ring(made.width_mm, made.height_mm))
    return Shape(
        "artwork", parts[0], made.width_mm, made.height_mm, more=tuple(parts[1:]), frame=frame
    )


_READERS = {
    "rectangle": _rectangle,
    "circle": _circle,
    "ellipse": _ellipse,
    "ring": _ring,
    "polygon": _polygon,
    "star": _star,
    "half round": _half_round,
    "points": _points,
    "path": _path,
    "letters": _letters,
    "artwork": _artwork,
}


# ---------------------------------------------------------------- measures


def _across(bench: Bench, phrases: Phrases, example: str) -> float:
    across = phrases.labelled("across", "wide") or phrases.bare()
    if across is None:
        raise phrases.missing("how far across it is", f"{phrases.head} {example}")
    return bench.positive(bench.value(across), "width")


def _count(bench: Bench, phrases: Phrases, label: str, least: int, example: str) -> int:
    said = phrases.labelled(label)
    if said is None:
        raise phrases.missing(f"how many {label} it has", f"{phrases.head} {example}")
    value = bench.value(said)
    count = bench.share(value)
    if count != int(count) or not least <= count <= draw.MOST_CORNERS // 2:
        raise refuse(
            "wrong-count",
            f"{label} are a whole number from {least} to {draw.MOST_CORNERS // 2}, not {count:g}",
            value.span,
            numbers=((label, count),),
        )
    return int(count)
