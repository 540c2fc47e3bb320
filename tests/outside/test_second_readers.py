"""Files read by programs that have nothing to do with the project: GDAL for DXF, unzip for zip.

GDAL has no millimetres: it takes a DXF's figures as they are, so that they must be the model's.
"""

from __future__ import annotations

import io
import random
import shutil
import subprocess
import zipfile
from pathlib import Path

import pyogrio
import pytest
import shapely

from publisher.bundle import verify
from publisher.cutfiles import write_cut_files
from publisher.geometry.measure import path_bounds
from publisher.layout import Sheet
from publisher.model.types import Pattern
from tests.bundle.test_pack import packed
from tests.sheets import all_laid

PACKED = packed()
ARCS = "0.25"
"""Degrees from chord to chord: 2e-6 of an arc's length is lost."""


@pytest.fixture
def _fine_arcs() -> None:
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": ARCS})


def lines_of(data: bytes, folder: Path) -> dict[str, list[shapely.Geometry]]:
    """By layer, as GDAL reads them."""
    file = folder / "sheet.dxf"
    file.write_bytes(data)
    meta, _, shapes, fields = pyogrio.raw.read(file)
    layer = list(meta["fields"]).index("Layer")
    found: dict[str, list[shapely.Geometry]] = {}
    for name, shape in zip(fields[layer], shapely.from_wkb(shapes), strict=True):
        found.setdefault(str(name), []).append(shape)
    return found


@pytest.mark.usefixtures("_fine_arcs")
@pytest.mark.parametrize(("pattern", "sheets"), all_laid())
def test_gdal_measures_the_same(
    pattern: Pattern, sheets: tuple[Sheet, ...], tmp_path: Path
) -> None:
    files = write_cut_files(pattern, sheets)
    for sheet in sheets:
        path = f"dxf/{pattern.name}-{sheet.name}.dxf"
        found = lines_of(files[path], tmp_path)
        cut = scored = 0.0
        rings = 0
        for placed in sheet.placed:
            piece = pattern.piece(placed.piece)
            closed = (piece.outline.outer, *piece.outline.holes)
            slits = [o.path for o in piece.openings if o.kind == "slit"]
            rings += len(closed) + len(slits)
            cut += sum(p.length_mm for p in (*closed, *slits))
            scored += sum(s.path.length_mm for s in piece.scores)
        assert len(found["CUT"]) == rings
        assert sum(s.length for s in found["CUT"]) == pytest.approx(cut, rel=1e-5)
        told = sum(s.length for n, some in found.items() if n.startswith("SCORE") for s in some)
        assert told == pytest.approx(scored, rel=1e-5)
        # A DXF's y goes up: the height of the sheet turns it round.
        x0, y0, x1, y1 = shapely.total_bounds(found["CUT"])
        left = min(p.x_mm for p in sheet.placed)
        top = min(p.y_mm for p in sheet.placed)
        assert x0 == pytest.approx(left, abs=0.01)
        assert sheet.size.height_mm - y1 == pytest.approx(top, abs=0.01)
        for placed in sheet.placed:
            ax, ay, bx, by = path_bounds(pattern.piece(placed.piece).outline.outer)
            wide, high = (bx - ax, by - ay)
            if round(placed.turn_deg) % 180 == 90:
                wide, high = high, wide
            assert placed.x_mm + wide <= x1 + 0.01
            assert placed.y_mm + high <= sheet.size.height_mm - y0 + 0.01


@pytest.mark.skipif(shutil.which("unzip") is None, reason="no unzip here")
def test_unzip_finds_the_bundle_whole(tmp_path: Path) -> None:
    file = tmp_path / "bundle.zip"
    file.write_bytes(PACKED)
    told = subprocess.run(["unzip", "-t", file], capture_output=True, text=True, check=False)
    assert told.returncode == 0
    assert "No errors detected" in told.stdout


def test_whatever_byte_of_the_zip_alters_a_file_is_found() -> None:
    """A byte of a time or of permissions alters none; zipfile says whether one does."""
    chance = random.Random("any byte of the zip")
    whole = contents(PACKED)
    assert whole is not None
    mattered = 0
    for _ in range(400):
        at = chance.randrange(len(PACKED))
        data = PACKED[:at] + bytes([PACKED[at] ^ (1 << chance.randrange(8))]) + PACKED[at + 1 :]
        if contents(data) != whole:
            mattered += 1
            assert verify(data), f"byte {at}"
    assert mattered > 200


def contents(data: bytes) -> dict[str, bytes] | None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as zipped:
            return {name: zipped.read(name) for name in zipped.namelist()}
    except Exception:
        return None


def test_whatever_byte_of_whatever_file_is_found() -> None:
    """Files changed before they were packed, with checksums that are right for what they are:
    the manifest knows better."""
    chance = random.Random("any byte of any file")
    whole = contents(PACKED)
    assert whole is not None
    names = [n for n in whole if not n.endswith("manifest.json")]
    for number in range(200):
        name = names[number % len(names)]
        data = bytearray(whole[name])
        at = chance.randrange(len(data))
        data[at] ^= 1 << chance.randrange(8)
        target = io.BytesIO()
        with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as zipped:
            for other, old in whole.items():
                zipped.writestr(other, bytes(data) if other == name else old)
        assert any(name.partition("/")[2] in d.message for d in verify(target.getvalue()))
