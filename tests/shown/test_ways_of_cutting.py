"""Sheets and cut files as chosen: in a pattern, in the settings, for one kind of maker."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path
from typing import Any

import pypdfium2 as pdfium
import pytest

from publisher.pipeline import build_bundle, check_pattern
from publisher.workshop import Outcome, open_workshop
from tests.workshops import built, copied

SETTINGS = """
[cutting]
machine = "drag knife"
formats = "dxf-r12, png"

[makers."12 in maker"]
sheet = "12 x 12 in"
machine = "drag knife and scoring tool"
copies = 2
pieces = "on sheets"

[makers."postcard maker"]
sheet = "a5"
"""


def opened(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name.partition("/")[2]: archive.read(name) for name in archive.namelist()}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Settings for all patterns, and one line of the envelope's own."""
    root = copied(
        tmp_path_factory.mktemp("shop"),
        envelope=("licence: personal", "licence: personal\ngap: 4 mm"),
    )
    file = root / "site" / "site.toml"
    file.write_text(file.read_text(encoding="utf-8") + SETTINGS, encoding="utf-8")
    return root


@pytest.fixture(scope="module")
def outcome(shop: Path) -> Outcome:
    workshop, wrong = open_workshop(shop)
    assert not wrong
    made = build_bundle(workshop, "envelope")
    assert not made.failed
    return made


def cut_files(files: dict[str, bytes]) -> list[dict[str, Any]]:
    listing = json.loads(files["manifest.json"])
    return [entry for entry in listing["files"] if entry["role"] == "cut-file"]


def test_the_usual_bundle_is_as_the_settings_say(outcome: Outcome) -> None:
    files = opened(outcome.zip_bytes)
    listing = json.loads(files["manifest.json"])
    entries = cut_files(files)
    formats = {entry["path"].split("/")[-2] for entry in entries}
    # The machine cannot score, and its programs take a number for 1/72 in.
    assert formats == {"svg", "svg-72", "dxf", "dxf-r12", "pdf", "png"}
    assert {entry["score_as"] for entry in entries} == {"dashes"}
    units = {e["path"].split("/")[-2]: e["units_per_inch"] for e in entries}
    assert units == {
        "svg": 96,
        "svg-72": 72,
        "dxf": 25.4,
        "dxf-r12": 25.4,
        "pdf": 72,
        "png": 300,
    }
    assert {e.get("piece") for e in entries} == {None, "envelope"}
    assert listing["machine"] == "drag knife"
    assert listing["copies"] == 1
    (sheet,) = listing["sheets"]
    assert sheet["cut_length_mm"] > 0.0
    assert sheet["score_length_mm"] == 0.0
    assert sheet["time_s"] > sheet["cut_length_mm"] / 40
    # Every sheet's files are named with it, no piece's.
    assert {f["path"] for f in sheet["files"]} == {e["path"] for e in entries if "piece" not in e}
    said = " ".join(files["START-HERE.txt"].decode().split())
    assert "Scores are cut as rows of short dashes" in said
    assert "cut-files/dxf-r12: one sheet as DXF for old programs" in said
    assert "cut-files/pieces: the same" in said


def test_one_kind_of_maker_gets_a_bundle_of_its_own(outcome: Outcome) -> None:
    ((maker, data),) = outcome.makers
    assert maker == "12 in maker"
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        tops = {name.split("/")[0] for name in archive.namelist()}
    assert tops == {"envelope-1.0.0-12-in-maker"}
    files = opened(data)
    listing = json.loads(files["manifest.json"])
    assert listing["maker"] == "12 in maker"
    assert listing["copies"] == 2
    assert {s["width_mm"] for s in listing["sheets"]} == {304.8}
    assert sum(len(s["placed"]) for s in listing["sheets"]) == 2
    assert {e["score_as"] for e in cut_files(files)} == {"groups"}
    assert not any("piece" in e for e in cut_files(files))
    said = " ".join(files["START-HERE.txt"].decode().split())
    assert "For the 12 in maker" in said
    assert "The sheets hold everything 2 times over." in said


def test_a_maker_whose_sheets_are_too_small_is_told_of(shop: Path, outcome: Outcome) -> None:
    warnings = [d for d in outcome.diagnostics if "postcard maker" in d.message]
    assert [(d.code, d.severity) for d in warnings] == [("piece-larger-than-sheet", "warning")]
    workshop, _ = open_workshop(shop)
    assert warnings[0] in check_pattern(workshop, "envelope").diagnostics


def test_the_same_bytes_with_and_without_layouts_kept(tmp_path: Path) -> None:
    root = copied(tmp_path, sliding_box=("licence: personal", "licence: personal\ncopies: 2"))
    first = built(root, "sliding-box").outcome.zip_bytes
    kept = sorted((root / "build" / "layouts").glob("*.txt"))
    assert kept
    assert built(root, "sliding-box").outcome.zip_bytes == first
    kept[0].write_text("nonsense", encoding="ascii")
    assert built(root, "sliding-box").outcome.zip_bytes == first
    assert kept[0].read_text(encoding="ascii") != "nonsense"


def test_a_piece_that_goes_on_no_sheet_is_cut_in_two(tmp_path: Path) -> None:
    """In the files, the manifest, the booklet."""
    root = copied(tmp_path)
    file = root / "content" / "sliding-box" / "pattern.md"
    text = file.read_text(encoding="utf-8")
    sign = (
        "\n```piece sign, in card\noutline  rectangle, 400 x 60 mm\n"
        "divide   along 190 mm right of left, 12 mm tab\n```\n\n```step\nlay sign\n```\n"
    )
    file.write_text(text.rstrip() + "\n" + sign, encoding="utf-8")
    made = built(root, "sliding-box")
    placed = {p["piece"] for sheet in made.manifest["sheets"] for p in sheet["placed"]}
    assert {"sign part 1", "sign part 2"} < placed
    assert "sign" not in placed
    sizes = {p["name"]: p["width_mm"] for p in made.manifest["pieces"]}
    assert sizes["sign part 1"] == 202.0
    assert sizes["sign part 2"] == 210.0
    assert "cut-files/pieces/svg/sliding-box-sign-part-2.svg" in made.files
    pages = pdfium.PdfDocument(made.files["instructions/sliding-box-a4.pdf"])
    words = " ".join(" ".join(p.get_textpage().get_text_range().split()) for p in pages)
    assert "The sign is larger than a sheet and is cut in 2 parts." in words
