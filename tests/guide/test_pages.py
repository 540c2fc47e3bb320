"""The pages of the guide name what is there, and the first pattern of the README is clean."""

from __future__ import annotations

import re

import pytest

from publisher.cli.commands import publisher
from publisher.pipeline import check_text
from tests.compiled import ROOT, codes, workshop

GUIDE = ROOT / "publisher" / "guide"
PAGES = sorted(path.name for path in GUIDE.glob("*.md"))


def test_the_first_pattern_of_the_readme_is_clean() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    found = re.search(r"<!-- snippet: first pattern -->\n````markdown\n(.*?)````\n", text, re.S)
    assert found is not None
    outcome = check_text(found[1].encode(), "content/trial/pattern.md", "trial", workshop().trade)
    assert codes(outcome) == []
    assert outcome.pattern is not None


def test_every_page_stands_in_the_index() -> None:
    text = (GUIDE / "index.md").read_text(encoding="utf-8")
    linked = re.findall(r"\]\(([^)]+)\)", text)
    assert sorted(linked) == sorted([*(p for p in PAGES if p != "index.md"), "codes/", "forms/"])


@pytest.mark.parametrize("name", PAGES)
def test_pages_name_files_that_are_there(name: str) -> None:
    text = (GUIDE / name).read_text(encoding="utf-8")
    text = re.sub(r"^(`{3,}).*?^\1$", "", text, flags=re.M | re.S)
    named = re.findall(r"`((?:[\w-]+/)*[\w-]+\.md|codes/|chapters/|examples/)`", text)
    named += re.findall(r"\]\(([^)]+)\)", text)
    for file in named:
        assert (GUIDE / file).exists() or file.endswith("pattern.md"), file


def test_every_command_stands_in_the_index() -> None:
    text = (GUIDE / "index.md").read_text(encoding="utf-8")
    assert set(re.findall(r"^\| `publisher (\w+)", text, re.M)) == set(publisher.commands)
