"""Every format of cut file against standards, second readers and several renderers.

- ISO 19593-1:2018, processing steps: the keys GTS_Metadata, GTS_ProcStepsGroup and
  GTS_ProcStepsType on an optional-content group; the types of the group Structural as the PDF
  Association's Arlington model lists them (tsv/latest/GTS_ProcStepsGroup.tsv).
- ISO 32000-2: 8.6.6.4 Separation colour spaces, 8.6.7 overprint.
- CSS Values and Units Level 4, 5.2: 1in = 96px = 72pt = 25.4mm.
- PNG, third edition, 11.3.4.3: pHYs.
- DXF R12 is AC1009 (DXF reference, $ACADVER).

Readers: pikepdf, svgpathtools, svgelements, ezdxf, Pillow. Renderers: CairoSVG, resvg, PDFium,
the drawing add-on of ezdxf.
"""

from __future__ import annotations

import io
import math
from functools import cache
from xml.etree import ElementTree

import cairosvg
import ezdxf
import pikepdf
import pypdfium2 as pdfium
import pytest
import resvg_py
import svgpathtools
from ezdxf.addons.drawing import Frontend, RenderContext, layout
from ezdxf.addons.drawing.config import (
    BackgroundPolicy,
    ColorPolicy,
    Configuration,
    LineweightPolicy,
)
from ezdxf.addons.drawing.svg import SVGBackend
from ezdxf.math import BoundingBox2d
from msgspec.structs import replace
from PIL import Image, ImageChops, ImageFilter
from svgelements import SVG

from publisher.cutfiles import CutOptions, ScoreAs
from publisher.geometry.measure import path_bounds
from publisher.layout import Sheet, on_sheet
from publisher.model.types import Pattern
from publisher.pipeline import check_pattern, on_sheets
from publisher.workshop import open_workshop, pattern_names
from tests.compiled import ROOT
from tests.cutfiles.test_formats import torn_pattern
from tests.handmade import envelope_pattern
from tests.sheets import laid, written

MM_PER_INCH = 25.4
SVG_SPACE = "{http://www.w3.org/2000/svg}"
STRUCTURAL = {
    # The Arlington PDF model, all that it lists for this group.
    "Cutting",
    "PartialCutting",
    "ReversePartialCutting",
    "Creasing",
    "ReverseCreasing",
    "CuttingCreasing",
    "ReverseCuttingCreasing",
    "PartialCuttingCreasing",
    "ReversePartialCuttingCreasing",
    "Drilling",
    "Gluing",
    "FoilStamping",
    "ColdFoilStamping",
    "Embossing",
    "Debossing",
    "Perforating",
    "Bleed",
    "VarnishFree",
    "InkFree",
    "InkVarnishFree",
    "Folding",
    "Punching",
    "Stapling",
}


@cache
def content() -> tuple[tuple[Pattern, tuple[Sheet, ...]], ...]:
    """The patterns of this repository on their sheets."""
    workshop, wrong = open_workshop(ROOT)
    assert not wrong
    found = []
    for name in pattern_names(workshop):
        outcome = on_sheets(check_pattern(workshop, name), workshop.trade)
        assert outcome.pattern is not None
        found.append((outcome.pattern, outcome.sheets))
    assert found
    return tuple(found)


# ---------------------------------------------------------------- processing steps


def groups(data: bytes) -> dict[str, str]:
    """Name and type of processing step of every optional-content group."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        found = {}
        for group in pdf.Root.OCProperties.OCGs:
            steps = group.GTS_Metadata
            assert str(steps.GTS_ProcStepsGroup) == "/Structural"
            found[str(group.Name)] = str(steps.GTS_ProcStepsType).removeprefix("/")
        return found


STEPS: dict[ScoreAs, dict[str, str]] = {
    "groups": {
        "GLUE": "Gluing",
        "SCORE-VALLEY": "Creasing",
        "SCORE-MOUNTAIN": "Creasing",
        "PERFORATION": "Perforating",
        "CUT": "Cutting",
    },
}
STEPS["drawn"] = STEPS["groups"]
STEPS["dashes"] = {
    **STEPS["groups"],
    "SCORE-VALLEY": "Perforating",
    "SCORE-MOUNTAIN": "Perforating",
}


@pytest.mark.parametrize("score_as", sorted(STEPS))
def test_processing_steps_by_their_exact_names(score_as: ScoreAs) -> None:
    pattern, sheets = laid(torn_pattern())
    found = groups(written(pattern, sheets[0], "pdf", CutOptions(score_as=score_as)))
    assert found == {n: t for n, t in STEPS[score_as].items() if n != "GLUE"}
    pattern, sheets = laid(envelope_pattern())
    found = groups(written(pattern, sheets[0], "pdf", CutOptions(score_as=score_as, glue=True)))
    assert found["GLUE"] == "Gluing"
    assert set(found.values()) <= STRUCTURAL


def test_a_blade_that_scores_cuts_in_part() -> None:
    pattern, sheets = laid(torn_pattern())
    found = groups(written(pattern, sheets[0], "pdf", CutOptions(machine="roll cutter")))
    assert found["SCORE-VALLEY"] == found["SCORE-MOUNTAIN"] == "PartialCutting"


def test_each_step_has_a_spot_colour_that_overprints() -> None:
    """Not named after a process colour, All or None, and set to overprint wherever drawn."""
    pattern, sheets = laid(torn_pattern())
    with pikepdf.open(io.BytesIO(written(pattern, sheets[0], "pdf"))) as pdf:
        (page,) = pdf.pages
        spaces = page.Resources.ColorSpace
        for name, space in spaces.items():
            kind, colourant, alternate, tint = space
            assert str(kind) == "/Separation"
            assert str(colourant) == name
            assert name[1:] not in {"All", "None", "Cyan", "Magenta", "Yellow", "Black"}
            assert str(alternate) == "/DeviceGray"
            assert [float(v) for v in (*tint.C0, *tint.C1)] == [1.0, 0.0]
        over = page.Resources.ExtGState.Over
        assert bool(over.OP)
        assert bool(over.op)
        assert int(over.OPM) == 1
        marks: list[str] = []
        colour, overprint = "", False
        for operands, operator in pikepdf.parse_content_stream(page):
            word = str(operator)
            if word == "gs":
                overprint = str(operands[0]) == "/Over"
            elif word == "BDC":
                marks.append(str(operands[1]) if str(operands[0]) == "/OC" else "")
            elif word == "EMC":
                marks.pop()
            elif word == "CS":
                colour = str(operands[0])
            elif word in ("s", "S"):
                assert overprint
                assert marks[-1] == colour
                assert str(page.Resources.Properties[colour].Name) == colour[1:]


def test_pdfs_are_sound() -> None:
    """qpdf's own check finds nothing to mend."""
    for pattern, sheets in content():
        for sheet in sheets:
            data = written(pattern, sheet, "pdf", CutOptions(glue=True))
            with pikepdf.open(io.BytesIO(data)) as pdf:
                assert pdf.get_warnings() == []
                assert pdf.check_pdf_syntax() == []


# ---------------------------------------------------------------- sizes


def widest(pattern: Pattern, sheet: Sheet) -> tuple[float, float, float, float]:
    """The box of all outlines on a sheet, from the model, in mm."""
    boxes = [
        path_bounds(on_sheet(pattern.piece(p.piece).outline.outer, pattern.piece(p.piece), p))
        for p in sheet.placed
    ]
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def without(text: str, *names: str) -> str:
    root = ElementTree.fromstring(text)
    for name in names:
        del root.attrib[name]
    return ElementTree.tostring(root, encoding="unicode")


@pytest.mark.parametrize("file_format", ["svg", "svg-72", "svg-90"])
@pytest.mark.parametrize("ppi", [72.0, 90.0, 96.0])
def test_heeding_millimetres_and_the_view_box_any_reader_is_right(
    file_format: str, ppi: float
) -> None:
    for pattern, sheets in content():
        for sheet in sheets:
            data = written(pattern, sheet, file_format)
            box = SVG.parse(io.BytesIO(data), ppi=ppi).bbox()
            assert [v / ppi * MM_PER_INCH for v in box] == pytest.approx(
                widest(pattern, sheet), abs=0.002
            )


@pytest.mark.parametrize(("file_format", "units"), [("svg", 96), ("svg-72", 72), ("svg-90", 90)])
@pytest.mark.parametrize(
    "ignored", [("viewBox",), ("width", "height"), ("width", "height", "viewBox")]
)
def test_a_reader_of_its_own_units_may_ignore_either(
    file_format: str, units: int, ignored: tuple[str, ...]
) -> None:
    for pattern, sheets in content():
        for sheet in sheets:
            text = without(written(pattern, sheet, file_format).decode(), *ignored)
            box = SVG.parse(io.StringIO(text), ppi=units).bbox()
            assert [v / units * MM_PER_INCH for v in box] == pytest.approx(
                widest(pattern, sheet), abs=0.002
            )


@pytest.mark.parametrize("score_as", ["groups", "dashes"])
def test_svgpathtools_measures_the_same(score_as: ScoreAs) -> None:
    """A second reader of SVG: bare path data, lengths and boxes in units of 1/96 in."""
    unit = MM_PER_INCH / 96
    for pattern, sheets in (*content(), laid(torn_pattern())):
        for sheet in sheets:
            root = ElementTree.fromstring(
                written(pattern, sheet, "svg", CutOptions(score_as=score_as))
            )
            for placed in sheet.placed:
                piece = pattern.piece(placed.piece)
                (group,) = [
                    g for g in root.iter(f"{SVG_SPACE}g") if g.get("id") == f"{placed.id}-cut"
                ]
                paths = [svgpathtools.parse_path(p.get("d")) for p in group]
                rings = (piece.outline.outer, *piece.outline.holes)
                slits = [o.path for o in piece.openings if o.kind == "slit"]
                total = sum(p.length_mm for p in (*rings, *slits))
                assert sum(p.length(error=1e-6) for p in paths) * unit == pytest.approx(
                    total, abs=0.01
                )
                left, right, top, bottom = paths[-1].bbox()
                wanted = path_bounds(on_sheet(piece.outline.outer, piece, placed))
                assert [v * unit for v in (left, top, right, bottom)] == pytest.approx(
                    wanted, abs=0.002
                )
                assert paths[-1].isclosed()


# ---------------------------------------------------------------- the same ink

DPI = 300


def on_page(png: bytes, size: tuple[int, int]) -> Image.Image:
    """A picture at the corner of a white page: renderers round the page up or down."""
    page = Image.new("L", size, 255)
    page.paste(Image.open(io.BytesIO(png)).convert("L"), (0, 0))
    return page


def of_svg(data: bytes, size: tuple[int, int]) -> Image.Image:
    return on_page(cairosvg.svg2png(bytestring=data, dpi=DPI, background_color="white"), size)


def of_svg_again(data: bytes, size: tuple[int, int]) -> Image.Image:
    png = resvg_py.svg_to_bytes(svg_string=data.decode(), zoom=DPI / 96, dpi=96, background="white")
    return on_page(bytes(png), size)


def of_pdf(data: bytes) -> Image.Image:
    return pdfium.PdfDocument(data)[0].render(scale=DPI / 72).to_pil().convert("L")


def of_dxf(data: bytes, sheet: Sheet, size: tuple[int, int]) -> Image.Image:
    document = ezdxf.read(io.StringIO(data.decode()))
    backend = SVGBackend()
    style = Configuration(
        background_policy=BackgroundPolicy.WHITE,
        color_policy=ColorPolicy.BLACK,
        lineweight_policy=LineweightPolicy.ABSOLUTE,
        min_lineweight=0.25,
    )
    Frontend(RenderContext(document), backend, config=style).draw_layout(document.modelspace())
    page = layout.Page(sheet.size.width_mm, sheet.size.height_mm, layout.Units.mm)
    # The add-on would fit what is drawn to the page: the sheet itself is what is shown.
    whole = BoundingBox2d([(0.0, 0.0), (sheet.size.width_mm, sheet.size.height_mm)])
    return of_svg(backend.get_string(page, render_box=whole).encode(), size)


def stray(one: Image.Image, other: Image.Image) -> int:
    """Dark pixels of one with no ink of the other within a pixel."""
    first = one.point(lambda v: 255 if v < 128 else 0)
    near = other.point(lambda v: 255 if v < 200 else 0).filter(ImageFilter.MaxFilter(3))
    return sum(ImageChops.subtract(first, near).histogram()[1:])


def ink(image: Image.Image) -> tuple[int, int, int, int]:
    box = image.point(lambda v: 255 if v < 128 else 0).getbbox()
    assert box is not None
    return box


@pytest.mark.parametrize(("pattern", "sheets"), content(), ids=lambda v: getattr(v, "name", ""))
def test_every_format_has_the_same_ink(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    """At 300 points to the inch, within a pixel. Scores as real dashes, so that no renderer's
    own way of laying a dash pattern comes between. Lines that are only drawn are left out: they
    are thin and dashed, R12 knows no widths, and each renderer begins its dashes elsewhere."""
    options = CutOptions(score_as="dashes")
    pattern = replace(pattern, pieces=tuple(replace(p, marks=()) for p in pattern.pieces))
    for sheet in sheets:
        first = of_pdf(written(pattern, sheet, "pdf", options))
        size = first.size
        drawn = {
            "png": Image.open(io.BytesIO(written(pattern, sheet, "png", options))).convert("L"),
            "svg": of_svg(written(pattern, sheet, "svg", options), size),
            "svg again": of_svg_again(written(pattern, sheet, "svg", options), size),
            "svg-72": of_svg(written(pattern, sheet, "svg-72", options), size),
            "dxf": of_dxf(written(pattern, sheet, "dxf", options), sheet, size),
            "dxf-r12": of_dxf(written(pattern, sheet, "dxf-r12", options), sheet, size),
        }
        for name, image in drawn.items():
            assert image.size == size, name
            assert ink(image) == pytest.approx(ink(first), abs=1), name
            assert stray(image, first) == 0, name
            assert stray(first, image) == 0, name


def test_a_shift_by_two_pixels_is_seen() -> None:
    """The measure of the test above can fail."""
    pattern, sheets = content()[0]
    image = of_pdf(written(pattern, sheets[0], "pdf"))
    assert stray(image, image) == 0
    assert stray(ImageChops.offset(image, 3, 0), image) > 1000


@pytest.mark.parametrize(("pattern", "sheets"), content(), ids=lambda v: getattr(v, "name", ""))
def test_old_and_new_dxf_are_one_drawing(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    """By ezdxf: the same lengths on every layer, the same box, nothing for the audit to say."""
    for sheet in sheets:
        measured = []
        for file_format in ("dxf", "dxf-r12"):
            document = ezdxf.read(io.StringIO(written(pattern, sheet, file_format).decode()))
            auditor = document.audit()
            assert (auditor.errors, auditor.fixes) == ([], [])
            lengths: dict[str, float] = {}
            for entity in document.modelspace():
                parts = entity.virtual_entities() if entity.dxftype() == "LWPOLYLINE" else [entity]
                for part in parts:
                    d = part.dxf
                    length = (
                        math.dist(d.start, d.end)
                        if part.dxftype() == "LINE"
                        else math.radians((d.end_angle - d.start_angle) % 360) * d.radius
                    )
                    lengths[d.layer] = lengths.get(d.layer, 0.0) + length
            measured.append(lengths)
        assert measured[0] == pytest.approx(measured[1], abs=1e-3)
