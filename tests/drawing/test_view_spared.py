"""What must stay free of glue: marked and told where the rules say so, and nowhere else."""

from __future__ import annotations

import pytest
import shapely
from shapely import Polygon

from publisher.drawing.types import Drawing, Fill
from publisher.geometry.flatten import flattened
from tests.drawing.test_view_content import told


def picture(name: str, step: str) -> Drawing:
    return next(d for d in told(name)[2] if d.name == step)


def crosses(drawing: Drawing) -> list[Polygon]:
    return [
        Polygon(flattened(ring, 0.05))
        for item in drawing.items
        if isinstance(item, Fill) and item.role == "no-glue"
        for ring in item.rings
    ]


MARKED = [
    ("plan-wallet", "step-02b", "the far edge of the pocket of the body"),
    ("plan-wallet", "step-05b", "the rest of the label mat"),
    ("envelope", "step-02a", "the far edge of the lower flap of the envelope"),
    ("pop-up-card", "step-05c", "the parts of the page that move when it opens"),
]


@pytest.mark.parametrize(("name", "step", "what"), MARKED)
def test_a_place_that_must_stay_free_has_crosses_and_a_sentence(
    name: str, step: str, what: str
) -> None:
    drawing = picture(name, step)
    assert f"Keep {what} free of glue" in drawing.alt
    assert "no-glue" in drawing.signs
    assert len(crosses(drawing)) >= 4
    glue = [
        Polygon(flattened(i.rings[0], 0.05))
        for i in drawing.items
        if isinstance(i, Fill) and i.role in ("glue", "glue-through")
    ]
    middles = [shapely.centroid(c) for c in crosses(drawing)]
    for zone in glue:  # not where glue is asked for
        solid = shapely.buffer(zone, -0.3)
        assert not [p for p in middles if solid.contains(p) and len(zone.interiors) == 0]


@pytest.mark.parametrize("name", ["lidded-box", "sliding-box", "lantern", "pillow-box"])
def test_tabs_that_take_glue_all_over_need_no_mark(name: str) -> None:
    assert [d.name for d in told(name)[2] if "no-glue" in d.signs or "free of glue" in d.alt] == []
