"""No fold acts without a sign: it has an arrow, or a bar on the arrow of one like it."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
import shapely.affinity

from publisher.assembly import FoldMotion, Frame, MoveMotion
from publisher.drawing.space_view import draw_story, draw_told
from publisher.drawing.space_view import frame as frame_view
from publisher.drawing.space_view.arrows import HEAD_MM
from publisher.drawing.space_view.curled import curls
from publisher.drawing.space_view.hands import by_hands
from publisher.drawing.space_view.helped import helped
from publisher.drawing.space_view.motions import MOST_ARROWS, PlacedArrow
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.squeezed import edges
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.types import Drawing
from tests.compiled import told_by
from tests.drawing import test_view_content as content
from tests.drawing.view_scenes import area, fills, labels


def strip(count: int, wide_mm: float, high_mm: float) -> str:
    """A strip of panels of which all but the second are folded, as a prism's sides are."""
    names = [f"side {k}" for k in range(1, count + 1)]
    panels = ", ".join(f"{name} = {wide_mm:g} mm" for name in names)
    return f"""
```piece strip, in card
panels   across, {high_mm:g} mm high, mountain: {panels}
```

```step
score    strip
turn     over strip
fold     {" and ".join(names[1:])} of strip by 60 degrees
```
"""


def acting(frame: Frame, stage: Stage, shapes: dict[str, PieceShape]) -> int:
    """How many things hands do in a picture: folds made or closed again, things moved."""
    count = 0
    for motion in (*by_hands(frame, shapes, stage), *stage.closing):
        if isinstance(motion, MoveMotion) or curls(
            motion, shapes[stage.of(motion.body)[0].piece.name].piece
        ):
            count += 1
        elif isinstance(motion, FoldMotion):
            count += sum(not motion.shown or f[0] in motion.shown for f in motion.folds)
            count += len(edges(frame, motion, shapes[stage.of(motion.body)[0].piece.name].piece))
    linked = [m for m in frame.motions if isinstance(m, FoldMotion)]
    return count + sum(
        len(helped(frame, m, shapes[stage.of(m.body)[0].piece.name].piece)) for m in linked
    )


Told = list[tuple[Drawing, int, list[PlacedArrow]]]


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch):
    """Draws a pattern's pictures: each with what acts in it, and its arrows."""
    heard: list[tuple[str, int, list[PlacedArrow]]] = []
    ask = frame_view.all_arrows

    def listening(frame, stage, shapes, *rest):
        arrows = ask(frame, stage, shapes, *rest)
        heard.append((frame.action.verb, acting(frame, stage, shapes), arrows))
        return arrows

    monkeypatch.setattr(frame_view, "all_arrows", listening)

    def draw(pattern, story) -> Told:
        heard.clear()
        drawings = draw_story(pattern, story)
        found = zip(drawings, heard, strict=True)
        return [(d, acts, arrows) for d, (verb, acts, arrows) in found if verb != "push"]

    return draw


def signed(arrows: list[PlacedArrow]) -> int:
    return len(arrows) + sum(one.again + one.far_side for one in arrows)


@pytest.mark.parametrize("name", content.NAMES)
def test_everything_that_acts_in_the_content_has_a_sign(name: str, told) -> None:
    pattern, story, _ = content.told(name)
    for drawing, acts, arrows in told(pattern, story):
        assert signed(arrows) == acts, drawing.name


@pytest.mark.parametrize("size", [(20.0, 40.0), (8.0, 30.0), (12.0, 80.0), (20.0, 10.0)])
@pytest.mark.parametrize("count", range(3, 13))
def test_every_fold_of_a_strip_has_a_sign(count: int, size: tuple[float, float], told) -> None:
    drawing, acts, arrows = told(*told_by(strip(count, *size)))[-1]
    assert acts == count - 1
    assert signed(arrows) == acts
    assert len(arrows) <= MOST_ARROWS
    for one, other in combinations(arrows, 2):
        assert not shapely.intersects(one.shape.ink, other.shape.ink)
    halos = [area(f) for f in fills(drawing, "halo")]
    for label in labels(drawing):
        x, y = label.at
        assert all(shapely.distance(halo, shapely.Point(x, y)) > 0.0 for halo in halos)


def test_a_row_is_even(told) -> None:
    """Of ten sides every second has an arrow, for itself and the next; that beyond the panel
    that stays has its own."""
    _, _, arrows = told(*told_by(strip(12, 12.0, 80.0)))[-1]
    alone, *row = sorted(arrows, key=lambda one: one.path[0])
    assert alone.again == 0
    assert [one.again for one in row] == [1] * 5


def test_two_folds_too_near_for_two_arrows_share_one() -> None:
    """A spine that hangs on its cover by a crease of its own, 1 mm on."""
    drawing = content.picture_of("plan-wallet", "step-04d")
    assert len(fills(drawing, "arrow-fold")) == 1
    assert "repeat" in drawing.signs


def test_names_of_a_long_row_are_one(told) -> None:
    drawing, *_ = told(*told_by(strip(9, 20.0, 40.0)))[-1]
    assert {label.text for label in labels(drawing)} == {"side 1, 60°", "side 3 to 9, 60°"}


@pytest.mark.parametrize("name", content.NAMES)
def test_of_a_row_of_parts_that_act_none_is_without_a_name(name: str) -> None:
    """Of feet round a prism two are seen on edge: then all have one name together."""
    pattern, story, _ = content.told(name)
    for frame, drawing in draw_told(pattern, story):
        parts = {f[0] for m in frame.motions if isinstance(m, FoldMotion) for f in m.folds}
        feet = {p for p in parts if p.startswith(("foot ", "rim "))}
        texts = [label.text for label in labels(drawing)]
        if feet and frame.action.verb == "fold":
            stem = min(feet).split()[0]
            assert feet <= set(texts) or texts == [f"{stem} 1 to {len(feet)}"], drawing.name


FOLDER = """
```piece folder, in card
panels   down, 60 mm wide, mountain: front = 40 mm, back = 40 mm
tab      on left of front, 12 mm deep, 2 mm taper, mountain by 180 degrees
tab      on left of back, 12 mm deep, 2 mm taper, mountain by 180 degrees
```

```step
score    folder
turn     over folder
fold     back of folder by 180 degrees
fold     each tab of folder by 180 degrees
```
"""


def test_a_fold_is_repeated_on_the_other_side(told) -> None:
    """Of a folder that lies flat one tab is seen; its like lies under it."""
    drawing, acts, (one,) = told(*told_by(FOLDER))[-1]
    assert acts == 2
    assert (one.again, one.far_side) == (0, 1)
    assert "repeat-behind" in drawing.signs


def test_what_is_seen_without_an_arrow_has_a_whole_bar() -> None:
    """A band's two folds are both seen, too near to each other for two arrows."""
    row = content.picture_of("plan-wallet", "step-04d")
    assert "repeat" in row.signs
    assert "repeat-behind" not in row.signs


@pytest.mark.parametrize("name", content.NAMES)
def test_an_arrow_away_from_you_has_its_dots_though_it_starts_behind_paper(name, told) -> None:
    pattern, story, _ = content.told(name)
    for drawing, _, arrows in told(pattern, story):
        for one in arrows:
            if one.kind == "mountain":
                assert len(shapely.get_parts(one.shape.ink)) > 1, (drawing.name, one.name)


@pytest.mark.parametrize("name", content.NAMES)
def test_every_arrow_of_the_content_has_a_body_and_an_even_head(name: str, told) -> None:
    """A head is told by the body before it, and by both its barbs."""
    pattern, story, _ = content.told(name)
    for drawing, _, arrows in told(pattern, story):
        for one in arrows:
            line = shapely.LineString(one.path)
            assert line.length > 1.6 * HEAD_MM[0], drawing.name
            tip = shapely.Point(one.path[-1])
            root = line.interpolate(line.length - HEAD_MM[0])
            near = shapely.intersection(one.shape.halo, tip.buffer(HEAD_MM[0]))
            dx, dy = tip.x - root.x, tip.y - root.y
            size = dx * dx + dy * dy
            a, b = (dx * dx - dy * dy) / size, 2.0 * dx * dy / size  # reflects about the axis
            x, y = tip.x - a * tip.x - b * tip.y, tip.y - b * tip.x + a * tip.y
            mirrored = shapely.affinity.affine_transform(near, [a, b, b, -a, x, y])
            odd = shapely.symmetric_difference(near, mirrored).area / near.area
            assert odd < 0.2, (drawing.name, one.path[-1], odd)


def test_a_flat_tube_is_squeezed_from_both_sides_until_it_stands_open(told) -> None:
    """A pillow box, as its first ends go in; it is open as the others do."""
    pattern, story, _ = content.told("pillow-box")
    pushed = {}
    for drawing, _, arrows in told(pattern, story):
        moved = [one for one in arrows if one.kind == "move"]
        pushed[drawing.name] = len(moved)
        if len(moved) == 2:
            (a, b), (c, d) = (one.path for one in moved)
            # towards each other, and both outside
            assert (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]) < 0.0
            assert shapely.Point(a).distance(shapely.Point(c)) > 10.0 + shapely.Point(b).distance(
                shapely.Point(d)
            )
            assert "Squeeze the box a little at the folds of the back and the seam" in drawing.alt
    assert [name for name, count in pushed.items() if count == 2] == ["step-04"]


STEPS = """
```piece card, in card
panel    lower half, 150 mm x 120 mm
panel    upper half, on top of lower half, 120 mm deep, valley
score    between upper half and lower half, called gutter
form     pop-up step, fold = gutter, span = 110 mm, rise = 70 mm, tread = 60 mm, called big
form     pop-up step, fold = foot of big, span = 50 mm, rise = 24 mm, tread = 22 mm, called low
form     pop-up step, fold = head of big, span = 50 mm, rise = 24 mm, tread = 22 mm, called high
form     pop-up step, fold = foot of low, span = {span} mm, rise = 16 mm, tread = 12 mm, called tiny
form     pop-up step, fold = foot of high, span = {span} mm, rise = 16 mm, tread = 12 mm, called tip
```

```step
cut      each slit of card
score    card
```

```step
close    card by 90 degrees
```
"""


def test_what_is_helped_without_room_for_an_arrow_is_counted_by_bars(told) -> None:
    """Five steps stand out; each of the two small ones has a bar of its own."""
    drawing, acts, arrows = told(*told_by(STEPS.format(span=20)))[-1]
    assert acts == 6
    assert signed(arrows) == acts
    assert len(arrows) < acts
    assert "repeat" in drawing.signs


def test_a_crease_that_slits_leave_without_paper_is_passed_over(told) -> None:
    """The foot of the low step is cut away by the tiny one: that is a finding, and the pattern is
    drawn nevertheless."""
    _, _, arrows = told(*told_by(STEPS.format(span=50)))[-1]
    assert [one.name for one in arrows if one.kind == "valley"] == ["upper half"]
