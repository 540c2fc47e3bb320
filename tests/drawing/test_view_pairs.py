"""What is worked out for many at once agrees with the same asked one by one of Shapely."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from publisher.drawing.space_view.apart import box_corners, boxes_meet
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.pairs import facing_pairs
from publisher.drawing.space_view.projected import project
from publisher.drawing.space_view.shapes import piece_shape
from publisher.drawing.space_view.spans import spans
from publisher.drawing.space_view.stage import set_stage
from publisher.model.hinges import joints
from tests.bench.views import zigzag


def test_slanting_boxes_meet_where_shapely_says_so() -> None:
    numbers = np.random.default_rng(7)
    low = numbers.uniform(-10.0, 0.0, (60, 2))
    boxes = np.hstack((low, low + numbers.uniform(0.5, 6.0, (60, 2))))
    maps = numbers.uniform(-1.0, 1.0, (60, 2, 2))
    shifts = numbers.uniform(-8.0, 8.0, (60, 2))
    first, second = np.triu_indices(60, 1)
    laid = shapely.polygons(box_corners(boxes, maps, shifts))
    expected = shapely.intersects(laid[first], laid[second])
    found = boxes_meet(boxes, maps, shifts, first, second)
    assert 80 < expected.sum() < len(first) - 80
    assert (found == expected).all()


def test_stretches_of_lines_within_areas_with_parts_and_holes() -> None:
    numbers = np.random.default_rng(11)
    rings = shapely.buffer(shapely.points(numbers.uniform(-9.0, 9.0, (40, 12, 2))), 2.0)
    areas = [
        shapely.difference(
            shapely.union_all(own[:8]), shapely.union_all(shapely.buffer(own[8:], -1))
        )
        for own in rings
    ]
    assert any(area.geom_type == "MultiPolygon" for area in areas)
    lines = [shapely.LineString(ends) for ends in numbers.uniform(-9.0, 9.0, (40, 2, 2))]
    for line, area, found in zip(lines, areas, spans(lines, areas), strict=True):
        length = sum(stop - start for start, stop in found) * line.length
        assert length == pytest.approx(shapely.intersection(line, area).length, abs=0.2)
        for start, stop in found:
            middle = line.interpolate((start + stop) / 2.0, normalized=True)
            assert area.contains(middle)


def test_pairs_that_are_settled_without_an_overlay_are_as_an_overlay_tells() -> None:
    pattern, frame = zigzag(24)
    stage = set_stage(pattern, frame)
    shapes = {piece.name: piece_shape(piece) for piece in pattern.pieces}
    settled = 0
    for azimuth in range(0, 360, 40):
        items = project(stage.actors, shapes, Camera(View(float(azimuth), 48.0), 0.5))
        areas = np.array([item.area for item in items], dtype=object)
        pairs = facing_pairs(items, areas, np.zeros(len(items), dtype=bool), shapes)
        both = zip(pairs.first.tolist(), pairs.second.tolist(), strict=True)
        told = {pair: k for k, pair in enumerate(both)}
        for i in range(len(items)):
            for j in range(i + 1, len(items)):
                overlap = shapely.intersection(areas[i], areas[j])
                if overlap.area < 1e-3:
                    continue
                k = told[i, j]  # none that cover each other are left out
                if pairs.unclear[k]:
                    continue
                settled += 1
                middle = np.array([shapely.point_on_surface(overlap).coords[0]])
                nearer = float((items[i].nearness(middle) - items[j].nearness(middle))[0])
                assert (pairs.most[k] + pairs.least[k] > 0) == (nearer > 0)
    assert settled > 100


def test_what_is_kept_with_a_piece_is_no_part_of_its_value() -> None:
    pattern, _ = zigzag(4)
    piece = pattern.pieces[0]
    assert joints(piece) is joints(piece)
    other = replace(piece)
    assert other == piece
    assert "joints" not in "".join(other.__dict__)
    moved = replace(piece, hinges=piece.hinges[:1])
    assert len(joints(moved)) == 1
    assert math.isclose(shapely.area(piece_shape(piece).facets["panel 0"].paper), 720.0)
