"""The pages of the guide say what is so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from publisher.language.reference import PAGE, page
from publisher.pipeline import Outcome, check_text
from tests.compiled import codes, workshop

ROOT = Path(__file__).resolve().parents[2]
GUIDE = ROOT / "publisher" / "guide"


def snippet(file: Path, name: str) -> str:
    """The pattern after ``<!-- snippet: NAME -->``."""
    text = file.read_text(encoding="utf-8")
    found = re.search(rf"<!-- snippet: {name} -->\n````markdown\n(.*?)````\n", text, re.DOTALL)
    assert found is not None
    return found[1]


def checked(text: str) -> Outcome:
    return check_text(text.encode(), "content/trial/pattern.md", "trial", workshop().trade)


def test_the_page_of_statements_is_current() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "python -m publisher.language.reference"


def test_the_first_pattern_of_the_readme_is_clean() -> None:
    assert codes(checked(snippet(ROOT / "README.md", "first pattern"))) == []


def test_the_seed_folder_passes_and_is_answered_as_told_when_it_is_too_short() -> None:
    page_file = GUIDE / "first-pattern.md"
    text = snippet(page_file, "seed folder")
    assert codes(checked(text)) == []
    (finding,) = checked(text.replace("pocket = 114 mm", "pocket = 90 mm")).diagnostics
    told = re.search(r"```text\n(.*)\n```", page_file.read_text(encoding="utf-8"))
    assert told is not None
    assert finding.message.startswith(told[1])


@pytest.mark.parametrize("name", ["first-pattern.md", "statements.md"])
def test_pages_name_files_that_are_there(name: str) -> None:
    text = (GUIDE / name).read_text(encoding="utf-8")
    for file in re.findall(r"`([\w-]+\.md|codes/)`", text):
        assert (GUIDE / file).exists() or file == "pattern.md", file
