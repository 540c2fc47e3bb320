"""Cut files at true scale, from exact flat geometry: SVG, DXF, PDF, PNG, by sheet and by piece.

Takes a pattern, its sheets and what is chosen of ``CutOptions``, gives bytes. Reports nothing:
what cannot be cut was found before. The same input gives the same bytes.
"""

from publisher.cutfiles.lines import SheetLines, sheet_lines
from publisher.cutfiles.options import (
    FORMATS,
    UNITS_PER_INCH,
    CutOptions,
    ScoreAs,
    fits_bed,
    options_for,
    suited,
)
from publisher.cutfiles.told import copies_words, score_words, work_words
from publisher.cutfiles.work import Work, sheet_work
from publisher.cutfiles.write import (
    WRITERS,
    CutFile,
    CutSheets,
    cut_file_path,
    cut_file_paths,
    cut_files,
    cut_sheets,
    piece_sheets,
    write_cut_files,
)

__all__ = [
    "FORMATS",
    "UNITS_PER_INCH",
    "WRITERS",
    "CutFile",
    "CutOptions",
    "CutSheets",
    "ScoreAs",
    "SheetLines",
    "Work",
    "copies_words",
    "cut_file_path",
    "cut_file_paths",
    "cut_files",
    "cut_sheets",
    "fits_bed",
    "options_for",
    "piece_sheets",
    "score_words",
    "sheet_lines",
    "sheet_work",
    "suited",
    "work_words",
    "write_cut_files",
]
