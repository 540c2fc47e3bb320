"""Facets taken together: what is seen is the same as facet by facet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from publisher.assembly import assemble
from publisher.drawing.space_view import many, visible
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.faces import Scene, set_scene
from publisher.drawing.space_view.many import joined, joined_strips, united
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.stage import set_stage
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.drawing.space_view.visible import layer_table, narrow, occluders, visible_areas
from publisher.pipeline import check_pattern
from publisher.workshop import open_workshop
from tests.handmade import sliding_box_pattern

ROOT = Path(__file__).parents[2]


@cache
def scenes(name: str) -> list[tuple[Scene, list[BaseGeometry]]]:
    """Every stage of a pattern from two sides, and what is seen of it facet by facet."""
    outcome = check_pattern(open_workshop(ROOT)[0], name)
    assert outcome.pattern is not None
    assert outcome.story is not None
    pattern = outcome.story.handled or outcome.pattern
    found = []
    for frame in outcome.story.frames:
        stage = set_stage(pattern, frame)
        shapes = {a.piece.name: piece_shape(a.piece) for a in stage.actors}
        for view in (VIEWS[0], VIEWS[-1]):
            scene = set_scene(stage, shapes, Camera(view, 0.3))
            layers = layer_table(stage.above), layer_table(stage.above_after)
            hiding = occluders(scene.items, *layers, shapes)
            found.append((scene, visible_areas(scene.items, hiding, [])))
    return found


@pytest.mark.parametrize("name", ["pillow-box", "lantern", "sliding-box"])
def test_each_facet_shows_the_same(name: str) -> None:
    grouped = 0
    for scene, alone in scenes(name):
        grouped += sum(len(group.places) for group in scene.groups)
        apart = shapely.area(shapely.symmetric_difference(scene.seen, alone))
        assert apart.max() < 0.02, scene.items[int(apart.argmax())].actor.id
    assert grouped


@pytest.mark.parametrize("name", ["pillow-box", "lantern", "sliding-box"])
def test_the_area_of_some_is_that_of_each(name: str) -> None:
    for scene, _ in scenes(name):
        for group in scene.groups:
            alone = united(scene.items[k].area for k in group.places)
            assert shapely.symmetric_difference(group.area, alone).area < 0.05
        for body in {item.actor.body for item in scene.items}:
            own = [
                k
                for k, item in enumerate(scene.items)
                if item.actor.body == body and not item.ghost
            ]
            alone = united(scene.seen[k] for k in own)
            assert shapely.symmetric_difference(scene.area(body), alone).area < 0.05
        shown = [
            item.area
            for item, area in zip(scene.items, scene.seen, strict=True)
            if not item.ghost and not area.is_empty
        ]
        assert shapely.symmetric_difference(scene.silhouette, united(shown)).area < 0.05


def test_strips_that_overlap_are_joined_all_the_same() -> None:
    beside = [shapely.box(k, 0, k + 1, 5) for k in range(6)]
    assert joined_strips(beside).equals(shapely.box(0, 0, 6, 5))
    over = shapely.box(2.5, -1, 3.5, 6)
    assert joined_strips([*beside, over]).area == pytest.approx(32.0)


def test_a_union_that_loses_a_part_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    def lossy(areas: Sequence[BaseGeometry]) -> BaseGeometry:
        return joined(areas[:-1])

    pattern = sliding_box_pattern()
    stage = set_stage(pattern, assemble(pattern)[0].frames[-1])
    shapes = {a.piece.name: piece_shape(a.piece) for a in stage.actors}
    right = set_scene(stage, shapes, Camera(VIEWS[0], 0.3))
    monkeypatch.setattr(visible, "joined", lossy)
    mended = set_scene(stage, shapes, Camera(VIEWS[0], 0.3))
    assert shapely.area(shapely.symmetric_difference(right.seen, mended.seen)).max() < 0.02
    assert mended.silhouette.area == pytest.approx(right.silhouette.area, abs=0.02)


def test_needles_slits_and_necks_are_found_and_sharp_corners_passed_over() -> None:
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    needle = [*square[:2], (10, 5), (30, 5), (10, 5.0001), *square[2:]]
    blunt = [*square[:2], (10, 5), (30, 5), (30, 5.0001), (10, 5.0001), *square[2:]]
    slit = [*square[:2], (10, 5), (4, 5), (10, 5.0001), *square[2:]]
    neck = [*square[:2], (10, 5), (30, 5), (30, 0), (40, 0), (40, 9), (30, 9), (30, 5.0001)]
    spoilt = [needle, blunt, slit, [*neck, (10, 5.0001), *square[2:]]]
    assert narrow([shapely.Polygon(ring) for ring in spoilt]).all()
    sharp = shapely.Polygon([(0, 0), (10, 0), (10, 0.5)])
    hole = shapely.Polygon(square).difference(shapely.box(2, 2, 4, 4))
    assert not narrow([shapely.Polygon(square), sharp, hole, shapely.Polygon()]).any()


def test_what_fails_off_the_grid_is_done_on_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(areas: Iterable[BaseGeometry]) -> many.Geometries:
        if list(areas):
            raise shapely.GEOSException("side location conflict")
        return many.many([])

    pattern = sliding_box_pattern()
    stage = set_stage(pattern, assemble(pattern)[0].frames[-1])
    shapes = {a.piece.name: piece_shape(a.piece) for a in stage.actors}
    right = set_scene(stage, shapes, Camera(VIEWS[0], 0.3))
    for module in (visible, many):
        monkeypatch.setattr(module, "moved_to_grid", failing)
    mended = set_scene(stage, shapes, Camera(VIEWS[0], 0.3))
    assert shapely.area(shapely.symmetric_difference(right.seen, mended.seen)).max() < 0.02
