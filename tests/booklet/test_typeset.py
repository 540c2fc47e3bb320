"""The typeset booklet: what it says, what it refuses, what can do it no harm."""

from __future__ import annotations

import io
import re
from functools import cache

import pytest
from msgspec.structs import replace
from pypdf import PdfReader

from publisher.booklet.document import document
from publisher.booklet.letters import CODE, missing_letters
from publisher.booklet.types import BookletInput, PaperName
from publisher.booklet.typeset import TemplateError, refuse_reaching_out, typeset
from publisher.model.prose import Block, Run
from publisher.model.types import Pattern
from tests.booklet.book import book_of, house_theme, sliding_box_sheets
from tests.handmade import at, sliding_box_pattern


@cache
def book(depth_mm: float = 22.0) -> BookletInput:
    pattern = sliding_box_pattern(depth_mm)
    return book_of(pattern, sliding_box_sheets(pattern))


def with_pattern(**changes: object) -> BookletInput:
    pattern: Pattern = replace(book().pattern, **changes)
    return replace(book(), pattern=pattern)


def text_of(pdf: bytes) -> str:
    pages = (page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
    return re.sub(r"\s+", " ", " ".join(pages))


def lines_of(pdf: bytes) -> list[str]:
    pages = (page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
    return [line.strip() for page in pages for line in page.splitlines()]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_everything_a_maker_needs_is_said(paper: PaperName) -> None:
    said = text_of(typeset(book(), paper))
    for words in (
        "Sliding box",
        "A drawer in a sleeve, for a stack of seed packets.",
        "2 sheets A4",
        "Scoring tool",
        "CAUTION",
        "NOTICE",
        "Depth 22 7/8 inside of the drawer",
        "Cut one from card",
        "168 × 128 mm",
        "Card, A4, sheet 1 of 2",
        "card-1 (svg, dxf, pdf)",
        "Fold the drawer",
        "each 12 mm (1/2 in) deep",
        "Mountain fold: away from you, as drawn",
        "to spare",
        "For your own table",
        "Sliding box 1.0.0, from Potting Shed Paper",
    ):
        assert words in said, words


def test_the_order_of_the_booklet() -> None:
    said = text_of(typeset(book(), "a4"))
    places = [
        said.index(f" {w} ") if w != "Sliding box" else said.index(w)
        for w in ("Sliding box", "What you need", "Pieces", "Make it", "It fits")
    ]
    assert places == sorted(places)


def test_every_page_is_numbered_and_the_cover_is_not() -> None:
    pages = [p.extract_text() for p in PdfReader(io.BytesIO(typeset(book(), "a4"))).pages]
    assert f"1 / {len(pages)}" not in pages[0]
    for number, text in enumerate(pages[1:], 2):
        assert f"{number} / {len(pages)}" in text


def test_only_the_signs_that_are_used_are_explained() -> None:
    legend = [entry["title"] for entry in document(book(), "a4")["legend"]]
    assert "Mountain fold: away from you, as drawn" in legend
    assert "Valley fold: towards you, as drawn" in legend
    assert not [title for title in legend if title.startswith("Perforation")]


def test_a_changed_size_is_changed_everywhere_in_the_words() -> None:
    before, after = text_of(typeset(book(22.0), "a4")), text_of(typeset(book(30.0), "a4"))
    assert "168 × 128 mm" in before
    assert "184 × 144 mm" in after  # 124 + 2 * 30, 84 + 2 * 30
    assert "168 × 128 mm" not in after
    assert "Depth 30 1 3/16" in after


def test_words_cannot_act_as_markup() -> None:
    span = at("content/x/pattern.md", 1)
    nasty = '#panic(1) = no *stars* _here_ $x$ @ref <tag> \\ `raw` #include "/etc/passwd"'
    said = text_of(
        typeset(with_pattern(body=(Block("paragraph", span, (Run(nasty, span),)),)), "a4")
    )
    assert nasty.replace(" ", "") in said.replace(" ", "")


def test_text_of_all_kinds_is_set() -> None:
    span = at("content/x/pattern.md", 1)

    def run(text: str, *style: str, href: str = "") -> Run:
        return Run(text, span, style, href)

    def item(text: str, *children: Block) -> Block:
        return Block("item", span, (run(text),), children)

    inner = Block("bullets", span, children=(item("inner"),))
    cells = tuple(Block("cell", span, (run(t),)) for t in ("a", "b"))
    body = (
        Block("paragraph", span, (run("plain "), run("strong", "strong"), run("em", "emph"))),
        Block("paragraph", span, (run("link", href="https://example.org"), run("code", "code"))),
        Block("bullets", span, children=(item("one", inner), item("two"))),
        Block("numbered", span, children=(item("first"),)),
        Block("quote", span, (run("quoted"),)),
        Block("tip", span, children=(Block("paragraph", span, (run("a tip"),)),)),
        Block("rule", span),
        Block("table", span, children=(Block("row", span, children=cells),) * 2),
        Block("heading", span, (run("More"),), level=2),
        Block("paragraph", span, (run("last"),)),
    )
    said = text_of(typeset(with_pattern(body=body), "letter"))
    for words in ("plain strong", "inner", "two", "first", "quoted", "a tip", "More", "last"):
        assert words in said


def test_a_photograph_is_shown_with_its_words() -> None:
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (40, 30), (180, 160, 120)).save(out, "PNG")
    span = at("content/x/pattern.md", 1)
    picture = Block("picture", span, (Run("the box on a shelf", span),), name="shelf.png")
    shown = replace(with_pattern(body=(picture,)), photographs=(("shelf.png", out.getvalue()),))
    reader = PdfReader(io.BytesIO(typeset(shown, "a4")))
    sizes = [
        (i.image.width, i.image.height) for page in reader.pages for i in page.images if i.image
    ]
    assert sizes == [(40, 30)]


def test_many_sizes_run_over_pages_and_long_words_over_the_card() -> None:
    span = at("content/x/pattern.md", 1)
    size = book().pattern.sizes[2]
    many = tuple(replace(size, name=f"size number {n}") for n in range(90))
    said = lines_of(typeset(with_pattern(sizes=many), "a4"))
    assert sum("Size number" in line for line in said) == 90
    long = " ".join(["Fold it and look at it from all sides before you go on."] * 120)
    words = Block("paragraph", span, (Run(long, span),))
    body = tuple(
        part
        for block in book().pattern.body
        for part in ((words, block) if block.kind == "step" and block.name == "2" else (block,))
    )
    said_all = text_of(typeset(with_pattern(body=body), "letter"))
    assert said_all.count("look at it from all sides") == 120


def test_letters_that_no_face_has_are_found_first() -> None:
    span = at("content/x/pattern.md", 7)
    pattern = replace(
        book().pattern, body=(Block("paragraph", span, (Run("a 🌱 and 漢 – “fine” ½", span),)),)
    )
    (finding,) = missing_letters(pattern, house_theme())
    assert finding.code == CODE
    assert finding.places[0].span.line == 7
    assert "🌱" in finding.message
    assert "漢" in finding.message
    assert "½" not in finding.message
    assert missing_letters(book().pattern, house_theme()) == ()
    with pytest.raises(TemplateError, match="could not be displayed"):
        typeset(replace(book(), pattern=pattern), "a4")


@pytest.mark.parametrize(
    "template",
    [
        '#import "@preview/thing:1.0.0": *',
        '#let a = "@preview" + "/thing:1.0.0"\n#import a',
        '#include("@local/x:1.0.0")',
        '#eval("1 + 1")',
        '// a comment\n#import /* here */ ("@" + "preview/x:1.0.0")',
    ],
)
def test_a_template_that_reaches_out_is_refused(template: str) -> None:
    with pytest.raises(TemplateError):
        refuse_reaching_out(template)
    with pytest.raises(TemplateError):
        typeset(replace(book(), template=template), "a4")


def test_a_template_reads_no_file_of_the_machine() -> None:
    for path in ("/etc/hostname", "../pyproject.toml"):
        reading = replace(book(), template=f'#read("{path}")')
        with pytest.raises(TemplateError):
            typeset(reading, "a4")


def test_the_house_template_passes() -> None:
    refuse_reaching_out(book().template)
