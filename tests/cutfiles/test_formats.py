"""What may be chosen: formats, ways of scoring, machines, a file for each piece."""

from __future__ import annotations

import io
import math
import re
import struct

import ezdxf
import pytest
from msgspec.structs import replace
from PIL import Image

from publisher.cutfiles import (
    FORMATS,
    UNITS_PER_INCH,
    WRITERS,
    CutOptions,
    cut_files,
    fits_bed,
    sheet_lines,
    sheet_work,
    suited,
    write_cut_files,
)
from publisher.geometry.path import Line, Path
from publisher.model.types import Opening, Pattern
from tests.handmade import envelope_pattern, sliding_box_pattern
from tests.sheets import all_laid, laid, trade, window_pattern, written

DASHES = CutOptions(score_as="dashes")


def torn_pattern() -> Pattern:
    """The window card with a line to tear along."""
    pattern = window_pattern()
    (piece,) = pattern.pieces
    path = Path((Line((20.0, 0.0), (20.0, 90.0)),), False)
    tear = Opening("stub", "perforation", "line", path, None, 90.0, 0.0, piece.span)
    return replace(pattern, pieces=(replace(piece, openings=(*piece.openings, tear)),))


def test_the_usual_files_are_what_they_always_were() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    assert FORMATS == ("svg", "dxf", "pdf")
    assert sorted(write_cut_files(pattern, sheets)) == sorted(
        f"{f}/sliding-box-{s.name}.{f}" for f in FORMATS for s in sheets
    )


def test_every_file_says_what_it_is() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    options = replace(DASHES, formats=tuple(WRITERS), pieces=True)
    files = cut_files(pattern, sheets, options, trade())
    assert set(WRITERS) == set(UNITS_PER_INCH)
    assert len({f.path for f in files}) == len(files) == len(WRITERS) * (len(sheets) + 3)
    for file in files:
        assert bool(file.sheet) != bool(file.piece)
        assert file.path.startswith("pieces/") == bool(file.piece)
        assert file.score_as == "dashes"
        assert file.units_per_inch == UNITS_PER_INCH[file.file_format]
    paths = {f.path for f in files}
    assert "svg-72/sliding-box-card-1-72.svg" in paths
    assert "dxf-r12/sliding-box-card-1-r12.dxf" in paths
    assert "pieces/svg/sliding-box-sleeve-mat.svg" in paths


def test_a_piece_alone_has_a_margin_round_it() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    files = write_cut_files(pattern, sheets, CutOptions(formats=("svg",), pieces=True))
    left, top, right, bottom = pattern.piece("sleeve mat").bounds
    text = files["pieces/svg/sliding-box-sleeve-mat.svg"].decode()
    said = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', text)
    assert said is not None
    assert [float(v) for v in said.groups()] == pytest.approx(
        [right - left + 10, bottom - top + 10], abs=1e-4
    )


@pytest.mark.parametrize("score_as", ["groups", "dashes", "drawn"])
@pytest.mark.parametrize("file_format", sorted(WRITERS))
def test_the_same_bytes_every_time(file_format: str, score_as: str) -> None:
    pattern, sheets = laid(torn_pattern())
    options = CutOptions(score_as=score_as, glue=True, machine="flat bed", blade=True)  # type: ignore[arg-type]
    assert written(pattern, sheets[0], file_format, options) == written(
        pattern, sheets[0], file_format, options
    )


def test_dashes_are_lines_and_no_pattern_is_laid_over_them() -> None:
    pattern, sheets = laid(torn_pattern())
    whole = written(pattern, sheets[0], "svg").decode()
    dashed = written(pattern, sheets[0], "svg", DASHES).decode()
    assert "stroke-dasharray" in whole
    assert "stroke-dasharray" not in dashed
    for name in ("score-valley", "score-mountain", "perforation"):
        group = re.search(rf'<g id="window-card-1-{name}">(.*?)</g>', dashed, re.DOTALL)
        assert group is not None
        assert group[1].count("<path") >= 10
        assert "Z" not in group[1]
    curved = re.search(r'<g id="window-card-1-score-valley">(.*?)</g>', dashed, re.DOTALL)
    assert curved is not None
    assert curved[1].count("A") == curved[1].count("<path")


def test_lines_to_draw_are_whole_and_light() -> None:
    pattern, sheets = laid(torn_pattern())
    drawn = written(pattern, sheets[0], "svg", CutOptions(score_as="drawn")).decode()
    widths = dict(re.findall(r'<g id="window-card-1-([a-z-]+)" stroke-width="([\d.]+)"', drawn))
    assert set(widths) == {"score-valley", "score-mountain", "perforation"}
    millimetres = [float(v) * 25.4 / 96 for v in widths.values()]
    assert millimetres == pytest.approx([0.1] * 3, abs=1e-5)


def test_glue_zones_only_where_asked_for() -> None:
    pattern, sheets = laid(envelope_pattern())
    assert "glue" not in written(pattern, sheets[0], "svg").decode()
    for file_format, name in (("svg", "envelope-1-glue"), ("dxf", "GLUE"), ("pdf", "(GLUE)")):
        data = written(pattern, sheets[0], file_format, CutOptions(glue=True))
        assert name.encode() in data


def test_r12_is_lines_and_arcs() -> None:
    for pattern, sheets in all_laid():
        for sheet in sheets:
            document = ezdxf.read(io.StringIO(written(pattern, sheet, "dxf-r12").decode("ascii")))
            assert document.dxfversion == "AC1009"
            auditor = document.audit()
            assert (auditor.errors, auditor.fixes) == ([], [])
            kinds = {e.dxftype() for e in document.modelspace()}
            assert kinds <= {"LINE", "ARC"}
            length = sum(
                math.dist(e.dxf.start, e.dxf.end)
                if e.dxftype() == "LINE"
                else math.radians((e.dxf.end_angle - e.dxf.start_angle) % 360) * e.dxf.radius
                for e in document.modelspace()
                if e.dxf.layer == "CUT"
            )
            assert length == pytest.approx(sheet_work(sheet_lines(pattern, sheet)).cut_mm, abs=1e-3)


def test_a_picture_says_its_resolution() -> None:
    """PNG, third edition, 11.3.4.3: pHYs, four bytes each way, then 1 for the metre.
    300 to the inch are 11811 to the metre."""
    pattern, sheets = laid(sliding_box_pattern())
    data = written(pattern, sheets[0], "png")
    at = data.index(b"pHYs") + 4
    assert struct.unpack(">IIB", data[at : at + 9]) == (11811, 11811, 1)
    with Image.open(io.BytesIO(data)) as picture:
        assert picture.size == (math.ceil(210 / 25.4 * 300), math.ceil(297 / 25.4 * 300))
        assert picture.mode == "L"


def test_time_is_lengths_over_speeds_and_lifts() -> None:
    pattern, sheets = laid(torn_pattern())
    machine = trade().machines["drag knife and scoring tool"]
    work = sheet_work(sheet_lines(pattern, sheets[0], CutOptions(machine=machine.name), trade()))
    # Two copies of: an outline, a window, two slits, two scores, a line to tear along.
    assert work.lifts == 14
    assert work.time_s == pytest.approx(
        work.cut_mm / machine.cut_mm_s
        + work.score_mm / machine.score_mm_s
        + work.travel_mm / machine.travel_mm_s
        + 14 * machine.lift_s
    )
    assert sheet_work(sheet_lines(pattern, sheets[0])).time_s is None


def test_dashes_cut_less_than_the_whole_line() -> None:
    pattern, sheets = laid(torn_pattern())
    whole = sheet_work(sheet_lines(pattern, sheets[0]))
    dashed = sheet_work(sheet_lines(pattern, sheets[0], DASHES, trade()))
    assert dashed.score_mm == 0
    share = (dashed.cut_mm - whole.cut_mm) / (whole.score_mm + 0.0)
    assert 0.4 < share < 0.95


def test_a_machine_gets_what_its_programs_open_at_the_right_size() -> None:
    machines = trade().machines
    plain = suited(machines["drag knife and scoring tool"])
    assert plain.formats == FORMATS
    assert plain.score_as == "groups"
    old = suited(machines["drag knife"])
    assert old.formats == (*FORMATS, "svg-72")
    assert old.score_as == "dashes"


def test_a_sheet_must_lie_on_the_bed() -> None:
    sheets = trade().sheets
    _, (sheet, *_) = laid(sliding_box_pattern())
    machines = trade().machines
    small = machines["drag knife"]
    for name, fits in (
        ("12 x 12 in", True),
        ("letter", True),
        ("a3", False),
        ("12 x 24 in", False),
    ):
        assert fits_bed(replace(sheet, size=sheets[name]), small) is fits
    long = replace(
        sheet, size=replace(sheets["12 x 24 in"], width_mm=609.6, height_mm=304.8, margin_mm=13)
    )
    assert fits_bed(long, machines["roll cutter"])
    assert not fits_bed(replace(sheet, size=replace(sheets["letter"], margin_mm=3)), small)
