"""The proof sheet: figures of the checks, at their places, in both of its forms."""

from __future__ import annotations

import io
from functools import cache
from html.parser import HTMLParser

import pypdfium2
import pytest
import svgelements

from publisher.checks.context import Context
from publisher.checks.making_verdicts import making_verdicts
from publisher.checks.ruler_verdicts import ruler_verdicts
from publisher.checks.types import CheckResult
from publisher.model.types import Pattern
from publisher.pipeline import check_pattern
from publisher.proof import Fit, fits_of, proof_sheet
from publisher.proof.sketch import sketch_of
from publisher.workshop import look_of
from tests.compiled import workshop


@cache
def proven() -> tuple[Pattern, tuple[CheckResult, ...]]:
    outcome = check_pattern(workshop(), "sliding-box")
    assert outcome.pattern is not None
    assert outcome.story is not None
    context = Context(outcome.pattern, outcome.story, workshop().trade)
    return outcome.pattern, (
        *outcome.checks,
        *making_verdicts(context),
        *ruler_verdicts(context),
    )


@cache
def sheet() -> dict[str, bytes]:
    theme, look = look_of(workshop())
    return proof_sheet(*proven(), theme, look, "Potting Shed Paper")


def fit(subject: str) -> Fit:
    return next(f for f in fits_of(proven()[1], "mm") if f.subject == subject)


def test_margins_lie_where_the_figures_say() -> None:
    """3.2 mm across and 4 mm down of 2 to 6 mm; 2 mm deep of no more than is there."""
    across, down, deep = fit("stack in drawer").bars
    assert (across.what, across.ends) == ("across", ("least", "most"))
    assert across.share == pytest.approx((3.2 - 2) / (6 - 2))
    assert across.said == "1.2 mm above least, 2.8 mm below most"
    assert down.share == pytest.approx(0.5)
    assert deep.ends == ("deep",)
    assert deep.share == pytest.approx(2 / 5)


def test_makers_and_rulers_are_those_of_the_checks() -> None:
    sleeve = fit("sleeve on drawer")
    assert sleeve.makers.startswith("fits by machine; by hand 4 in 100 will be too tight")
    assert sleeve.rulers == ("millimetres: fits", "inches: fits")
    assert fit("sleeve mat on panel 1 of sleeve").makers == ""


def test_what_is_missing_is_said() -> None:
    short = CheckResult("does-not-go-in", "a in b", "fail", (), "too wide", slack=(("deep", -1.5),))
    (found,) = fits_of([short], "mm")
    assert not found.holds
    assert found.bars[0].said == "1.5 mm is missing"
    assert found.bars[0].share == 0.0


def test_the_sketch_is_to_scale() -> None:
    """The stack is 120 x 80 mm, the drawer 123.2 x 84 mm between its walls and tabs."""
    theme, _ = look_of(workshop())
    svg = sketch_of(fit("stack in drawer"), proven()[0], theme).svg
    boxes = [
        e
        for e in svgelements.SVG.parse(io.StringIO(svg)).elements()
        if e.values.get("tag") == "rect"
    ]
    inner, outer = ((b.width, b.height) for b in boxes)
    assert inner[0] / outer[0] == pytest.approx(120 / 123.2, rel=1e-3)
    assert inner[1] / outer[1] == pytest.approx(80 / 84, rel=1e-3)


class Words(HTMLParser):
    """The text of a page; raises where a tag is closed that is not open."""

    def __init__(self) -> None:
        super().__init__()
        self.text, self.open = "", [""]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        pass

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data if self.open[-1] != "style" else ""


def test_both_forms_say_every_fit() -> None:
    files = sheet()
    assert sorted(files) == ["sliding-box-proof.html", "sliding-box-proof.pdf"]
    page = Words()
    page.feed(files["sliding-box-proof.html"].decode())
    pdf = pypdfium2.PdfDocument(files["sliding-box-proof.pdf"])
    printed = " ".join(p.get_textpage().get_text_range() for p in pdf)
    html, printed = (" ".join(t.split()) for t in (page.text, printed))
    for found in fits_of(proven()[1], "mm"):
        for text in (html, printed):
            assert found.sentence in text
            assert all(bar.said in text for bar in found.bars)
            assert all(figure in text for _, figure in found.sum)


def test_the_same_bytes_every_time() -> None:
    theme, look = look_of(workshop())
    assert proof_sheet(*proven(), theme, look, "Potting Shed Paper") == sheet()
