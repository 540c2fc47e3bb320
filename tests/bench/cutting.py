"""How long a full sheet takes to be ordered and written in every format, and to be laid again
from what was kept, as JSON.

Sixty made-up pieces on one sheet, with scores in every second one. Times are processor seconds,
the best of several runs in a warm process.
"""

from __future__ import annotations

import json
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path as FilePath

from msgspec.structs import replace

from publisher.cutfiles import UNITS_PER_INCH, CutOptions, cut_files, sheet_lines, sheet_work
from publisher.diagnostics import Span
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Line, Path
from publisher.layout import Sheet, lay_out
from publisher.model.types import Pattern, Piece, Score
from publisher.readback import measure_written
from publisher.workshop import FolderCache

ROOT = FilePath(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.bench.sets import made  # noqa: E402
from tests.handmade import BOX_FILE, sliding_box_pattern  # noqa: E402
from tests.sheets import trade  # noqa: E402

SHEET = "12 x 24 in"
COUNT = 60
RUNS = 5
TARGETS = {"ordered_and_written_s": 1.0, "laid_again_s": 0.02}


def pattern_of(count: int, seed: int) -> Pattern:
    """So many different pieces of one stock, every second one scored across its middle."""
    whole = sliding_box_pattern()
    base = replace(whole.pieces[0], copies=1, openings=(), glue_zones=(), scores=(), panels=())
    pieces = []
    for number, region in enumerate(made(count, seed)):
        name = f"piece {number + 1}"
        piece = replace(base, name=name, outline=region, derived=None)
        pieces.append(replace(piece, scores=_scores(piece)) if number % 2 else piece)
    return replace(whole, name="sixty", pieces=tuple(pieces))


def _scores(piece: Piece) -> tuple[Score, ...]:
    left, top, right, bottom = path_bounds(piece.outline.outer)
    middle = (top + bottom) / 2.0
    span = Span(BOX_FILE, 0, 0, 1, 1)
    ends = (left + 0.4 * (right - left), middle), (right - 0.4 * (right - left), middle)
    return (Score("middle", Path((Line(*ends),), closed=False), "valley", None, span),)


def best(work: Callable[[], object]) -> float:
    """Seconds of the quickest run."""
    found = []
    for _ in range(RUNS):
        started = time.process_time()
        work()
        found.append(time.process_time() - started)
    return round(min(found), 4)


def of_formats(pattern: Pattern, sheets: tuple[Sheet, ...]) -> dict[str, float]:
    """Ordering alone, and each format's writing and ordering together."""
    found = {"order": best(lambda: sheet_lines(pattern, sheets[0], CutOptions(), trade()))}
    for file_format in UNITS_PER_INCH:
        options = CutOptions(formats=(file_format,))
        found[file_format] = best(lambda o=options: cut_files(pattern, sheets, o, trade()))  # type: ignore[misc]
    return found


def measure() -> dict[str, object]:
    pattern = pattern_of(COUNT, seed=6001)
    with tempfile.TemporaryDirectory() as folder:
        cache = FolderCache(FilePath(folder))
        started = time.process_time()
        sheets, findings = lay_out(pattern, trade(), SHEET, cache=cache)
        first = time.process_time() - started
        assert findings == []
        again = best(lambda: lay_out(pattern, trade(), SHEET, cache=cache))
        # Laid with the shapes themselves, where boxes alone would need more sheets.
        started = time.process_time()
        small, _ = lay_out(pattern, trade(), "12 x 12 in", cache=cache)
        nested = time.process_time() - started
        nested_again = best(lambda: lay_out(pattern, trade(), "12 x 12 in", cache=cache))
        assert lay_out(pattern, trade(), "12 x 12 in", cache=cache)[0] == small
    every = CutOptions(formats=tuple(UNITS_PER_INCH))
    written = best(lambda: cut_files(pattern, sheets, every, trade()))
    files = {f.path: f.data for f in cut_files(pattern, sheets, every, trade())}
    started = time.process_time()
    faults = measure_written(files, pattern, sheets, every, trade())
    read = time.process_time() - started
    work = sheet_work(sheet_lines(pattern, sheets[0], every, trade()))
    return {
        "pieces_on_the_sheet": [len(sheet.placed) for sheet in sheets],
        "ordered_and_written_s": written,
        "each_format_with_ordering_s": of_formats(pattern, sheets),
        "read_back_s": round(read, 3),
        "faults": len(faults),
        "lifts": work.lifts,
        "travel_mm": round(work.travel_mm),
        "laid_first_s": round(first, 3),
        "laid_again_s": again,
        "nested_first_s": round(nested, 2),
        "nested_sheets": len(small),
        "nested_again_s": nested_again,
        "targets": TARGETS,
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(measure(), indent=2) + "\n")
