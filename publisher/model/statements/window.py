"""``window circle, 6 mm across, at middle of flap``: a closed hole."""

from __future__ import annotations

from publisher.geometry.path import Path, Point, circle, polygon
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.shaping.paper import cut_out
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.sizes import read_size
from publisher.model.statements.spots import Spots, spots
from publisher.model.types import Opening

_EXAMPLE = "window rectangle, 40 x 30 mm, at middle of flap"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    shape = phrases.word("rectangle", "circle")
    if shape is None:
        raise phrases.missing("its shape (rectangle or circle)", _EXAMPLE)
    width, height = _size(bench, phrases, shape)
    where: Spots = spots(bench, phrases, width, height, _EXAMPLE)
    names = bench.numbered("window", len(where.centres), phrases.statement.name)
    cut = [
        Opening(
            name,
            "window",
            shape,
            _ring(shape, centre, width, height),
            panel,
            width,
            height,
            phrases.span,
        )
        for name, (centre, panel) in zip(names, where.centres, strict=True)
    ]
    assert draft.paper is not None
    result = cut_out(draft.paper, [o.path for o in cut])
    if result.outside is not None:
        raise refuse(
            "window-leaves-paper",
            "the window reaches beyond the paper, or into another opening",
            where.span,
            numbers=(("width_mm", width), ("height_mm", height)),
        )
    if len(result.left) != 1 or len(result.left[0].holes) != len(draft.paper.holes) + len(cut):
        raise refuse(
            "window-meets-edge",
            "the window touches an edge of the paper; what opens to an edge is a notch",
            where.span,
        )
    draft.paper = result.left[0]
    draft.openings.extend(cut)


def _size(bench: Bench, phrases: Phrases, shape: str) -> tuple[float, float]:
    if shape == "circle":
        across = phrases.labelled("across", "wide") or phrases.bare()
        if across is None:
            raise phrases.missing("how far across it is", "window circle, 6 mm across, at middle")
        mm = bench.positive(bench.value(across), "width")
        return mm, mm
    return read_size(bench, phrases, "window", _EXAMPLE)


def _ring(shape: str, centre: Point, width: float, height: float) -> Path:
    if shape == "circle":
        return circle(centre, width / 2.0)
    x, y = centre[0] - width / 2.0, centre[1] - height / 2.0
    return polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])


KIND = StatementKind("window", Phase.CUTS, run)
