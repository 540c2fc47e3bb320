"""Pictures of patterns in sizes that nobody looked at: words never cross, overlap or leave."""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import combinations
from pathlib import Path

import shapely
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from publisher.drawing.space_view import draw_story
from publisher.drawing.text import label_corners
from publisher.drawing.types import Drawing
from publisher.pipeline import check_text
from publisher.workshop import Workshop, open_workshop
from tests.drawing.view_scenes import area, fills, ink, labels, strokes

ROOT = Path(__file__).parents[2]
PAPER = ("front", "back", "front-moving", "back-moving")
DRAWN_AS = PAPER
ARROWS = ("arrow-fold", "arrow-move", "arrow-turn")
slow = settings(max_examples=14, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@cache
def workshop() -> Workshop:
    return open_workshop(ROOT)[0]


def drawings(name: str, sizes: dict[str, str]) -> tuple[Drawing, ...]:
    """The step pictures of a pattern of ``content/`` with some sizes written anew."""
    text = (ROOT / "content" / name / "pattern.md").read_text(encoding="utf-8")
    for size, value in sizes.items():
        text, count = re.subn(
            rf"^({size}\s*=) [^,\"]*?(,[^\"]*?)?(\s+\"|$)", rf"\1 {value}\3", text, flags=re.M
        )
        assert count == 1, size
    outcome = check_text(text.encode(), f"{name}.md", name, workshop().trade)
    assert outcome.story is not None, [d.message for d in outcome.diagnostics]
    assert outcome.pattern is not None
    return draw_story(outcome.pattern, outcome.story)


def faults(drawing: Drawing) -> list[str]:
    """Words and leaders that lie on something, on each other, or outside the picture."""
    found = []
    page = shapely.box(0.0, 0.0, drawing.width_mm, drawing.height_mm)
    rooms = [(label.text, shapely.Polygon(label_corners(label))) for label in labels(drawing)]
    drawn = shapely.union_all([area(f) for f in fills(drawing, *PAPER, "halo", "arrow-turn")])
    arrows = shapely.union_all([area(f) for f in fills(drawing, *ARROWS)])
    for text, room in rooms:
        if not page.buffer(-5.0).contains(room):
            found.append(f"{text!r} leaves the picture")
        if shapely.distance(room, drawn) < 0.8:
            found.append(f"{text!r} lies on the drawing")
    for (one, a), (other, b) in combinations(rooms, 2):
        if shapely.distance(a, b) < 0.8:
            found.append(f"{one!r} and {other!r} overlap")
    leaders = [(s.id, ink(s)) for s in strokes(drawing, "leader") if s.id.startswith("leader-")]
    for ident, run in leaders:
        if shapely.distance(run, arrows) < 0.2:
            found.append(f"{ident} crosses an arrow")
        for text, room in rooms:
            own = ident == f"leader-{text.replace(' ', '-')}"
            if shapely.distance(run, room) < (0.2 if own else 0.4):
                found.append(f"{ident} runs into {text!r}")
    for (one, a), (other, b) in combinations(leaders, 2):
        if shapely.distance(a, b) < 0.5:
            found.append(f"{one} and {other} cross")
    found += circle_faults(drawing, rooms)
    everything = shapely.union_all([drawn, arrows])
    if not page.buffer(-5.9).contains(everything):
        found.append("something drawn leaves the picture")
    return found


def circle_faults(drawing: Drawing, rooms: list[tuple[str, shapely.Polygon]]) -> list[str]:
    """Circles over the drawing, rings and their leaders across words or arrows."""
    found = []
    paper = [area(f) for f in fills(drawing, *PAPER, "halo") if not f.id.startswith("close-up")]
    outside = [f for f in fills(drawing, *ARROWS) if not f.id.startswith("close-up")]
    arrows = shapely.union_all([area(f) for f in outside])
    for disc in (s for s in strokes(drawing, "outline") if re.fullmatch(r"close-up(-\d)?", s.id)):
        (ring,) = [s for s in strokes(drawing, "leader") if s.id == f"{disc.id}-ring"]
        (line,) = [s for s in strokes(drawing, "leader") if s.id == f"{disc.id}-line"]
        whole = shapely.Polygon(ink(disc).coords)
        if shapely.distance(whole, shapely.union_all([*paper, arrows])) < 0.8:
            found.append(f"{disc.id} lies on the drawing")
        for part, called in ((ring, "ring"), (line, "leader")):
            if shapely.distance(ink(part), arrows) < 0.1:
                found.append(f"the {called} of {disc.id} crosses an arrow")
            found += [
                f"the {called} of {disc.id} runs into {text!r}"
                for text, room in rooms
                if shapely.distance(ink(part), room) < 0.4
            ]
    return found


def told(pictures: tuple[Drawing, ...]) -> dict[str, list[str]]:
    return {d.name: faults(d) for d in pictures if faults(d)}


@slow
@given(
    across=st.integers(60, 160),
    down=st.integers(40, 130),
    depth=st.integers(8, 60),
    tab=st.integers(6, 16),
)
@example(across=120, down=80, depth=22, tab=12)
@example(across=122, down=87, depth=22, tab=6)  # a union that lost a wall off the grid
@example(across=60, down=130, depth=60, tab=6)
@example(across=68, down=82, depth=27, tab=15)  # an arrow without a halo at its end
def test_boxes_of_any_size(across: int, down: int, depth: int, tab: int) -> None:
    assume(2.0 * tab * math.tan(math.radians(20.0)) < depth)  # else a tab's ends meet
    pictures = drawings(
        "sliding-box",
        {
            "stack": f"{across} x {down} x {max(4, depth - 2)} mm",
            "depth": f"{depth} mm",
            "tab": f"{tab} mm",
            "thumb": f"{min(down, across) // 5} mm",
        },
    )
    assert told(pictures) == {}
    assert all(d.height_mm <= 72.0 for d in pictures)


def test_the_rule_sees_a_fault() -> None:
    """Words pushed onto the paper are noticed."""
    from msgspec.structs import replace

    from publisher.drawing.types import Label

    first = drawings("sliding-box", {})[0]
    middle = (first.width_mm / 2.0, first.height_mm / 2.0)
    items = tuple(replace(i, at=middle) if isinstance(i, Label) else i for i in first.items)
    assert faults(replace(first, items=items))
