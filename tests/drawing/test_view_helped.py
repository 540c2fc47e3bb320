"""What hangs on a fold and lies flat is helped out at the start, where it is to stand out."""

from __future__ import annotations

import pytest
import shapely

from publisher.assembly.types import FoldMotion
from publisher.drawing.space_view import draw_story
from publisher.drawing.space_view.helped import helped
from publisher.drawing.types import Drawing, Fill, Stroke
from publisher.geometry.flatten import flattened
from tests.compiled import told_by
from tests.drawing import test_view_content as content
from tests.drawing.test_view_rows import strip
from tests.drawing.view_scenes import area, fills

PAPER = ("front", "back", "front-moving", "back-moving")

CARD = """
```piece card, in card
panel    lower half, 120 mm x 80 mm
panel    upper half, on top of lower half, 80 mm deep, valley
score    between upper half and lower half, called gutter
form     pop-up step, fold = gutter, span = 40 mm, rise = 30 mm, tread = 25 mm, called box
```

```step
cut      each slit of card
score    card
```

```step
close    card by 90 degrees
close    card
open     card
```
"""


@pytest.fixture(scope="module")
def card() -> tuple[Drawing, ...]:
    return draw_story(*told_by(CARD))


def test_a_step_that_lies_flat_is_pushed_as_its_card_begins_to_close(
    card: tuple[Drawing, ...],
) -> None:
    """Later it goes by itself."""
    *_, begun, gone_on, opened = card
    assert "push-arrow" in begun.signs
    assert begun.alt.startswith("Fold the upper half")
    assert "Help the box nose out" in begun.alt
    for later in (gone_on, opened):
        assert "push-arrow" not in later.signs
        assert "Help" not in later.alt


def test_it_is_pushed_off_the_paper_and_off_other_arrows(card: tuple[Drawing, ...]) -> None:
    begun = card[-3]
    (push,) = (area(f) for f in fills(begun, "arrow-move"))
    assert all(not shapely.intersects(push, area(f)) for f in fills(begun, "arrow-fold"))
    x0, y0, x1, y1 = push.bounds
    assert y1 - y0 > 2.0 * (x1 - x0)  # straight up from a sheet on the table
    dots = [part for part in shapely.get_parts(push) if part.area < 1.5]
    assert len(dots) >= 2  # its tail is behind the paper
    assert min(dot.bounds[1] for dot in dots) > (y0 + y1) / 2.0


def test_of_the_content_only_steps_that_pop_up_are_helped() -> None:
    told = []
    for name in content.NAMES:
        pattern, story, _ = content.told(name)
        pieces = {p.name: p for p in pattern.pieces}
        for frame in story.frames:
            for motion in frame.motions:
                if isinstance(motion, FoldMotion):
                    piece = pieces[frame.before.body(motion.body).piece]
                    told += helped(frame, motion, piece)
    assert told == ["large step nose", "small step nose"]


def test_where_other_paper_is_glued_behind_it_is_drawn_out() -> None:
    """Nobody comes to the back of a page that is glued into its cover."""
    drawing = content.picture_of("pop-up-card", "step-06a")
    assert "push-arrow" not in drawing.signs
    assert "move-arrow" in drawing.signs
    assert "out, from the open sides." in drawing.alt


def test_of_linked_paper_the_place_of_its_sheet_is_shown(card: tuple[Drawing, ...]) -> None:
    """Also where the folds that follow are many: hands make one."""
    for drawing, upper in zip(card[-3:], (True, False, True), strict=True):
        (place,) = (i for i in drawing.items if isinstance(i, Stroke) and i.role == "ghost")
        lines = [shapely.LineString(flattened(path, 0.05)) for path in place.paths]
        assert sum(line.length for line in lines) > 60.0
        assert min(line.length for line in lines) > 8.0  # no bits beside the slits
        if upper:
            papers = [i for i in drawing.items if isinstance(i, Fill) and i.role in PAPER]
            top = min(area(i).bounds[1] for i in papers)
            assert min(line.bounds[1] for line in lines) < top + 0.5


def test_three_folds_still_show_where_they_land() -> None:
    assert "ghost" in draw_story(*told_by(strip(4, 20.0, 40.0)))[-1].signs
    assert "ghost" not in draw_story(*told_by(strip(6, 20.0, 40.0)))[-1].signs


def test_a_cover_of_which_a_window_shows_a_little_is_named_on_what_is_glued_to_it() -> None:
    """Through the side of a step the cover is seen: its name would be taken for the step's."""
    drawing = content.picture_of("pop-up-card", "step-06b")
    (dot,) = (area(f) for f in fills(drawing, "sign") if f.id == "dot-front-half")
    pages = [f for f in fills(drawing, *PAPER) if f.id.startswith("face-page")]
    (under,) = (f.id for f in pages if area(f).contains(dot))
    assert "upper-half" in under
