"""The making of a pattern as one moving picture: what it shows, how long, how large."""

from __future__ import annotations

import io
from functools import cache

import numpy as np
import shapely
from PIL import Image
from shapely.geometry.base import BaseGeometry

from publisher.drawing import making
from publisher.drawing.motion import moments_of
from publisher.drawing.png import to_png
from publisher.drawing.space_view import told_frames
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.lines import edge_lines
from publisher.drawing.space_view.story import settings
from publisher.drawing.space_view.telling import tell
from publisher.drawing.theme import Theme
from publisher.drawing.underway import underway
from publisher.workshop import look_of
from tests.drawing.test_view_content import told, workshop

PLAN = np.array((217, 192, 177))  # its paper with what moves laid over it, as it comes out


@cache
def theme() -> Theme:
    return look_of(workshop())[0]


@cache
def film(name: str) -> bytes:
    pattern, story, _ = told(name)
    return making.moving_picture(pattern, story, theme(), px=240)


def looks(name: str) -> list[Image.Image]:
    picture = Image.open(io.BytesIO(film(name)))
    found = []
    for k in range(picture.n_frames):  # type: ignore[attr-defined]
        picture.seek(k)
        found.append(picture.convert("RGB"))
    return found


def test_it_moves_without_end_and_is_small() -> None:
    picture = Image.open(io.BytesIO(film("envelope")))
    assert picture.format == "WEBP"
    assert picture.info["loop"] == 0
    assert picture.n_frames >= 15  # type: ignore[attr-defined]
    assert picture.size == (240, 192)
    assert len(film("envelope")) < 100_000


def test_each_motion_begins_where_its_picture_shows_it_and_ends_in_the_state_after() -> None:
    pattern, story, _ = told("envelope")
    shown = list(making.shots(pattern, story, theme()))
    starts = [s for s in shown if s.ms == making.FIRST_MS]
    ends = [s for s in shown if s.ms in (making.LAST_MS, making.END_MS)]
    frames = told_frames(pattern, story)
    moved = [f for f in frames if any(type(m).__name__ != "Mark" for m in f.motions)]
    assert len(starts) == len(ends) == len(moved)
    assert shown[-1].ms == making.END_MS
    assert len({s.svg for s in shown}) > len(shown) // 2


def test_what_is_opened_for_glue_is_seen_to_open_and_to_close_again() -> None:
    """The sign's tab goes under its side in the picture before; from there it opens."""
    pattern, story, _ = told("table-sign")
    shown = list(making.shots(pattern, story, theme()))
    starts = [k for k, s in enumerate(shown) if s.ms == making.FIRST_MS]
    ends = [k for k, s in enumerate(shown) if s.ms in (making.LAST_MS, making.END_MS)]
    opened = [k for k in starts[1:] if k - 1 not in ends]
    assert len(opened) == 1
    (here,) = opened
    before = next(k for k in reversed(ends) if k < here)
    after = next(k for k in ends if k > here)
    way = [s.svg for s in shown[before + 1 : after + 1]]
    assert way == way[::-1]
    assert shown[here].svg == way[len(way) // 2]


def test_all_of_it_stays_within_the_picture() -> None:
    for look in looks("envelope"):
        dark = np.array(look.convert("L")) < 250
        assert dark.any()
        rim = np.concatenate((dark[0], dark[-1], dark[:, 0], dark[:, -1]))
        assert not rim.any()


def test_what_slides_into_a_pocket_goes_under_its_front() -> None:
    """Half way in and later less of the plan is seen with each look."""
    pattern, story, _ = told("plan-wallet")
    kinds = ("FoldMotion", "MoveMotion", "TurnMotion")
    frames = told_frames(pattern, story)
    moved = [f for f in frames if any(type(m).__name__ in kinds for m in f.motions)]
    place = next(k for k, f in enumerate(moved) if f.action.verb == "slide")
    shown = list(making.shots(pattern, story, theme()))
    first = [k for k, s in enumerate(shown) if s.ms == making.FIRST_MS][place]
    seen = []
    for shot in shown[first : first + 5]:
        picture = Image.open(io.BytesIO(to_png(shot.svg, 240))).convert("RGB")
        off = np.abs(np.array(picture).astype(int) - PLAN).max(axis=2)
        seen.append(int((off < 6).sum()))
    assert seen[0] > 1000
    assert seen[3] < 0.6 * seen[2] <= 0.6 * seen[0] + 30
    assert seen[4] < seen[3]


def test_a_flap_that_snaps_in_is_one_paper_all_the_way() -> None:
    """Its strips lie a little over each other on the way: no lines are drawn between them."""
    pattern, story, _ = told("pillow-box")
    telling = tell(pattern, story)
    chosen = settings(telling)
    looked = 0
    for frame, stage, one in zip(telling.frames, telling.stages, chosen, strict=True):
        if frame.action.verb != "fold" or not any(" strip " in a.facet for a in stage.actors):
            continue
        moments = moments_of(frame, stage)
        for moment in moments[4:16:4] if len(moments) > 1 else ():
            camera = Camera(one.view, one.scale)
            layers = [underway(frame, stage)]
            ((shown, scene),) = making._scenes(stage, [moment], layers, telling.shapes, camera)
            lines = edge_lines(scene.items, scene.seen, telling.shapes, shown, frozenset(), {})
            flaps: dict[str, list[BaseGeometry]] = {}
            for item, area in zip(scene.items, scene.seen, strict=True):
                if item.actor.moving:
                    part = item.actor.facet.rpartition(" strip ")[0]
                    flaps.setdefault(part, []).append(shapely.buffer(area, 0.02))
            for own in flaps.values():
                within = shapely.buffer(shapely.union_all(own), -0.4)
                drawn = sum(shapely.intersection(x.geometry, within).length for x in lines)
                assert drawn < 1.0, (frame.step, drawn)
                looked += not within.is_empty
    assert looked > 8


def test_the_same_pattern_gives_the_same_bytes() -> None:
    pattern, story, _ = told("envelope")
    assert making.moving_picture(pattern, story, theme(), px=240) == film("envelope")


def test_too_large_a_film_is_made_smaller(monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setattr(making, "MOST_BYTES", len(film("envelope")) - 1)
    pattern, story, _ = told("envelope")
    data = making.moving_picture(pattern, story, theme(), px=240)
    assert Image.open(io.BytesIO(data)).size[0] == 180
