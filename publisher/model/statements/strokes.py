"""Lines that a statement draws on the paper, whatever is done along them then."""

from __future__ import annotations

import math

from msgspec import Struct

from publisher.diagnostics import Span
from publisher.geometry.path import Line, Path, Point
from publisher.geometry.segments import point_at
from publisher.language.ast import Place, Ref
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.places.resolve import panel_under
from publisher.model.places.things import AtPoint
from publisher.model.shaping.notches import NOTCH_SHAPES, NotchShape, notch_at
from publisher.model.statements.along import points_said
from publisher.model.statements.artwork import placed_lines
from publisher.model.statements.lines import Drawn, lines_along
from publisher.model.statements.paths import read_path, says_a_path
from publisher.model.statements.phrases import Phrases

_EXAMPLE = "40 mm long, across, at middle of pocket"
_SHAPED = "half round, 40 mm wide, facing top, at middle of pocket"
_OUT: dict[str, Point] = {
    "top": (0.0, -1.0),
    "right": (1.0, 0.0),
    "bottom": (0.0, 1.0),
    "left": (-1.0, 0.0),
}


class Stroke(Struct, frozen=True):
    path: Path
    shape: str
    width_mm: float
    depth_mm: float
    panel: str | None
    span: Span


def read_strokes(bench: Bench, phrases: Phrases) -> list[Stroke]:
    """Every line that the statement draws: tongues, lines so long at points, along lines, or from
    point to point."""
    if phrases.word("artwork") is not None:
        return [
            Stroke(path, "path", path.length_mm, 0.0, panel, phrases.span)
            for path, panel in placed_lines(bench, phrases)
        ]
    word = phrases.word(*NOTCH_SHAPES)
    shape: NotchShape | None = next((s for s in NOTCH_SHAPES if s == word), None)
    if shape is not None:
        return _shaped(bench, phrases, shape)
    long = phrases.labelled("long")
    if long is not None:
        drawn = _at_points(bench, phrases, bench.positive(bench.value(long), "length"))
    else:
        drawn = lines_along(bench, phrases)
    if drawn:
        return [_straight(line) for line in drawn]
    if not says_a_path(phrases):
        raise phrases.missing("where it runs", f"{phrases.head} {_EXAMPLE}")
    path = read_path(bench, phrases, closed=False)
    panel = bench.panel_at(point_at(path.segments[0], 0.5))
    shape_word = (
        "line" if len(path.segments) == 1 and isinstance(path.segments[0], Line) else "path"
    )
    return [Stroke(path, shape_word, path.length_mm, 0.0, panel, phrases.span)]


def _straight(line: Drawn) -> Stroke:
    path = Path((Line(line.start, line.end),), closed=False)
    return Stroke(path, "line", path.length_mm, 0.0, line.panel, line.span)


def _at_points(bench: Bench, phrases: Phrases, length: float) -> list[Drawn]:
    word = phrases.word("across", "down")
    if word is None:
        raise phrases.missing("which way it runs (across or down)", f"{phrases.head} {_EXAMPLE}")
    half = length / 2.0
    dx, dy = (half, 0.0) if word == "across" else (0.0, half)
    points, where = points_said(
        bench,
        phrases,
        lambda way: 2.0 * abs(way[0] * dx + way[1] * dy),
        f"{phrases.head} {_EXAMPLE}",
    )
    drawn = []
    for point in points:
        (x, y) = point.at
        panel = panel_under(bench.draft, point)
        drawn.append(Drawn((x - dx, y - dy), (x + dx, y + dy), panel, where))
    return drawn


def _shaped(bench: Bench, phrases: Phrases, shape: NotchShape) -> list[Stroke]:
    """A tongue: its open side has its middle at the point, the rest lies where it faces."""
    wide = phrases.labelled("wide") or phrases.bare()
    if wide is None:
        raise phrases.missing("how wide it is", f"{phrases.head} {_SHAPED}")
    width = bench.positive(bench.value(wide), "width")
    deep = phrases.labelled("deep")
    depth = bench.positive(bench.value(deep), "depth") if deep is not None else width / 2.0
    facing = phrases.places("facing")
    if not facing:
        raise phrases.missing("which way it faces", f"{phrases.head} {_SHAPED}")
    points, where = points_said(bench, phrases, lambda way: width, f"{phrases.head} {_SHAPED}")
    cuts = []
    for point in points:
        ox, oy = _direction(bench, facing[0], point.at)
        cut = notch_at(point.at, (oy, -ox), shape, width, depth).cut
        panel = panel_under(bench.draft, point)
        cuts.append(Stroke(Path(cut, closed=False), shape, width, depth, panel, where))
    return cuts


def _direction(bench: Bench, place: Place, start: Point) -> Point:
    """The unit direction of a side of the sheet, or towards a point."""
    if isinstance(place, Ref) and place.segments[0].kind == "side":
        return _OUT[place.segments[0].name]
    thing = bench.things([place])[0]
    if not isinstance(thing, AtPoint) or math.dist(thing.at, start) < 1e-6:
        raise refuse(
            "wrong-place", "it faces a side (top, right, bottom, left) or a point", place.span
        )
    dx, dy = thing.at[0] - start[0], thing.at[1] - start[1]
    length = math.hypot(dx, dy)
    return (dx / length, dy / length)
