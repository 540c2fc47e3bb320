"""Layouts held to published nesting instances.

The instances are those of the EURO working group ESICUP: blaz1 (Błażewicz et al. 1993), fu
(Fujita et al. 1993), jakobs1 (Jakobs 1996), marques (Marques et al. 1991), shapes0 and trousers
(Oliveira et al. 2000), dighe1 and dighe2 (jigsaws by Hopper after Dighe and Jakiela 1996). They
are read from a folder beside this project and no copy of them is kept here.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import pytest
from shapely.geometry import Polygon

from publisher.layout.apart import faults
from publisher.layout.bound import load
from publisher.layout.fit import Question, ask
from publisher.layout.free import convex_parts, no_fit
from publisher.layout.kinds import Kind, Ring, ring_area, turned

FOLDER = Path(__file__).parents[3] / "shared" / "nesting"
pytestmark = pytest.mark.skipif(
    not (FOLDER / "dighe1.xml").is_file(),
    reason="the published nesting instances are not beside this project: ../shared/nesting",
)
JIGSAWS = ("dighe1", "dighe2")
PUBLISHED = {"fu": 92.4, "jakobs1": 89.2, "blaz1": 86.2, "marques": 92.0, "trousers": 92.6}
"""Densities on record, percent: Gardeyn, Vanden Berghe and Wauters 2025."""


class Published:
    """An instance in the working group's XML: polygons, pieces, no-fit polygons, layouts."""

    def __init__(self, name: str) -> None:
        self.tree = ElementTree.parse(FOLDER / f"{name}.xml")
        for element in self.tree.iter():
            element.tag = element.tag.rpartition("}")[2]
        self.polygons: dict[str, Ring] = {
            polygon.get("id", ""): tuple(
                (float(s.get("x0", "")), float(s.get("y0", ""))) for s in polygon.iter("segment")
            )
            for polygon in self.tree.iter("polygon")
        }
        self.piece = {
            piece.get("id", ""): self.polygons[component.get("idPolygon", "")]
            for piece in self.tree.iterfind(".//lot/piece")
            if (component := piece.find("component")) is not None
        }

    def layouts(self) -> list[tuple[float, list[Ring]]]:
        """Width said to be used, and the pieces where they are said to lie."""
        found = []
        for solution in self.tree.iter("solution"):
            width = solution.findtext("extraInfo/solutionWidth")
            shapes = []
            for place in solution.iter("placement"):
                ring = self.piece[place.get("idPiece", "")]
                assert float(place.get("angle", "0")) == 0.0
                x, y = float(place.get("x", "")), float(place.get("y", ""))
                shapes.append(tuple((px + x, py + y) for px, py in ring))
            found.append((float(width or "nan"), shapes))
        return found


def bare(shapes: Sequence[Ring]) -> list[tuple[Ring, tuple[Ring, ...]]]:
    return [(shape, ()) for shape in shapes]


@pytest.mark.parametrize("name", JIGSAWS)
def test_a_published_tiling_is_exactly_full(name: str) -> None:
    full = [shapes for width, shapes in Published(name).layouts() if width == 100.0]
    assert full
    for shapes in full:
        assert faults(bare(shapes), 100.0, 100.0, 0.0, tolerance_mm=1e-9) == []
        assert sum(abs(ring_area(shape)) for shape in shapes) == pytest.approx(1e4, abs=1e-6)


@pytest.mark.parametrize("name", JIGSAWS)
def test_a_jigsaw_needs_the_whole_sheet_and_no_more(name: str) -> None:
    kinds = [Kind(ring, (), (0.0,)) for ring in Published(name).piece.values()]
    assert load(kinds, 100.0, 100.0, 0.0) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("name", JIGSAWS)
def test_a_tiling_with_one_piece_moved_is_refused(name: str) -> None:
    for width, shapes in Published(name).layouts():
        if width != 100.0:
            continue
        for number, shape in enumerate(shapes):
            moved = [*shapes]
            moved[number] = tuple((x + 0.01, y) for x, y in shape)
            assert faults(bare(moved), 100.0, 100.0, 0.0) != []


def test_the_published_layout_of_shapes0_overlaps_and_is_refused() -> None:
    layouts = Published("shapes0-published").layouts()
    assert layouts
    for width, shapes in layouts:
        found = faults(bare(shapes), width, 40.0, 0.0)
        assert any(fault.kind == "overlap" for fault in found)


def test_no_fit_polygons_are_the_published_ones() -> None:
    """Where the orbiting piece may not be moved to: ten pieces, each against each."""
    dighe2 = Published("dighe2")
    compared = 0
    for entry in dighe2.tree.iter("nfp"):
        names = [
            part.get("idPolygon", "")
            for tag in ("staticPolygon", "orbitingPolygon", "resultingPolygon")
            if (part := entry.find(tag)) is not None
        ]
        still, moving, said = (Polygon(dighe2.polygons[name]) for name in names)
        ours = no_fit(still, convex_parts(moving))
        # The published ones refer to a corner of the piece: the shift may differ, no more.
        shift = (
            ours.bounds[0] - said.bounds[0],
            ours.bounds[1] - said.bounds[1],
        )
        said = Polygon([(x + shift[0], y + shift[1]) for x, y in said.exterior.coords])
        assert ours.symmetric_difference(said).area <= 1e-3 * said.area**0.5
        compared += 1
    assert compared >= 100


@pytest.mark.parametrize("name", sorted([*PUBLISHED, "shapes0"]))
def test_what_is_laid_of_a_published_instance_is_valid(name: str) -> None:
    """On a strip long enough for seven tenths of the density on record, every piece once."""
    kinds, height = instance(name)
    paper = sum(kind.area * kind.copies for kind in kinds)
    width = paper / height / (0.7 * PUBLISHED.get(name, 70.0) / 100.0)
    members = tuple(n for n, kind in enumerate(kinds) for _ in range(kind.copies))
    # Scaled so that the strip is as high as a sheet: the packer's slack is in millimetres.
    scale = 200.0 / height
    large = [
        Kind(tuple((x * scale, y * scale) for x, y in kind.outer), (), kind.turns, kind.copies)
        for kind in kinds
    ]
    (answer,) = ask(large, [Question(members, width * scale, 200.0, 0.5)])
    assert answer.fits
    assert sorted(put.kind for put in answer.puts) == sorted(members)
    shapes = [
        tuple((x + p.x_mm, y + p.y_mm) for x, y in turned(large[p.kind].outer, p.turn_deg))
        for p in answer.puts
    ]
    assert faults(bare(shapes), width * scale, 200.0, 0.5) == []


def instance(name: str) -> tuple[list[Kind], float]:
    """The kinds of an instance in JSON, and its strip's height."""
    data = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    kinds = []
    for item in data["items"]:
        ring = tuple((float(x), float(y)) for x, y in item["shape"]["data"])
        if math.dist(ring[0], ring[-1]) == 0.0:
            ring = ring[:-1]
        turns = tuple(float(t) % 360.0 for t in item["allowed_orientations"])
        kinds.append(Kind(ring, (), turns or (0.0,), int(item["demand"])))
    return kinds, float(data["strip_height"])
