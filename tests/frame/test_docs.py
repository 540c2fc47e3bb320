"""What the documents say is so."""

from __future__ import annotations

import re

import pytest

from tests.frame.modules import PACKAGE, ROOT
from tests.frame.test_layers import ROOMS

DOCUMENTS = [
    path
    for path in (
        ROOT / "README.md",
        ROOT / "DEVELOPERS.md",
        PACKAGE / "workshop" / "starter" / "README.md",
        *sorted((PACKAGE / "guide").rglob("*.md")),
    )
    if path.exists()
]
TOP = ("publisher/", "tests/", "shared/", "themes/", "content/", "site/", ".ci/")
MADE = re.compile(r"^(publisher/_data|content/card-sleeve|pattern\.md$)")
"""Paths that are spoken of and come only with a build or by a reader's hand."""


def ids(path: object) -> str:
    return str(path.relative_to(ROOT))  # type: ignore[attr-defined]


@pytest.mark.parametrize("document", [ROOT / "README.md", ROOT / "DEVELOPERS.md"], ids=ids)
def test_paths_that_are_named_are_there(document: object) -> None:
    text = document.read_text(encoding="utf-8")  # type: ignore[attr-defined]
    named = set(re.findall(r"`([\w./*-]+)`", text)) | set(re.findall(r"\]\(([\w./-]+)\)", text))
    missing = [
        name
        for name in sorted(named)
        if (name.startswith(TOP) or name.endswith((".md", ".toml", ".py", ".lock")))
        and "NAME" not in name
        and not MADE.match(name)
        and not list(ROOT.glob(name.rstrip("/")))
        and not list(PACKAGE.glob(name.rstrip("/")))
    ]
    assert missing == []


def test_the_rooms_are_told_in_their_order() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert re.findall(r"^\| `(\w+)/` \|", text, re.MULTILINE) == ROOMS


@pytest.mark.parametrize("document", DOCUMENTS, ids=ids)
def test_commands_that_are_shown_exist(document: object) -> None:
    from publisher.cli.commands import publisher

    text = document.read_text(encoding="utf-8")  # type: ignore[attr-defined]
    shown = re.findall(r"(?:^\$ |^    |`)(?:\S*/)?publisher ([a-z]+)", text, re.MULTILINE)
    assert set(shown) - set(publisher.commands) == set()
    targets = set(re.findall(r"(?:^\$ |`)make ([a-z]+)", text, re.MULTILINE))
    rules = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text(), re.MULTILINE))
    assert targets - rules == set()


def snippets() -> list[tuple[str, str]]:
    """Every whole pattern that a document shows: a Markdown fence with front matter. Pages of
    codes show what is wrong as well; they have a test of their own."""
    found = []
    for document in DOCUMENTS:
        if document.parent.name == "codes":
            continue
        text = document.read_text(encoding="utf-8")
        for number, body in enumerate(
            re.findall(r"^````markdown\n(---\n.*?)^````$", text, re.MULTILINE | re.DOTALL), 1
        ):
            found.append((f"{ids(document)}-{number}", body))
    return found


@pytest.mark.parametrize(("name", "body"), snippets(), ids=[name for name, _ in snippets()])
def test_patterns_that_are_shown_are_right(name: str, body: str) -> None:
    from publisher.pipeline import check_text
    from publisher.workshop import open_workshop

    workshop, _ = open_workshop(ROOT)
    outcome = check_text(body.encode(), "content/shown/pattern.md", "shown", workshop.trade)
    assert [d.message for d in outcome.diagnostics] == []


def test_the_first_pattern_of_a_new_workshop_is_right() -> None:
    from publisher.pipeline import check_text
    from publisher.workshop import open_workshop

    workshop, _ = open_workshop(ROOT)
    shown = "content/first-pattern/pattern.md"
    data = (PACKAGE / "workshop" / "starter" / shown).read_bytes()
    outcome = check_text(data, shown, "first-pattern", workshop.trade)
    assert [d.message for d in outcome.diagnostics] == []


def test_the_changelog_keeps_its_form() -> None:
    """Keep a Changelog 1.1.0: versions newest first with their date, changes by kind."""
    text = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    heads = re.findall(r"^## (.+)$", text, re.MULTILINE)
    assert heads[0] == "[Unreleased]"
    for head in heads[1:]:
        assert re.fullmatch(r"\[\d+\.\d+\.\d+\] - \d{4}-\d\d-\d\d", head), head
    kinds = {"Added", "Changed", "Deprecated", "Removed", "Fixed", "Security"}
    assert set(re.findall(r"^### (.+)$", text, re.MULTILINE)) <= kinds


def test_ci_runs_make_test_and_nothing_else() -> None:
    lines = (ROOT / ".ci" / "run").read_text().splitlines()
    said = [line for line in lines if line and not line.startswith(("#", "set ", "cd "))]
    assert said == ["make test"]


def test_every_package_is_locked_with_its_hash() -> None:
    text = (ROOT / "requirements.lock").read_text()
    blocks = re.split(r"\n(?=\S)", text)
    packages = [block for block in blocks if not block.startswith("#")]
    assert len(packages) > 20
    for block in packages:
        assert re.match(r"[a-z0-9-]+==\S+( ; [^\\]+)? \\\n", block), block[:80]
        assert "--hash=sha256:" in block, block[:80]


def test_every_dependency_is_in_the_lock() -> None:
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    locked = set(re.findall(r"^([a-z0-9-]+)==", (ROOT / "requirements.lock").read_text(), re.M))
    wanted = [*project["dependencies"], *project["optional-dependencies"]["dev"]]
    names = {re.split(r"[\[<>=!~; ]", want)[0].lower().replace("_", "-") for want in wanted}
    assert names - locked == set()
