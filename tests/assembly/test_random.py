"""Random boxes and stacks: what is folded and piled up closes, crosses nothing, has an order."""

from __future__ import annotations

import itertools
import math

from hypothesis import given
from hypothesis import strategies as st

from publisher.assembly import State, assemble
from publisher.assembly.kit import kit_of
from publisher.assembly.layering import leads, leaf
from publisher.assembly.passing import crossings, near
from publisher.folding.follow import follow
from publisher.folding.linkage import linkage, links_of
from publisher.folding.newton import CLOSED_MM
from publisher.geometry.space import lift
from publisher.model.types import Pattern
from tests.assembly.build import do, part, pattern, sheet, tray
from tests.folding.popup import one_step

SIDES = st.floats(20.0, 120.0)


def runs_in_no_circle(state: State) -> bool:
    graph: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for low, high, _ in state.above:
        graph.setdefault(low, set()).add(high)
    return not any(leads(graph, facet, facet) for facet in graph)


def nothing_crosses(made: Pattern, state: State) -> bool:
    kit = kit_of(made)
    papers = [leaf(kit, b, n, p) for b in state.bodies if b.placed for n, p in b.facets]
    pairs = [(a, b) for a, b in itertools.combinations(papers, 2) if near(a, b)]
    return not list(crossings(pairs))


@given(SIDES, SIDES, SIDES, st.sampled_from(["mountain", "valley"]))
def test_boxes(width: float, height: float, depth: float, bend: str) -> None:
    box = tray("tray", width, height, depth, bend)  # type: ignore[arg-type]
    made = pattern([box], do("fold", part("tray")), do("turn", part("tray"), to="over"))
    story, findings = assemble(made)
    assert findings == []
    # Closed: 4 corners of the base in 3 papers each, 4 of the rim in 2 each.
    body = story.end.body("tray-1")
    spots = [pose.apply(lift(p)) for n, pose in body.facets for p in box.panel(n).ring]
    meeting = [sum(math.dist(a, b) < CLOSED_MM for b in spots) for a in spots]
    assert sorted(meeting) == [2] * 8 + [3] * 12
    assert nothing_crosses(made, story.end)
    assert runs_in_no_circle(story.end)


@given(SIDES, SIDES, st.floats(5.0, 60.0), st.floats(1.0, 6.0))
def test_a_lid_over_its_box(width: float, height: float, depth: float, ease: float) -> None:
    """A lid larger by the box's two calipers of 0.4 and some ease goes over it."""
    lid = tray("lid", width + 0.8 + ease, height + 0.8 + ease, depth)
    steps = [do("turn", part("tray"), to="over"), do("fold", part("tray"))]
    steps += [do("turn", part("lid"), to="over"), do("fold", part("lid"))]
    steps.append(do("slide", part("lid"), to="over", objects=(part("tray"),)))
    made = pattern([tray("tray", width, height, depth), lid], *steps)
    story, findings = assemble(made)
    assert findings == []
    assert nothing_crosses(made, story.end)
    assert runs_in_no_circle(story.end)


@given(st.lists(st.tuples(SIDES, SIDES), min_size=2, max_size=6))
def test_stacks(sizes: list[tuple[float, float]]) -> None:
    """Sheets laid on each other in turn lie in that order."""
    sheets = [sheet(f"sheet {i}", *size) for i, size in enumerate(sizes)]
    steps = [
        do("glue", part(f"sheet {i}"), to="to", objects=(part(f"sheet {i - 1}"),))
        for i in range(1, len(sheets))
    ]
    story, findings = assemble(pattern(sheets, *steps))
    assert findings == []
    order = {(low[1], high[1]) for low, high, _ in story.end.above}
    assert all((f"sheet {i - 1}", f"sheet {i}") in order for i in range(1, len(sheets)))
    assert runs_in_no_circle(story.end)


@given(st.floats(35.0, 70.0), st.floats(0.0, 180.0))
def test_pop_ups_close_at_every_angle(rise: float, gutter: float) -> None:
    piece = one_step(rise)
    made = linkage(links_of(piece), ("", "upper"))
    senses = {("", f.name): 1 for f in piece.folds}
    found = follow(made, {}, {("", "lower"): gutter}, senses)
    assert found.closes
    assert found.gap_mm < CLOSED_MM
    assert not found.against
