"""One size changed in the Markdown, and everything that depends on it followed.

The sliding box is built with its drawer 22 mm and 30 mm deep. Every figure expected here is
worked out from the box's own description, not by the compiler.
"""

from __future__ import annotations

import io
import itertools
import math

import ezdxf
import ezdxf.bbox
import pypdfium2
import pytest
from svgelements import SVG, Group, Path

from publisher.drawing.space_view.camera import View
from publisher.drawing.space_view.story import frame_names, settings
from publisher.drawing.space_view.telling import tell
from tests.workshops import Bundle, built, copied

CALIPER = 0.4  # of card
PLAY = 1.0
TAB = 12.0


@pytest.fixture(scope="module")
def boxes(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Bundle]:
    change = ("depth  = 22 mm,", "depth  = 30 mm,")
    first = copied(tmp_path_factory.mktemp("as-it-is"))
    second = copied(tmp_path_factory.mktemp("deeper"), sliding_box=change)
    return {22: built(first, "sliding-box"), 30: built(second, "sliding-box")}


def drawer_mm(depth: int) -> tuple[float, float]:
    """The net: a base of 124 x 84 with a wall on each side."""
    return 124.0 + 2 * depth, 84.0 + 2 * depth


def sleeve_mm(depth: int) -> tuple[float, float]:
    """Drawer's outside wide; twice round its outside with the play, and the overlap."""
    height = 84.0 + 2 * CALIPER + PLAY
    deep = depth + CALIPER + PLAY
    return 124.0 + 2 * CALIPER, 2 * (height + deep) + TAB


@pytest.mark.parametrize("depth", [22, 30])
def test_the_manifest_followed(boxes: dict[int, Bundle], depth: int) -> None:
    manifest = boxes[depth].manifest
    sizes = {s["name"]: s for s in manifest["sizes"]}
    assert sizes["depth"]["mm"] == pytest.approx(depth)
    pieces = {p["name"]: p for p in manifest["pieces"]}
    for name, size in (("drawer", drawer_mm(depth)), ("sleeve", sleeve_mm(depth))):
        found = (pieces[name]["width_mm"], pieces[name]["height_mm"])
        assert found == pytest.approx(size, abs=1e-6)
    assert (pieces["sleeve mat"]["width_mm"], pieces["sleeve mat"]["height_mm"]) == pytest.approx(
        (124.8 - 8.0, 85.8 - 8.0), abs=1e-6
    )


def extents(svg: bytes, group_id: str) -> tuple[float, float]:
    """Width and height in mm of what is cut in one group, read at 96 units an inch."""
    document = SVG.parse(io.BytesIO(svg), ppi=96)
    (group,) = document.select(lambda e: isinstance(e, Group) and e.id == group_id)
    boxes = [p.bbox(with_stroke=False) for p in group.select(lambda e: isinstance(e, Path))]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
    return (x1 - x0) / 96 * 25.4, (y1 - y0) / 96 * 25.4


@pytest.mark.parametrize("depth", [22, 30])
def test_the_cut_files_followed(boxes: dict[int, Bundle], depth: int) -> None:
    bundle = boxes[depth]
    wanted = {"drawer": drawer_mm(depth), "sleeve": sleeve_mm(depth)}
    seen = set()
    for sheet in bundle.manifest["sheets"]:
        paths = {f["format"]: f["path"] for f in sheet["files"]}
        svg = bundle.files[paths["svg"]]
        sizes = {}
        for placed in sheet["placed"]:
            name = placed["piece"]
            if name not in wanted:
                continue
            seen.add(name)
            width, height = extents(svg, f"{name}-{placed['copy']}-cut")
            sizes[name] = (width, height)
            turned = placed["turn_deg"] % 180 == 90
            size = wanted[name][::-1] if turned else wanted[name]
            assert (width, height) == pytest.approx(size, abs=0.01)
        if sizes and len(sheet["placed"]) == 1:
            (size,) = sizes.values()
            drawing = ezdxf.read(io.StringIO(bundle.files[paths["dxf"]].decode()))
            cuts = drawing.modelspace().query('*[layer=="CUT"]')
            box = ezdxf.bbox.extents(cuts, fast=False)
            assert (box.size.x, box.size.y) == pytest.approx(size, abs=0.01)
    assert seen == set(wanted)


def text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_booklet_followed(boxes: dict[int, Bundle], paper: str) -> None:
    texts = {d: text_of(b.files[f"instructions/sliding-box-{paper}.pdf"]) for d, b in boxes.items()}
    for depth, other in ((22, 30), (30, 22)):
        for width, height in (drawer_mm(depth),):
            assert f"{width:g} × {height:g} mm" in texts[depth]
            assert f"{width:g} × {height:g} mm" not in texts[other]
        high = round(sleeve_mm(depth)[1] * 2) / 2
        assert f"{high:g} mm" in texts[depth]
        assert f"{high:g} mm" not in texts[other]


def test_diagrams_that_show_the_depth_changed_and_the_others_did_not(
    boxes: dict[int, Bundle],
) -> None:
    first = {n: d for n, d in boxes[22].files.items() if n.startswith("diagrams/")}
    second = {n: d for n, d in boxes[30].files.items() if n.startswith("diagrams/")}
    assert first.keys() == second.keys()
    same = {n.removeprefix("diagrams/") for n in first if first[n] == second[n]}
    # Only the mat has nothing to do with the depth: every other picture shows a wall of the
    # drawer or a side of the sleeve.
    assert same == {"piece-sleeve-mat.svg", "sheet-patterned-paper-1.svg"}


def vertices(svg: bytes) -> list[tuple[float, float]]:
    """The corners of every path, in mm on paper."""
    found = set()
    for element in SVG.parse(io.BytesIO(svg), ppi=25.4).select(lambda e: isinstance(e, Path)):
        for segment in element:
            for p in (segment.start, segment.end):
                if p is not None:
                    found.add((round(p.x, 3), round(p.y, 3)))
    return sorted(found)


def upright_mm(view: View, scale: float, height: float) -> float:
    """How long an upright edge is on paper: parallel projection from ``elevation`` above."""
    return height * scale * math.cos(math.radians(view.elevation_deg))


@pytest.mark.parametrize("depth", [22, 30])
def test_standing_walls_are_drawn_as_long_as_projected(
    boxes: dict[int, Bundle], depth: int
) -> None:
    outcome = boxes[depth].outcome
    assert outcome.pattern is not None
    assert outcome.story is not None
    telling = tell(outcome.pattern, outcome.story)
    frames, stages, chosen = telling.frames, telling.stages, settings(telling)
    standing = 0
    for frame, name, stage, setting in zip(
        frames, frame_names(frames), stages, chosen, strict=True
    ):
        shown = {actor.body for actor in stage.actors}
        # Where the drawer is what is worked on it stands free; else a sleeve may hide it.
        subject = frame.action.subjects[0].piece
        drawers = [b for b in frame.before.bodies if b.piece == subject == "drawer"]
        drawers = [b for b in drawers if b.id in shown]
        if not drawers or dict(drawers[0].angles).get("front wall", 0.0) != 90.0:
            continue
        standing += 1
        long = upright_mm(setting.view, setting.scale, depth)
        points = vertices(boxes[depth].files[f"diagrams/{name}.svg"])
        uprights = [
            (a, b)
            for a, b in itertools.combinations(points, 2)
            if abs(a[0] - b[0]) < 0.003 and abs(abs(a[1] - b[1]) - long) < 0.005
        ]
        assert uprights, f"no upright edge of {long:.3f} mm in {name}"
    assert standing >= 2
