"""What was written is measured: right files pass, each kind of damage is caught."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from publisher.cutfiles import write_cut_files
from publisher.diagnostics import Diagnostic
from publisher.geometry.transform import translated
from publisher.layout import Sheet
from publisher.model.types import Pattern
from publisher.readback import measure_written
from tests.handmade import sliding_box_pattern
from tests.sheets import all_laid, laid, window_pattern

WINDOW, WINDOW_SHEETS = laid(window_pattern())
WINDOW_FILES = write_cut_files(WINDOW, WINDOW_SHEETS)
BOX, BOX_SHEETS = laid(sliding_box_pattern())
BOX_FILES = write_cut_files(BOX, BOX_SHEETS)


def path_of(file_format: str) -> str:
    return f"{file_format}/window-card-card-1.{file_format}"


def damaged(file_format: str, change: Callable[[bytes], bytes]) -> list[Diagnostic]:
    path = path_of(file_format)
    changed = change(WINDOW_FILES[path])
    assert changed != WINDOW_FILES[path]
    return measure_written({**WINDOW_FILES, path: changed}, WINDOW, WINDOW_SHEETS)


def substitute(pattern: str, by: str) -> Callable[[bytes], bytes]:
    return lambda data: re.sub(pattern.encode(), by.encode(), data, count=1)


@pytest.mark.parametrize(("pattern", "sheets"), all_laid())
def test_what_we_write_is_right(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    assert measure_written(write_cut_files(pattern, sheets), pattern, sheets) == []


def test_files_may_lie_in_any_folder_beside_others() -> None:
    moved = {f"cut-files/{path}": data for path, data in WINDOW_FILES.items()}
    moved["manifest.json"] = b"{}"
    assert measure_written(moved, WINDOW, WINDOW_SHEETS) == []


def test_a_missing_file_is_a_finding() -> None:
    rest = {p: d for p, d in WINDOW_FILES.items() if p != path_of("dxf")}
    assert [d.code for d in measure_written(rest, WINDOW, WINDOW_SHEETS)] == [
        "written-file-missing"
    ]


@pytest.mark.parametrize("file_format", ["svg", "dxf", "pdf"])
@pytest.mark.parametrize("bytes_", [b"", b"no such thing", b"\xff\xfe\x00"])
def test_what_cannot_be_read_is_a_finding(file_format: str, bytes_: bytes) -> None:
    found = damaged(file_format, lambda _: bytes_)
    assert found
    assert {d.code for d in found} == {"written-file-differs"}
    assert all(path_of(file_format) in d.message for d in found)


# The figures below stand in the written files: an A4 sheet, a window of radius 21.5.
DAMAGE = {
    "svg width in other units": ("svg", substitute('width="210mm"', 'width="210cm"')),
    "svg width": ("svg", substitute('width="210mm"', 'width="210.02mm"')),
    "svg box": ("svg", substitute("0 0 793.70079", "0 0 595.27559")),
    "svg box off": ("svg", substitute('viewBox="0 0', 'viewBox="1 0')),
    "svg a digit of a point": ("svg", substitute(r'(d="M\d+)\.', r"\g<1>1.")),
    "svg a radius": ("svg", substitute(r"A81\.\d+ 81\.\d+", "A90 90")),
    "svg an arc the other way": ("svg", substitute(r"(A\S+ \S+ 0 \d) 1", r"\1 0")),
    "svg a copy's name": ("svg", substitute('id="window-card-2"', 'id="window-card-3"')),
    "svg a role's name": ("svg", substitute("card-1-score-valley", "card-1-score-vale")),
    "svg a path less": ("svg", substitute(r"<path [^>]*/>", "")),
    "svg a path twice": ("svg", substitute(r"(<path [^>]*/>)", r"\1\1")),
    "svg an outline left open": ("svg", lambda d: b"".join(d.rsplit(b"Z", 1))),
    "svg a transform": ("svg", substitute('<g id="window-card-1"', r'\g<0> transform="scale(1)"')),
    "svg everything larger": (
        "svg",
        substitute('<g fill="none"', r'\g<0> transform="scale(1.001)"'),
    ),
    "svg a rectangle": ("svg", substitute("</g>", '<rect width="9" height="9"/></g>')),
    "dxf inches": ("dxf", substitute(r"(\$INSUNITS\n70\n)4", r"\g<1>1")),
    "dxf imperial": ("dxf", substitute(r"(\$MEASUREMENT\n70\n)1", r"\g<1>0")),
    "dxf a layer": ("dxf", substitute(r"(AcDbEntity\n8\n)CUT\n", r"\1CUTS\n")),
    "dxf a bulge": ("dxf", substitute(r"\n42\n-1\b", "\n42\n-0.9")),
    "dxf an outline left open": ("dxf", substitute(r"(AcDbPolyline\n90\n\d+\n70\n)1", r"\g<1>0")),
    "pdf page": ("pdf", substitute(r"841\.88976", "841.98976")),
    "pdf inches": ("pdf", substitute(r"/Over gs ", "/Over gs 1.01 0 0 1.01 0 0 cm ")),
    "pdf a group's name": ("pdf", substitute(r"\(CUT\)", "(CUP)")),
    "pdf a copy's name": ("pdf", substitute(r"\(window-card-2\)", "(window-card-9)")),
    "pdf a closed path left open": ("pdf", substitute(r"\ns\n", "\nS\n")),
}


@pytest.mark.parametrize("name", sorted(DAMAGE))
def test_damage_is_caught(name: str) -> None:
    file_format, change = DAMAGE[name]
    found = damaged(file_format, change)
    assert found, name
    assert {d.code for d in found} == {"written-file-differs"}
    assert all(d.severity == "error" for d in found)
    assert all(path_of(file_format) in d.message for d in found)


def test_the_figures_are_told() -> None:
    found = damaged("svg", substitute('width="210mm"', 'width="215.9mm"'))
    (size,) = [d for d in found if "width and height" in d.message]
    numbers = dict(size.numbers)
    assert numbers["sheet_width_mm"] == 210
    assert numbers["written_width_mm"] == 215.9


NUMBER = re.compile(rb"(?<=[MLZA \n])-?\d+\.\d+(?=[ LAZ\"\n])")


@settings(max_examples=120, deadline=None)
@given(st.sampled_from(["svg", "dxf", "pdf"]), st.integers(0, 10_000), st.sampled_from([-1, 1, 4]))
def test_no_coordinate_can_move_by_a_tenth_unseen(file_format: str, which: int, steps: int) -> None:
    """Any one coordinate of any path, moved by 0.1 mm or more in the file.

    A cubic's handle along its own direction hardly moves the curve: 0.5 mm and more there.
    """
    path = path_of(file_format)
    data = WINDOW_FILES[path]
    places = list(coordinates(file_format, data))
    start, end = places[which % len(places)]
    handle = file_format == "pdf" and data[end:].split(b"\n")[0].endswith(b"c")
    # 0.1 mm is 0.378 px and 0.283 pt.
    moved = float(data[start:end]) + steps * (1.6 if handle else 0.4)
    changed = data[:start] + f"{moved:.5f}".encode() + data[end:]
    found = measure_written({**WINDOW_FILES, path: changed}, WINDOW, WINDOW_SHEETS)
    assert found


def coordinates(file_format: str, data: bytes) -> list[tuple[int, int]]:
    """Where numbers of path data stand, radii of arcs left out (a reader may widen them)."""
    found: list[tuple[int, int]] = []
    if file_format == "svg":
        for path in re.finditer(rb' d="([^"]*)"', data):
            for number in re.finditer(rb"(?:[ML]|0 [01] [01] )(\S+?) (-?[\d.]+)", path[1]):
                for group in (1, 2):
                    found.append(
                        (path.start(1) + number.start(group), path.start(1) + number.end(group))
                    )
    elif file_format == "dxf":
        body = data.index(b"LWPOLYLINE", data.index(b"\nENTITIES"))
        end = data.index(b"ENDSEC", body)
        for number in re.finditer(rb"\n(?:10|20)\n(-?\d+\.\d+)(?=\n)", data[body:end]):
            found.append((body + number.start(1), body + number.end(1)))
    else:
        stream = data[data.index(b"stream") : data.index(b"endstream")]
        for line in re.finditer(rb"\n([-\d. ]+) [mlc](?=\n)", stream):
            for number in re.finditer(rb"[-\d.]+", line[1]):
                begin = data.index(b"stream") + line.start(1)
                found.append((begin + number.start(), begin + number.end()))
    return found


def test_a_model_that_changed_is_noticed_in_all_three() -> None:
    """The files are of a mat with a border of 4; the model now says 4.02."""
    mat = BOX.pieces[2]
    ring = mat.outline.outer
    first = ring.segments[1]
    moved = replace(
        ring,
        segments=tuple(
            replace(s, end=(s.end[0], s.end[1] - 0.02))
            if s is first
            else replace(s, start=first_end)
            if (first_end := (first.end[0], first.end[1] - 0.02)) and s is ring.segments[2]
            else s
            for s in ring.segments
        ),
    )
    changed = replace(
        BOX, pieces=(*BOX.pieces[:2], replace(mat, outline=replace(mat.outline, outer=moved)))
    )
    found = measure_written(BOX_FILES, changed, BOX_SHEETS)
    assert {d.message.split("/")[0] for d in found} == {"svg", "dxf", "pdf"}


def test_a_copy_that_lies_elsewhere_is_noticed() -> None:
    sheet = BOX_SHEETS[0]
    placed = replace(sheet.placed[0], x_mm=sheet.placed[0].x_mm + 0.05)
    sheets = (replace(sheet, placed=(placed,)), *BOX_SHEETS[1:])
    found = measure_written(BOX_FILES, BOX, sheets)
    assert any("the box of drawer-1 is 0.05 mm out of place" in d.message for d in found)
    (place,) = found[0].places
    assert place.span == BOX.piece("drawer").span


def test_a_score_of_the_other_kind_is_noticed() -> None:
    drawer = BOX.piece("drawer")
    other = replace(drawer, scores=(replace(drawer.scores[0], bend="valley"), *drawer.scores[1:]))
    changed = replace(BOX, pieces=(other, *BOX.pieces[1:]))
    found = measure_written(BOX_FILES, changed, BOX_SHEETS)
    assert any("there are 0 score-valley lines of drawer-1, not 1" in d.message for d in found)


def test_the_place_of_a_piece_in_its_own_frame_does_not_matter() -> None:
    """A piece whose box does not start at 0 0 lies where it was placed all the same."""
    piece = WINDOW.pieces[0]
    moved = replace(
        piece,
        outline=translated(piece.outline, 7.0, -3.0),
        scores=tuple(replace(s, path=translated(s.path, 7.0, -3.0)) for s in piece.scores),
        openings=tuple(replace(o, path=translated(o.path, 7.0, -3.0)) for o in piece.openings),
    )
    pattern = replace(WINDOW, pieces=(moved,))
    assert write_cut_files(pattern, WINDOW_SHEETS) == WINDOW_FILES
    assert measure_written(WINDOW_FILES, pattern, WINDOW_SHEETS) == []
