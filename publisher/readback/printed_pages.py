"""Printed pieces read back with PDFium: bleed, crosses, both sides, cut lines."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c

from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import Bounds
from publisher.geometry.path import Line
from publisher.layout import Sheet, placed_bounds
from publisher.model.types import Pattern, Piece
from publisher.printed import Fill, Written, read_artwork, write_printed
from publisher.readback.compare import TOLERANCE_MM, Allowed, compared
from publisher.readback.expected import WantedCopy, wanted_copies
from publisher.readback.found import FoundPath, FoundSheet
from publisher.readback.pdf import MM_PER_PT, marks_of, path_of
from publisher.readback.told import differs, mm
from publisher.readback.true_pages import clip_of
from publisher.trade import Trade

CROSSES = 8
"""Lines of the four corner crosses."""


def pieces_printed(
    pattern: Pattern,
    companions: Mapping[str, bytes],
    fills: Mapping[str, Fill],
    trade: Trade,
    language: str,
) -> tuple[dict[str, bytes], list[Diagnostic]]:
    """The printed pieces by their paths in the bundle, with the artwork among the files that
    lie beside the pattern; what is doubtful about it, and what is wrong as read back."""
    artwork, found = read_artwork(pattern, companions, trade)
    backs = [own.piece for own in artwork if own.face == "back"]
    bleed_mm = trade.practice["bleed_mm"].value
    files: dict[str, bytes] = {}
    for written in write_printed(pattern, artwork, fills, trade, language):
        files.update((f"printed/{path}", data) for path, data in written.files)
        found += measure_printed(written, pattern, backs, bleed_mm)
    return files, found


def measure_printed(
    written: Written, pattern: Pattern, backs: Sequence[str], bleed_mm: float
) -> list[Diagnostic]:
    """Findings on one paper's printed pieces. ``backs`` are the pieces printed on the back too:
    a sheet with one of them has a page for its back, and every sheet one for its cut lines."""
    data = dict(written.files)[written.pdf]
    path = f"printed/{written.pdf}"
    try:
        document = pdfium.PdfDocument(data)
    except pdfium.PdfiumError as error:
        return [differs(path, f"it cannot be read back: {error}".rstrip(" :"))]
    try:
        return list(_measured(path, document, written.sheets, pattern, backs, bleed_mm))
    finally:
        document.close()


def _measured(
    path: str,
    document: Any,
    sheets: Sequence[Sheet],
    pattern: Pattern,
    backs: Sequence[str],
    bleed_mm: float,
) -> Iterator[Diagnostic]:
    number = 0
    wanted = [2 + any(p.piece in backs for p in sheet.placed) for sheet in sheets]
    if len(document) != sum(wanted):
        yield differs(path, f"there are {len(document)} pages, not {sum(wanted)}")
        return
    for sheet, count in zip(sheets, wanted, strict=True):
        corners: list[list[Bounds]] = []
        for side in range(count):
            where = f"{path}, page {number + 1}"
            page = document[number]
            number += 1
            last = side == count - 1
            yield from _sized(where, page, sheet)
            corners.append(_crosses(page))
            if len(corners[-1]) != CROSSES:
                yield differs(where, f"there are {len(corners[-1])} lines of crosses, not 8")
            elif side and _off(corners[0], corners[-1]) > TOLERANCE_MM:
                yield differs(where, "the crosses do not lie on those of the front")
            if last:
                yield from _lines(where, page, sheet, pattern)
            else:
                only = backs if side else None
                yield from _bleeds(where, page, sheet, pattern, bleed_mm, only)


def _sized(where: str, page: Any, sheet: Sheet) -> Iterator[Diagnostic]:
    width, height = (value * MM_PER_PT for value in page.get_size())
    size = sheet.size
    if max(abs(width - size.width_mm), abs(height - size.height_mm)) > TOLERANCE_MM:
        yield differs(where, f"the page is {mm(width)} x {mm(height)}")


def _crosses(page: Any) -> list[Bounds]:
    _, height = page.get_size()
    found = []
    for item in page.get_objects(max_depth=1):
        if item.type == pdfium_c.FPDF_PAGEOBJ_PATH:
            marks = marks_of(item.raw)
            if "Register" in marks:
                found.append(path_of(item.raw, height, marks).bounds)
    return sorted(found)


def _off(first: Sequence[Bounds], second: Sequence[Bounds]) -> float:
    pairs = zip(first, second, strict=True)
    return max(abs(a - b) for one, other in pairs for a, b in zip(one, other, strict=True))


def _lines(where: str, page: Any, sheet: Sheet, pattern: Pattern) -> Iterator[Diagnostic]:
    """The cuts of every copy, as on a cut sheet; there is nothing else to be compared."""
    _, height = page.get_size()
    paths: list[FoundPath] = []
    for item in page.get_objects(max_depth=1):
        if item.type == pdfium_c.FPDF_PAGEOBJ_PATH:
            marks = marks_of(item.raw)
            if "Piece" in marks:
                paths.append(path_of(item.raw, height, marks))
    wanted = tuple(
        WantedCopy(
            copy.id, copy.piece, copy.bounds, tuple(p for p in copy.paths if p.role == "cut")
        )
        for copy in wanted_copies(pattern, sheet)
    )
    yield from compared(where, sheet, wanted, FoundSheet((), tuple(paths)), Allowed())


def _bleeds(
    where: str,
    page: Any,
    sheet: Sheet,
    pattern: Pattern,
    bleed_mm: float,
    only: Sequence[str] | None,
) -> Iterator[Diagnostic]:
    """What is printed is clipped to the piece and its bleed. On the back (``only`` the pieces
    with one) a piece lies where the paper's flip about its long edge puts it."""
    _, height = page.get_size()
    clips: dict[str, list[Bounds]] = {}
    for item in page.get_objects(max_depth=1):
        marks = marks_of(item.raw)
        clip = clip_of(item.raw, height) if "Print" in marks else None
        if clip is not None:
            clips.setdefault(marks["Print"], []).append(clip)
    for placed in sheet.placed:
        if only is not None and placed.piece not in only:
            continue
        x0, y0, x1, y1 = placed_bounds(pattern.piece(placed.piece), placed)
        if only is not None and sheet.size.height_mm >= sheet.size.width_mm:
            x0, x1 = sheet.size.width_mm - x1, sheet.size.width_mm - x0
        elif only is not None:
            y0, y1 = sheet.size.height_mm - y1, sheet.size.height_mm - y0
        box = (x0 - bleed_mm, y0 - bleed_mm, x1 + bleed_mm, y1 + bleed_mm)
        found = clips.get(placed.id, [])
        if not found:
            yield differs(where, f"{placed.id} is not printed")
        elif any(_too_far(pattern.piece(placed.piece), box, clip, bleed_mm) for clip in found):
            yield differs(where, f"the print of {placed.id} is not {mm(bleed_mm)} larger all round")


_POINTED = math.sqrt(5.0) - 1.0


def _too_far(piece: Piece, box: Bounds, clip: Bounds, bleed_mm: float) -> bool:
    """Whether a print is not larger by its bleed. Where a piece has corners at its sides, the
    bleed round them is pointed. A tip is cut off at twice the bleed; the more pointed it is, the
    nearer the ends of that cut come to one bleed beside it, and so to √5 bleeds from the corner."""
    if _straight_sides(piece):
        return _off([box], [clip]) > 2 * TOLERANCE_MM
    beyond = (box[0] - clip[0], box[1] - clip[1], clip[2] - box[2], clip[3] - box[3])
    return min(beyond) < -2 * TOLERANCE_MM or max(beyond) > _POINTED * bleed_mm + 2 * TOLERANCE_MM


def _straight_sides(piece: Piece) -> bool:
    """Whether a straight edge of the outline lies along each side of the box round it."""
    box = piece.bounds
    edges = [e for e in piece.outline.outer.segments if isinstance(e, Line)]
    return all(
        any(
            abs(e.start[i % 2] - at) < TOLERANCE_MM and abs(e.end[i % 2] - at) < TOLERANCE_MM
            for e in edges
        )
        for i, at in enumerate(box)
    )
