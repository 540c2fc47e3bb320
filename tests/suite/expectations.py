"""Expected findings, written beside the lines of a pattern.

In a fence or in front matter a comment ends the line: ``tab = 5 # expect: missing-unit``. In
prose, and before a line that takes no comment (one that opens a fence), an HTML comment stands
alone: ``<!-- expect: name-taken -->``; it speaks of the next line with anything on it, or of
its own. Several codes stand between commas. A file that can hold no comment has a second one
beside it, ``NAME.expect``, with a line ``LINE CODE`` for each finding.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from publisher.diagnostics import Diagnostic

_COMMENT = re.compile(r"(?:#|<!--)\s*expect:\s*([a-z0-9-]+(?:\s*,\s*[a-z0-9-]+)*)")


@dataclass(frozen=True)
class Expected:
    """A code and the lines on which it may be found."""

    code: str
    lines: frozenset[int]


def expected_in(path: Path, text: str) -> list[Expected]:
    beside = path.with_suffix(".expect")
    if beside.exists():
        listed = (line.split() for line in beside.read_text(encoding="utf-8").splitlines())
        return [Expected(code, frozenset({int(line)})) for line, code in listed]
    lines = re.split(r"\r\n|\n|\r", text)
    found: list[Expected] = []
    for number, line in enumerate(lines, start=1):
        match = _COMMENT.search(line)
        if match is None:
            continue
        places = {number}
        if not line[: match.start()].strip():
            places.add(_next_line(lines, number))
        found.extend(
            Expected(code.strip(), frozenset(places)) for code in match.group(1).split(",")
        )
    return found


def _next_line(lines: list[str], number: int) -> int:
    for later in range(number, len(lines)):
        if lines[later].strip() and not _COMMENT.search(lines[later]):
            return later + 1
    return number


def differences(expected: Iterable[Expected], found: Iterable[Diagnostic]) -> list[str]:
    """What was expected and did not come, and what came and was not expected."""
    waiting = list(expected)
    told: list[str] = []
    for finding in found:
        line = finding.places[0].span.line if finding.places else 0
        match = next((e for e in waiting if e.code == finding.code and line in e.lines), None)
        if match is not None:
            waiting.remove(match)
        else:
            told.append(f"line {line}: {finding.code} was not expected: {finding.message}")
    for missing in waiting:
        told.append(f"line {min(missing.lines)}: {missing.code} was expected and did not come")
    return told
