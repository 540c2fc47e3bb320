"""A booklet with one figure changed is caught; the project's own booklets are right."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache, partial

import pytest
from msgspec.structs import replace

from publisher import booklet
from publisher.booklet import gather, read_cautions
from publisher.booklet.types import BookletInput, PaperName, Picture
from publisher.booklet.typeset import typeset
from publisher.cutfiles import cut_sheets
from publisher.pipeline import Outcome, build_bundle, check_pattern, on_sheets
from publisher.readback import Known, known, measure_booklets
from publisher.readback.booklet_figures import compared_text
from publisher.readback.figures import figures_on, page_of, pages_of
from tests.booklet.book import house_licence, house_template, house_theme
from tests.compiled import ROOT, compile_text, workshop

NAMES = sorted(path.name for path in (ROOT / "content").iterdir())
CODE = "printed-figure-differs"
STAGES_THAT_WRITE = ("publisher.units", "publisher.booklet", "publisher.drawing")


@cache
def book(name: str) -> BookletInput:
    outcome = laid(name)
    assert outcome.pattern is not None
    assert outcome.story is not None
    return gather(
        outcome.pattern,
        outcome.story,
        outcome.sheets,
        outcome.checks,
        theme=house_theme(),
        template=house_template(),
        licence=house_licence("personal"),
        cautions=read_cautions(workshop().text("shared/cautions.toml"))[0],
        parts=outcome.cut,
        trade=workshop().trade,
    )


@cache
def laid(name: str) -> Outcome:
    return on_sheets(check_pattern(workshop(), name), workshop().trade)


@cache
def model(name: str) -> Known:
    outcome = laid(name)
    assert outcome.pattern is not None
    work = [w for _, w in cut_sheets(outcome.pattern, outcome.sheets).work]
    own = book(name)
    texts = (own.licence.text, *(t for c in own.cautions for t in (c.hazard, c.avoid)))
    return known(outcome.pattern, outcome.sheets, outcome.checks, work, texts, outcome.cut)


@cache
def pages(name: str) -> tuple[str, ...]:
    return tuple(pages_of(typeset(book(name), "a4")))


def said(name: str, changed: BookletInput) -> list[str]:
    found = measure_booklets({"box.pdf": typeset(changed, "letter")}, model(name))
    assert {d.code for d in found} <= {CODE}
    return [d.message for d in found]


# ---------------------------------------------------------------- the reader


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("12 mm (1/2 in) deep", [("12 mm (1/2 in)", [12.0], [0.5])]),
        ("84 mm\n3 5⁄16 in", [("84 mm", [84.0], []), ("3 5⁄16 in", [3.3125], [])]),
        (
            "120 × 80 mm (4 3/4 ×\n3 1/8 in)",
            [("120 × 80 mm (4 3/4 × 3 1/8 in)", [120.0, 80.0], [4.75, 3.125])],
        ),
        ("for 110 cm² (17 sq in)", [("110 cm² (17 sq in)", [110.0], [17.0])]),
        ("about 300 g/m², folded by 104.2°", [("300 g/m²", [300.0], []), ("104.2°", [104.2], [])]),
        ("2 minutes; step 3 of 4; 1:2; v1.2 mm5", []),
        ("5 mm in the middle", [("5 mm", [5.0], [])]),
        ("thread 3/0 mm, a hook of size 3⁄0 in brass, 1 2/0 in", []),
        ("1/" + "9" * 400 + " mm", []),
    ],
)
def test_figures_are_found(text: str, found: list[tuple[str, list[float], list[float]]]) -> None:
    read = [
        (f.written, [n.value for n in f.numbers], [n.value for n in (f.again or f).numbers])
        for f in figures_on(text)
    ]
    assert read == [(written, first, again or first) for written, first, again in found]


@pytest.mark.parametrize(
    "written",
    [
        "3/0 mm",
        "1/" + "9" * 400 + " in",
        "9" * 400 + " mm",
        "9" * 5000 + "/2 in",
        f"0.{'0' * 400}1 in",
    ],
)
def test_figures_that_no_ruler_has_are_answered(written: str) -> None:
    page = f"A hook {written} in brass."
    found = [d.message for d in compared_text("box", [page], model("sliding-box"))]
    assert len(found) == len(list(figures_on(page)))


@pytest.mark.parametrize("mark", ["<br/>", "<br>", "<hr />", "<input>", "<wbr>", '<img src="a">'])
def test_marks_that_nothing_closes_are_read(mark: str) -> None:
    assert page_of(f"<p>5 mm {mark} deep</p>".encode()) == "5 mm deep"
    with pytest.raises(ValueError, match="a p is closed that is not open"):
        page_of(f"<div>5 mm {mark} deep</p>".encode())


def test_a_hook_of_a_size_that_is_no_fraction_is_no_mistake() -> None:
    own = laid("sliding-box")
    assert own.pattern is not None
    pattern = replace(own.pattern, meta=replace(own.pattern.meta, summary="A hook 3/0 in brass."))
    assert known(pattern, own.sheets, own.checks, [], (), own.cut).said == model("sliding-box").said


@pytest.mark.parametrize("module", ["figures", "booklet_figures"])
def test_it_shares_no_code_with_what_writes(module: str) -> None:
    tree = ast.parse((ROOT / f"publisher/readback/{module}.py").read_text("utf-8"))
    named = [n.module or "" for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)]
    assert [n for n in named if n.startswith(STAGES_THAT_WRITE)] == []


# ---------------------------------------------------------------- right booklets


@pytest.mark.parametrize("name", NAMES)
def test_our_own_booklets_say_what_the_model_says(name: str) -> None:
    assert [d.message for d in compared_text(name, pages(name), model(name))] == []


def test_a_length_that_a_title_of_the_trade_names_too_has_its_partner() -> None:
    """A machine's title may say 22 mm; the drawer's wall of 22 mm is one all the same."""
    own = model("sliding-box")
    named = replace(own, said=own.said | {(22.0, "mm")})
    assert [d.message for d in compared_text("box", pages("sliding-box"), named)] == []


@pytest.mark.parametrize("title", ["on a mat, 12 × 24 in.", "a bed of 600 mm"])
def test_a_title_may_name_a_size_that_the_design_has_not(title: str) -> None:
    own = book("sliding-box")
    said_so = replace(own, on_cutting=(title,))
    assert said("sliding-box", said_so) != []
    outcome = laid("sliding-box")
    assert outcome.pattern is not None
    known_too = known(outcome.pattern, outcome.sheets, outcome.checks, (), (title,), outcome.cut)
    text = pages_of(typeset(said_so, "a4"))
    assert [d.message for d in compared_text("box", text, known_too)] == []


PROSE = """
```sizes
wide = 60 mm
many = 4
lean = 12.5 degrees
```

Cut **60** mm of it, {wide} in all, {many} mm at a time and {wide / many} each; 3 in 10 lean by
{lean}, or between 10 and 12 mm. One in 100 does not.

| what | how much |
|---|---|
| tape | 15 cm |

```piece slip, in card
outline rectangle, wide x 40 mm
```

```step
lay slip
```
"""


@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_the_author_says_in_prose_is_said(units: str) -> None:
    outcome = on_sheets(compile_text(PROSE, units), workshop().trade)
    assert outcome.pattern is not None
    assert outcome.story is not None
    told = gather(
        outcome.pattern,
        outcome.story,
        outcome.sheets,
        outcome.checks,
        theme=house_theme(),
        template=house_template(),
        licence=house_licence("personal"),
        cautions=(),
        trade=workshop().trade,
    )
    own = known(outcome.pattern, outcome.sheets, outcome.checks, (), ())
    text = pages_of(typeset(told, "a4"))
    assert [d.message for d in compared_text("slip", text, own)] == []
    wrong = [page.replace("15 mm", "14 mm") for page in text]
    assert wrong != text
    assert list(compared_text("slip", wrong, own))


# ---------------------------------------------------------------- one figure changed


def test_a_size_in_the_table_that_is_another_is_caught() -> None:
    own = book("sliding-box")
    sizes = tuple(
        replace(size, values=(13.0,)) if size.name == "tab" else size for size in own.pattern.sizes
    )
    wrong = replace(own, pattern=replace(own.pattern, sizes=sizes))
    assert said("sliding-box", wrong) == [
        "box.pdf: the table of sizes does not say ‘tab’ as the design has it"
    ]


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (">168 mm (6 ", ">186 mm (6 ", "nothing in the design is 186 mm (6 5⁄8 in)"),
        (">84 mm<", ">85 mm<", "85 mm is nowhere said in inches"),
        (">22 mm<", ">12 mm<", "7⁄8 in is nowhere said in millimetres"),
    ],
)
def test_a_figure_in_a_drawing_that_is_another_is_caught(old: str, new: str, message: str) -> None:
    own = book("sliding-box")

    def redrawn(picture: Picture) -> Picture:
        assert old in picture.svg
        return replace(picture, svg=picture.svg.replace(old, new))

    (first, picture), *others = own.piece_pictures
    wrong = replace(own, piece_pictures=((first, redrawn(picture)), *others))
    found = said("sliding-box", wrong)
    assert found
    assert all(m.startswith("box.pdf, page ") for m in found)
    assert message in " ".join(found)


@pytest.mark.parametrize(
    ("sentence", "wrong"),
    [
        ("It leaves 4 mm (0.157 in) of card.", False),
        ("It leaves 5 mm (0.157 in) of card.", True),
        ("It leaves 5 mm (0.197 in) of card.", True),
        ("It closes at 91°.", True),
        ("It closes at 90°.", False),
    ],
)
def test_a_figure_in_a_sentence_that_is_another_is_caught(sentence: str, wrong: bool) -> None:
    found = said("sliding-box", replace(book("sliding-box"), proven=(sentence,)))
    assert bool(found) == wrong, found


def test_a_bundle_with_a_wrong_figure_does_not_leave(monkeypatch: pytest.MonkeyPatch) -> None:
    own = booklet.typeset

    def misprinted(given: BookletInput, paper: PaperName) -> bytes:
        return own(replace(given, proven=("It leaves 77 mm (3 1/16 in) of card.",)), paper)

    monkeypatch.setattr(booklet, "typeset", misprinted)
    outcome = build_bundle(workshop(), "sliding-box")
    assert outcome.failed
    assert {d.code for d in outcome.diagnostics if d.severity == "error"} == {CODE}
    assert {d.message.split(",")[0] for d in outcome.diagnostics} == {
        "sliding-box-a4.pdf",
        "sliding-box-letter.pdf",
    }


def test_a_file_that_is_no_pdf_is_told() -> None:
    (found,) = measure_booklets({"box.pdf": b"%PDF-1.7 no more"}, model("sliding-box"))
    assert found.message.startswith("box.pdf: it cannot be read")


# ---------------------------------------------------------------- every figure, one after another

NUMBER = re.compile(r"\d+ \d+[/⁄]\d+|\d+[/⁄]\d+|\d+(?:\.\d+)?")


def figures_with_places(text: str) -> Iterator[tuple[int, int]]:
    at = 0
    for figure in figures_on(text):
        words = r"\s+".join(re.escape(word) for word in figure.written.split())
        match = re.compile(words).search(text, at)
        assert match is not None, figure.written
        at = match.end()
        for number in NUMBER.finditer(match.group()):
            if match.group()[number.end() : number.end() + 3] != "/m²":
                yield match.start() + number.start(), match.start() + number.end()


def misread(said: str) -> Iterator[str]:
    """The figure with one of its digits read as another one: each digit, each way."""
    for place, digit in enumerate(said):
        if digit.isdigit():
            for other in "123456789":
                if other != digit:
                    yield said[:place] + other + said[place + 1 :]


def escapes(name: str) -> tuple[int, list[str]]:
    tried, escaped = 0, []
    whole = pages(name)
    caught = partial(compared_text, name, known=model(name))
    for page, text in enumerate(whole):
        for start, end in figures_with_places(text):
            for wrong in misread(text[start:end]):
                tried += 1
                changed = text[:start] + wrong + text[end:]
                if not any(caught([*whole[:page], changed, *whole[page + 1 :]])):
                    escaped.append(f"page {page + 1}: {text[start:end]} as {wrong}")
    return tried, escaped


@pytest.mark.parametrize("name", ["sliding-box", "plan-wallet", "table-sign"])
def test_hardly_a_wrong_digit_anywhere_escapes(name: str) -> None:
    """What escapes is a figure in a drawing that is right for another of its lines."""
    tried, escaped = escapes(name)
    assert tried > 1000
    assert len(escaped) <= 0.03 * tried, escaped
