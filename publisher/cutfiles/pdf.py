"""A sheet as PDF at true scale: the page is the sheet, each role an optional-content group.

A PDF unit is 1/72 in (ISO 32000-2, 8.3.2.3) and y points up. Every copy is marked content of
the tag ``Piece`` with its id. Arcs are cubics within ``ARC_MM``: a cubic of handle
4/3 tan(t/4) strays outwards from an arc of t by at most 2.7253e-4 of the radius at 90 degrees,
with the sixth power of t below that.
"""

from __future__ import annotations

import hashlib
import io
import math
from collections.abc import Iterator

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    TextStringObject,
)

from publisher.cutfiles.lines import CopyLines, sheet_lines
from publisher.cutfiles.roles import LINE_WIDTH_MM, ROLES
from publisher.geometry.path import Arc, Path, Point
from publisher.layout import Sheet
from publisher.model.types import Pattern
from publisher.units import MM_PER_POINT, number

ARC_MM = 0.0005
DECIMALS = 5


def sheet_pdf(pattern: Pattern, sheet: Sheet) -> bytes:
    """The sheet as a PDF file."""
    content = "\n".join(_content(pattern, sheet)).encode("ascii")
    writer = PdfWriter()
    writer.pdf_header = "%PDF-1.7"
    width, height = sheet.size.width_mm / MM_PER_POINT, sheet.size.height_mm / MM_PER_POINT
    page = writer.add_blank_page(width, height)
    # The page box once more, with the decimals kept.
    box = [FloatObject(number(v, DECIMALS)) for v in (0, 0, width, height)]
    page[NameObject("/MediaBox")] = ArrayObject(box)
    stream = DecodedStreamObject()
    stream.set_data(content)
    page[NameObject("/Contents")] = writer._add_object(stream)
    groups = _groups(writer)
    properties = DictionaryObject({NameObject(f"/{name}"): ref for name, ref in groups.items()})
    page[NameObject("/Resources")] = DictionaryObject({NameObject("/Properties"): properties})
    _catalog(writer, list(groups.values()))
    writer.metadata = None
    writer.add_metadata(
        {"/Title": f"{pattern.meta.title}, {sheet.name}", "/Producer": "Pattern Publisher"}
    )
    identity = ByteStringObject(hashlib.sha256(content + repr((width, height)).encode()).digest())
    writer._ID = ArrayObject((ByteStringObject(identity[:16]), ByteStringObject(identity[:16])))
    file = io.BytesIO()
    writer.write(file)
    return file.getvalue()


def _groups(writer: PdfWriter) -> dict[str, IndirectObject]:
    return {
        role.layer: writer._add_object(
            DictionaryObject(
                {
                    NameObject("/Type"): NameObject("/OCG"),
                    NameObject("/Name"): TextStringObject(role.layer),
                }
            )
        )
        for role in ROLES
    }


def _catalog(writer: PdfWriter, groups: list[IndirectObject]) -> None:
    shown = DictionaryObject(
        {
            NameObject("/Name"): TextStringObject("lines"),
            NameObject("/BaseState"): NameObject("/ON"),
            NameObject("/ON"): ArrayObject(groups),
            NameObject("/Order"): ArrayObject(groups),
        }
    )
    root = writer.root_object
    root[NameObject("/OCProperties")] = DictionaryObject(
        {NameObject("/OCGs"): ArrayObject(groups), NameObject("/D"): shown}
    )
    # Asks the print dialogue not to scale, or nothing would fit.
    root[NameObject("/ViewerPreferences")] = DictionaryObject(
        {NameObject("/PrintScaling"): NameObject("/None")}
    )


# ---------------------------------------------------------------- content


def _content(pattern: Pattern, sheet: Sheet) -> Iterator[str]:
    yield f"0 G {_pt(LINE_WIDTH_MM)} w"
    for copy in sheet_lines(pattern, sheet):
        yield from _copy(copy, sheet.size.height_mm)


def _copy(copy: CopyLines, height_mm: float) -> Iterator[str]:
    yield f"/Piece <</Id {_text(copy.id)}>> BDC"
    for role, paths in copy.by_role:
        yield f"/OC /{role.layer} BDC"
        yield f"[{' '.join(_pt(mm) for mm in role.dash_mm)}] 0 d"
        for path in paths:
            yield from _path(path, height_mm)
        yield "EMC"
    yield "EMC"


def _path(path: Path, height_mm: float) -> Iterator[str]:
    yield f"{_point(path.start, height_mm)} m"
    for index, segment in enumerate(path.segments):
        if isinstance(segment, Arc):
            for cubic in cubics(segment):
                yield " ".join(_point(p, height_mm) for p in cubic) + " c"
        elif not (path.closed and index == len(path.segments) - 1):
            yield f"{_point(segment.end, height_mm)} l"
    yield "s" if path.closed else "S"


def cubics(arc: Arc) -> Iterator[tuple[Point, Point, Point]]:
    """Both handles and the end of each cubic of an arc, within ``ARC_MM`` of it."""
    sweep = math.radians(arc.sweep_deg)
    radius, (cx, cy) = arc.radius_mm, arc.centre
    widest = math.pi / 2 * min(1.0, (ARC_MM / (2.7253e-4 * radius)) ** (1 / 6))
    count = math.ceil(abs(sweep) / widest - 1e-9)
    step = sweep / count
    reach = 4.0 / 3.0 * math.tan(step / 4.0)
    start = math.radians(arc.start_deg)
    for number_of in range(count):
        a, b = start + step * number_of, start + step * (number_of + 1)
        last = number_of == count - 1
        end = arc.end if last else (cx + radius * math.cos(b), cy + radius * math.sin(b))
        yield (
            (
                cx + radius * (math.cos(a) - reach * math.sin(a)),
                cy + radius * (math.sin(a) + reach * math.cos(a)),
            ),
            (
                cx + radius * (math.cos(b) + reach * math.sin(b)),
                cy + radius * (math.sin(b) - reach * math.cos(b)),
            ),
            end,
        )


def _text(text: str) -> str:
    """A PDF string: as it stands where it is plain ASCII, else UTF-16 in hex."""
    if text.isascii() and text.isprintable() and not set(text) & set("()\\"):
        return f"({text})"
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"


def _pt(mm: float) -> str:
    return number(mm / MM_PER_POINT, DECIMALS)


def _point(point: Point, height_mm: float) -> str:
    return f"{_pt(point[0])} {_pt(height_mm - point[1])}"
