"""Folds of one line that would pass through each other turn one after another."""

from __future__ import annotations

import itertools

import pytest

from publisher.assembly import FoldMotion, Story, assemble
from publisher.drawing.in_turn import in_turn
from publisher.drawing.motion import moments_of
from publisher.drawing.space_view import told_frames
from publisher.drawing.space_view.stage import set_stage
from publisher.folding.crossing import crossing_depth, sheet
from publisher.geometry.flatten import flattened
from publisher.geometry.space import lift
from publisher.model.types import Pattern
from tests.assembly.build import do, part, pattern, strip
from tests.compiled import told_by
from tests.drawing.test_view_content import NAMES, told

TRAY = """
```piece tray, in card
form     tray, inside = 90 x 120 x {high} mm
```

```step
turn     over tray
fold     each fold of tray
```
"""


def deepest(made: Pattern, story: Story) -> float:
    """How far paper of one body goes through other paper of it while it folds, mm."""
    worst = 0.0
    for frame in told_frames(made, story):
        stage = set_stage(made, frame)
        moments = moments_of(frame, stage) if stage.actors else []
        for moment in moments[1:-1:2]:
            for body in stage.bodies:
                sheets = []
                for actor in stage.of(body):
                    if " strip " in actor.facet:
                        continue
                    pose = moment.poses[body][actor.facet]
                    ring = flattened(actor.piece.facet(actor.facet).region.outer, 0.25)
                    sheets.append(sheet([[pose.apply(lift(p)) for p in ring]], pose.normal))
                for one, other in itertools.combinations(sheets, 2):
                    worst = max(worst, crossing_depth(one, other))
    return worst


@pytest.mark.parametrize("high", [20, 45])
def test_tabs_are_bent_before_the_walls_that_they_are_on(high: int) -> None:
    made, story = told_by(TRAY.format(high=high))
    assert deepest(made, story) < 0.3
    frame = story.frames[-1]
    motion = next(m for m in frame.motions if isinstance(m, FoldMotion))
    way = in_turn(motion, made.piece("tray"), {})
    half = way.at(0.5)
    ends = {name: end for name, _, end in motion.folds}
    tabs = {name for name in half if name.startswith("tab")}
    assert tabs
    assert all(half[n] == pytest.approx(ends[n] if n in tabs else 0.0) for n in half)
    assert way.at(1.0) == pytest.approx(ends)


def test_what_is_in_nobodys_way_turns_at_once() -> None:
    card = strip("card", [60.0, 60.0, 60.0], 100.0, "vm")
    made = pattern([card], do("fold", part("card")))
    frame = told_frames(made, assemble(made)[0])[-1]
    motion = next(m for m in frame.motions if isinstance(m, FoldMotion))
    half = in_turn(motion, card, {}).at(0.5)
    assert half == pytest.approx({name: end / 2.0 for name, _, end in motion.folds})


@pytest.mark.parametrize("name", NAMES)
def test_no_paper_of_a_piece_goes_through_other_paper_of_it(name: str) -> None:
    made, story, _ = told(name)
    assert deepest(made, story) < 0.3
