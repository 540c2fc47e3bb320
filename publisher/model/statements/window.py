"""``window circle, 6 mm across, at middle of flap``: a closed hole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher.diagnostics import Place, Span
from publisher.geometry.booleans import region_intersection
from publisher.geometry.canonical import oriented
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Region
from publisher.model.bench import Bench
from publisher.model.draft import Draft
from publisher.model.findings import refuse
from publisher.model.shaping.clear import cut_clear
from publisher.model.shaping.paper import cut_out
from publisher.model.shaping.tips import tips_of
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.placed import place_all
from publisher.model.statements.shape import Shape
from publisher.model.statements.shapes import read_shape
from publisher.model.types import Island, Opening

_EXAMPLE = "window rectangle, 40 x 30 mm, at middle of flap"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    shape = read_shape(bench, phrases, _EXAMPLE)
    width, height = shape.width_mm, shape.height_mm
    copies, where = place_all(bench, phrases, shape, _EXAMPLE)
    placed = [part for one in copies for part in one.each()]
    names = bench.numbered("window", len(placed), phrases.statement.name)
    cut = [
        Opening(
            name,
            "window",
            shape.word,
            one.region.outer,
            one.panel,
            width,
            height,
            phrases.span,
        )
        for name, one in zip(names, placed, strict=True)
    ]
    draft.paper = _paper_left(draft, cut, where, (width, height))
    draft.openings.extend(cut)
    insides = [
        (name, one.panel, Region(oriented(hole, clockwise=True)))
        for name, one in zip(names, placed, strict=True)
        for hole in one.region.holes
    ]
    draft.islands.extend(_islands(bench, phrases, shape, insides))


def _paper_left(draft: Draft, cut: list[Opening], where: Span, size: tuple[float, float]) -> Region:
    assert draft.paper is not None
    left = cut_clear(draft.known, draft.paper, [o.path for o in cut])
    if left is not None:
        return left
    width, height = size
    result = cut_out(draft.paper, [o.path for o in cut])
    if result.outside is not None:
        this = cut[result.outside]
        met = _met(this, (*draft.openings, *cut[: result.outside]))
        reached = "beyond the paper" if met is None else f"into ‘{met.name}’"
        raise refuse(
            "window-leaves-paper",
            f"the window ‘{this.name}’ reaches {reached}",
            where,
            *(() if met is None else (Place(met.span, f"‘{met.name}’ is cut here"),)),
            numbers=(("width_mm", width), ("height_mm", height)),
        )
    if len(result.left) != 1 or len(result.left[0].holes) != len(draft.paper.holes) + len(cut):
        raise refuse(
            "window-meets-edge",
            "the window touches an edge of the paper, or another opening; "
            "what opens to an edge is a notch",
            where,
        )
    return result.left[0]


def _met(this: Opening, others: Sequence[Opening]) -> Opening | None:
    """The window that this one runs into."""
    windows = (o for o in others if o.kind == "window")
    return next(
        (o for o in windows if region_intersection(Region(this.path), Region(o.path))), None
    )


def _islands(
    bench: Bench, phrases: Phrases, shape: Shape, insides: list[tuple[str, str | None, Region]]
) -> Iterator[Island]:
    """The middle of a ring or of a letter is paper that stays, if something holds it."""
    if not insides:
        return
    called = phrases.statement.name
    used = set(bench.draft.named())
    for number, (window, panel, region) in enumerate(insides, start=1):
        if shape.word == "ring":
            name = f"{window} inside"
        elif called is not None:
            name = f"{called.text} inside {number}"
        else:
            name = bench.draft.free_name("inside", used)
        used.add(name)
        word, size = "circle" if shape.word == "ring" else shape.word, _size(region)
        yield Island(name, word, region, window, panel, tips_of(region), *size, phrases.span)


def _size(region: Region) -> tuple[float, float]:
    x0, y0, x1, y1 = path_bounds(region.outer)
    return x1 - x0, y1 - y0


KIND = StatementKind("window", Phase.CUTS, run)
