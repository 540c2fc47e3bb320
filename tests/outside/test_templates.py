"""Printed templates against the standards of paper and of PDF."""

from __future__ import annotations

from pathlib import Path

import pdfua
import pypdfium2 as pdfium
import pytest

from tests.handmade import envelope_pattern
from tests.sheets import laid
from tests.templates.printed import box_written, corner_piece, of, written


@pytest.mark.parametrize(
    ("paper", "width_mm", "height_mm"),
    [
        # ISO 216:2007, A4.
        ("a4", 210.0, 297.0),
        # PWG 5101.1, na_letter_8.5x11in; an inch is 25.4 mm (international agreement, 1959).
        ("letter", 8.5 * 25.4, 11 * 25.4),
    ],
)
def test_pages_have_the_size_of_their_paper(paper: str, width_mm: float, height_mm: float) -> None:
    document = pdfium.PdfDocument(box_written()[f"sliding-box-{paper}.pdf"])
    for page in document:
        width, height = page.get_size()
        assert width / 72 * 25.4 == pytest.approx(width_mm, abs=0.01)
        assert height / 72 * 25.4 == pytest.approx(height_mm, abs=0.01)


def test_templates_can_be_read_aloud(tmp_path: Path) -> None:
    """PDF/UA-1 (ISO 14289-1), as far as a machine can test it."""
    files = {
        **box_written(),
        **written(*laid(envelope_pattern())),
        **written(of(corner_piece())),
    }
    for name, data in files.items():
        file = tmp_path / name
        file.write_bytes(data)
        report = pdfua.validate(str(file))
        assert list(report.findings) == [], name


def test_squares_measure_what_they_say_on_paper() -> None:
    """Ink of the 50 mm square at 600 dots an inch: 50 / 25.4 * 600 = 1181.1 dots from edge to
    edge, found by looking along a row and a column of the rendered page."""
    scale = 600 / 72
    document = pdfium.PdfDocument(box_written()["sliding-box-a4.pdf"])
    image = document[1].render(scale=scale, grayscale=True).to_pil()
    # The squares stand 5 mm from the left and the lower edge; a row that crosses no mark.
    left, bottom = 5.0, 297.0 - 5.0 - 50.8
    row = round((bottom + 6.5) / 25.4 * 600)
    dark = [x for x in range(image.width) if image.getpixel((x, row)) < 128]
    first = dark[0]
    near = round(left / 25.4 * 600)
    assert abs(first - near) <= 4
    second = next(x for x in dark if x > first + 200)
    assert second - first == pytest.approx(50 / 25.4 * 600, abs=1.5)
