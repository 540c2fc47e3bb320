"""Fences with another word than ours: meant as one of them, or text of the booklet."""

from __future__ import annotations

import pytest

from tests.language.reading import quoted, read

OUTLINE = "outline rectangle, 50 x 40 mm\n"


@pytest.mark.parametrize(
    ("opening", "lines", "meant"),
    [
        ("peice card, in card", OUTLINE, "piece"),
        ("pieces card, in card", OUTLINE, "piece"),
        ("part card, in card", "", "piece"),
        ("card", OUTLINE, "piece"),
        ("stpe", "", "step"),
        ("making", "score card\n\nturn over card\n", "step"),
        ("szies", "", "sizes"),
        ("measures", "gap = 4 mm\ntab width = 1/2 in, from 10 mm to 20 mm\n", "sizes"),
        ("fit", "", "fits"),
        ("claims", "packet goes into card\n", "fits"),
    ],
)
def test_a_fence_of_ours(opening: str, lines: str, meant: str) -> None:
    _, findings, text = read(f"\n```{opening}\n{lines}```\n")
    finding = next(f for f in findings if f.code == "unknown-fence")
    assert quoted(text, finding) == opening.split()[0]
    assert f"‘{meant}’" in finding.message
    edit = finding.ways_out[0].edit
    assert edit is not None
    assert edit.text == meant


def test_a_fence_without_a_word() -> None:
    _, (finding,), text = read(f"\n```\n{OUTLINE}```\n")
    assert finding.code == "unknown-fence"
    assert quoted(text, finding) == "```"
    edit = finding.ways_out[0].edit
    assert edit is not None
    assert edit.text == "```piece"


@pytest.mark.parametrize(
    ("opening", "lines"),
    [
        ("python", "tab = 12\nfold(card)\n"),
        ("console", "$ publisher check\n"),
        ("sh", "cut -d, -f2 sizes\n"),
        ("fish", "fold -w 80\n"),
        ("text", "depth = 22 mm\n"),
        ("list", "one\n"),
        ("pipe", "reed\n"),
        ("", "A poem,\nin lines.\n"),
        ("", ""),
    ],
)
def test_a_fence_of_something_else(opening: str, lines: str) -> None:
    assert read(f"\n```{opening}\n{lines}```\n")[1] == []
