"""The pages as pictures: real drawings in the booklet, nothing over the edge, no empty page."""

from __future__ import annotations

import io
import re
from functools import cache

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray
from pypdf import PdfReader

from publisher.assembly import assemble
from publisher.booklet.cautions import read_cautions
from publisher.booklet.gather import PROVEN, gather, proven
from publisher.booklet.types import BookletInput, PaperName
from publisher.booklet.typeset import typeset
from publisher.checks.types import CheckResult
from publisher.model.types import Pattern
from publisher.pipeline import check_text, on_sheets
from tests.booklet.book import (
    ROOT,
    envelope_sheets,
    house_licence,
    house_template,
    house_theme,
    sliding_box_sheets,
)
from tests.compiled import workshop
from tests.handmade import envelope_pattern, sliding_box_pattern

CHECKS = (
    CheckResult("does-not-go-in", "stack in drawer", "pass", (), "stack goes into drawer"),
    CheckResult("does-not-go-in", "x", "fail", (), "x does not go into y"),
    CheckResult("outline-not-simple", "drawer", "pass", (), "the outline is one clean line"),
)


def from_content(name: str, without: str = "") -> BookletInput:
    """The booklet of one of the workshop's own patterns, without the words of one step."""
    opened = workshop()
    shown = f"content/{name}/pattern.md"
    data = (ROOT / shown).read_bytes()
    if without:
        words = re.compile(rf"(### {without}\n\n).*?(?=```step)".encode(), re.DOTALL)
        data, found = words.subn(rb"\1", data)
        assert found == 1
    checked = check_text(data, shown, name, opened.trade, forms=opened.forms)
    outcome = on_sheets(checked, opened.trade)
    assert outcome.pattern is not None
    assert outcome.story is not None
    cautions, _ = read_cautions((ROOT / "shared/cautions.toml").read_text("utf-8"))
    return gather(
        outcome.pattern,
        outcome.story,
        outcome.sheets,
        outcome.checks,
        theme=house_theme(),
        template=house_template(),
        licence=house_licence("personal"),
        cautions=cautions,
        sheet_files={s.name: (f"cut-files/svg/{s.name}.svg",) for s in outcome.sheets},
        workshop="Potting Shed Paper",
    )


@cache
def gathered(name: str) -> BookletInput:
    if name.startswith("our "):
        return from_content(name.removeprefix("our "))
    pattern: Pattern = sliding_box_pattern() if name == "sliding-box" else envelope_pattern()
    sheets = sliding_box_sheets(pattern) if name == "sliding-box" else envelope_sheets(pattern)
    story, wrong = assemble(pattern)
    assert not wrong
    cautions, _ = read_cautions((ROOT / "shared/cautions.toml").read_text("utf-8"))
    return gather(
        pattern,
        story,
        sheets,
        CHECKS,
        theme=house_theme(),
        template=house_template(),
        licence=house_licence("personal"),
        cautions=cautions,
        sheet_files={sheet.name: (f"cut-files/svg/{sheet.name}.svg",) for sheet in sheets},
        workshop="Potting Shed Paper",
    )


@cache
def pdf(name: str, paper: PaperName) -> bytes:
    return typeset(gathered(name), paper)


def ink_mm(page: pypdfium2.PdfPage) -> NDArray[np.float64]:
    """Rows and columns that carry ink, as (top, bottom, left, right) in mm."""
    scale = 2.0
    grey = np.asarray(page.render(scale=scale).to_pil().convert("L"))
    rows = np.flatnonzero((grey < 235).any(axis=1))
    columns = np.flatnonzero((grey < 235).any(axis=0))
    edges = np.array([rows[0], rows[-1] + 1, columns[0], columns[-1] + 1], dtype=float)
    return edges / scale * 25.4 / 72.0


NAMES = ("sliding-box", "envelope", "our sliding-box", "our envelope")
CASES = [(n, p) for n in NAMES for p in ("a4", "letter")]
each_booklet = pytest.mark.parametrize(("name", "paper"), CASES)


def test_each_frame_is_drawn_in_its_step_and_what_fits_is_told() -> None:
    book = gathered("sliding-box")
    # A wrap has a picture for each of its moves: set it on, one side up, the other over it.
    moves = [
        [3 if action.verb == "wrap" else 1 for action in step.actions]
        for step in book.pattern.steps
    ]
    assert [len(step.pictures) for step in book.steps] == [sum(own) for own in moves]
    assert all(picture.order for step in book.steps for picture in step.pictures)
    assert book.proven == ("Stack goes into drawer.",)
    assert "outline-not-simple" not in PROVEN
    assert [name for name, _ in book.piece_pictures] == ["drawer", "sleeve", "sleeve mat"]
    assert book.sheets[0].files == ("cut-files/svg/card-1.svg",)


def passed(subject: str, sentence: str, spare_mm: float) -> CheckResult:
    return CheckResult("sticks-out", subject, "pass", (("spare_mm", spare_mm),), sentence)


def test_what_fits_is_said_of_each_and_of_its_own() -> None:
    own = [
        passed(f"star {k} of lamp and pane {k} of lamp", f"star {k} lies in pane {k}", 5.0 - k)
        for k in range(1, 5)
    ]
    assert proven(own) == ("Each star lies in its pane, or more.",)
    one = [passed(f"paper and pane {k}", f"paper covers pane {k}", 1.0) for k in range(1, 4)]
    assert proven(one) == ("Paper covers each pane, or more.",)
    both = [
        passed(f"star {k} and pane {m}", f"star {k} lies in pane {m}", 1.0)
        for k in (1, 2)
        for m in (1, 2)
    ]
    assert proven(both) == ("Each star lies in each pane, or more.",)
    far = [
        passed(f"rim {k} and rim {k + 11}", f"rim {k} clears rim {k + 11}", k) for k in (1, 2, 3)
    ]
    assert proven(far) == ("Each rim clears its rim, or more.",)  # 1 is no part of 12
    assert proven(one[:2]) == ("Paper covers pane 1.", "Paper covers pane 2.")


@each_booklet
def test_nothing_reaches_into_the_margins(name: str, paper: PaperName) -> None:
    page_table = house_theme().tables["page"]
    side = page_table["side_mm"]
    for page in pypdfium2.PdfDocument(pdf(name, paper)):
        width, height = (v * 25.4 / 72.0 for v in page.get_size())
        top, bottom, left, right = ink_mm(page)
        assert left >= side - 0.5
        assert right <= width - side + 0.5
        # The first line hangs by its capitals; the letters l and f rise a little above them.
        assert top >= page_table["top_mm"] - 1.0
        assert bottom <= height - page_table["bottom_mm"] / 2


@each_booklet
def test_no_page_but_the_last_is_half_empty(name: str, paper: PaperName) -> None:
    assert min(how_full(name, paper)[:-1]) > 0.55, how_full(name, paper)


def how_full(name: str, paper: PaperName) -> list[float]:
    """How far down the matter of each page reaches, as a part of its room."""
    page_table = house_theme().tables["page"]
    found = []
    for page in pypdfium2.PdfDocument(pdf(name, paper)):
        width, height = page.get_size()
        # The foot line is cut off, so that only the page's matter counts.
        page.set_cropbox(0, page_table["bottom_mm"] * 72 / 25.4, width, height)
        _, bottom, _, _ = ink_mm(page)
        room = height * 25.4 / 72.0 - page_table["top_mm"] - page_table["bottom_mm"]
        found.append((bottom - page_table["top_mm"]) / room)
    return found


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["our hexagon-box", "our plan-wallet", "our lantern"])
def test_a_long_step_goes_on_over_the_page_under_its_name(name: str, paper: PaperName) -> None:
    pages = [p.extract_text() for p in PdfReader(io.BytesIO(pdf(name, paper))).pages]
    first = next(k for k, text in enumerate(pages) if "Make it" in text)
    full = how_full(name, paper)
    assert min(full[first:-1]) > 0.55, full
    for k, text in enumerate(pages):
        for line in text.splitlines():
            if line.endswith(", continued"):
                title = line.removesuffix(", continued").lstrip("0123456789 ")
                assert title in pages[k - 1]  # its step began on the page before
                assert title not in text.replace(line, "")


@pytest.mark.parametrize(
    ("without", "starts_left"), [("", False), ("Glue the lower flap up", True)]
)
def test_no_place_is_kept_for_words_where_a_step_has_none(without: str, starts_left: bool) -> None:
    book = from_content("envelope", without)
    assert len(book.steps[1].pictures) % 2 == 1
    order = book.steps[1].pictures[0].order
    starts = []
    for page in pypdfium2.PdfDocument(typeset(book, "a4")):
        found = page.get_textpage().search(order).get_next()
        if found is not None:
            left, *_ = page.get_textpage().get_charbox(found[0])
            starts.append(left < page.get_size()[0] / 2)
    assert starts == [starts_left]


@each_booklet
def test_diagrams_are_at_least_85_mm_wide(name: str, paper: PaperName) -> None:
    # The width that the house asks for; the words stand at the right of it.
    table = house_theme().tables["page"]
    page_width = 210.0 if paper == "a4" else 215.9
    text = page_width - 2 * table["side_mm"]
    column = (text - (table["columns"] - 1) * table["gutter_mm"]) / table["columns"]
    assert 6 * column + 5 * table["gutter_mm"] >= table["diagram_mm"] - 1e-9
    for step in gathered(name).steps:
        for picture in step.pictures:
            assert picture.width_mm == pytest.approx(85.0, abs=0.5)


@each_booklet
def test_no_heading_stands_alone_at_the_foot_of_a_page(name: str, paper: PaperName) -> None:
    headings = {"What you need", "Sizes", "Pieces", "Take care", "Signs in the drawings", "Make it"}
    for page in PdfReader(io.BytesIO(pdf(name, paper))).pages:
        lines = [line.strip() for line in page.extract_text().splitlines() if line.strip()]
        matter = [line for line in lines if " / " not in line and "from Potting" not in line]
        assert not matter or matter[-1] not in headings


@each_booklet
def test_sections_stand_in_the_order_of_use(name: str, paper: PaperName) -> None:
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf(name, paper))).pages)
    lines = [line.strip() for line in text.splitlines()]
    wanted = ["What you need", "Sizes", "Pieces", "Cut the pieces", "Make it"]
    places = [lines.index(title) for title in wanted]
    assert places == sorted(places)
    for title in (*wanted, "Take care", "Signs in the drawings"):
        assert lines.count(title) == 1


@each_booklet
def test_words_in_diagrams_keep_their_size(name: str, paper: PaperName) -> None:
    """Diagrams are set at their own size, so that their words are 8 pt on the page."""
    words = {
        "drawer", "sleeve", "tab 1", "envelope", "left side",
    }  # fmt: skip
    met = []

    def visit(text: str, user: list[float], matrix: list[float], font: object, size: float) -> None:
        if text.strip() in words:
            met.append(size * abs(matrix[3]) * abs(user[3]))

    for page in PdfReader(io.BytesIO(pdf(name, paper))).pages:
        page.extract_text(visitor_text=visit)
    assert not met or min(met) > 7.9
