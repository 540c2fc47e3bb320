"""Paper tucked under a band and into a slit: where it comes to lie, how it is drawn and told."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest
import shapely
from shapely import Polygon

from publisher.assembly import Frame
from publisher.drawing.space_view import draw_story
from publisher.drawing.types import Drawing, Fill, Stroke
from publisher.geometry.flatten import flattened
from publisher.geometry.space import Vector, lift
from tests.compiled import codes, compile_text

WALLET = Path(__file__).parents[2] / "content" / "plan-wallet" / "pattern.md"
TICKET = """
```piece ticket, in card
outline  rectangle, 100 x 60 mm
```

"""
TUCKED = """

### Tuck a ticket in

Tuck the ticket under the band.

```step
tuck     ticket under band
```
"""

SLIT = """
```piece card, in card
outline  rectangle, 120 x 80 mm
slit     square, 30 mm wide, facing top, at 20 mm above middle of bottom, called mouth
```

```piece tab, in card
outline  rectangle, 28 x 50 mm
```

```step
lay      card
tuck     tab into mouth of card
```
"""


def band() -> str:
    """The wallet with its band, and a ticket to be tucked under that at the end."""
    text = WALLET.read_text(encoding="utf-8").split("---\n", 2)[2]
    return text.replace("## Make it", f"{TICKET}## Make it", 1) + TUCKED


@cache
def last(text: str) -> tuple[Frame, Drawing, list[str]]:
    outcome = compile_text(text)
    assert outcome.story is not None
    told = outcome.story.handled or outcome.pattern
    assert told is not None
    drawings = draw_story(told, outcome.story)
    return outcome.story.frames[-1], drawings[-1], codes(outcome)


def middle(frame: Frame, body: str, flat: tuple[float, float]) -> Vector:
    pose = frame.after.body(body).facets[0][1]
    return pose.apply(lift(flat))


def test_a_ticket_lies_under_the_band_and_on_the_body() -> None:
    frame, _, found = last(band())
    assert found == ["layer-hidden"]  # the ticket covers most of a mat
    order = {(low[0], up[0], side) for low, up, side in frame.after.above}
    assert any({"ticket-1", "band-1"} == {a, b} for a, b, _ in order)
    # The band is 30 wide and 95 of its length lie up; the ticket, 100 x 60, is in their middle.
    panel = dict(frame.after.body("band-1").facets)["panel 1"]
    x, _, z = panel.inverse().apply(middle(frame, "ticket-1", (50.0, 30.0)))
    assert panel.normal == pytest.approx((0.0, 0.0, 1.0), abs=1e-9)
    assert (x, z) == pytest.approx((15.0, 0.0), abs=0.6)  # right under it, by its ease at most


def test_a_tab_lies_in_the_slit_with_its_foot_at_the_slits_foot() -> None:
    frame, _, found = last(SLIT)
    assert found == ["slit-holds-badly"]  # narrower than its slit, it may slip through
    # The foot is 20 above the bottom of a card 80 high, from 45 to 75: the tab, 28 wide, stands
    # on it in the middle.
    card = dict(frame.after.body("card-1").facets)["card"]
    tab = dict(frame.after.body("tab-1").facets)["tab"]
    wanted = [card.apply(lift(p)) for p in ((46.0, 10.0), (74.0, 60.0))]
    is_at = [tab.apply(lift(p)) for p in ((0.0, 0.0), (28.0, 50.0))]
    apart = [math.dist(a, b) for a, b in zip(wanted, is_at, strict=True)]
    assert apart == pytest.approx([0.0, 0.0], abs=1e-6)
    assert [bond.by for bond in frame.after.bonds] == ["tuck"]


@pytest.mark.parametrize(("text", "body"), [(band(), "ticket-1"), (SLIT, "tab-1")])
def test_the_arrow_starts_on_what_is_tucked_and_points_along_its_way(text: str, body: str) -> None:
    _, drawing, _ = last(text)
    (arrow,) = (i for i in drawing.items if isinstance(i, Fill) and i.role == "arrow-move")
    ink = Polygon(flattened(arrow.rings[0], 0.05))
    faces = [i for i in drawing.items if isinstance(i, Fill) and i.id.startswith(f"face-{body}")]
    paper = shapely.union_all([Polygon(flattened(i.rings[0], 0.05)) for i in faces])
    assert {i.role for i in faces} <= {"front-moving", "back-moving"}
    assert 1.0 < shapely.intersection(ink, paper).area < ink.area
    ghosts = [i for i in drawing.items if isinstance(i, Stroke) and i.role == "ghost"]
    landing = shapely.union_all(
        [shapely.LineString(flattened(p, 0.05)) for i in ghosts for p in i.paths]
    )
    ahead = shapely.Point(shapely.centroid(ink))
    assert landing.length > 0
    assert landing.distance(ahead) < paper.exterior.hausdorff_distance(landing)


def test_the_words_say_under_what_and_which_way() -> None:
    assert "Tuck the ticket, front face up, to the left under the band" in last(band())[1].alt
    assert (
        "Tuck the tab, front face up, towards you into the mouth of the card" in last(SLIT)[1].alt
    )
