"""``draw`` and ``engrave``: lines and shapes on the paper; ``mark cross``: by which sheets are laid
on each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from publisher.diagnostics import Span
from publisher.geometry.booleans import clip_path
from publisher.geometry.measure import bounds_of, path_bounds
from publisher.geometry.path import Line, Path, Region
from publisher.language.statements.spec import SHAPES
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.marked import Mark
from publisher.model.places.resolve import panel_under
from publisher.model.statements.artwork import placed_lines
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.placed import place_all
from publisher.model.statements.shapes import read_shape
from publisher.model.statements.strokes import read_strokes

_SHAPE = "circle, 20 mm across, at middle of flap"
_CROSS = "mark cross, 8 mm across, at top left of frame"


def run_draw(bench: Bench, phrases: Phrases) -> None:
    _run(bench, phrases, "draw")


def run_engrave(bench: Bench, phrases: Phrases) -> None:
    _run(bench, phrases, "engrave")


Made = tuple[str, tuple[Path, ...], str | None, float, float, Span]
"""Shape, its lines, panel, across and down, where the line says its place."""


def _run(bench: Bench, phrases: Phrases, kind: Literal["draw", "engrave"]) -> None:
    words = [w for p in phrases.statement.phrases if (w := p.label or _plain(p.value)) in SHAPES]
    if "artwork" in words:
        made = _artwork(bench, phrases)
    else:
        made = _shapes(bench, phrases) if words else _lines(bench, phrases)
    _add(bench, phrases, kind, made)


def _plain(value: object) -> str:
    return getattr(value, "text", "")


def _shapes(bench: Bench, phrases: Phrases) -> list[Made]:
    example = f"{phrases.head} {_SHAPE}"
    shape = read_shape(bench, phrases, example)
    placed, where = place_all(bench, phrases, shape, example)
    size = (shape.width_mm, shape.height_mm)
    return [(shape.word, _rings(one.regions), one.panel, *size, where) for one in placed]


def _size(paths: Sequence[Path]) -> tuple[float, float]:
    x_min, y_min, x_max, y_max = bounds_of([path_bounds(path) for path in paths])
    return (x_max - x_min, y_max - y_min)


def _artwork(bench: Bench, phrases: Phrases) -> list[Made]:
    """All lines of a drawing, open and closed, as one mark."""
    phrases.word("artwork")
    lines = list(placed_lines(bench, phrases))
    paths = tuple(path for path, _ in lines)
    return [("artwork", paths, lines[0][1], *_size(paths), phrases.span)]


def _rings(regions: tuple[Region, ...]) -> tuple[Path, ...]:
    return tuple(ring for region in regions for ring in (region.outer, *region.holes))


def _lines(bench: Bench, phrases: Phrases) -> list[Made]:
    found: list[Made] = []
    for stroke in read_strokes(bench, phrases):
        size = (stroke.width_mm, stroke.depth_mm)
        found.append((stroke.shape, (stroke.path,), stroke.panel, *size, stroke.span))
    return found


def run_cross(bench: Bench, phrases: Phrases) -> None:
    if phrases.word("cross") is None:
        raise phrases.missing("what is marked (a cross)", _CROSS)
    said = phrases.labelled("across") or phrases.bare()
    if said is None:
        raise phrases.missing("how far across it is", _CROSS)
    across = bench.positive(bench.value(said), "width")
    places = phrases.places("at")
    if not places:
        raise phrases.missing("where it is", _CROSS)
    half = across / 2.0
    made: list[Made] = []
    for point in bench.points(places):
        x, y = point.at
        level = Path((Line((x - half, y), (x + half, y)),), closed=False)
        upright = Path((Line((x, y - half), (x, y + half)),), closed=False)
        panel = panel_under(bench.draft, point)
        made.append(("cross", (level, upright), panel, across, across, places[0].span))
    _add(bench, phrases, "register", made)


def _add(
    bench: Bench, phrases: Phrases, kind: Literal["draw", "engrave", "register"], made: list[Made]
) -> None:
    """Adds what lies on the paper of each; what lies off it is left out."""
    draft = bench.draft
    assert draft.paper is not None
    stem = {"draw": "drawing", "engrave": "engraving", "register": "cross"}[kind]
    names = bench.numbered(stem, len(made), phrases.statement.name)
    found: list[Mark] = []
    for name, (shape, paths, panel, width, height, where) in zip(names, made, strict=True):
        kept = tuple(part for path in paths for part in clip_path(path, draft.paper))
        if not kept:
            raise refuse("line-off-paper", "this line does not run through the paper", where)
        if shape == "path":
            width, height = _size(kept)
        found.append(Mark(name, kind, shape, kept, panel, width, height, phrases.span))
    draft.marks.extend(found)


DRAW = StatementKind("draw", Phase.LINES, run_draw)
ENGRAVE = StatementKind("engrave", Phase.LINES, run_engrave)
CROSS = StatementKind("mark", Phase.LINES, run_cross)
