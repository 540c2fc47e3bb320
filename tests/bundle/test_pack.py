"""One folder in one zip, the same bytes every time."""

import io
import json
import math
import os
import subprocess
import sys
import zipfile
from typing import Any

import pytest
from msgspec.structs import replace

from publisher.bundle import BundleFile, folder_name, pack
from tests.bundle.made import CHECKS, FILES, LICENCE, PATTERN, SHEETS
from tests.handmade import sliding_box_pattern


def packed(**changes: Any) -> bytes:
    given: dict[str, Any] = {
        "pattern": PATTERN,
        "sheets": SHEETS,
        "checks": CHECKS,
        "files": FILES,
        "licence": LICENCE,
        "tool_version": "0.1.0",
    }
    return pack(**{**given, **changes})


def opened(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as zipped:
        return {name: zipped.read(name) for name in zipped.namelist()}


def listing(data: bytes) -> dict[str, Any]:
    return json.loads(opened(data)["sliding-box-1.0.0/manifest.json"])


def with_meta(**changes: str) -> Any:
    return replace(PATTERN, meta=replace(PATTERN.meta, **changes))


def test_everything_lies_in_one_folder_in_a_fixed_order() -> None:
    names = [name.removeprefix("sliding-box-1.0.0/") for name in opened(packed())]
    assert names == ["START-HERE.txt", "LICENCE.txt", *sorted(FILES), "manifest.json"]
    assert folder_name(PATTERN) == "sliding-box-1.0.0"


def test_files_come_out_as_they_went_in() -> None:
    inside = opened(packed())
    for path, file in FILES.items():
        assert inside[f"sliding-box-1.0.0/{path}"] == file.data


def test_times_and_permissions_are_fixed_and_nothing_extra_is_kept() -> None:
    data = packed()
    with zipfile.ZipFile(io.BytesIO(data)) as zipped:
        assert zipped.comment == b""
        for entry in zipped.infolist():
            assert entry.date_time == (2026, 11, 25, 0, 0, 0)
            assert entry.external_attr >> 16 == 0o100644
            assert (entry.extra, entry.comment, entry.create_system) == (b"", b"", 3)
            assert entry.compress_type == zipfile.ZIP_DEFLATED
            # The local header (30 bytes and the name, APPNOTE 4.3.7) has no extra field either.
            length = data[entry.header_offset + 28 : entry.header_offset + 30]
            assert length == b"\0\0"


def test_the_front_matters_date_is_the_time_of_every_file() -> None:
    late = packed(pattern=with_meta(date="2031-02-03"))
    old = packed(pattern=with_meta(date="1979-12-31"))
    with zipfile.ZipFile(io.BytesIO(late)) as zipped:
        assert {e.date_time for e in zipped.infolist()} == {(2031, 2, 3, 0, 0, 0)}
    with zipfile.ZipFile(io.BytesIO(old)) as zipped:
        assert {e.date_time for e in zipped.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_the_order_in_which_files_were_made_does_not_matter() -> None:
    assert packed(files=dict(reversed(FILES.items()))) == packed()


def test_same_bytes_in_another_process_zone_and_hash_seed() -> None:
    code = (
        "import hashlib\nfrom tests.bundle.test_pack import packed\n"
        "print(hashlib.sha256(packed()).hexdigest())"
    )
    seen = set()
    for seed, zone in (("0", "UTC"), ("7", "Pacific/Kiritimati"), ("random", "America/Bogota")):
        env = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": os.getcwd()}
        run = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True)
        assert run.returncode == 0, run.stderr
        seen.add(run.stdout)
    assert len(seen) == 1


def test_a_path_is_not_taken_twice() -> None:
    for path in ("START-HERE.txt", "manifest.json"):
        with pytest.raises(ValueError, match="written here"):
            packed(files={**FILES, path: BundleFile("other", b"")})


def test_the_manifest_speaks_of_sizes() -> None:
    sizes = {size["name"]: size for size in listing(packed())["sizes"]}
    assert sizes["depth"] == {"name": "depth", "mm": 22.0}
    assert sizes["stack"]["mm"] == [120.0, 80.0, 20.0]
    slanted = replace(PATTERN.sizes[0], name="lean", values=(45.0,), unit="deg")
    count = replace(PATTERN.sizes[0], name="share", values=(1 / 3,), unit="")
    other = replace(PATTERN, sizes=(slanted, count))
    assert listing(packed(pattern=other))["sizes"] == [
        {"name": "lean", "deg": 45.0},
        {"name": "share", "number": 0.3333},
    ]


def test_the_manifest_speaks_of_pieces() -> None:
    pieces = {piece["name"]: piece for piece in listing(packed())["pieces"]}
    drawer = pieces["drawer"]
    assert (drawer["stock"], drawer["quantity"]) == ("card", 1)
    # 124 x 84 with walls of 22 all round.
    assert (drawer["width_mm"], drawer["height_mm"]) == (168.0, 128.0)
    # Outline, walked: the outer edge and both sides of each side wall, the outer edge of each
    # end wall, and on each side of an end wall (22 long) a tab 12 deep that narrows by 2 at
    # either end.
    taper = 2
    slants = 2 * math.hypot(12, taper)
    tab = slants + (22 - 2 * taper)
    outline = 2 * (84 + 2 * 22) + 2 * 124 + 4 * tab
    assert drawer["cut_length_mm"] == pytest.approx(outline, abs=0.01)
    # Four folds of the base and four of the tabs.
    assert drawer["score_length_mm"] == pytest.approx(2 * (124 + 84) + 4 * 22)


def test_a_slit_counts_as_cut() -> None:
    before = listing(packed())["pieces"][0]["cut_length_mm"]
    from publisher.geometry.path import Line, Path
    from publisher.model.types import Opening

    piece = PATTERN.pieces[0]
    path = Path((Line((60, 60), (90, 60)),), closed=False)
    slit = Opening("slit", "slit", "line", path, None, 30, 0, piece.span)
    cut = replace(piece, openings=(*piece.openings, slit))
    other = replace(PATTERN, pieces=(cut, *PATTERN.pieces[1:]))
    assert listing(packed(pattern=other))["pieces"][0]["cut_length_mm"] == before + 30


def test_the_manifest_speaks_of_sheets() -> None:
    first = listing(packed())["sheets"][0]
    assert (first["stock"], first["width_mm"], first["height_mm"]) == ("card", 210.0, 297.0)
    assert first["placed"] == [
        {"piece": "drawer", "copy": 1, "x_mm": 5.0, "y_mm": 6.0, "turn_deg": 90.0}
    ]
    assert first["files"] == [
        {"path": "cut-files/dxf/card-1.dxf", "format": "dxf"},
        {"path": "cut-files/svg/card-1.svg", "format": "svg"},
    ]


def test_the_manifest_lists_every_file_but_itself() -> None:
    data = packed()
    listed = {file["path"]: file for file in listing(data)["files"]}
    assert set(listed) == {*FILES, "START-HERE.txt", "LICENCE.txt"}
    assert listed["cut-files/svg/card-1.svg"]["bytes"] == 1200
    assert listed["cut-files/svg/card-1.svg"]["media_type"] == "image/svg+xml"
    assert listed["instructions/sliding-box-a4.pdf"]["role"] == "instructions"


def test_the_manifest_tells_the_checks_and_the_tool() -> None:
    told = listing(packed(tool_version="9.9.9"))
    assert told["tool_version"] == "9.9.9"
    assert told["checks"] == [
        {
            "code": "goes-into",
            "subject": "stack",
            "result": "pass",
            "numbers": {"free_mm": 4.0, "asked_mm": 2.0},
        },
        {
            "code": "border",
            "subject": "sleeve mat",
            "result": "warning",
            "numbers": {"least_mm": 0},
        },
    ]
    assert "-0.0" not in json.dumps(told)


def test_start_here_speaks_of_what_is_there() -> None:
    text = opened(packed())["sliding-box-1.0.0/START-HERE.txt"].decode()
    assert "instructions/sliding-box-a4.pdf" in text
    assert "instructions/sliding-box-letter.pdf" in text
    assert "- drawer: 168 x 128 mm (6 5/8 x 5 1/16 in)" in text
    assert "- Card, A4: 2 sheets" in text
    assert "cut-files/svg: 2 sheets" in text
    assert "cut-files/dxf: one sheet" in text
    assert "cut-files/pdf" not in text
    assert max(len(line) for line in text.splitlines()) <= 76
    assert text.isascii()


def test_start_here_follows_the_sizes() -> None:
    deeper = opened(packed(pattern=sliding_box_pattern(depth_mm=30.0)))
    text = deeper["sliding-box-1.0.0/START-HERE.txt"].decode()
    assert "- drawer: 184 x 144 mm (7 1/4 x 5 11/16 in)" in text


def test_the_authors_first_unit_comes_first() -> None:
    text = opened(packed(pattern=with_meta(first_unit="in")))["sliding-box-1.0.0/START-HERE.txt"]
    assert b"- drawer: 6 5/8 x 5 1/16 in (168 x 128 mm)" in text


def test_the_licence_in_full_or_by_name() -> None:
    full = opened(packed())["sliding-box-1.0.0/LICENCE.txt"].decode()
    assert "For your own table\n\nMake it.\n\nDo not sell it.\n" in full
    name = opened(packed(licence=None))["sliding-box-1.0.0/LICENCE.txt"].decode()
    assert name.endswith("Licence: personal\n")
