"""``publisher tidy`` on a workshop of its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from publisher.cli.commands import publisher
from publisher.workshop import start_workshop

LOOSE = "---\nform: dish\nsummary: S.\n---\n\n```sizes\nspan=asked # why\n```\n"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "shop"
    assert start_workshop(folder) is not None
    (folder / "content" / "forms").mkdir()
    (folder / "content" / "forms" / "dish.md").write_text(LOOSE, encoding="utf-8")
    monkeypatch.chdir(folder)
    return folder


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(publisher, ["tidy", *words])
    return result.exit_code, result.output


def test_check_says_what_is_not_tidy_and_writes_nothing(shop: Path) -> None:
    code, said = run("--check")
    assert code == 1
    assert "content/forms/dish.md: not tidy" in said
    assert "content/first-pattern/pattern.md: tidy" in said
    assert (shop / "content/forms/dish.md").read_text(encoding="utf-8") == LOOSE


def test_it_sets_forms_and_patterns_and_is_then_content(shop: Path) -> None:
    code, said = run()
    assert (code, "content/forms/dish.md: set" in said) == (0, True)
    text = (shop / "content/forms/dish.md").read_text(encoding="utf-8")
    assert "span = asked  # why\n" in text
    assert run("--check")[0] == 0


def test_named_patterns_alone(shop: Path) -> None:
    file = shop / "content/first-pattern/pattern.md"
    before = file.read_text(encoding="utf-8")
    file.write_text(before.replace(" = ", "="), encoding="utf-8")
    code, said = run("first-pattern")
    assert (code, said) == (0, "content/first-pattern/pattern.md: set\n")
    assert file.read_text(encoding="utf-8") == before
    assert run("no-such-pattern")[0] == 1


def test_a_mark_at_the_beginning_stays(shop: Path) -> None:
    file = shop / "content/forms/dish.md"
    file.write_bytes(b"\xef\xbb\xbf" + LOOSE.encode())
    assert run()[0] == 0
    assert file.read_bytes().startswith(b"\xef\xbb\xbf---\n")
