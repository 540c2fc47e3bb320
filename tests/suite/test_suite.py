"""Patterns as tests: what is expected stands beside the line (see ``expectations.py``)."""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.diagnostics.render import render
from tests.suite.expectations import Expected, differences, expected_in
from tests.suite.runners import RUNNERS

ROOT = Path(__file__).parent
PATTERNS = sorted(p.relative_to(ROOT).as_posix() for p in ROOT.rglob("*.md"))


@pytest.mark.parametrize("name", PATTERNS)
def test_pattern(name: str) -> None:
    path = ROOT / name
    found = RUNNERS[Path(name).parts[0]](path, name)
    text = path.read_bytes().decode("utf-8", errors="replace")
    told = differences(expected_in(path, text.removeprefix("\ufeff")), found)
    shown = render(found, {name: text}, "full")
    assert told == [], "\n".join([*told, shown])


def test_every_pattern_is_run() -> None:
    assert len(PATTERNS) > 20
    assert {Path(p).parts[0] for p in PATTERNS} <= set(RUNNERS)


def finding(code: str, line: int) -> Diagnostic:
    return Diagnostic(code, "error", "m", (Place(Span("f", 0, 1, line, 1)),))


def test_the_suite_notices() -> None:
    """Unexpected, missing, and misplaced findings each count."""
    expected = [Expected("syntax", frozenset({3}))]
    assert differences(expected, [finding("syntax", 3)]) == []
    assert len(differences(expected, [])) == 1
    assert len(differences(expected, [finding("syntax", 4)])) == 2
    assert len(differences(expected, [finding("syntax", 3), finding("syntax", 3)])) == 1
    assert len(differences([], [finding("number", 1)])) == 1
    text = "a\n\n<!-- expect: x, y-z -->\n\nb\nc # expect: q\n"
    assert [(e.code, sorted(e.lines)) for e in expected_in(Path("none.md"), text)] == [
        ("x", [3, 5]),
        ("y-z", [3, 5]),
        ("q", [6]),
    ]
