"""``window circle, 6 mm across, at middle of flap``: a closed hole."""

from __future__ import annotations

from publisher.geometry.canonical import oriented
from publisher.geometry.path import Region
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.shaping.paper import cut_out
from publisher.model.shaping.tips import tips_of
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.placed import place_all
from publisher.model.statements.shapes import read_shape
from publisher.model.types import Island, Opening

_EXAMPLE = "window rectangle, 40 x 30 mm, at middle of flap"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    shape = read_shape(bench, phrases, _EXAMPLE)
    width, height = shape.width_mm, shape.height_mm
    placed, where = place_all(bench, phrases, shape, _EXAMPLE)
    names = bench.numbered("window", len(placed), phrases.statement.name)
    cut = [
        Opening(
            name, "window", shape.word, one.region.outer, one.panel, width, height, phrases.span
        )
        for name, one in zip(names, placed, strict=True)
    ]
    assert draft.paper is not None
    result = cut_out(draft.paper, [o.path for o in cut])
    if result.outside is not None:
        raise refuse(
            "window-leaves-paper",
            "the window reaches beyond the paper, or into another opening",
            where,
            numbers=(("width_mm", width), ("height_mm", height)),
        )
    if len(result.left) != 1 or len(result.left[0].holes) != len(draft.paper.holes) + len(cut):
        raise refuse(
            "window-meets-edge",
            "the window touches an edge of the paper, or another opening; "
            "what opens to an edge is a notch",
            where,
        )
    draft.paper = result.left[0]
    draft.openings.extend(cut)
    for name, one in zip(names, placed, strict=True):
        # The middle of a ring is paper that stays, if something holds it.
        for hole in one.region.holes:
            region = Region(oriented(hole, clockwise=True))
            size = 2.0 * hole.segments[0].radius_mm if shape.word == "ring" else width  # type: ignore[union-attr]
            draft.islands.append(
                Island(
                    f"{name} inside",
                    "circle",
                    region,
                    name,
                    one.panel,
                    tips_of(region),
                    size,
                    size,
                    phrases.span,
                )
            )


KIND = StatementKind("window", Phase.CUTS, run)
