"""The booklet against the standards it claims.

Sources: ISO 14289-1:2014 (PDF/UA-1) clauses 5 and 7.1; ISO 19005-3:2012 (PDF/A-3) clause 6.6.4
(the identification schema) and 6.8 (embedded files); ISO 216:2007 and ANSI/ASME Y14.1 for the
page sizes; ISO 32000-1:2008, 8.3.2.3: a unit of default user space is 1/72 inch.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
from functools import cache
from itertools import pairwise
from pathlib import Path

import pdfua
import pypdfium2
import pytest
from msgspec.structs import replace
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from publisher.booklet.types import Attachment, BookletInput, PaperName
from publisher.booklet.typeset import typeset
from tests.booklet.book import book_of, envelope_sheets, sliding_box_sheets
from tests.handmade import envelope_pattern, sliding_box_pattern

MM = 72.0 / 25.4
PAGES: dict[PaperName, tuple[float, float]] = {
    "a4": (210.0 * MM, 297.0 * MM),
    "letter": (8.5 * 72.0, 11.0 * 72.0),
}
CUT_FILE = Attachment(
    "cut-files/svg/card-1.svg", "image/svg+xml", "Cut file of sheet card-1", b"<svg/>"
)


@cache
def books() -> dict[str, BookletInput]:
    box, envelope = sliding_box_pattern(), envelope_pattern()
    return {
        "sliding-box": book_of(box, sliding_box_sheets(box)),
        "envelope": book_of(envelope, envelope_sheets(envelope)),
    }


@cache
def pdf(name: str, paper: PaperName) -> bytes:
    return typeset(books()[name], paper, (CUT_FILE,))


CASES = [(name, paper) for name in ("sliding-box", "envelope") for paper in PAGES]
each_booklet = pytest.mark.parametrize(("name", "paper"), CASES)


@each_booklet
def test_machine_checkable_rules_of_pdf_ua(name: str, paper: PaperName, tmp_path: Path) -> None:
    file = tmp_path / "booklet.pdf"
    file.write_bytes(pdf(name, paper))
    report = pdfua.validate(str(file))
    assert [(f.rule_id, f.message) for f in report.findings] == []


def test_the_checker_sees_a_booklet_that_lost_its_tags(tmp_path: Path) -> None:
    import pikepdf

    file = tmp_path / "untagged.pdf"
    with pikepdf.open(io.BytesIO(pdf("envelope", "a4"))) as opened:
        del opened.Root.StructTreeRoot
        del opened.Root.MarkInfo
        opened.save(file)
    assert pdfua.validate(str(file)).findings


@each_booklet
def test_claims_of_the_file(name: str, paper: PaperName) -> None:
    reader = PdfReader(io.BytesIO(pdf(name, paper)))
    root = reader.root_object
    metadata = reader.xmp_metadata
    assert metadata is not None
    xmp = metadata.stream.get_data().decode("utf-8")
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp
    assert "<pdfaid:part>3</pdfaid:part>" in xmp
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in xmp
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"].value is True
    assert root["/Lang"] == "en"
    assert "/StructTreeRoot" in root
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    meta = books()[name].pattern.meta
    assert reader.metadata is not None
    assert reader.metadata.title == meta.title
    assert reader.metadata.creation_date is not None
    assert reader.metadata.creation_date.date().isoformat() == meta.date


@each_booklet
def test_every_page_has_the_size_of_its_paper(name: str, paper: PaperName) -> None:
    opened = pypdfium2.PdfDocument(pdf(name, paper))
    assert len(opened) >= 4
    for page in opened:
        assert page.get_size() == pytest.approx(PAGES[paper], abs=0.01)


def tags(node: object) -> list[DictionaryObject]:
    """All structure elements below (and with) this one, in reading order."""
    if isinstance(node, list):
        return [tag for kid in node for tag in tags(kid)]
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        return tags(list(node))
    if not isinstance(node, DictionaryObject):
        return []
    below = tags(node.get("/K", []))
    return [node, *below] if "/S" in node else below


@each_booklet
def test_figures_have_alternative_text_and_headings_never_skip(name: str, paper: PaperName) -> None:
    book = books()[name]
    reader = PdfReader(io.BytesIO(pdf(name, paper)))
    found = tags(reader.root_object["/StructTreeRoot"]["/K"])
    spoken = [str(tag["/Alt"]) for tag in found if tag["/S"] == "/Figure"]
    expected = [book.cover.alt, *(p.alt for _, p in book.piece_pictures)]
    expected += [picture.alt for step in book.steps for picture in step.pictures]
    for alt in expected:
        assert alt in spoken
    levels = [int(str(tag["/S"])[2:]) for tag in found if str(tag["/S"])[:2] == "/H"]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    kinds = {str(tag["/S"]) for tag in found}
    assert {"/Title", "/Table", "/TH", "/TD", "/L", "/LI", "/P"} <= kinds


@each_booklet
def test_bookmarks_lead_to_the_steps(name: str, paper: PaperName) -> None:
    reader = PdfReader(io.BytesIO(pdf(name, paper)))

    def titles(entries: list[object]) -> list[str]:
        out: list[str] = []
        for entry in entries:
            out += titles(entry) if isinstance(entry, list) else [str(entry["/Title"])]
        return out

    marked = titles(reader.outline)
    for step in books()[name].pattern.steps:
        assert any(title.endswith(step.title) for title in marked)
    assert "What you need" in marked


@each_booklet
def test_every_face_is_packed_in_and_is_ours(name: str, paper: PaperName) -> None:
    reader = PdfReader(io.BytesIO(pdf(name, paper)))
    names = set()
    for page in reader.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            names.add(str(font.get_object()["/BaseFont"]))
            below = font.get_object()["/DescendantFonts"][0].get_object()
            descriptor = below["/FontDescriptor"].get_object()
            assert {"/FontFile2", "/FontFile3"} & set(descriptor)
    assert names
    assert all("FiraSans" in n or "Spectral" in n for n in names)


@each_booklet
def test_the_cut_file_travels_inside(name: str, paper: PaperName) -> None:
    reader = PdfReader(io.BytesIO(pdf(name, paper)))
    assert reader.attachments[CUT_FILE.name] == [CUT_FILE.data]
    files = reader.root_object["/AF"]
    assert files[0].get_object()["/AFRelationship"] == "/Supplement"


def test_same_bytes_on_two_runs_and_under_another_hash_seed() -> None:
    book = books()["envelope"]
    assert typeset(book, "a4", (CUT_FILE,)) == pdf("envelope", "a4")
    script = (
        "import hashlib\n"
        "from tests.outside.test_pdf import pdf\n"
        "print(hashlib.sha256(pdf('envelope', 'a4')).hexdigest())\n"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=Path(__file__).parents[2],
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed, zone in (("1", "UTC"), ("2", "Pacific/Auckland"))
    }
    assert len(digests) == 1


def test_another_date_gives_another_file() -> None:
    book = books()["envelope"]
    meta = replace(book.pattern.meta, date="2026-11-26")
    later = replace(book, pattern=replace(book.pattern, meta=meta))
    assert typeset(later, "a4", (CUT_FILE,)) != pdf("envelope", "a4")
