"""Reads a sheet's PDF with PDFium: page box, and every path with the marks it stands under."""

from __future__ import annotations

import ctypes
import math
from collections.abc import Callable
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c
from msgspec import Struct

from publisher.geometry.measure import Bounds
from publisher.geometry.path import Point
from publisher.readback.found import FoundPath, FoundSheet, joined
from publisher.readback.pdf_words import faults as strict_faults

MM_PER_PT = 25.4 / 72.0
# Gauss-Legendre, five points, on 0 to 1: for the length of a cubic.
_GAUSS = tuple(
    (0.5 + 0.5 * x, 0.5 * w)
    for x, w in (
        (0.0, 0.5688888888888889),
        (-0.5384693101056831, 0.47862867049936647),
        (0.5384693101056831, 0.47862867049936647),
        (-0.906179845938664, 0.23692688505618908),
        (0.906179845938664, 0.23692688505618908),
    )
)
_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)


class _Piece(Struct, frozen=True):
    """A straight line (two points) or a cubic (four), in PDF units."""

    points: tuple[Point, ...]

    def at(self, t: float) -> Point:
        if len(self.points) == 2:
            (x1, y1), (x2, y2) = self.points
            return (x1 + t * (x2 - x1), y1 + t * (y2 - y1))
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        return (
            sum(w * p[0] for w, p in zip(weights, self.points, strict=True)),
            sum(w * p[1] for w, p in zip(weights, self.points, strict=True)),
        )

    def length(self) -> float:
        if len(self.points) == 2:
            return math.dist(*self.points)
        a, b, c, d = self.points
        total = 0.0
        for t, weight in _GAUSS:
            slope = [
                3 * ((1 - t) ** 2 * (b[k] - a[k]) + 2 * t * (1 - t) * (c[k] - b[k]))
                + 3 * t * t * (d[k] - c[k])
                for k in (0, 1)
            ]
            total += weight * math.hypot(*slope)
        return total

    def bounds(self) -> Bounds:
        marks = [0.0, 1.0]
        if len(self.points) == 4:
            for k in (0, 1):
                marks += _turning(*(p[k] for p in self.points))
        found = [self.at(t) for t in marks]
        xs, ys = [p[0] for p in found], [p[1] for p in found]
        return (min(xs), min(ys), max(xs), max(ys))


def _turning(a: float, b: float, c: float, d: float) -> list[float]:
    """Where a cubic in one coordinate has slope zero between its ends."""
    p, q, r = d - 3 * c + 3 * b - a, 2 * (c - 2 * b + a), b - a
    if abs(p) < 1e-12:
        roots = [-r / q] if abs(q) > 1e-12 else []
    else:
        under = q * q - 4 * p * r
        if under < 0:
            return []
        roots = [(-q + sign * math.sqrt(under)) / (2 * p) for sign in (1, -1)]
    return [t for t in roots if 0.0 < t < 1.0]


def read_pdf(data: bytes) -> FoundSheet:
    """Raises whatever PDFium raises on bytes that are no PDF."""
    document = pdfium.PdfDocument(data)
    try:
        faults = [*strict_faults(data)]
        if len(document) != 1:
            faults.append(f"there are {len(document)} pages, not one")
        page = document[0]
        width, height = page.get_size()
        left, bottom, right, top = page.get_mediabox()
        if (left, bottom) != (0.0, 0.0):
            faults.append("the page box does not start at 0 0")
        sizes = (
            ("the page", width * MM_PER_PT, height * MM_PER_PT),
            ("the media box", (right - left) * MM_PER_PT, (top - bottom) * MM_PER_PT),
        )
        paths: list[FoundPath] = []
        for item in page.get_objects():
            if item.type != pdfium_c.FPDF_PAGEOBJ_PATH:
                faults.append("something that is no path stands on the page")
                continue
            if tuple(item.get_matrix().get()) != (1.0, 0.0, 0.0, 1.0, 0.0, 0.0):
                faults.append("a path is transformed")
            paths.append(path_of(item.raw, height, marks_of(item.raw)))
        return FoundSheet(sizes, tuple(paths), tuple(faults))
    finally:
        document.close()


def path_of(raw: Any, height: float, names: dict[str, str]) -> FoundPath:
    """What a path object measures on a page of this height in PDF units; ``names`` are its
    ``marks_of``."""
    pieces, closed = _pieces(raw)
    pieces = [p for p in pieces if p.length() > 0.0]
    boxes = [p.bounds() for p in pieces]
    box = joined(boxes) if boxes else (0.0, 0.0, 0.0, 0.0)
    marks = [p.at(t) for p in pieces for t in _SHARES]
    return FoundPath(
        copy=names.get("Piece", ""),
        role=names.get("OC", ""),
        closed=closed,
        length_mm=sum(p.length() for p in pieces) * MM_PER_PT,
        curved_mm=sum(p.length() for p in pieces if len(p.points) == 4) * MM_PER_PT,
        bounds=(
            box[0] * MM_PER_PT,
            (height - box[3]) * MM_PER_PT,
            box[2] * MM_PER_PT,
            (height - box[1]) * MM_PER_PT,
        ),
        points=tuple((x * MM_PER_PT, (height - y) * MM_PER_PT) for x, y in marks),
        shortest_mm=min((p.length() for p in pieces), default=math.inf) * MM_PER_PT,
        each=len(_SHARES),
    )


def _pieces(raw: Any) -> tuple[list[_Piece], bool]:
    pieces: list[_Piece] = []
    start = here = (0.0, 0.0)
    handles: list[Point] = []
    closed = False
    moves = 0
    for number in range(pdfium_c.FPDFPath_CountSegments(raw)):
        segment = pdfium_c.FPDFPath_GetPathSegment(raw, number)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium_c.FPDFPathSegment_GetPoint(segment, x, y)
        point = (x.value, y.value)
        kind = pdfium_c.FPDFPathSegment_GetType(segment)
        if kind == pdfium_c.FPDF_SEGMENT_MOVETO:
            start = here = point
            moves += 1
        elif kind == pdfium_c.FPDF_SEGMENT_LINETO:
            pieces.append(_Piece((here, point)))
            here = point
        else:
            handles.append(point)
            if len(handles) == 3:
                pieces.append(_Piece((here, *handles)))
                here, handles = point, []
        if pdfium_c.FPDFPathSegment_GetClose(segment):
            closed = True
            if here != start:
                pieces.append(_Piece((here, start)))
                here = start
    return pieces, closed and moves == 1


def marks_of(raw: Any) -> dict[str, str]:
    """The marked content a path stands in: by its tag, the name or id it carries."""
    found: dict[str, str] = {}
    for number in range(pdfium_c.FPDFPageObj_CountMarks(raw)):
        mark = pdfium_c.FPDFPageObj_GetMark(raw, number)
        tag = _text(pdfium_c.FPDFPageObjMark_GetName, mark)
        key = b"Name" if tag == "OC" else b"Id"
        found[tag] = _text(pdfium_c.FPDFPageObjMark_GetParamStringValue, mark, key)
    return found


def _text(ask: Callable[..., Any], *what: Any) -> str:
    """PDFium is asked twice: how long, then what, in UTF-16."""
    size = ctypes.c_ulong(0)
    ask(*what, None, 0, size)
    if not size.value:
        return ""
    space = ctypes.create_string_buffer(size.value)
    ask(*what, ctypes.cast(space, ctypes.POINTER(pdfium_c.FPDF_WCHAR)), size.value, size)
    text = space.raw[: size.value].decode("utf-16-le").rstrip("\0")
    if text.startswith("\xfe\xff"):  # handed on byte by byte
        text = text.encode("latin-1").decode("utf-16")
    return text
