"""No crumbs of lines beside the halos of arrows."""

from __future__ import annotations

import pytest
import shapely

from publisher.drawing.space_view.crumbs import without_crumbs
from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.types import Fill, LineRole
from tests.drawing.clean import line_of
from tests.drawing.test_view_content import NAMES, picture_of, told
from tests.drawing.view_scenes import area, ink, strokes

HALO = shapely.box(0.0, -5.0, 10.0, 5.0)
ROLES = ("outline", "outline-moving", "inner")


def line(x0: float, x1: float, role: LineRole = "outline", y: float = 0.0) -> Drawn:
    return Drawn(role, "card-1", shapely.LineString([(x0, y), (x1, y)]))


def lengths(*lines: Drawn) -> list[float]:
    found = without_crumbs(lines, HALO)
    return [round(shapely.difference(d.geometry, HALO).length, 2) for d in found]


def test_a_short_rest_of_a_line_beside_a_halo_goes() -> None:
    assert lengths(line(3.0, 11.0)) == [0.0]
    assert lengths(line(3.0, 11.5)) == [1.5], "long enough to be read"
    assert lengths(line(-6.0, 11.0)) == [6.0], "the other side stays"
    assert lengths(line(11.0, 12.0)) == [1.0], "it has its own length, no halo cuts it"


def test_a_corner_stays_a_corner() -> None:
    up = Drawn("outline", "card-1", shapely.LineString([(11.0, 0.0), (11.0, 9.0)]))
    assert lengths(line(3.0, 11.0), up) == [1.0, 9.0]
    across = Drawn("outline", "card-1", shapely.LineString([(11.0, -9.0), (11.0, 9.0)]))
    assert lengths(line(3.0, 11.0), across) == [0.0, 18.0]


@pytest.mark.parametrize("name", NAMES)
def test_no_picture_has_crumbs(name: str) -> None:
    """Beside halos no line of its own is left that is shorter than a millimetre."""
    for drawing in told(name)[2]:
        halos = [i for i in drawing.items if isinstance(i, Fill) and i.id.startswith("halo-")]
        if not halos:
            continue
        halo = shapely.buffer(shapely.union_all([area(fill) for fill in halos]), 0.005)
        own = strokes(drawing, "outline", "outline-moving", "inner", "fold-made")
        drawn = ink(*(s for s in own if not s.id.startswith(("close-up", "waste"))))
        others = ink(*strokes(drawing, "clear", "valley", "mountain"))  # which make corners, too
        left = shapely.get_parts(shapely.line_merge(shapely.difference(drawn, halo)))
        for part in left:
            alone = shapely.dwithin(part, halo, 0.01) and 0.05 < part.length < 1.0
            rest = shapely.difference(drawn, shapely.union(halo, shapely.buffer(part, 0.05)))
            corner = shapely.dwithin(part, shapely.union(rest, others), 0.2)
            assert not alone or corner, (drawing.name, part)


@pytest.mark.parametrize("step", ["step-04a", "step-05e"])
def test_the_edges_of_a_narrow_bar_leave_no_stubs(step: str) -> None:
    """The rays of the lantern's star, on a wall that is seen at a slant, are so narrow that the
    ink of both edges runs together: each edge goes on to its corners nevertheless."""
    drawing = picture_of("lantern", step)
    lines = [line_of(p) for s in strokes(drawing, *ROLES) for p in s.paths]
    for k, line in enumerate(lines):
        ends = [shapely.Point(line.coords[n]) for n in (0, -1)]
        rest = shapely.union_all(lines[:k] + lines[k + 1 :])
        if shapely.distance(*ends) > 0.01:
            assert all(shapely.distance(end, rest) < 0.05 for end in ends), line.wkt
