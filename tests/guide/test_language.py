"""The reference of the language: current, complete, and every example in it is built."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from publisher.checks.rules.provable import PROVEN
from publisher.language.functions import FUNCTIONS
from publisher.language.reference import (
    AFTER,
    BEFORE,
    CHAPTERS,
    EXAMPLES,
    PAGE,
    example_file,
    page,
)
from publisher.language.statements import FITS, STATEMENTS, Where
from publisher.source.matter import PATTERN_KEYS
from tests.compiled import codes, compile_text, workshop

BUILT: list[tuple[Where, str]] = [
    (where, spec.head)
    for where, specs in STATEMENTS.items()
    for spec in specs.values()
    if spec.built
] + [("fits", verb) for verb in FITS if verb in PROVEN]


def text() -> str:
    return PAGE.read_text(encoding="utf-8")


def chapter(name: str) -> str:
    return (CHAPTERS / f"{name}.md").read_text(encoding="utf-8")


def whole(example: str) -> str:
    """With a step that takes the pieces up, where the example has none."""
    named = re.findall(r"^```piece ([^,\n]+)", example, re.MULTILINE)
    if not named or "```step" in example:
        return example
    return example + "\n\n```step\n" + "".join(f"lay {n.strip()}\n" for n in named) + "```\n"


def shown_in_chapters() -> list[tuple[str, str]]:
    """What each chapter shows as design, one pattern for each run of fences."""
    found = []
    for name in (*BEFORE, *AFTER):
        said = chapter(name)
        blocks = re.findall(r"^````markdown\n(.*?)^````$", said, re.MULTILINE | re.DOTALL)
        said = re.sub(r"^````markdown\n.*?^````$", "", said, flags=re.MULTILINE | re.DOTALL)
        runs = re.findall(
            r"(?:^```(?:sizes|piece|step|fits)[^\n]*\n.*?^```\n\s*)+",
            said,
            re.MULTILINE | re.DOTALL,
        )
        found += [(f"{name}-{i}", body) for i, body in enumerate([*blocks, *runs], 1)]
    return found


def test_the_page_is_current() -> None:
    assert text() == page(), "run: python -m publisher.language.reference"


@pytest.mark.parametrize(("where", "head"), BUILT, ids=lambda v: str(v))
def test_a_whole_example_is_there_and_builds(where: Where, head: str) -> None:
    file = example_file(where, head)
    assert file.is_file(), f"a whole example of ‘{head}’ is wanted in {file}"
    example = file.read_text(encoding="utf-8")
    assert head in example or where == "sizes"
    assert codes(compile_text("\n" + whole(example))) == []


def test_no_example_is_left_over() -> None:
    known = {example_file(where, head) for where, head in BUILT}
    assert set(EXAMPLES.rglob("*.md")) - known == set()


@pytest.mark.parametrize(
    ("name", "body"), shown_in_chapters(), ids=[n for n, _ in shown_in_chapters()]
)
def test_what_a_chapter_shows_builds(name: str, body: str) -> None:
    assert codes(compile_text("\n" + whole(body))) == []


def test_every_chapter_is_stitched_in() -> None:
    assert sorted(file.stem for file in CHAPTERS.glob("*.md")) == sorted((*BEFORE, *AFTER))
    assert len(shown_in_chapters()) >= 8


def test_every_key_of_the_front_matter_is_told_and_right() -> None:
    shown = re.search(r"^```text\n(---\n.*?---\n)```$", chapter("front-matter"), re.M | re.S)
    assert shown is not None
    told = re.findall(r"^\| `(\w+)` \|", chapter("front-matter"), re.MULTILINE)
    assert told == [key.name for key in PATTERN_KEYS]
    assert re.findall(r"^(\w+): ", shown[1], re.MULTILINE) == told
    body = "\n```piece label, in card\noutline rectangle, 60 x 40 mm\n```\n"
    assert codes(compile_text(whole(body), head=shown[1])) == []


def test_measures_that_a_table_tells_can_be_spoken() -> None:
    """The table ‘What you need not measure’, each row spoken in a pattern that has it all."""
    rows = re.findall(r"^\| (`.*) \| .* \|$", chapter("sizes"), re.MULTILINE)
    said = [m for row in rows for m in re.findall(r"`([^`]+)`", row) if not m.endswith(" of")]
    assert len(said) >= 10
    body = (Path(__file__).with_name("measured.md")).read_text(encoding="utf-8")
    for measure in said:
        assert codes(compile_text(f"\nIt is {{{measure}}}.\n\n{body}")) == [], measure


def test_shapes_that_a_table_tells_can_be_cut() -> None:
    rows = re.findall(r"^\| `([^`]+)` \|", chapter("shapes"), re.MULTILINE)
    assert len(rows) == 10
    for shape in rows:
        line = f"outline {shape}"
        if not shape.startswith(("ring", "points", "path")):
            line = f"outline rectangle, 100 x 100 mm\nwindow {shape}, at middle"
        body = f"```piece plate, in card\n{line}\n```\n"
        assert codes(compile_text("\n" + whole(body))) == [], shape


def test_functions_are_listed() -> None:
    assert all(f"`{name}(" in text() for name in FUNCTIONS)


def test_what_is_known_is_what_is_in_the_shared_data() -> None:
    trade = workshop().trade
    for word, known in (
        ("Papers", trade.stocks),
        ("Sheets", trade.sheets),
        ("Things", trade.objects),
        ("Post", trade.posts),
        ("Licences", trade.licences),
    ):
        told = re.search(rf"^{word}: (.*?)\.$", chapter("known"), re.M | re.S)
        assert told is not None
        assert sorted(re.findall(r"`([^`]+)`", told[1])) == sorted(known), word


def test_the_proven_verbs_are_the_proven_ones() -> None:
    (told,) = re.findall(r"proven today: (.*?)\. The", chapter("fits"), re.S)
    assert tuple(re.findall(r"`([^`]+)`", told)) == PROVEN


def test_what_is_said_to_be_missing_is_refused() -> None:
    """Whoever builds one of these takes it out of the chapter."""
    not_yet = chapter("not-yet")
    assert "<!-- not yet -->" in not_yet
    card = "```piece card, in card\noutline rectangle, 60 x 40 mm\n{}\n```\n"
    for line in ("notch vee, 6 mm wide, mirrored, at middle of top",):
        assert codes(compile_text("\n" + whole(card.format(line)))) == ["not-yet"]
