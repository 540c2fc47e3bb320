"""The first pattern of the guide, done as a reader does it: every block, every command.

How many checks pass stands there as it is printed. Where it has changed with the tool,
``RENEW_GUIDE=1`` before this test writes it anew.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from publisher.cli.commands import publisher
from tests.compiled import ROOT
from tests.guide.growing import Run, blocks, grown, lines_of_backticks, part, runs

PAGE = ROOT / "publisher" / "guide" / "first-pattern.md"


def page() -> str:
    return PAGE.read_text(encoding="utf-8")


def test_the_page_leads_from_a_new_workshop_to_a_bundle(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    place = tmp_path
    typed: list[str] = []
    counts: dict[tuple[int, str], str] = {}
    for run in runs(page()):
        words = run.command.split()
        if words[0] == "cd":
            place = place / words[1]
            monkeypatch.chdir(place)
            continue
        if run.pattern:
            file = place / "content" / "seed-wallet" / "pattern.md"
            file.parent.mkdir(exist_ok=True)
            file.write_text(run.pattern, encoding="utf-8")
        assert words[0] == "publisher"
        result = CliRunner().invoke(publisher, words[1:])
        count = COUNT.search(result.stdout)
        if count is not None:
            counts[run.line, run.command] = count.group()
        answers(run, result.exit_code, result.stdout)
        typed.append(words[1])
    if os.environ.get("RENEW_GUIDE"):
        PAGE.write_text(renewed(page(), counts), encoding="utf-8")
    assert {"start", "check", "bundle"} <= set(typed)
    assert (place / "build" / "bundles" / "seed-wallet-1.0.0.zip").is_file()


COUNT = re.compile(r"\d+ of \d+ checks")


def renewed(text: str, counts: dict[tuple[int, str], str]) -> str:
    """The page with these numbers of checks behind these commands of the blocks on these lines."""
    lines = text.splitlines(keepends=True)
    for (block, command), count in counts.items():
        at = lines.index(f"$ {command}\n", block - 1) + 1
        while not lines[at].startswith(("```", "$")):
            lines[at] = COUNT.sub(count, lines[at])
            at += 1
    return "".join(lines)


def answers(run: Run, exit_code: int, printed: str) -> None:
    where = f"line {run.line}: {run.command} (RENEW_GUIDE=1 writes numbers of checks anew)"
    if run.prints:
        wanted = run.prints
        if os.environ.get("RENEW_GUIDE"):
            wanted, printed = COUNT.sub("all", wanted), COUNT.sub("all", printed)
        assert printed == wanted, where
    assert exit_code == (1 if run.finds else 0), where
    found = re.findall(r"^error\[([a-z-]+)\]", printed, re.MULTILINE)
    assert found == ([run.finds] if run.finds else []), where


def test_the_page_shows_findings_and_the_whole_file() -> None:
    told = [block.told for block in blocks(page())]
    assert told[-1] == "pattern: end"
    assert sum(t.startswith("finds: ") for t in told) >= 3


def test_no_block_is_left_out_of_the_reading() -> None:
    assert lines_of_backticks(page()) == []


def test_what_is_changed_must_be_there() -> None:
    block = blocks("<!-- pattern: in place of ```piece lid -->\n````markdown\nx\n````\n")[0]
    with pytest.raises(AssertionError, match="nothing begins"):
        grown("```piece box, in card\n```\n", block)


def test_a_part_is_a_fence_a_section_or_a_paragraph() -> None:
    text = "First.\nStill first.\n\n## Make it\n\n```step\nscore box\n```\n\n## Then\n\nLast.\n"
    for words, whole in (
        ("First.", "First.\nStill first."),
        ("## Make it", "## Make it\n\n```step\nscore box\n```"),
        ("```step", "```step\nscore box\n```"),
        ("Last.", "Last."),
    ):
        start, end = part(text, words)
        assert text[start:end] == whole
