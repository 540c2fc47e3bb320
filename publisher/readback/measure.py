"""Every written file against what it must hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

from publisher.cutfiles import CutOptions, CutSheets, cut_file_path, cut_sheets, piece_sheets
from publisher.diagnostics import Diagnostic
from publisher.layout import Sheet
from publisher.model.types import Pattern
from publisher.readback.compare import TOLERANCE_MM, Allowed, compared
from publisher.readback.dashes import DashLimits
from publisher.readback.dxf import read_dxf, read_dxf_r12
from publisher.readback.expected import WantedCopy, wanted_copies
from publisher.readback.found import FoundSheet
from publisher.readback.pdf import read_pdf
from publisher.readback.png import compared_png
from publisher.readback.svg import read_svg
from publisher.readback.told import differs, missing
from publisher.trade import Practice, Stock, Trade

__all__ = ["TOLERANCE_MM", "cut_and_measured", "measure_written"]

READERS: dict[str, Callable[[bytes], FoundSheet]] = {
    "svg": read_svg,
    "svg-72": partial(read_svg, units_per_inch=72.0),
    "svg-90": partial(read_svg, units_per_inch=90.0),
    "dxf": read_dxf,
    "dxf-r12": read_dxf_r12,
    "pdf": read_pdf,
}
DASHED = {
    "score-valley": "score",
    "score-mountain": "score",
    "perforation": "perforation",
}


def measure_written(
    files: Mapping[str, bytes],
    pattern: Pattern,
    sheets: tuple[Sheet, ...],
    options: CutOptions | None = None,
    trade: Trade | None = None,
) -> list[Diagnostic]:
    """Findings on the cut files of the sheets, and of the pieces where ``options`` ask for
    them; ``files`` by path, other files are left alone.

    A file is known by the end of its path, ``FORMAT/PATTERN-SHEET.ENDING``, in whatever folder.
    """
    chosen = options or CutOptions()
    found: list[Diagnostic] = []
    wanted = [(sheet, "") for sheet in sheets]
    if chosen.pieces:
        wanted += [(sheet, "pieces/") for _, sheet in piece_sheets(pattern)]
    for sheet, folder in wanted:
        copies = wanted_copies(pattern, sheet, chosen.glue)
        for file_format in chosen.formats:
            name = folder + cut_file_path(pattern, sheet, file_format)
            path = _path_of(files, name, alone=bool(folder))
            if path is None:
                found.append(missing(name))
                continue
            try:
                found += _measured(path, files[path], file_format, copies, sheet, chosen, trade)
            except Exception as error:
                # Whatever is wrong with the bytes, the answer is one: they are not a sheet.
                message = f"it cannot be read back: {error}".rstrip(" :")
                found.append(differs(path, " ".join(message.split())))
    return found


def cut_and_measured(
    pattern: Pattern, sheets: tuple[Sheet, ...], options: CutOptions, trade: Trade
) -> tuple[CutSheets, list[Diagnostic]]:
    """The cut files written, and what is wrong with them as read back."""
    made = cut_sheets(pattern, sheets, options, trade)
    files = {file.path: file.data for file in made.files}
    return made, measure_written(files, pattern, sheets, options, trade)


def _path_of(files: Mapping[str, bytes], name: str, alone: bool) -> str | None:
    ends = [path for path in sorted(files) if f"/{path}".endswith(f"/{name}")]
    if not alone:
        ends = [path for path in ends if not f"/{path}".endswith(f"/pieces/{name}")]
    return ends[0] if ends else None


def _measured(
    path: str,
    data: bytes,
    file_format: str,
    wanted: tuple[WantedCopy, ...],
    sheet: Sheet,
    options: CutOptions,
    trade: Trade | None,
) -> Iterator[Diagnostic]:
    allowed = _allowed(sheet.stock, options, trade)
    if file_format == "png":
        yield from compared_png(path, sheet, wanted, data, allowed.lead_mm)
    else:
        yield from compared(path, sheet, wanted, READERS[file_format](data), allowed)


def _allowed(stock: Stock, options: CutOptions, trade: Trade | None) -> Allowed:
    machine = trade.machines[options.machine] if trade and options.machine else None
    blade = machine if options.blade else None
    dashes = None
    if options.score_as == "dashes":
        practice = trade.practice if trade else {}
        dashes = {role: _limits(kind, stock, practice) for role, kind in DASHED.items()}
    return Allowed(
        dashes=dashes,
        overcut_mm=blade.overcut_mm if blade else 0.0,
        lead_mm=blade.lead_mm if blade else 0.0,
        once=options.once,
    )


def _limits(kind: str, stock: Stock, practice: Mapping[str, Practice]) -> DashLimits:
    sizes = [
        max(
            practice[f"{kind}_{part}_least_mm"].value,
            practice[f"{kind}_{part}_calipers"].value * stock.caliper_mm,
        )
        for part in ("dash", "gap")
    ]
    return DashLimits(*sizes)
