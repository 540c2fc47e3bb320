"""Every way of cutting is read back: right files pass, damage to each is caught."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from msgspec.structs import replace

from publisher.cutfiles import WRITERS, CutOptions, ScoreAs, write_cut_files
from publisher.geometry.path import polygon
from publisher.layout import Placed, Sheet, lay_out
from publisher.model.types import Pattern
from publisher.readback import measure_written
from tests.bench.cutting import pattern_of
from tests.cutfiles.test_formats import torn_pattern
from tests.handmade import CARD, sliding_box_pattern
from tests.sheets import all_laid, laid, trade

LINES = ("svg", "svg-72", "svg-90", "dxf", "dxf-r12", "pdf")
MACHINES = ("knife and ruler", "drag knife", "roll cutter", "light beam")
TORN, TORN_SHEETS = laid(torn_pattern())


def said(pattern: Pattern, sheets: tuple[Sheet, ...], options: CutOptions) -> list[str]:
    files = write_cut_files(pattern, sheets, options, trade())
    return [d.message for d in measure_written(files, pattern, sheets, options, trade())]


@pytest.mark.parametrize("score_as", ["groups", "dashes", "drawn"])
@pytest.mark.parametrize(("pattern", "sheets"), [*all_laid(), (TORN, TORN_SHEETS)])
def test_every_format_of_what_we_write_is_right(
    pattern: Pattern, sheets: tuple[Sheet, ...], score_as: ScoreAs
) -> None:
    options = CutOptions(score_as=score_as, formats=LINES, pieces=True, glue=True)
    assert said(pattern, sheets, options) == []


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("once", [False, True])
def test_what_is_written_for_a_machine_is_right(machine: str, once: bool) -> None:
    options = CutOptions(formats=LINES, machine=machine, blade=True, once=once)
    assert said(TORN, TORN_SHEETS, options) == []


def test_pictures_are_right() -> None:
    options = CutOptions(score_as="dashes", formats=("png",), pieces=True)
    assert said(TORN, TORN_SHEETS, options) == []


def tiles() -> tuple[Pattern, tuple[Sheet, ...]]:
    """Four cards edge to edge."""
    base = sliding_box_pattern()
    ring = polygon([(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)])
    card = replace(
        base.pieces[2],
        name="card",
        stock=CARD,
        copies=4,
        derived=None,
        outline=replace(base.pieces[2].outline, outer=ring, holes=()),
        scores=(),
        openings=(),
    )
    spots = [(10 + 30 * (n % 2), 10 + 20 * (n // 2)) for n in range(4)]
    placed = tuple(Placed("card", n + 1, x, y, 0.0) for n, (x, y) in enumerate(spots))
    return replace(base, pieces=(card,)), (Sheet("card-1", CARD, trade().sheets["a4"], placed),)


def test_shared_edges_cut_once_are_right_and_cut_twice_are_not() -> None:
    pattern, sheets = tiles()
    once = CutOptions(formats=LINES, once=True)
    assert said(pattern, sheets, once) == []
    twice = write_cut_files(pattern, sheets, replace(once, once=False), trade())
    found = measure_written(twice, pattern, sheets, once, trade())
    assert {d.message.partition(":")[0].partition("/")[0] for d in found} == set(LINES)
    assert all("cut twice" in d.message for d in found)


def test_an_edge_that_is_left_out_is_noticed() -> None:
    pattern, sheets = tiles()
    once = CutOptions(formats=("svg", "dxf-r12"), once=True)
    files = write_cut_files(pattern, sheets, once, trade())
    svg, r12 = sorted(files, reverse=True)
    files[svg] = re.sub(rb"<path [^>]*/>", b"", files[svg], count=1)
    files[r12] = re.sub(rb"  0\nLINE\n.*?(?=  0\n)", b"", files[r12], count=1, flags=re.DOTALL)
    found = measure_written(files, pattern, sheets, once, trade())
    assert {d.message.partition(":")[0] for d in found} == {svg, r12}
    assert all("is not cut" in d.message for d in found)


DASHES = CutOptions(score_as="dashes", formats=LINES)


def damaged(
    file_format: str, change: Callable[[bytes], bytes], options: CutOptions = DASHES
) -> list[str]:
    options = replace(options, formats=(file_format,))
    files = write_cut_files(TORN, TORN_SHEETS, options, trade())
    (path,) = files
    changed = change(files[path])
    assert changed != files[path]
    found = measure_written({path: changed}, TORN, TORN_SHEETS, options, trade())
    assert {d.code for d in found} <= {"written-file-differs"}
    assert all(d.message.startswith(path) for d in found)
    return [d.message for d in found]


def moved_dash(data: bytes) -> bytes:
    """The first dash of the straight score, moved by 0.6 mm: into its neighbour's gap."""
    at = data.index(b"-score-mountain")
    found = re.compile(rb'd="M(\S+) (\S+)L(\S+) (\S+)"').search(data, at)
    assert found is not None
    x1, y1, x2, y2 = (float(v) for v in found.groups())
    assert y1 == y2  # laid across, the score runs from left to right
    by = 2.3
    new = f'd="M{x1 + by:.5f} {y1:.5f}L{x2 + by:.5f} {y2:.5f}"'.encode()
    return data[: found.start()] + new + data[found.end() :]


def whole_score(data: bytes) -> bytes:
    """The first dash of the straight score made as long as the score."""
    at = data.index(b"-score-mountain")
    found = re.compile(rb'd="M(\S+) (\S+)L(\S+) (\S+)"').search(data, at)
    assert found is not None
    y = found[2].decode()
    width = 90 * 96 / 25.4
    # The copies lie from 5 to 95 and from 97 to 187.
    left = (5 if float(found[1]) < 96 * 96 / 25.4 else 97) * 96 / 25.4
    new = f'd="M{left:.5f} {y}L{left + width:.5f} {y}"'.encode()
    return data[: found.start()] + new + data[found.end() :]


def test_dashes_that_run_together_are_noticed() -> None:
    assert any("of paper" in message for message in damaged("svg", moved_dash))


def test_a_dash_that_runs_into_the_outline_is_noticed() -> None:
    assert any("comes within 0 mm" in message for message in damaged("svg", whole_score))


def test_a_score_without_dashes_is_noticed() -> None:
    def without(data: bytes) -> bytes:
        return re.sub(
            rb'(<g id="window-card-1-perforation">).*?</g>', rb"\1</g>", data, flags=re.DOTALL
        )

    assert any("has no dash" in message for message in damaged("svg", without))


def test_a_dash_beside_its_score_is_noticed() -> None:
    def shifted(data: bytes) -> bytes:
        at = data.index(b"-perforation")
        return data[:at] + re.sub(rb'd="M\d', b'd="M9', data[at:], count=1)

    assert any("lies on no score" in message for message in damaged("svg", shifted))


def test_whole_scores_are_no_dashes() -> None:
    whole = write_cut_files(TORN, TORN_SHEETS, CutOptions(formats=LINES), trade())
    found = measure_written(whole, TORN, TORN_SHEETS, DASHES, trade())
    assert {d.message.partition("/")[0] for d in found} >= {"svg", "dxf", "pdf"}


R12 = {
    "version": (rb"AC1009", b"AC1015"),
    "extents": (rb"297\.0", b"297.5"),
    "a radius": (rb"( 40\n)21\.5", rb"\g<1>21.6"),
    "an angle": (rb"( 51\n)(\d+)\n", rb"\g<1>1\2\n"),
    "a layer": (rb"(LINE\n  8\n)CUT", rb"\1CUP"),
    "a line less": (rb"  0\nLINE\n.*?(?=  0\n)", b""),
    "its end": (rb"  0\nEOF\n", b""),
    "a section's end": (rb"ENDSEC", b"ENDSEX"),
}


@pytest.mark.parametrize("name", sorted(R12))
def test_damage_to_the_old_format_is_caught(name: str) -> None:
    pattern, by = R12[name]
    assert damaged(
        "dxf-r12", lambda d: re.sub(pattern, by, d, count=1, flags=re.DOTALL), CutOptions()
    )


R2010 = {
    "a handle twice": (rb"(LWPOLYLINE\n5\n)\w+", rb"\g<1>103"),
    "the seed": (rb"(HANDSEED\n5\n)\w+", rb"\g<1>FF"),
    "a member that is not there": (rb"(GROUP\n.*?\n340\n)\w+", rb"\g<1>FFFF"),
    "a group's name": (rb"window-card-2", b"window-card-7"),
    "a line type": (rb"(LTYPE\n5\n\w+\n.*?\n2\n)SCORE-VALLEY", rb"\1SCORE"),
}


@pytest.mark.parametrize("name", sorted(R2010))
def test_damage_to_the_frame_is_caught(name: str) -> None:
    pattern, by = R2010[name]
    assert damaged("dxf", lambda d: re.sub(pattern, by, d, count=1, flags=re.DOTALL), CutOptions())


def test_an_outline_that_is_cut_first_is_noticed() -> None:
    def turned(data: bytes) -> bytes:
        group = re.search(rb'<g id="window-card-1-cut">\n(.*?)</g>', data, re.DOTALL)
        assert group is not None
        lines = group[1].splitlines(keepends=True)
        return data.replace(group[1], b"".join(lines[::-1]))

    assert any("not the last that is cut" in m for m in damaged("svg", turned, CutOptions()))


def test_a_piece_that_is_cut_before_it_is_scored_is_noticed() -> None:
    def swapped(data: bytes) -> bytes:
        copy = re.search(
            rb'(<g id="window-card-1-score.*)(<g id="window-card-1-cut">.*?</g>\n)', data, re.DOTALL
        )
        assert copy is not None
        return data.replace(copy[0], copy[2] + copy[1])

    assert any("before it is scored" in m for m in damaged("svg", swapped, CutOptions()))


def test_nodes_too_close_are_noticed() -> None:
    def split(data: bytes) -> bytes:
        at = data.index(b"-score-mountain")
        found = re.compile(rb'd="M(\S+) (\S+)L').search(data, at)
        assert found is not None
        x, y = (float(v) for v in found.groups())
        return data[: found.end() - 1] + f"L{x + 0.1:.5f} {y:.5f}L".encode() + data[found.end() :]

    assert any("two nodes" in m for m in damaged("svg", split, CutOptions()))


def test_damage_to_a_picture_is_caught() -> None:
    import io

    from PIL import Image

    def drawn_on(data: bytes) -> bytes:
        with Image.open(io.BytesIO(data)) as picture:
            picture.putpixel((1200, 3300), 0)
            out = io.BytesIO()
            picture.save(out, "PNG", dpi=(300, 300))
            return out.getvalue()

    def cropped(data: bytes) -> bytes:
        with Image.open(io.BytesIO(data)) as picture:
            out = io.BytesIO()
            picture.crop((0, 0, 2400, 3508)).save(out, "PNG", dpi=(300, 300))
            return out.getvalue()

    def other_resolution(data: bytes) -> bytes:
        with Image.open(io.BytesIO(data)) as picture:
            out = io.BytesIO()
            picture.save(out, "PNG", dpi=(72, 72))
            return out.getvalue()

    plain = CutOptions()
    assert any("ink where no line is" in m for m in damaged("png", drawn_on, plain))
    assert any("wide" in m for m in damaged("png", cropped, plain))
    assert any("points to the inch" in m for m in damaged("png", other_resolution, plain))


@pytest.mark.parametrize("file_format", sorted(WRITERS))
def test_bytes_that_are_none_are_a_finding(file_format: str) -> None:
    for bytes_ in (b"", b"no such thing", b"\xff\xfe\x00"):
        assert damaged(file_format, lambda _, b=bytes_: b, CutOptions())  # type: ignore[misc]


def test_a_full_sheet_in_every_format_is_right() -> None:
    """Sixty pieces, rings and arcs among them, on one sheet."""
    pattern = pattern_of(60, seed=6001)
    sheets, found = lay_out(pattern, trade(), "12 x 24 in")
    assert found == []
    assert [len(sheet.placed) for sheet in sheets] == [60]
    assert said(pattern, sheets, CutOptions(formats=tuple(WRITERS))) == []
