"""All cut files of a pattern, by the path they get in a bundle's folder of cut files."""

from __future__ import annotations

from collections.abc import Callable

from publisher.cutfiles.dxf import sheet_dxf
from publisher.cutfiles.pdf import sheet_pdf
from publisher.cutfiles.svg import sheet_svg
from publisher.layout import Sheet
from publisher.model.types import Pattern

WRITERS: dict[str, Callable[[Pattern, Sheet], bytes]] = {
    "svg": sheet_svg,
    "dxf": sheet_dxf,
    "pdf": sheet_pdf,
}
FORMATS = tuple(WRITERS)


def cut_file_path(pattern: Pattern, sheet: Sheet, file_format: str) -> str:
    """``svg/sliding-box-card-1.svg``: a name that says what it is in any folder."""
    return f"{file_format}/{pattern.name}-{sheet.name}.{file_format}"


def write_cut_files(pattern: Pattern, sheets: tuple[Sheet, ...]) -> dict[str, bytes]:
    """Every sheet in every format."""
    return {
        cut_file_path(pattern, sheet, file_format): write(pattern, sheet)
        for sheet in sheets
        for file_format, write in WRITERS.items()
    }
