"""The size of a thing that is closed where its panels bend: as it stands when all ends are in."""

from __future__ import annotations

import numpy as np
import pytest

from publisher.assembly import closed_size
from publisher.geometry.flatten import flattened
from publisher.geometry.space import lift
from publisher.model.folding import closed_size as folded_size
from tests.compiled import codes, compile_text

PILLOW = """
```piece box, in card
form     pillow box, wide = {wide} mm, long = {long} mm, plump = {plump}, tab = 12 mm, nail = 18 mm
```

{claim}
## Make it

```step
score    box
turn     over box
fold     seam of box
glue     seam of box
fold     front of box
fold     left front end and right front end of box
```

```step
turn     over box
fold     left back end and right back end of box
```
"""


@pytest.mark.parametrize(
    ("wide", "long", "plump"), [(80, 140, 0.18), (60, 100, 0.2), (110, 170, 0.1)]
)
def test_it_is_what_stands_there_at_the_end(wide: float, long: float, plump: float) -> None:
    """Compared with the corners of all strips after the steps, which fold one after another; the
    paper's thickness comes on top, four papers at the most where flaps and seam lie."""
    outcome = compile_text(PILLOW.format(wide=wide, long=long, plump=plump, claim=""))
    assert codes(outcome) == []
    assert outcome.pattern is not None
    assert outcome.story is not None
    assert outcome.story.handled is not None
    piece = outcome.pattern.piece("box")
    found = closed_size(piece)
    body = outcome.story.end.body("box-1")
    points = [
        body.facet_pose(facet.name).apply(lift(p))
        for facet in outcome.story.handled.piece("box").facets
        for p in flattened(facet.region.outer, 0.05)
    ]
    corners = np.array(points)
    extent = sorted(corners.max(axis=0) - corners.min(axis=0))
    caliper = piece.stock.caliper_mm
    for size, bare in zip(sorted(found), extent, strict=True):
        assert 0.0 <= size - bare <= 4 * caliper + 1e-6
    # It bulges and draws its sides in; as a flat tube it was as wide as its panels.
    assert found[0] < wide
    assert found[2] > plump * wide


def test_a_claim_goes_by_it() -> None:
    claim = "```fits\nbox closes to 73 x 141 x 29.5 mm\n```\n"
    text = PILLOW.format(wide=80, long=140, plump=0.18, claim=claim)
    assert codes(compile_text(text)) == []
    flat = text.replace("73 x 141 x 29.5 mm", "80 x 140 x 0.8 mm")
    assert codes(compile_text(flat)) == ["closed-size-differs"]


def test_without_curves_it_is_the_folded_size() -> None:
    outcome = compile_text(
        "```piece tray, in card\npanel base, 60 x 40 mm\n"
        "panel wall, on top of base, 20 mm deep, mountain by 90 degrees\n```\n"
    )
    assert outcome.pattern is not None
    piece = outcome.pattern.piece("tray")
    assert closed_size(piece) == folded_size(piece)


def test_what_is_bent_and_glued_round_is_not_followed_for_minutes() -> None:
    text = PILLOW.format(wide=80, long=140, plump=0.18, claim="")
    again = "\n```step\nfold     front of box by 90 degrees\n```\n"
    assert "not-yet" in codes(compile_text(text + again))
