"""Templates are measured: what is not true to size does not leave."""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest

from publisher.layout import Sheet
from publisher.model.types import Pattern
from publisher.readback import measure_templates
from tests.handmade import envelope_pattern, sliding_box_pattern
from tests.sheets import laid, trade
from tests.templates.printed import box_written, corner_piece, of, plain, written

PAPERS = {f"sliding-box-{paper}.pdf": trade().sheets[paper] for paper in ("a4", "letter")}
A4 = "sliding-box-a4.pdf"


def said(data: bytes) -> list[str]:
    found = measure_templates({A4: data}, sliding_box_pattern(), {A4: PAPERS[A4]})
    assert {d.code for d in found} <= {"written-file-differs", "written-file-missing"}
    return [d.message for d in found]


def changed(change: Callable[[str], str], page: int = 1) -> bytes:
    """The A4 templates with one page's content changed."""
    with pikepdf.open(io.BytesIO(box_written()[A4])) as document:
        content = document.pages[page].Contents.read_bytes().decode("ascii")
        assert change(content) != content
        document.pages[page].Contents = document.make_stream(change(content).encode("ascii"))
        target = io.BytesIO()
        document.save(target)
        return target.getvalue()


def test_what_was_written_is_true() -> None:
    assert measure_templates(box_written(), sliding_box_pattern(), PAPERS) == []


@pytest.mark.parametrize(
    ("pattern", "sheets"),
    [
        laid(envelope_pattern()),
        (of(corner_piece()), ()),
        (of(*(plain(f"slip {n}", 30.0 + n, 12.0) for n in range(20))), ()),
        (of(plain("strip", 280.0, 120.0), plain("handle", 200.0, 12.0)), ()),
    ],
)
def test_other_patterns_are_true(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    files = written(pattern, sheets)
    papers = {path: trade().sheets[path.rsplit("-", 1)[1][:-4]] for path in files}
    assert measure_templates(files, pattern, papers) == []


def test_a_page_that_is_scaled_is_found() -> None:
    """By two in ten thousand: 0.01 mm in 50."""
    found = said(changed(lambda text: "1.0003 0 0 1.0003 0 0 cm\n" + text))
    assert any("transformed" in message for message in found)


def test_a_square_a_little_off_is_found() -> None:
    def wider(text: str) -> str:
        # The right side of the 50 mm square, from 55 to 55.02 mm (155.9055 to 155.9622 points).
        return text.replace("155.9055 ", "155.9622 ", 2)

    assert any(
        "the square of 50 mm measures 50.02 mm" in message for message in said(changed(wider))
    )


def test_a_square_left_out_is_found() -> None:
    found = said(
        changed(lambda text: text.replace("/Scale <</Id (2 in)>>", "/Other <</Id (2 in)>>"))
    )
    assert any("there are 0 squares of 2 in" in message for message in found)


def test_a_line_out_of_place_is_found() -> None:
    def moved(text: str) -> str:
        start = text.index("/OC /SCORE-MOUNTAIN BDC")
        line = next(row for row in text[start:].splitlines() if row.endswith(" l"))
        x, y, _ = line.split()
        return text[:start] + text[start:].replace(line, f"{float(x) + 0.06:.4f} {y} l", 1)

    assert any("score-mountain" in message for message in said(changed(moved)))


def test_a_piece_left_out_is_found() -> None:
    found = said(changed(lambda text: text.replace("/Piece <<", "/Other <<"), page=2))
    assert any("is on no page" in message for message in found)


def test_another_paper_is_found() -> None:
    found = measure_templates(box_written(), sliding_box_pattern(), {A4: trade().sheets["letter"]})
    assert any("the page is 210 mm x 297 mm" in d.message for d in found)


def test_a_part_left_out_is_found() -> None:
    files = written(of(corner_piece()))
    with pikepdf.open(io.BytesIO(files["trial-a4.pdf"])) as document:
        del document.pages[2]
        target = io.BytesIO()
        document.save(target)
    path = "trial-a4.pdf"
    papers = {path: trade().sheets["a4"]}
    assert measure_templates({path: files[path]}, of(corner_piece()), papers) == []
    found = measure_templates({path: target.getvalue()}, of(corner_piece()), papers)
    assert any("the parts of corner leave" in d.message for d in found)


def test_a_file_that_is_missing_or_broken_is_found() -> None:
    found = measure_templates({}, sliding_box_pattern(), PAPERS)
    assert [d.code for d in found] == ["written-file-missing"] * 2
    assert "cannot be read back" in said(b"%PDF-1.7 no more")[0]
