"""A guide page that grows one pattern step by step, read as a reader would follow it.

A comment before a block says what is done with it: ``<!-- pattern: begin -->`` starts the
pattern, ``in place of WORDS``, ``before WORDS`` and ``after WORDS`` change the part of it whose
first line begins so, ``end`` shows the whole once more. ``<!-- finds: CODE -->`` before a run of
commands says that the pattern as it stands then is answered with that finding.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

_BLOCK = re.compile(
    r"(?:^<!-- (?P<told>[^\n]+) -->\n)?"
    r"^(?P<ticks>`{3,})(?P<kind>\w*)\n(?P<body>.*?)^(?P=ticks)$",
    re.MULTILINE | re.DOTALL,
)


@dataclass(frozen=True)
class Block:
    """One block of the page: what is told about it, its kind, its text, where it stands."""

    told: str
    kind: str
    body: str
    line: int


@dataclass(frozen=True)
class Run:
    """One command as typed, what it prints, the pattern as it stands, the finding it gives."""

    command: str
    prints: str
    pattern: str
    finds: str
    line: int


def lines_of_backticks(page: str) -> list[str]:
    """Those that stand outside of all blocks; there should be none."""
    return re.findall(r"^`{3,}.*$", _BLOCK.sub("", page), re.MULTILINE)


def blocks(page: str) -> list[Block]:
    return [
        Block(m["told"] or "", m["kind"], m["body"], page.count("\n", 0, m.start()) + 1)
        for m in _BLOCK.finditer(page)
    ]


def part(pattern: str, words: str) -> tuple[int, int]:
    """Where the part stands whose first line begins with ``words``: a fence, a section under a
    heading, or a paragraph."""
    start = re.search(rf"^{re.escape(words)}", pattern, re.MULTILINE)
    assert start is not None, f"nothing begins with {words!r}"
    if words.startswith("```"):
        ends = r"^```$"
    elif words.startswith("#"):
        ends = r"(?=\n\n#)|(?=\n\Z)"
    else:
        ends = r"(?=\n\n)|(?=\n\Z)"
    end = re.compile(ends, re.MULTILINE).search(pattern, start.end())
    assert end is not None
    return start.start(), end.end()


def grown(pattern: str, block: Block) -> str:
    """The pattern after the reader has done what the page says."""
    how = re.fullmatch(r"pattern: (begin|end|in place of|before|after) ?(.*)", block.told)
    assert how is not None, f"line {block.line}: what is to be done with this block?"
    text = block.body.strip("\n")
    if how[1] == "begin":
        return text + "\n"
    if how[1] == "end":
        assert block.body == pattern, f"line {block.line}: the whole is not what was grown"
        return pattern
    start, end = part(pattern, how[2])
    if how[1] == "before":
        return f"{pattern[:start]}{text}\n\n{pattern[start:]}"
    if how[1] == "after":
        return f"{pattern[:end]}\n\n{text}{pattern[end:]}"
    return pattern[:start] + text + pattern[end:]


def runs(page: str) -> Iterator[Run]:
    """Every command of the page, with the pattern as it stands when it is typed."""
    pattern = ""
    for block in blocks(page):
        if block.kind == "markdown":
            pattern = grown(pattern, block)
            continue
        assert block.kind == "console", f"line {block.line}: a block that nothing tries"
        finds = block.told.removeprefix("finds: ")
        for said in re.split(r"^\$ ", block.body, flags=re.MULTILINE)[1:]:
            command, _, prints = said.partition("\n")
            yield Run(command, prints, pattern, finds, block.line)
