"""Tidy: one way of writing, the same words, and nothing left to do the second time."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.language import parse
from publisher.language.ast import SizeDefinition
from publisher.language.tidy import tidied
from publisher.source import read_document
from tests.compiled import ROOT, compile_text

SOURCES = sorted(
    [
        *ROOT.glob("content/*/pattern.md"),
        *ROOT.glob("content/forms/*.md"),
        *ROOT.glob("shared/forms/*.md"),
        *ROOT.glob("publisher/workshop/starter/content/*/pattern.md"),
    ]
)
HEAD = "---\ntitle: T\n---\n"


def tidy(text: str) -> str:
    document, _ = read_document(text, "pattern.md")
    return text if document is None else tidied(document)


def body(text: str) -> str:
    return tidy(HEAD + text).removeprefix(HEAD)


def test_sizes_stand_under_each_other() -> None:
    before = (
        '```sizes\nb=5 mm,from 1 mm to 9 mm   "so deep"\nlong name=( 3 mm+b )  "so long"\n```\n'
    )
    after = (
        "```sizes\n"
        'b         = 5 mm, from 1 mm to 9 mm  "so deep"\n'
        'long name = (3 mm+b)                 "so long"\n'
        "```\n"
    )
    assert body(before) == after


def test_lines_go_on_in_one_column() -> None:
    before = (
        "```piece box, in card\n"
        "panel base ,60  x 40 mm   # the floor\n"
        "# walls\n"
        "panel   wall, on top of base,\n"
        "  9 mm deep,   mountain\n"
        "\n"
        "notch vee, 4 mm wide, at middle of top of wall\n"
        "```\n"
    )
    after = (
        "```piece box, in card\n"
        "panel    base, 60 x 40 mm  # the floor\n"
        "# walls\n"
        "panel    wall, on top of base,\n"
        "         9 mm deep, mountain\n"
        "\n"
        "notch    vee, 4 mm wide, at middle of top of wall\n"
        "```\n"
    )
    assert body(before) == after


def test_prose_and_other_fences_are_left_alone() -> None:
    text = "Some   prose ,  {a}.\n\n```text\n a=5\n```\n\n| a | b |\n|--|--|\n| 1   | 2 |\n"
    assert body(text) == text


def test_a_fence_with_a_slip_is_left_as_it_is() -> None:
    text = "```sizes\nb=5 mm,,\nc=6 mm\n```\n"
    assert body(text) == text


def test_fences_in_quotes_and_lists_keep_their_marks() -> None:
    assert body("> ```sizes\n> b=5 mm\n> bc   = 6 mm\n> ```\n") == (
        "> ```sizes\n> b  = 5 mm\n> bc = 6 mm\n> ```\n"
    )
    assert body("- x\n\n  ```sizes\n  b=5 mm\n  ```\n") == "- x\n\n  ```sizes\n  b = 5 mm\n  ```\n"


def test_line_breaks_of_other_systems_stay() -> None:
    assert body("```sizes\r\nb=5 mm\r\n```\r\n") == "```sizes\r\nb = 5 mm\r\n```\r\n"


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: f"{p.parent.name}-{p.stem}")
def test_patterns_and_forms_are_tidy(path: Path) -> None:
    text = path.read_bytes().decode("utf-8")
    assert tidy(text) == text, "run: publisher tidy"


def test_the_pattern_means_the_same() -> None:
    text = (ROOT / "content/sliding-box/pattern.md").read_text(encoding="utf-8")
    loose = text.replace(" = ", "=").replace(", ", " ,  ")
    assert tidy(loose.replace(" ,  ", " , ")).count(" = ") > 3
    first, second = (compile_text("", head=t).pattern for t in (text, tidy(text)))
    assert first is not None
    assert second is not None
    assert [p.outline for p in first.pieces] == [p.outline for p in second.pieces]


# ---------------------------------------------------------------- any text

SPACE = st.text(" \t", max_size=3)
WORD = st.sampled_from(
    ["a", "long name", "5 mm", "1/2 in", "=", ",", "(", ")", "+", "-", "x", ":", "of", "panel",
     "variant", "from", "to", '"a note"', "“so”", '"', "# why", "when closed", "é", "saying",
     "asked", "mountain", "top", "at", "\u00a0", "\u3000"]
)  # fmt: skip
TEXT = st.lists(st.tuples(SPACE, WORD), max_size=8).map(lambda w: "".join(a + b for a, b in w))
FENCE = st.tuples(
    st.sampled_from(["sizes", "piece box, in card", "step", "fits"]), st.lists(TEXT, max_size=6)
).map(lambda f: f"```{f[0]}\n" + "".join(f"{line}\n" for line in f[1]) + "```\n")


@given(st.lists(st.one_of(FENCE, TEXT), max_size=4))
def test_it_is_its_own_fixed_point(blocks: list[str]) -> None:
    once = body("\n\n".join(blocks))
    assert body(once) == once


@given(FENCE)
def test_words_are_never_changed(fence: str) -> None:
    def said(text: str) -> list[tuple[str, str]]:
        document, _ = read_document(HEAD + text, "p.md")
        assert document is not None
        program, _ = parse(document)
        sizes: tuple[SizeDefinition, ...] = program.sizes
        return [(s.name.text, s.note.text if s.note else "") for s in sizes]

    assert said(body(fence)) == said(fence)
    assert "".join(body(fence).split()) == "".join(fence.split())
