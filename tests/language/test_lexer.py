"""Terminals: the longest match, names as runs of free words."""

from __future__ import annotations

import re

import pytest

from publisher.diagnostics import Diagnostic
from publisher.language import words
from publisher.language.lexer import MAX_BRACKETS, MAX_OPERATORS, lex
from publisher.language.lines import Line, read_lines
from publisher.language.numbers import amount
from publisher.language.words import RESERVED, Mode
from publisher.source import SourceText
from publisher.source.text import plain_mapping


def lexed(text: str, mode: Mode = "piece") -> tuple[list[tuple[str, str]], list[Diagnostic]]:
    body = plain_mapping(SourceText.of(text, "f"), 0, len(text))
    found = lex(body, text, Line(0, len(text)), mode)
    return [(t.kind, t.text) for t in found.tokens], list(found.findings)


def kinds(text: str, mode: Mode = "spoken") -> list[tuple[str, str]]:
    tokens, findings = lexed(text, mode)
    assert findings == []
    return tokens


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("5 1/4 in", [("MEASURE", "5 1/4 in")]),
        ("5¼ in", [("MEASURE", "5¼ in")]),
        ("12mm", [("MEASURE", "12mm")]),
        ("12 MM", [("MEASURE", "12 MM")]),
        ("90 degrees", [("MEASURE", "90 degrees")]),
        ("1/3", [("NUMBER", "1/3")]),
        ("2.5", [("NUMBER", "2.5")]),
        (".5 mm", [("MEASURE", ".5 mm")]),
        ("80x120 mm", [("NUMBER", "80"), ("X", "x"), ("MEASURE", "120 mm")]),
        ("80 × 120 mm", [("NUMBER", "80"), ("X", "×"), ("MEASURE", "120 mm")]),
        ("panel 1", [("NAME", "panel 1")]),
        ("panel 1 mm", [("NAME", "panel"), ("MEASURE", "1 mm")]),
        ("tab 1 1/4 in", [("NAME", "tab"), ("MEASURE", "1 1/4 in")]),
        ("half-lap", [("NAME", "half-lap")]),
        ("back - spine", [("NAME", "back"), ("MINUS", "-"), ("NAME", "spine")]),
        ("back-spine", [("NAME", "back-spine")]),
        ("a - 5 mm", [("MINUS", "-"), ("MEASURE", "5 mm")]),
        ("front wall", [("NAME", "front wall")]),
        ("front face", [("FACE", "front face")]),
        ("Left  Wall", [("NAME", "Left  Wall")]),
        ("left of wall", [("SIDE", "left"), ("OF", "of"), ("NAME", "wall")]),
        ("top left", [("CORNER", "top left")]),
        ("top left wall", [("CORNER", "top left"), ("NAME", "wall")]),
        ("6 mm in from left", [("MEASURE", "6 mm"), ("DIRECTION", "in from"), ("SIDE", "left")]),
        ("6 in in from left", [("MEASURE", "6 in"), ("DIRECTION", "in from"), ("SIDE", "left")]),
        ("1/3 of the way along a", [("NUMBER", "1/3"), ("DIRECTION", "of the way along")]),
        ("box when closed and full", [("NAME", "box"), ("STATE", "when closed and full")]),
        ("when box is at least", [("WHEN", "when"), ("NAME", "box"), ("COMPARE", "is at least")]),
        ("the wall of a box", [("NAME", "wall"), ("OF", "of"), ("NAME", "box")]),
        ("lower of page", [("NAME", "lower"), ("OF", "of"), ("NAME", "page")]),
        ("inside", [("NAME", "inside")]),
        ("a6 card", [("NAME", "a6 card")]),
    ],
)  # fmt: skip
def test_terminals(text: str, expected: list[tuple[str, str]]) -> None:
    assert kinds(text) == expected


def test_words_of_one_fence_are_free_in_others() -> None:
    assert kinds("else", "sizes") == [("ELSE", "else")]
    assert kinds("fold else", "step") == [("HEAD", "fold"), ("NAME", "else")]
    assert kinds("box covers lid", "fits") == [
        ("NAME", "box"),
        ("VERB", "covers"),
        ("NAME", "lid"),
    ]
    assert kinds("press covers", "step") == [("HEAD", "press"), ("NAME", "covers")]
    assert kinds("variant mini: a", "sizes")[0] == ("VARIANT", "variant")
    assert kinds("variant = 3 mm", "sizes")[0] == ("NAME", "variant")


def test_the_reserved_list_stays_short() -> None:
    assert len(RESERVED) <= 45
    assert not RESERVED & {"inside", "outside", "front", "back", "cover", "way", "file", "face"}


def test_every_phrase_is_looked_for_at_its_first_word() -> None:
    for start, (_, pattern) in words.PHRASES.items():
        assert start in re.findall(r"[a-z]+", pattern.pattern.split(r"\s+")[0])


def test_a_head_may_be_any_word() -> None:
    assert kinds("over lid", "step")[0] == ("HEAD", "over")


@pytest.mark.parametrize(
    ("text", "code", "said", "mended"),
    [
        ("12 inches", "unknown-unit", "inches", "12 in"),
        ('12" wide', "unknown-unit", '"', "12 in"),
        ("12 millimetres", "unknown-unit", "millimetres", "12 mm"),
        ("1.5 m", "unknown-unit", "m", "1500 mm"),
        ("2 feet", "unknown-unit", "feet", "24 in"),
        ("90°", "unknown-unit", "°", "90 degrees"),
        ("10 px", "unknown-unit", "px", None),
        ("1,5 mm", "number", "1,5", "1.5"),
        ("5-1/4 in", "number", "5-1/4", "5 1/4"),
        ("1/0 mm", "number", "1/0", None),
        ("1" * 40, "number", "1" * 40, None),
        ("5 mm; 3", "unknown-sign", ";", None),
    ],
)
def test_slips_in_numbers_and_units(text: str, code: str, said: str, mended: str | None) -> None:
    _, findings = lexed(text, "spoken")
    (finding,) = findings
    span = finding.places[0].span
    assert finding.code == code
    assert text[span.start : span.end] == said
    edits = [w.edit.text for w in finding.ways_out if w.edit is not None]
    assert edits == ([] if mended is None else [mended])


def test_a_note_after_a_plain_number_is_no_inch_mark() -> None:
    assert kinds('sheets = 3 "to a bundle"', "sizes")[-1] == ("STRING", '"to a bundle"')


@pytest.mark.parametrize(
    ("written", "value"),
    [("5 1/4", 5.25), ("5¼", 5.25), ("½", 0.5), ("3/8", 0.375), ("2.50", 2.5), ("1/0", None)],
)  # fmt: skip
def test_amounts(written: str, value: float | None) -> None:
    assert amount(written) == value


def test_sums_are_bounded() -> None:
    for text in ("(" * (MAX_BRACKETS + 1), "1" + " + 1" * (MAX_OPERATORS + 1), "-" * 200):
        _, findings = lexed(text, "spoken")
        assert [f.code for f in findings] == ["sum-too-long"]
    assert lexed("1, " * 90 + "2", "spoken")[1] == []
    assert [f.code for f in lexed("1, " * 4000, "spoken")[1]] == ["line-too-long"]
    assert [f.code for f in lexed("long " * 40, "spoken")[1]] == ["name-too-long"]


def lines(text: str) -> tuple[list[str], list[str]]:
    body = plain_mapping(SourceText.of(text, "f"), 0, len(text))
    masked, found, _, findings = read_lines(body)
    return [" ".join(masked[x.start : x.end].split()) for x in found], [f.code for f in findings]


def test_lines_comments_and_continuations() -> None:
    assert lines("a = 1 # one\n\n# nothing\nb = 2,\n   # between\n  from 1\n") == (
        ["a = 1", "b = 2, from 1"],
        [],
    )
    assert lines("  a\n    b\n  c\n") == (["a b", "c"], [])
    assert lines("\ta\n\t\tb\n\tc\n") == (["a b", "c"], [])
    assert lines('a "no # comment" # comment\n') == (['a "no # comment"'], [])
    assert lines("a “curly # note”\n") == (["a “curly # note”"], [])
    assert lines('a "open\nb\n') == (["b"], ["quotation-mark"])
    assert lines("") == ([], [])


def test_a_side_in_the_midst_of_a_name_is_a_part_of_it() -> None:
    assert kinds("fold lower left dust of carton", "step") == [
        ("HEAD", "fold"),
        ("NAME", "lower left dust"),
        ("OF", "of"),
        ("NAME", "carton"),
    ]
    assert ("SIDE", "left") in kinds("glue upper left of base", "step")
