"""The motion of each step as data: it begins as its picture, ends as the step ends, and goes in
small steps between. The data are hung together here anew, as a page does it."""

from __future__ import annotations

import itertools
import json
import math
from collections.abc import Sequence
from functools import cache

import msgspec
import numpy as np
import numpy.typing as npt
import pytest
from msgspec.structs import replace

from publisher.assembly import Frame, TurnMotion, assemble
from publisher.drawing.clip import Clip, ClipBody
from publisher.drawing.motion import Moment, clips, moments_of
from publisher.drawing.space_view import telling, told_frames
from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.stage import Stage, set_stage
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.geometry.space import lift
from publisher.model.types import Pattern
from publisher.workshop import look_of
from tests.assembly.build import do, part, pattern, strip
from tests.drawing.test_view_content import NAMES, told, workshop

Grid = npt.NDArray[np.float64]
NEAR_MM = 0.06  # figures are rounded to a thousandth of a millimetre and 0.01 degrees


@cache
def clips_of(name: str) -> tuple[Pattern, tuple[tuple[Frame, Clip], ...]]:
    pattern, story, _ = told(name)
    return pattern, tuple(clips(pattern, story, look_of(workshop())[0]))


def turn(origin: Grid, axis: Grid, deg: float) -> tuple[Grid, Grid]:
    """Rotation and shift of a right-handed turn, from the matrix of the cross product."""
    x, y, z = axis / np.linalg.norm(axis)
    cross = np.array(((0, -z, y), (z, 0, -x), (-y, x, 0)))
    angle = math.radians(deg)
    rotation = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
    return rotation, origin - rotation @ origin


def corners(body: ClipBody, moment: int) -> list[Grid]:
    """The outlines of a body's facets in the world."""

    def value(values: tuple, k: int):
        return values[min(k, len(values) - 1)]

    poses: dict[int, tuple[Grid, Grid]] = {}

    def pose(k: int) -> tuple[Grid, Grid]:
        if k not in poses:
            hang = body.facets[k].hang
            if hang is None:
                root = np.array(value(body.roots, moment))
                poses[k] = root[:9].reshape(3, 3), root[9:]
            else:
                on = pose(hang.on)
                own = turn(np.array(hang.origin), np.array(hang.axis),
                           value(body.angles[hang.fold], moment))  # fmt: skip
                poses[k] = on[0] @ own[0], on[0] @ own[1] + on[1]
        return poses[k]

    found = []
    for k, facet in enumerate(body.facets):
        flat = np.array(facet.rings[0]).reshape(-1, 2)
        rotation, shift = pose(k)
        found.append(
            np.column_stack((flat[:, 0], -flat[:, 1], np.zeros(len(flat)))) @ rotation.T + shift
        )
    return found


@pytest.mark.parametrize("name", NAMES)
def test_clips_end_as_their_steps_end(name: str) -> None:
    pattern, found = clips_of(name)
    assert found
    for frame, clip in found:
        for body in clip.bodies:
            after = frame.after.body(body.id)
            piece = pattern.piece(after.piece)
            poses = dict(after.facets)
            for facet, ring in zip(piece.facets, corners(body, clip.moments - 1), strict=True):
                start = facet.region.outer.start
                spot = np.array(poses[facet.name].apply(lift(start)))
                gap = np.linalg.norm(ring - spot, axis=1).min()
                assert gap < NEAR_MM, (clip.name, body.id, facet.name, gap)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_jumps(name: str) -> None:
    """From moment to moment no corner goes farther than a tenth of a half circle round the
    whole thing, or than a sixth of the way that is travelled."""
    _, found = clips_of(name)
    for _, clip in found:
        for body in clip.bodies:
            moments = [np.concatenate(corners(body, k)) for k in range(clip.moments)]
            whole = np.concatenate(moments)
            size = float(np.linalg.norm(whole.max(axis=0) - whole.min(axis=0)))
            for a, b in itertools.pairwise(moments):
                assert np.linalg.norm(b - a, axis=1).max() < 0.25 * size, (clip.name, body.id)


@pytest.mark.parametrize("name", NAMES)
def test_clips_are_small_and_keep_in_their_box(name: str) -> None:
    _, found = clips_of(name)
    for _, clip in found:
        data = msgspec.json.encode(clip)
        assert len(data) < 64_000, (clip.name, len(data))
        assert json.loads(data)["moments"] == clip.moments
        rows = np.array(clip.axes).reshape(3, 3)
        x0, y0, width, height = clip.box
        for body in clip.bodies:
            for k in (0, clip.moments // 2, clip.moments - 1):
                paper = np.concatenate(corners(body, k)) @ rows.T
                assert paper[:, 0].min() > x0
                assert paper[:, 0].max() < x0 + width
                assert paper[:, 1].min() > y0
                assert paper[:, 1].max() < y0 + height


def test_a_drawer_wall_stands_up_by_a_quarter_turn() -> None:
    """The corners of a wall 22 mm deep end 22 mm above its base, whichever way it was laid."""
    _, found = clips_of("sliding-box")
    clip = next(c for _, c in found if c.name == "step-01c")
    (body,) = clip.bodies
    first = np.concatenate(corners(body, 0))
    last = np.concatenate(corners(body, clip.moments - 1))
    assert np.ptp(first[:, 2]) < 1e-6
    assert abs(np.ptp(last[:, 2]) - 22.0) < 0.01


def torn(frame: Frame, stage: Stage, moments: Sequence[Moment]) -> dict[str, float]:
    """How far apart the ends of a hinge, or what is glued, come while a frame moves, in mm. The
    strips of a flap along a curve, as they bend, stand by themselves."""
    found: dict[str, float] = {}
    start = moments[0].poses
    for moment in moments:
        for body in stage.bodies:
            poses = moment.poses[body]
            piece = stage.of(body)[0].piece
            scores = {fold.part_of for fold in piece.folds if fold.part_of}
            for hinge in piece.hinges:
                of = hinge.fold.partition(" of ")[2]
                key = f"{body}, {of}" if of in scores else body
                for spot in (lift(hinge.start), lift(hinge.end)):
                    one, other = (poses[f].apply(spot) for f in (hinge.parent, hinge.child))
                    found[key] = max(found.get(key, 0.0), math.dist(one, other))
        for bond in frame.before.bonds:
            (a, f), (b, g) = bond.first, bond.second
            if bond.by == "tuck" or a not in start or b not in start:
                continue
            then = start[a][f].inverse().after(start[b][g])
            now = moment.poses[a][f].inverse().after(moment.poses[b][g])
            for spot in ((0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (0.0, 50.0, 0.0)):
                gap = math.dist(then.apply(spot), now.apply(spot))
                found[f"{a} on {b}"] = max(found.get(f"{a} on {b}", 0.0), gap)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_paper_holds_together_on_its_way(name: str) -> None:
    """Where loops join folds, these turn as the loops close: no hinge and no glue comes apart, and
    no crease along a curve. A flap that snaps in is squeezed (``tests/assembly/test_flexing.py``
    says by how much), so that its strips lie a little over each other."""
    pattern, story, _ = told(name)
    for frame in told_frames(pattern, story):
        stage = set_stage(pattern, frame)
        if stage.actors:
            gaps = torn(frame, stage, moments_of(frame, stage))
            squeezed = {key for key in gaps if "," in key}
            assert all(gap < 0.05 for key, gap in gaps.items() if key not in squeezed), gaps
            assert all(gaps[key] < 1.0 for key in squeezed), gaps


def test_a_card_glued_in_its_cover_stays_on_it_as_it_closes() -> None:
    """Two bodies that glue on both sides of a fold makes one loop; the page lies a caliper over
    the cover, which its loop does not reckon with."""
    cover, page = (strip(name, [105.0, 105.0], 148.0, "v") for name in ("cover", "inside"))
    glue = do("glue", part("inside"), to="to", objects=(part("cover"),))
    made = pattern([cover, page], glue, do("close", part("cover")))
    frame = assemble(made)[0].frames[-1]
    stage = set_stage(made, frame)
    moments = moments_of(frame, stage)
    assert max(moment.angles["inside-1"]["b"] for moment in moments) == pytest.approx(180.0)
    gaps = torn(frame, stage, moments)
    assert any(" on " in key for key in gaps)
    assert max(gaps.values()) < 0.5, gaps


def test_a_turn_for_the_viewer_goes_all_its_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a picture looks at another side the thing turns on the table before it, as the
    viewer sees it, though it lies in the world as it lay."""
    made, story, _ = told("envelope")

    def other_sides(frames: Sequence[Frame], *rest: object) -> tuple[View, ...]:
        return tuple(replace(VIEWS[0], azimuth_deg=90.0 * (k > 2)) for k in range(len(frames)))

    monkeypatch.setattr(telling, "choose_views", other_sides)
    found = telling.tell(made, story)
    (k,) = [
        k for k, f in enumerate(found.frames) if f.before is f.after and f.action.verb == "turn"
    ]
    frame, stage = found.frames[k], found.stages[k]
    (turn,) = frame.motions
    assert isinstance(turn, TurnMotion)
    gone = []
    for moment in moments_of(frame, stage):
        (name,) = moment.poses
        facet, start = next((a.facet, a.pose) for a in stage.of(name))
        (cosine, sine, _), _, _ = moment.poses[name][facet].after(start.inverse()).rotation
        gone.append(math.degrees(math.atan2(-sine, cosine)))
    assert gone[-1] == pytest.approx(turn.angle_deg * turn.axis[2])
    assert abs(gone[-1]) == pytest.approx(90.0)
    assert gone == sorted(gone, key=abs)
