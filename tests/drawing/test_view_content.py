"""Every step picture of every content pattern: words keep clear, the same part keeps its colour,
and a size that changes leaves the other pictures as they were."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly import Story
from publisher.drawing.space_view import draw_story
from publisher.drawing.types import Drawing, Fill, Stroke
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import path_bounds
from publisher.model.types import Pattern
from publisher.pipeline import check_pattern, check_text
from publisher.workshop import Workshop, open_workshop
from tests.drawing.test_view_generated import DRAWN_AS, faults
from tests.drawing.view_scenes import area, fills, labels

ROOT = Path(__file__).parents[2]
NAMES = sorted(p.parent.name for p in (ROOT / "content").glob("*/pattern.md"))


@cache
def workshop() -> Workshop:
    return open_workshop(ROOT)[0]


@cache
def told(name: str) -> tuple[Pattern, Story, tuple[Drawing, ...]]:
    outcome = check_pattern(workshop(), name)
    assert outcome.pattern is not None
    assert outcome.story is not None
    pattern = outcome.story.handled or outcome.pattern
    return pattern, outcome.story, draw_story(pattern, outcome.story)


@pytest.mark.parametrize("name", NAMES)
def test_words_never_cross_overlap_or_leave(name: str) -> None:
    assert {d.name: faults(d) for d in told(name)[2] if faults(d)} == {}


@pytest.mark.parametrize("name", NAMES)
def test_a_part_has_one_name_and_one_paper_through_the_booklet(name: str) -> None:
    """A name stands for the same piece, or panel of a piece, and a face has its piece's paper."""
    pattern, story, drawings = told(name)
    papers = {b: pattern.piece(p).stock.name for b, p in story.body_pieces.items()}
    for drawing in drawings:
        for fill in fills(drawing, *DRAWN_AS):
            ident = fill.id[fill.id.index("face-") :]
            owners = [b for b in papers if ident.startswith(f"face-{b}-")]
            assert owners, fill.id
            assert fill.stock in {papers[b] for b in owners}
        texts = Counter(label.text for label in labels(drawing))
        assert all(count == 1 for count in texts.values())


def changed(text: str, size: str, value: str) -> str:
    found, count = re.subn(
        rf"^({size}\s*=) [^,\"]*?(,[^\"]*?)?(\s+\"|$)", rf"\1 {value}\3", text, flags=re.M
    )
    assert count == 1, size
    return found


def redrawn(name: str, size: str, value: str) -> dict[str, Drawing]:
    text = (ROOT / "content" / name / "pattern.md").read_text(encoding="utf-8")
    data = changed(text, size, value).encode()
    given = (workshop().trade, workshop().settings.cutting, workshop().forms)
    outcome = check_text(data, f"{name}.md", name, *given)
    assert outcome.pattern is not None
    assert outcome.story is not None, [d.message for d in outcome.diagnostics]
    drawings = draw_story(outcome.story.handled or outcome.pattern, outcome.story)
    return {d.name: d for d in drawings}


def sides(drawing: Drawing) -> dict[str, tuple[bool, bool]]:
    """For each label, whether it stands right of and below the middle of the drawing."""
    paper = shapely.union_all([area(f) for f in fills(drawing, *DRAWN_AS)
                               if not f.id.startswith("close-up")]).envelope.centroid  # fmt: skip
    return {label.text: (label.at[0] > paper.x, label.at[1] > paper.y) for label in labels(drawing)}


def seen_from(drawing: Drawing) -> str:
    """The view as the words tell it."""
    return drawing.alt[drawing.alt.rindex("Seen from") :] if "Seen from" in drawing.alt else ""


CHANGES = (
    ("sliding-box", "depth", "23 mm"),
    ("sliding-box", "tab", "11 mm"),
)


@pytest.mark.parametrize(("name", "size", "value"), CHANGES)
def test_a_changed_size_leaves_the_composition(name: str, size: str, value: str) -> None:
    """Same pictures, same views, and labels on the same sides, save at most one label of ten."""
    before = {d.name: d for d in told(name)[2]}
    after = redrawn(name, size, value)
    assert before.keys() == after.keys()
    assert {n: seen_from(d) for n, d in before.items()} == {
        n: seen_from(d) for n, d in after.items()
    }
    moved = [
        (n, text)
        for n, drawing in before.items()
        for text, side in sides(drawing).items()
        if sides(after[n]).get(text, side) != side
    ]
    count = sum(len(labels(d)) for d in before.values())
    assert len(moved) <= count / 10, moved


def test_a_changed_size_changes_only_the_pictures_it_concerns() -> None:
    """The overlap of the sleeve has no part in what is done to the drawer before it, but the
    tabs have: with another ``play`` every picture of the drawer alone stays, to the last byte."""
    before = {d.name: d for d in told("sliding-box")[2]}
    after = redrawn("sliding-box", "play", "1.5 mm")
    drawer_only = [n for n in before if n.startswith(("step-01", "step-02"))]
    assert drawer_only
    assert all(before[n] == after[n] for n in drawer_only)
    assert any(before[n] != after[n] for n in before if n not in drawer_only)


def picture_of(name: str, step: str) -> Drawing:
    return next(d for d in told(name)[2] if d.name == step)


def arrows(drawing: Drawing) -> list[Fill]:
    roles = ("arrow-fold", "arrow-move")
    return [i for i in drawing.items if isinstance(i, Fill) and i.role in roles]


def faces(drawing: Drawing, body: str) -> BaseGeometry:
    own = [i for i in drawing.items if isinstance(i, Fill) and i.id.startswith(f"face-{body}-")]
    return shapely.union_all([Polygon(flattened(r, 0.05)) for i in own for r in i.rings[:1]])


def test_every_part_that_folds_has_its_arrow_also_under_a_mat() -> None:
    drawing = picture_of("table-sign", "step-03a")
    assert {i.id for i in arrows(drawing)} == {
        "arrow-sign-1-back",
        "arrow-sign-1-floor",
        "arrow-sign-1-tab",
    }
    assert {label.text for label in labels(drawing)} == {"front", "floor", "tab"}


@pytest.mark.parametrize(("name", "step", "body"), [("lantern", "step-04d", "base-1")])
def test_what_goes_into_a_box_has_its_arrow_on_what_is_seen_of_it(
    name: str, step: str, body: str
) -> None:
    drawing = picture_of(name, step)
    (arrow,) = arrows(drawing)
    ink = Polygon(flattened(arrow.rings[0], 0.05))
    tail = shapely.Point((ink.bounds[0] + ink.bounds[2]) / 2.0, ink.bounds[1] + 0.3)
    assert shapely.dwithin(faces(drawing, body), tail, 0.6)


def test_what_travels_together_has_one_outline_where_it_lands() -> None:
    ghosts = [
        i
        for i in picture_of("plan-wallet", "step-05b").items
        if isinstance(i, Stroke) and i.role == "ghost"
    ]
    ends = sum(len(i.paths) for i in ghosts)
    assert ends <= 2  # the mat's rim, broken by the arrow at most; not the label's as well


def test_a_view_is_chosen_in_which_glue_is_seen() -> None:
    for step in ("step-01d", "step-03d"):
        drawing = picture_of("hexagon-box", step)
        assert "glue" in drawing.signs, step
        glued = [i for i in drawing.items if isinstance(i, Fill) and i.role == "glue"]
        area = sum(Polygon(flattened(i.rings[0], 0.05)).area for i in glued)
        assert area > 6.0, step  # mm2 on paper: seen as an area


def test_what_folds_in_one_loop_is_named_once() -> None:
    """The hand turns the upper half; the steps follow of themselves."""
    for step in ("step-04a", "step-04b"):
        assert [x.text for x in labels(picture_of("pop-up-card", step))] == ["upper half"]


def test_cuts_beside_each_other_leave_the_strip_between_them_white() -> None:
    drawing = picture_of("leaf-card", "step-01b")
    assert not [i for i in drawing.items if isinstance(i, Stroke) and i.role == "cut"]
    assert [i for i in drawing.items if isinstance(i, Stroke) and i.role == "outline-moving"]


def test_there_is_no_crease_before_it_is_scored() -> None:
    assert "fold-made" not in picture_of("pop-up-card", "step-01a").signs
    assert "fold-made" in picture_of("pop-up-card", "step-05b").signs


def test_every_corner_that_is_held_has_its_sign() -> None:
    """Two of four tabs lie within: they are pressed from outside."""
    drawing = picture_of("sliding-box", "step-02c")
    assert len([i for i in drawing.items if i.id == "hold"]) == 4


def test_veins_are_seen_through_the_liner_that_is_laid_on_them() -> None:
    """Only so is it told which end of the liner is the head."""
    drawing = picture_of("leaf-card", "step-02b")
    assert "seen through the paper: it tells which end is which" in drawing.alt
    dotted = [i for i in drawing.items if isinstance(i, Stroke) and i.id == "hidden-liner-1"]
    assert sum(len(i.paths) for i in dotted) >= 8  # veins; and the borders of the glue


def test_feet_and_rims_all_have_arrows_of_their_own() -> None:
    """No side of a hexagon is seen edge-on, and the walls before the feet are clear."""
    for name, step, count in (
        ("hexagon-box", "step-02b", 6),
        ("hexagon-box", "step-04b", 6),
        ("lantern", "step-05a", 4),
    ):
        drawing = picture_of(name, step)
        assert not {"repeat", "repeat-behind"} & set(drawing.signs)
        assert len(arrows(drawing)) == count


def test_a_push_comes_from_behind_and_what_follows_is_no_work() -> None:
    """Of the large step three folds are made; those of the small one, and all steps while the
    page is folded, follow of themselves."""
    folded, large, small = (
        picture_of("pop-up-card", n) for n in ("step-02a", "step-02b", "step-03")
    )
    assert "mountain" not in folded.signs
    assert {"push-arrow", "mountain", "valley"} <= set(large.signs) & set(small.signs)
    assert "move-arrow" not in large.signs
    assert "close-up" not in large.signs
    (arrow,) = [i for i in large.items if isinstance(i, Fill) and i.role == "arrow-move"]
    assert len(arrow.rings) >= 4  # dots at its tail


def test_an_arrow_that_would_hide_what_is_pushed_stands_in_the_close_up() -> None:
    drawing = picture_of("pop-up-card", "step-03")
    (arrow,) = [i for i in drawing.items if isinstance(i, Fill) and i.role == "arrow-move"]
    assert arrow.id.startswith("close-up-")
    (circle,) = [i for i in drawing.items if i.id == "close-up"]
    assert isinstance(circle, Stroke)
    x0, y0, x1, y1 = path_bounds(circle.paths[0])
    for ring in arrow.rings:
        left, top, right, bottom = path_bounds(ring)
        assert x0 < left < right < x1
        assert y0 < top < bottom < y1


def test_an_arrow_goes_with_the_fold_that_is_seen() -> None:
    """The cover folds mountain under its page, which folds valley over it."""
    signs = picture_of("pop-up-card", "step-06a").signs
    assert "fold-arrow-valley" in signs
    assert "fold-arrow-mountain" not in signs


CUTS = ("cut", "outline-moving")
"""Heavy, or lighter where heavy lines would run together."""


def test_no_bridge_is_cut() -> None:
    """Four windows, each with a star that five bridges hold: the cut goes round five parts."""
    drawing = picture_of("lantern", "step-01b")
    cuts = [i for i in drawing.items if isinstance(i, Stroke) and i.role in (*CUTS, "outline")]
    cuts = [i for i in cuts if not i.id.startswith("waste-")]  # what is on its way out
    cuts = [i for i in cuts if not i.id.startswith("close-up")]
    rings = [path for stroke in cuts for path in stroke.paths if path.closed]
    windows = [ring for ring in rings if ring.length_mm < 60.0]  # not the lantern's own outline
    assert len(windows) == 20
