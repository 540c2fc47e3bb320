"""All templates of a pattern as one PDF for each paper."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.layout.types import Sheet
from publisher.model.types import Pattern
from publisher.templates.arrange import arrange
from publisher.templates.document import tagged_pdf
from publisher.templates.piece_page import draw_page
from publisher.templates.types import Warned
from publisher.trade import Trade

PAPERS = ("a4", "letter")


def template_path(pattern: Pattern, paper: str) -> str:
    """``sliding-box-a4.pdf``, in a bundle's folder of templates."""
    return f"{pattern.name}-{paper}.pdf"


def write_templates(
    pattern: Pattern,
    sheets: Sequence[Sheet],
    trade: Trade,
    warned: Sequence[Warned] = (),
    language: str = "en",
) -> dict[str, bytes]:
    """The bytes of each PDF by ``template_path``. Raises KeyError where ``trade`` lacks a
    paper or the practice of overlaps."""
    return {
        template_path(pattern, paper): _written(pattern, sheets, trade, paper, warned, language)
        for paper in PAPERS
    }


def _written(
    pattern: Pattern,
    sheets: Sequence[Sheet],
    trade: Trade,
    paper: str,
    warned: Sequence[Warned],
    language: str,
) -> bytes:
    pages = arrange(pattern, trade.sheets[paper], trade.practice["tile_overlap_mm"].value)
    canvases = [
        draw_page(pattern, sheets, page, f"page {number} of {len(pages)}")
        for number, page in enumerate(pages, 1)
    ]
    title = f"{pattern.meta.title}: templates"
    return tagged_pdf(canvases, title, language)
