"""All cut files of a pattern, by the path they get in a bundle's folder of cut files."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from publisher.cutfiles.dxf import to_dxf
from publisher.cutfiles.dxf_r12 import to_dxf_r12
from publisher.cutfiles.lines import SheetLines, sheet_lines
from publisher.cutfiles.options import UNITS_PER_INCH, CutOptions, ScoreAs
from publisher.cutfiles.pdf import to_pdf
from publisher.cutfiles.png import to_png
from publisher.cutfiles.svg import to_svg
from publisher.cutfiles.work import Work, sheet_work
from publisher.layout import Placed, Sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import SheetSize, Trade

WRITERS: dict[str, Callable[[SheetLines], bytes]] = {
    "svg": to_svg,
    "svg-72": partial(to_svg, units_per_inch=72.0),
    "svg-90": partial(to_svg, units_per_inch=90.0),
    "dxf": to_dxf,
    "dxf-r12": to_dxf_r12,
    "pdf": to_pdf,
    "png": to_png,
}
MARGIN_MM = 5.0
"""Round a piece in a file of its own, so that no program crops its lines."""


class CutFile(Struct, frozen=True):
    """One written file. ``sheet`` or ``piece`` names what it holds, the other is ""."""

    path: str
    data: bytes
    file_format: str
    sheet: str
    piece: str
    score_as: ScoreAs
    units_per_inch: float


class CutSheets(Struct, frozen=True):
    """All files of a pattern, and the work on each sheet by the sheet's name."""

    files: tuple[CutFile, ...]
    work: tuple[tuple[str, Work], ...]


def cut_file_path(pattern: Pattern, sheet: Sheet, file_format: str) -> str:
    """``svg/sliding-box-card-1.svg``: a name that says what it is in any folder.

    What is not the plain file of its kind says so in folder and name:
    ``svg-72/sliding-box-card-1-72.svg``.
    """
    ending, _, variant = file_format.partition("-")
    mark = f"-{variant}" if variant else ""
    return f"{file_format}/{pattern.name}-{sheet.name}{mark}.{ending}"


def cut_file_paths(
    pattern: Pattern, sheets: tuple[Sheet, ...], options: CutOptions, folder: str
) -> dict[str, tuple[str, ...]]:
    """The paths of each sheet's files by the sheet's name, in the order of the formats."""
    return {
        sheet.name: tuple(folder + cut_file_path(pattern, sheet, f) for f in options.formats)
        for sheet in sheets
    }


def piece_sheets(pattern: Pattern) -> tuple[tuple[Piece, Sheet], ...]:
    """Each piece upright on a sheet of its own, as large as it is and ``MARGIN_MM`` round it.

    The sheet is named after the piece; names of pieces and of sheets are apart in a bundle by
    their folders.
    """
    found = []
    for piece in pattern.pieces:
        left, top, right, bottom = piece.bounds
        size = SheetSize(
            name=piece.name,
            title=piece.name,
            width_mm=right - left + 2 * MARGIN_MM,
            height_mm=bottom - top + 2 * MARGIN_MM,
            margin_mm=MARGIN_MM,
            source="the piece and a margin",
        )
        placed = Placed(piece.name, 1, MARGIN_MM, MARGIN_MM, 0.0)
        name = piece.name.replace(" ", "-")
        found.append((piece, Sheet(name, piece.stock, size, (placed,))))
    return tuple(found)


def cut_sheets(
    pattern: Pattern,
    sheets: tuple[Sheet, ...],
    options: CutOptions | None = None,
    trade: Trade | None = None,
) -> CutSheets:
    """Every sheet, and every piece where asked for, in every format that is asked for.

    Raises KeyError for a format or a machine that is not there, and where dashes are asked for
    without the trade's practice.
    """
    chosen = options or CutOptions()
    files: list[CutFile] = []
    work = []
    for sheet in sheets:
        lines = sheet_lines(pattern, sheet, chosen, trade)
        files += _written(pattern, sheet, lines, chosen)
        work.append((sheet.name, sheet_work(lines)))
    for piece, sheet in piece_sheets(pattern) if chosen.pieces else ():
        lines = sheet_lines(pattern, sheet, chosen, trade)
        files += (
            replace(file, path=f"pieces/{file.path}", sheet="", piece=piece.name)
            for file in _written(pattern, sheet, lines, chosen)
        )
    return CutSheets(tuple(files), tuple(work))


def cut_files(
    pattern: Pattern,
    sheets: tuple[Sheet, ...],
    options: CutOptions | None = None,
    trade: Trade | None = None,
) -> tuple[CutFile, ...]:
    """The files of ``cut_sheets``."""
    return cut_sheets(pattern, sheets, options, trade).files


def write_cut_files(
    pattern: Pattern,
    sheets: tuple[Sheet, ...],
    options: CutOptions | None = None,
    trade: Trade | None = None,
) -> dict[str, bytes]:
    """The bytes of ``cut_files`` by path."""
    return {file.path: file.data for file in cut_files(pattern, sheets, options, trade)}


def _written(
    pattern: Pattern, sheet: Sheet, lines: SheetLines, options: CutOptions
) -> Iterator[CutFile]:
    for file_format in options.formats:
        yield CutFile(
            path=cut_file_path(pattern, sheet, file_format),
            data=WRITERS[file_format](lines),
            file_format=file_format,
            sheet=sheet.name,
            piece="",
            score_as=options.score_as,
            units_per_inch=UNITS_PER_INCH[file_format],
        )
