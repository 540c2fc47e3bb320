"""Written files against standards and reference readers.

- CSS Values and Units Level 4, 5.2: 1in = 96px = 72pt = 25.4mm.
- ISO 32000-2, 8.3.2.3: the default user space unit is 1/72 in.
- ISO 216:2007: A4 is 210 by 297 mm. North American letter: 8 1/2 by 11 in (PWG 5101.1).
- DXF reference, header variables: $INSUNITS 4 is millimetres, $MEASUREMENT 1 is metric; the
  same numbers in ezdxf's InsertUnits.
- ISO/IEC 7810: ID-1 is 85.60 by 53.98 mm.

The readers are svgelements, ezdxf and PDFium; CairoSVG and PDFium draw.
"""

from __future__ import annotations

import io
from functools import cache

import cairosvg
import ezdxf
import pypdfium2 as pdfium
import pytest
from ezdxf import bbox
from ezdxf.addons.drawing import Frontend, RenderContext, layout
from ezdxf.addons.drawing.config import BackgroundPolicy, ColorPolicy, Configuration
from ezdxf.addons.drawing.svg import SVGBackend
from ezdxf.enums import InsertUnits
from msgspec.structs import replace
from PIL import Image
from svgelements import SVG

from publisher.geometry.path import Region, polygon
from publisher.layout import Sheet, lay_out
from publisher.model.types import Pattern
from tests.handmade import sliding_box_pattern
from tests.sheets import all_laid, trade, written

MM_PER_INCH = 25.4


@cache
def card_of_id_1(sheet_name: str) -> tuple[Pattern, Sheet]:
    """One plain card of ISO/IEC 7810 ID-1 on a sheet."""
    ring = polygon([(0.0, 0.0), (85.6, 0.0), (85.6, 53.98), (0.0, 53.98)])
    piece = replace(sliding_box_pattern().pieces[2], name="card", outline=Region(ring))
    pattern = replace(sliding_box_pattern(), pieces=(piece,))
    sheets, found = lay_out(pattern, trade(), sheet_name)
    assert found == []
    return pattern, sheets[0]


ISO_216 = {"a2": (420, 594), "a3": (297, 420), "a4": (210, 297), "a5": (148, 210)}
INCHES = {"letter": (8.5, 11.0), "12 x 12 in": (12.0, 12.0)}
SHEETS = {**ISO_216, **{n: (w * 25.4, h * 25.4) for n, (w, h) in INCHES.items()}}


@pytest.mark.parametrize("name", sorted(SHEETS))
def test_a_reader_of_either_size_gets_the_sheet(name: str) -> None:
    width, height = SHEETS[name]
    pattern, sheet = card_of_id_1(name)
    data = written(pattern, sheet, "svg")
    svg = SVG.parse(io.BytesIO(data), ppi=96)
    assert svg.width * MM_PER_INCH / 96 == pytest.approx(width, abs=1e-3)
    assert svg.height * MM_PER_INCH / 96 == pytest.approx(height, abs=1e-3)
    assert svg.viewbox.width * MM_PER_INCH / 96 == pytest.approx(width, abs=1e-3)
    assert svg.viewbox.height * MM_PER_INCH / 96 == pytest.approx(height, abs=1e-3)
    # A reader that knows no width and height, or no viewBox, still finds ID-1.
    text = data.decode()
    start, end = text.index(" width="), text.index(" viewBox=")
    for told in (
        text,
        text[:start] + text[end:],
        text.replace(text[end : text.index(">", end)], ""),
    ):
        box = SVG.parse(io.StringIO(told), ppi=96).bbox()
        assert (box[2] - box[0]) * MM_PER_INCH / 96 == pytest.approx(85.6, abs=1e-3)
        assert (box[3] - box[1]) * MM_PER_INCH / 96 == pytest.approx(53.98, abs=1e-3)


@pytest.mark.parametrize("ppi", [72.0, 90.0, 96.0])
def test_a_reader_that_heeds_millimetres_gets_the_size_at_any_resolution(ppi: float) -> None:
    pattern, sheet = card_of_id_1("a4")
    box = SVG.parse(io.BytesIO(written(pattern, sheet, "svg")), ppi=ppi).bbox()
    assert (box[2] - box[0]) / ppi * MM_PER_INCH == pytest.approx(85.6, abs=1e-3)


@pytest.mark.parametrize("name", sorted(SHEETS))
def test_pages_are_the_sheet_at_72_to_the_inch(name: str) -> None:
    width, height = SHEETS[name]
    document = pdfium.PdfDocument(written(*card_of_id_1(name), "pdf"))
    assert len(document) == 1
    assert document[0].get_size() == pytest.approx(
        (width / MM_PER_INCH * 72, height / MM_PER_INCH * 72), abs=1e-3
    )


def test_dxf_says_millimetres_and_holds_id_1() -> None:
    pattern, sheet = card_of_id_1("a4")
    document = ezdxf.read(io.StringIO(written(pattern, sheet, "dxf").decode()))
    assert InsertUnits.Millimeters == 4
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    assert document.acad_release == "R2010"
    extents = bbox.extents(document.modelspace(), fast=False)
    assert tuple(extents.size)[:2] == pytest.approx((85.6, 53.98), abs=1e-6)
    # Five mm from the left and from the top of a sheet 297 high, y up.
    assert tuple(extents.extmin)[:2] == pytest.approx((5.0, 297 - 5 - 53.98), abs=1e-6)


@pytest.mark.parametrize(("pattern", "sheets"), all_laid())
def test_all_files_have_one_extent(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    """svgelements and ezdxf agree on the box of everything on a sheet."""
    for sheet in sheets:
        box = SVG.parse(io.BytesIO(written(pattern, sheet, "svg")), ppi=96).bbox()
        svg = [v * MM_PER_INCH / 96 for v in box]
        document = ezdxf.read(io.StringIO(written(pattern, sheet, "dxf").decode()))
        assert document.audit().errors == []
        extents = bbox.extents(document.modelspace(), fast=False)
        height = sheet.size.height_mm
        dxf = [extents.extmin.x, height - extents.extmax.y]
        dxf += [extents.extmax.x, height - extents.extmin.y]
        assert svg == pytest.approx(dxf, abs=1e-3)


# ---------------------------------------------------------------- the same ink

DPI = 150


def drawn_svg(data: bytes, width: int, height: int) -> Image.Image:
    png = cairosvg.svg2png(
        bytestring=data, output_width=width, output_height=height, background_color="white"
    )
    return Image.open(io.BytesIO(png)).convert("L")


def drawn_dxf(data: bytes, sheet: Sheet, width: int, height: int) -> Image.Image:
    document = ezdxf.read(io.StringIO(data.decode()))
    backend = SVGBackend()
    style = Configuration(background_policy=BackgroundPolicy.WHITE, color_policy=ColorPolicy.BLACK)
    space = document.modelspace()
    # The drawing add-on fits a page to what is drawn: two points hold the sheet's corners.
    for corner in ((0.0, 0.0), (sheet.size.width_mm, sheet.size.height_mm)):
        space.add_line(corner, corner)
    Frontend(RenderContext(document), backend, config=style).draw_layout(space)
    page = layout.Page(sheet.size.width_mm, sheet.size.height_mm, layout.Units.mm)
    return drawn_svg(backend.get_string(page).encode(), width, height)


def ink(image: Image.Image) -> tuple[int, int, int, int]:
    box = image.point(lambda v: 255 if v < 128 else 0).getbbox()
    assert box is not None
    return box


@pytest.mark.parametrize(("pattern", "sheets"), all_laid())
def test_drawn_they_have_the_same_ink(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    """CairoSVG and PDFium, drawing the SVG and the PDF, ink the same box and the same lines."""
    for sheet in sheets:
        page = pdfium.PdfDocument(written(pattern, sheet, "pdf"))[0]
        pdf = page.render(scale=DPI / 72).to_pil().convert("L")
        svg = drawn_svg(written(pattern, sheet, "svg"), *pdf.size)
        assert ink(svg) == pytest.approx(ink(pdf), abs=1)
        # Every dark pixel of one has a dark one within a pixel in the other.
        for one, other in ((svg, pdf), (pdf, svg)):
            assert stray(one, other) <= 0.001 * dark(one)


def test_drawn_the_dxf_lies_where_the_svg_does() -> None:
    for pattern, sheets in all_laid():
        sheet = sheets[-1]
        size = (round(sheet.size.width_mm * 4), round(sheet.size.height_mm * 4))
        svg = drawn_svg(written(pattern, sheet, "svg"), *size)
        dxf = drawn_dxf(written(pattern, sheet, "dxf"), sheet, *size)
        assert ink(svg) == pytest.approx(ink(dxf), abs=2)


def dark(image: Image.Image) -> int:
    return sum(image.point(lambda v: 1 if v < 128 else 0).histogram()[1:2])


def stray(one: Image.Image, other: Image.Image) -> int:
    """Dark pixels of one with nothing but white within a pixel in the other."""
    from PIL import ImageChops, ImageFilter

    first = one.point(lambda v: 255 if v < 128 else 0)
    near = other.point(lambda v: 255 if v < 200 else 0).filter(ImageFilter.MaxFilter(3))
    return sum(ImageChops.subtract(first, near).point(lambda v: 1 if v else 0).histogram()[1:2])
