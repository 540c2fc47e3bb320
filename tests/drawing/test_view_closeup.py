"""Close-ups: what is too small on paper is shown larger in a circle, and only that."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations, pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly import Frame
from publisher.drawing.space_view import draw_story, told_frames
from publisher.drawing.space_view.circles import RADII_MM, placed
from publisher.drawing.space_view.details import NARROW_MM, STRIP_MM
from publisher.drawing.space_view.ground import Ground
from publisher.drawing.space_view.shapes import region_polygon
from publisher.drawing.space_view.strips import (
    LEAST_MM,
    TIMES,
    Detail,
    Strip,
    strip_width,
    times_for,
    told_once,
)
from publisher.drawing.types import Drawing, Fill, Stroke
from publisher.model.types import Pattern
from tests.compiled import told_by
from tests.drawing.test_view_content import NAMES, redrawn, told
from tests.drawing.test_view_generated import faults
from tests.drawing.view_scenes import area, fills, ink, line, strokes

CLOSE_UP = re.compile(r"close-up(-\d)?")
GLUE = ("glue", "glue-through", "tape")
FOLDS = ("mountain", "valley")


def discs(drawing: Drawing) -> list[Stroke]:
    return [s for s in strokes(drawing, "outline") if CLOSE_UP.fullmatch(s.id)]


def rings(drawing: Drawing) -> BaseGeometry:
    found = [s for s in strokes(drawing, "leader") if s.id.endswith("-ring")]
    return shapely.union_all([shapely.convex_hull(ink(s)) for s in found])


def widest(one: BaseGeometry) -> float:
    """How wide an area is at its widest: twice the radius of the largest circle in it."""
    return 2.0 * float(shapely.length(shapely.maximum_inscribed_circle(one, tolerance=0.01)))


# ---------------------------------------------------------------- what needs a circle


def narrow_glue(pattern: Pattern, drawing: Drawing) -> list[str]:
    """Strips of glue too narrow to be read, without those of which one as wide in truth is
    wide enough in the same picture; found on the drawing alone."""
    zones: dict[str, list[Fill]] = {}
    for fill in fills(drawing, *GLUE):
        if not fill.id.startswith("close-up"):
            zones.setdefault(re.sub("^(glue-through|glue|tape)-", "", fill.id), []).append(fill)
    truth = {
        f"{piece.name}-{part.name}".replace(" ", "-"): strip_width(region_polygon(part.region))
        for piece in pattern.pieces
        for part in (*piece.facets, *piece.glue_zones)
    }

    def flat(zone: str) -> float:
        own = (w for name, w in truth.items() if _is_of(zone, name))
        return max(own, default=0.0)

    wide = {name: widest(shapely.union_all([area(f) for f in own])) for name, own in zones.items()}
    seen = {name for name, own in zones.items() if any(f.role != "glue-through" for f in own)}
    return [
        name
        for name, mm in wide.items()
        if mm < STRIP_MM - 0.1
        and not any(
            abs(flat(name) - flat(other)) < 0.12 * flat(name)
            for other in (seen if name in seen else wide)
            if wide[other] > STRIP_MM - 0.1
        )
    ]


def _is_of(zone: str, name: str) -> bool:
    """Whether "lid-1-tab-1-tab-1" is the zone "tab-1" of "lid"."""
    return any(
        zone.startswith(f"{name[:k]}-") and zone.endswith(name[k:])
        for k in (m.start() for m in re.finditer("-", name))
    )


def near_folds(drawing: Drawing) -> list[BaseGeometry]:
    """Where two folds that are marked run beside each other too near, found by walking along
    each."""
    runs = []
    for stroke in strokes(drawing, *FOLDS):
        if not stroke.id.startswith("close-up"):
            for path in stroke.paths:
                points = shapely.get_coordinates(line(path))
                runs += [shapely.LineString(ends) for ends in pairwise(points)]
    found = []
    for one, other in combinations([r for r in runs if r.length > 3.2], 2):
        steps = [one.interpolate(share, normalized=True) for share in np.linspace(0.0, 1.0, 41)]
        far = np.array([other.distance(step) for step in steps])
        near = far[far < NARROW_MM - 0.1]
        long = len(near) / len(far) * one.length > 3.4
        if long and np.ptp(near) < 0.1 and near.min() > 0.3:
            found.append(shapely.union_all([one, other]))
    return found


def lacking(pattern: Pattern, frame: Frame, drawing: Drawing) -> list[str]:
    """What is too small in a picture and in no circle of it."""
    round_it = rings(drawing)
    larger = [f for f in fills(drawing, *GLUE) if f.id.startswith("close-up")]
    gaps = [f"glue {name}" for name in narrow_glue(pattern, drawing) if not larger]
    if frame.action.verb != "push":
        pairs = near_folds(drawing)
        if pairs and not any(shapely.intersects(round_it, pair) for pair in pairs):
            gaps.append("two folds")
    for role in FOLDS:
        own = [s for s in strokes(drawing, role) if not s.id.startswith("close-up")]
        longest = max((line(path).length for s in own for path in s.paths), default=LEAST_MM)
        if longest < LEAST_MM - 0.1 and round_it.is_empty:
            gaps.append(role)
    return gaps


@pytest.mark.parametrize("name", NAMES)
def test_what_is_too_small_has_its_circle(name: str) -> None:
    pattern, story, drawings = told(name)
    frames = told_frames(pattern, story)
    found = {
        drawing.name: lacking(pattern, frame, drawing)
        for frame, drawing in zip(frames, drawings, strict=True)
    }
    assert {step: gaps for step, gaps in found.items() if gaps} == {}


WALLET = """
```piece wallet, in card
panel  back, {wide} x 100 mm
panel  spine, on bottom of back, {spine} deep, mountain by 90 degrees
panel  pocket, on bottom of spine, 80 mm deep, mountain by 90 degrees
glue   along left and right of pocket, {strip} wide, on back face, called strip
```

```step
score  each fold of wallet
turn   over wallet
glue   each strip of wallet
```
"""


@cache
def wallet(wide: str, spine: str, strip: str) -> tuple[Pattern, tuple[Frame, ...], list[Drawing]]:
    given = WALLET.replace("{wide}", wide).replace("{spine}", spine).replace("{strip}", strip)
    pattern, story = told_by(given)
    return pattern, tuple(told_frames(pattern, story)), list(draw_story(pattern, story))


@pytest.mark.parametrize(
    ("wide", "spine", "strip", "in_score", "in_glue"),
    [
        ("160 mm", "3 mm", "5 mm", True, True),
        ("160 mm", "40 mm", "5 mm", False, True),
        ("160 mm", "3 mm", "40 mm", True, False),
        ("160 mm", "40 mm", "40 mm", False, False),
    ],
)
def test_only_what_is_too_small_has_a_circle(
    wide: str, spine: str, strip: str, in_score: bool, in_glue: bool
) -> None:
    pattern, frames, drawings = wallet(wide, spine, strip)
    by_verb = {f.action.verb: d for f, d in zip(frames, drawings, strict=True)}
    assert bool(discs(by_verb["score"])) == in_score
    assert bool(discs(by_verb["glue"])) == in_glue
    assert not discs(by_verb["turn"])
    for frame, drawing in zip(frames, drawings, strict=True):
        assert lacking(pattern, frame, drawing) == []
        assert faults(drawing) == []


def test_the_rule_sees_what_is_lacking() -> None:
    pattern, frames, drawings = wallet("160 mm", "3 mm", "5 mm")
    from msgspec.structs import replace

    for frame, drawing in zip(frames, drawings, strict=True):
        if frame.action.verb == "turn":
            continue
        rest = tuple(i for i in drawing.items if not i.id.startswith("close-up"))
        assert lacking(pattern, frame, replace(drawing, items=rest)) != []


FOLDED = """
fold   spine of wallet
fold   pocket of wallet
```
"""


@pytest.mark.parametrize(("spine", "near"), [("3 mm", True), ("40 mm", False)])
def test_of_two_creases_side_by_side_it_is_seen_which_one_folds(spine: str, near: bool) -> None:
    """Each of them in turn: also where what lies between them stands already."""
    given = WALLET.replace("{wide}", "160 mm").replace("{spine}", spine)
    given = given.replace("{strip}", "40 mm").rstrip().removesuffix("```") + FOLDED.lstrip()
    pattern, story = told_by(given)
    pairs = zip(told_frames(pattern, story), draw_story(pattern, story), strict=True)
    drawn = [drawing for frame, drawing in pairs if frame.action.verb == "fold"]
    assert len(drawn) == 2
    for drawing in drawn:
        assert bool(discs(drawing)) == near
        folds = [s for s in strokes(drawing, *FOLDS) if s.id.startswith("close-up")]
        assert bool(folds) == near  # the one that acts is among what is drawn larger


# ---------------------------------------------------------------- how it is told


def test_factors_are_round() -> None:
    assert times_for(1.0, 5.0) == 5.0
    assert times_for(1.3, 5.0) == 3.0
    assert times_for(0.1, 5.0) == TIMES[0]
    assert times_for(7.9, 5.0) == TIMES[-1]


def strip(wide: float, long: float, seen: bool = True, flat: float = 5.0) -> Strip:
    return Strip("lid", flat, shapely.box(0.0, 0.0, long, wide), wide < STRIP_MM, seen)


def test_what_looks_alike_is_shown_once_and_the_narrower_more_often_larger() -> None:
    assert len(told_once([strip(1.0, 30.0), strip(1.4, 30.0)], "glue")) == 1
    one, other = told_once([strip(1.0, 30.0), strip(2.5, 30.0, flat=12.0)], "glue")
    assert (one.times, other.times) == (5.0, 2.0)


def test_a_strip_as_wide_in_truth_that_is_read_tells_for_one_that_is_not() -> None:
    assert told_once([strip(1.0, 30.0), strip(4.5, 30.0)], "glue") == []
    assert told_once([strip(1.0, 30.0), strip(4.5, 30.0, seen=False)], "glue") != []
    assert told_once([strip(1.0, 30.0), strip(4.5, 30.0, flat=9.0)], "glue") != []


def test_a_strip_is_shown_at_its_ends_and_a_short_one_whole() -> None:
    (long,) = told_once([strip(1.0, 30.0)], "glue")
    assert all(x < 2.0 or x > 28.0 for x, _ in long.places)
    (short,) = told_once([strip(3.0, 6.0)], "glue")
    assert short.places == ((3.0, 1.5),)


def test_glue_that_is_seen_stands_for_glue_that_is_not() -> None:
    behind = Strip("lid", 5.0, shapely.box(0.0, 50.0, 30.0, 51.0), True, False)
    (found,) = told_once([behind, strip(1.0, 30.0)], "glue")
    assert all(y < 2.0 for _, y in found.places)


# ---------------------------------------------------------------- where it stands


PAPER = shapely.box(-2.0, 0.0, 62.0, 4.0)


def test_the_circle_goes_with_the_nearer_of_equal_places() -> None:
    detail = Detail("fold", ((2.0, 2.0), (58.0, 2.0)), 2.0)
    ground = Ground.of((30.0, -6.0, 90.0, 60.0), PAPER, shapely.Point())
    (found,) = placed([detail], ground, 17.0)
    assert found.middle == (58.0, 2.0)
    start, end = found.leader
    centre, middle = shapely.Point(found.centre), shapely.Point(found.middle)
    assert abs(centre.distance(shapely.Point(end)) - found.radius_mm) < 1e-9
    assert abs(middle.distance(shapely.Point(start)) - found.ring_mm) < 1e-9


def test_a_smaller_circle_where_there_is_less_room_and_none_where_there_is_none() -> None:
    detail = Detail("fold", ((30.0, 2.0),), 2.0)
    for high, radius in ((26.0, RADII_MM[0]), (20.0, RADII_MM[1])):
        ground = Ground.of((0.0, 4.0, 60.0, 4.0 + high), PAPER, shapely.Point())
        (found,) = placed([detail], ground, 17.0)
        assert found.radius_mm == radius
    ground = Ground.of((0.0, 4.0, 60.0, 16.0), PAPER, shapely.Point())
    assert placed([detail], ground, 17.0) == []


def test_two_circles_keep_off_each_other() -> None:
    details = [Detail("fold", ((10.0, 2.0),), 2.0), Detail("glue", ((50.0, 2.0),), 2.0)]
    ground = Ground.of((-6.0, -6.0, 66.0, 60.0), PAPER, shapely.Point())
    one, other = placed(details, ground, 17.0)
    assert one.disc.distance(other.disc) > 1.0
    lines = [shapely.LineString(c.leader) for c in (one, other)]
    assert lines[0].distance(lines[1]) > 0.9
    assert lines[0].distance(other.disc) > 0.9
    assert lines[1].distance(one.ring) > 0.9


def test_a_ring_keeps_off_arrows_where_another_place_is_free() -> None:
    detail = Detail("fold", ((10.0, 2.0), (50.0, 2.0)), 2.0)
    arrow = shapely.LineString([(0.0, 2.0), (20.0, 2.0)]).buffer(1.0)
    ground = Ground.of((-6.0, -6.0, 66.0, 60.0), PAPER, arrow)
    (found,) = placed([detail], ground, 17.0)
    assert found.middle == (50.0, 2.0)


# ---------------------------------------------------------------- in pictures


@pytest.mark.parametrize("name", NAMES)
def test_circles_in_the_pictures_keep_to_themselves(name: str) -> None:
    """Everything of a close-up lies in its circle, and there is something in it."""
    for drawing in told(name)[2]:
        shown = discs(drawing)
        assert bool(shown) == ("close-up" in drawing.signs)
        assert len(shown) <= 2
        assert ("One place is drawn larger" in drawing.alt) == (len(shown) == 1)
        page = shapely.box(0, 0, drawing.width_mm, drawing.height_mm)
        for stroke in shown:
            disc = shapely.Polygon(ink(stroke).coords)
            assert page.buffer(-5.9).contains(disc), drawing.name
            parts = [stroke.id + end for end in ("", "-ring", "-line")]
            own = [
                i
                for i in drawing.items
                if i.id.startswith(stroke.id)
                and i.id not in parts
                and (stroke.id != "close-up" or not re.match(r"close-up-\d", i.id))
            ]
            for item in own:
                drawn = ink(item) if isinstance(item, Stroke) else area(item)  # type: ignore[arg-type]
                assert disc.buffer(0.1).contains(drawn), item.id
            assert any("-face-" in item.id for item in own)


SWEEP = (
    ("plan-wallet", "side glue", (4, 5, 6, 7)),
    ("sliding-box", "tab", (10, 11, 12, 13, 14)),
    ("sliding-box", "depth", (20, 21, 22, 23, 24)),
    ("lantern", "side", (58, 59, 60, 61, 62)),
    ("hexagon-box", "side", (40, 41, 42, 43, 44)),
)


@pytest.mark.parametrize(("name", "size", "values"), SWEEP)
def test_circles_stay_where_they_are_when_a_size_grows(
    name: str, size: str, values: tuple[int, ...]
) -> None:
    """A circle goes when what it shows becomes large enough, none comes but where the whole
    picture is drawn smaller, and at most one in ten moves to another quarter of its picture."""
    rows = [redrawn(name, size, f"{value} mm") for value in values]
    moved = total = 0
    for before, after in pairwise(rows):
        for step, drawing in before.items():
            smaller = after[step].scale < drawing.scale
            assert len(discs(after[step])) <= len(discs(drawing)) or smaller, step
            total += len(discs(after[step]))
            both = bool(discs(after[step])) and bool(discs(drawing))
            moved += both and quarters(drawing) != quarters(after[step])
    assert moved <= total / 10.0


def quarters(drawing: Drawing) -> list[tuple[bool, bool]]:
    """For each circle whether it stands right of and below the middle of what is drawn."""
    paper = fills(drawing, "front", "back", "front-moving", "back-moving")
    own = [area(f) for f in paper if not f.id.startswith("close-up")]
    middle = shapely.union_all(own).envelope.centroid
    centres = [ink(disc).envelope.centroid for disc in discs(drawing)]
    return [(c.x > middle.x, c.y > middle.y) for c in centres]
