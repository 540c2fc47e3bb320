"""Templates read back with PDFium: page boxes, scale squares, every piece at its true size."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c
from msgspec import Struct

from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import Bounds
from publisher.layout import Placed, Sheet
from publisher.model.types import Pattern, Piece
from publisher.readback.compare import TOLERANCE_MM, Allowed, compared
from publisher.readback.expected import wanted_copies
from publisher.readback.found import FoundPath, FoundSheet, joined
from publisher.readback.pdf import MM_PER_PT, marks_of, path_of
from publisher.readback.told import differs, missing, mm
from publisher.templates import PAPERS, Warned, template_path, write_templates
from publisher.trade import SheetSize, Trade

SQUARES = {"50 mm": 50.0, "2 in": 50.8}
"""What must stand on every page, and how large it is."""
COVER_MM = 1.0
"""What two neighbouring parts of a piece must share, at the least."""


class _Shown(Struct, frozen=True):
    """A piece on a page: which page, its lines, the part of the page it is clipped to, and
    where its box lies."""

    page: int
    paths: tuple[FoundPath, ...]
    clip: Bounds | None
    box: Bounds


def printed_and_measured(
    pattern: Pattern,
    sheets: tuple[Sheet, ...],
    trade: Trade,
    warned: Sequence[Warned],
    language: str,
) -> tuple[dict[str, bytes], list[Diagnostic]]:
    """The templates by their paths in the bundle, and what is wrong with them as read back."""
    made = write_templates(pattern, sheets, trade, warned, language)
    printed = {f"templates/{path}": pdf for path, pdf in made.items()}
    papers = {f"templates/{template_path(pattern, p)}": trade.sheets[p] for p in PAPERS}
    return printed, measure_templates(printed, pattern, papers)


def measure_templates(
    files: Mapping[str, bytes], pattern: Pattern, papers: Mapping[str, SheetSize]
) -> list[Diagnostic]:
    """Findings on the templates; ``papers`` says of each file, by its path, on which paper it
    is to be printed."""
    found: list[Diagnostic] = []
    for path, paper in papers.items():
        if path not in files:
            found.append(missing(path))
            continue
        try:
            found += _measured(path, files[path], pattern, paper)
        except pdfium.PdfiumError as error:
            found.append(differs(path, f"it cannot be read back: {error}".rstrip(" :")))
    return found


def _measured(path: str, data: bytes, pattern: Pattern, paper: SheetSize) -> Iterator[Diagnostic]:
    document = pdfium.PdfDocument(data)
    shown: dict[str, list[_Shown]] = {}
    try:
        for index, page in enumerate(document):
            yield from _measured_page(path, index, page, paper, shown)
    finally:
        document.close()
    pieces = {f"{'-'.join(piece.name.split())}-1": piece for piece in pattern.pieces}
    for stray in sorted(set(shown) - set(pieces)):
        yield differs(path, f"lines stand under ‘{stray}’, which is no piece")
    for name, piece in pieces.items():
        if name not in shown:
            yield differs(path, f"{piece.name} is on no page")
            continue
        for entry in shown[name]:
            yield from _compared_piece(f"{path}, page {entry.page + 1}", piece, entry, pattern)
        yield from _covered(path, piece, shown[name])


def _measured_page(
    path: str, index: int, page: Any, paper: SheetSize, shown: dict[str, list[_Shown]]
) -> Iterator[Diagnostic]:
    where = f"{path}, page {index + 1}"
    width, height = page.get_size()
    left, bottom, right, top = page.get_mediabox()
    for what, wide, high in (
        ("the page", width, height),
        ("the media box", right - left, top - bottom),
    ):
        off = max(abs(wide * MM_PER_PT - paper.width_mm), abs(high * MM_PER_PT - paper.height_mm))
        if off > TOLERANCE_MM:
            said = f"{what} is {mm(wide * MM_PER_PT)} x {mm(high * MM_PER_PT)}"
            yield differs(where, f"{said}, not {mm(paper.width_mm)} x {mm(paper.height_mm)}")
    squares: dict[str, list[FoundPath]] = {}
    lines: dict[str, list[tuple[FoundPath, Bounds | None]]] = {}
    for item in page.get_objects():
        if item.type != pdfium_c.FPDF_PAGEOBJ_PATH:
            continue
        marks = marks_of(item.raw)
        if not marks.keys() & {"Scale", "Piece"}:
            continue
        one = path_of(item.raw, height, marks)
        if "Scale" in marks:
            squares.setdefault(marks["Scale"], []).append(one)
        else:
            lines.setdefault(marks["Piece"], []).append((one, clip_of(item.raw, height)))
        if tuple(item.get_matrix().get()) != (1.0, 0.0, 0.0, 1.0, 0.0, 0.0):
            yield differs(where, "a path is transformed")
    yield from _compared_squares(where, squares)
    for name, found in lines.items():
        cuts = [one.bounds for one, _ in found if one.role == "CUT"]
        if not cuts:
            yield differs(where, f"{name} has no outline")
            continue
        clips = [clip for _, clip in found if clip is not None]
        clip = clips[0] if clips else None
        entry = _Shown(index, tuple(one for one, _ in found), clip, joined(cuts))
        shown.setdefault(name, []).append(entry)
        x0, y0, x1, y1 = entry.clip or entry.box
        reach = paper.margin_mm - TOLERANCE_MM
        if min(x0, y0, paper.width_mm - x1, paper.height_mm - y1) < reach:
            yield differs(where, f"{name} reaches into the margin")


def _compared_squares(where: str, squares: Mapping[str, list[FoundPath]]) -> Iterator[Diagnostic]:
    for said, side in SQUARES.items():
        found = squares.get(said, [])
        if len(found) != 1:
            yield differs(where, f"there are {len(found)} squares of {said}, not one")
            continue
        x0, y0, x1, y1 = found[0].bounds
        if max(abs(x1 - x0 - side), abs(y1 - y0 - side)) > TOLERANCE_MM:
            yield differs(
                where,
                f"the square of {said} measures {mm(x1 - x0)} x {mm(y1 - y0)}",
                (("wanted_mm", side), ("width_mm", x1 - x0), ("height_mm", y1 - y0)),
            )


def _compared_piece(
    where: str, piece: Piece, entry: _Shown, pattern: Pattern
) -> Iterator[Diagnostic]:
    """As on a sheet with this one piece, upright or turned a quarter, whichever has fewer
    findings."""
    tries = []
    for turn in (0.0, 90.0):
        placed = Placed(piece.name, 1, entry.box[0], entry.box[1], turn)
        size = SheetSize("page", "page", 1.0, 1.0, 0.0, "read back")
        sheet = Sheet("page", piece.stock, size, (placed,))
        have = FoundSheet((), entry.paths)
        tries.append(
            list(compared(where, sheet, wanted_copies(pattern, sheet, glue=True), have, Allowed()))
        )
        if not tries[-1]:
            return
    yield from min(tries, key=len)


def _covered(path: str, piece: Piece, entries: Sequence[_Shown]) -> Iterator[Diagnostic]:
    """A whole piece is there once; the parts of a large one leave nothing of it out."""
    if len(entries) == 1 and entries[0].clip is None:
        return
    if any(entry.clip is None for entry in entries):
        yield differs(path, f"{piece.name} is there whole and in parts")
        return
    # Shapely takes a while to import, and most pieces are whole.
    import shapely

    from publisher.geometry.shapely_bridge import to_shapely

    width = entries[0].box[2] - entries[0].box[0]
    x_min, y_min, x_max, y_max = piece.bounds
    turned = abs(width - (x_max - x_min)) > TOLERANCE_MM
    paper = to_shapely(piece.outline)
    # To the box's own corner, as the parts are.
    matrix = [0, -1, 1, 0, y_max, -x_min] if turned else [1, 0, 0, 1, -x_min, -y_min]
    paper = shapely.affinity.affine_transform(paper, matrix)
    parts = []
    for entry in entries:
        assert entry.clip is not None
        x0, y0, x1, y1 = entry.clip
        dx, dy = entry.box[0], entry.box[1]
        half = COVER_MM / 2
        parts.append(shapely.box(x0 - dx + half, y0 - dy + half, x1 - dx - half, y1 - dy - half))
    inner = shapely.box(*shapely.box(*paper.bounds).buffer(-COVER_MM).bounds)
    left = paper.intersection(inner).difference(shapely.union_all(parts))
    if left.area > 0.5:
        yield differs(
            path,
            f"the parts of {piece.name} leave {mm(left.area)}² of it out",
            (("left_mm2", left.area),),
        )


def clip_of(raw: Any, height: float) -> Bounds | None:
    """The box that an object is clipped to, in mm from the page's top left."""
    clip = pdfium_c.FPDFPageObj_GetClipPath(raw)
    if not clip or pdfium_c.FPDFClipPath_CountPaths(clip) < 1:
        return None
    xs, ys = [], []
    for number in range(pdfium_c.FPDFClipPath_CountPathSegments(clip, 0)):
        segment = pdfium_c.FPDFClipPath_GetPathSegment(clip, 0, number)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium_c.FPDFPathSegment_GetPoint(segment, x, y)
        xs.append(x.value * MM_PER_PT)
        ys.append((height - y.value) * MM_PER_PT)
    return (min(xs), min(ys), max(xs), max(ys))
