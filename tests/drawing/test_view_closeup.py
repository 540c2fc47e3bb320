"""Close-ups: what is too small on paper is shown larger in a circle, and only that."""

from __future__ import annotations

import shapely

from publisher.drawing.space_view.closeup import LEAST_MM, RADII_MM, find_details, placed
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.marks import GlueArea
from publisher.drawing.space_view.placing import Ground
from publisher.drawing.types import Drawing, Fill, Stroke
from tests.drawing.overview import content_drawings
from tests.drawing.view_scenes import area, ink, labels, strokes


def pictures() -> list[tuple[str, Drawing]]:
    return [(name, d) for name, drawings, _ in content_drawings() for d in drawings]


def line(length: float, role: str = "valley", at: float = 0.0) -> Drawn:
    return Drawn(role, "strip-1", shapely.LineString([(at, 0.0), (at, length)]))  # type: ignore[arg-type]


def glue(width: float, height: float, through: bool = False) -> GlueArea:
    return GlueArea("strip-1", "tab", "tab", shapely.box(0, 0, width, height), through, 45.0)


def test_a_line_is_too_small_below_eight_millimetres_and_not_at_eight() -> None:
    assert len(find_details([line(LEAST_MM - 0.1)], [])) == 1
    assert find_details([line(LEAST_MM)], []) == []
    assert find_details([line(3.0, "inner")], []) == []


def test_one_long_line_of_a_kind_tells_for_the_short_ones() -> None:
    assert find_details([line(3.0), line(20.0, at=5.0)], []) == []
    assert find_details([line(3.0), line(20.0, "mountain", 5.0)], [])[0].middle == (0.0, 1.5)


def test_glue_that_is_seen_stands_for_glue_that_is_not() -> None:
    assert find_details([], [glue(9.0, 3.0), glue(4.0, 3.0)]) == []
    found = find_details([], [glue(5.0, 3.0, through=True), glue(4.0, 3.0)])
    assert [d.middle for d in found] == [(2.0, 1.5)]


def test_the_circle_goes_with_the_nearest_of_equal_places() -> None:
    details = find_details([line(4.0, at=0.0), line(4.0, at=60.0)], [])
    assert len(details) == 2
    strip = shapely.box(-2.0, 0.0, 62.0, 4.0)
    frame = (20.0, -6.0, 90.0, 30.0)
    detail, circled = placed(details, Ground.of(frame, strip, shapely.Point()))
    assert detail is not None
    assert circled is not None
    assert circled.leader is not None
    x, y, w, h = circled.box
    centre = shapely.Point(x + w / 2, y + h / 2)
    other = {0.0: 60.0, 60.0: 0.0}[detail.middle[0]]
    assert centre.distance(shapely.Point(detail.middle)) <= centre.distance(
        shapely.Point(other, 2.0)
    )
    (ax, ay), (bx, by) = circled.leader
    assert abs(centre.distance(shapely.Point(bx, by)) - detail.radius_mm) < 1e-9
    ring = shapely.Point(detail.middle)
    assert abs(ring.distance(shapely.Point(ax, ay)) - detail.ring_mm) < 1e-9


def test_a_smaller_circle_where_there_is_less_room_and_none_where_there_is_none() -> None:
    strip = shapely.box(-2.0, 0.0, 62.0, 4.0)
    for high, radius in ((26.0, RADII_MM[0]), (20.0, RADII_MM[1])):
        ground = Ground.of((0.0, 4.0, 60.0, 4.0 + high), strip, shapely.Point())
        detail, _ = placed([find_details([line(4.0)], [])[0]], ground)
        assert detail is not None
        assert detail.radius_mm == radius
    ground = Ground.of((0.0, 4.0, 60.0, 16.0), strip, shapely.Point())
    assert placed(find_details([line(4.0)], []), ground) == (None, None)


def test_circles_in_the_pictures_keep_to_themselves() -> None:
    """Everything of a close-up lies in its circle; the circle covers no paper and no word, and
    its ring goes round a mark that is as small as it says."""
    met = 0
    for name, drawing in pictures():
        (disc,) = [shapely.Polygon(ink(s).coords) for s in strokes(drawing, "outline")
                   if s.id == "close-up"] or [None]  # fmt: skip
        if disc is None:
            assert "close-up" not in drawing.signs
            continue
        met += 1
        assert "close-up" in drawing.signs
        assert "A circle shows" in drawing.alt
        page = shapely.box(0, 0, drawing.width_mm, drawing.height_mm)
        assert page.buffer(-5.9).contains(disc), (name, drawing.name)
        paper = []
        for item in drawing.items:
            own = item.id.startswith("close-up-") and item.id not in (
                "close-up-ring",
                "close-up-line",
            )
            if isinstance(item, Fill) and own:
                assert disc.buffer(0.1).contains(area(item)), item.id
            elif isinstance(item, Stroke) and own:
                assert disc.buffer(0.1).contains(ink(item)), item.id
            elif isinstance(item, Fill):
                paper.append(area(item))
        assert shapely.distance(shapely.union_all(paper), disc) > 0.8, (name, drawing.name)
        assert all(disc.distance(shapely.Point(label.at)) > 0.5 for label in labels(drawing))
        assert any(i.id.startswith("close-up-face") for i in drawing.items)
    assert met >= 4
