"""Small patterns for tests of the language."""

from __future__ import annotations

from dataclasses import dataclass, field

from publisher.diagnostics import Diagnostic, Span
from publisher.language import Outside, Program, parse
from publisher.language.ast import Ref, Statement
from publisher.language.values import Length, SizeValue, Value
from publisher.source import read_document

FRONT = """---
title: Seed tray
summary: A tray for seed packets.
version: 1.0.0
date: 2026-03-01
edition: free
units: mm
level: easy
time: 40 min
licence: personal
---
"""
FILE = "content/tray/pattern.md"
OUTSIDE = Outside(
    stocks=frozenset({"card", "paper", "patterned paper", "tracing paper"}),
    objects=frozenset({"tea light", "id-1 card"}),
)


def read(body: str, outside: Outside | None = OUTSIDE) -> tuple[Program, list[Diagnostic], str]:
    text = FRONT + body
    document, findings = read_document(text, FILE)
    assert findings == []
    assert document is not None
    program, found = parse(document, outside)
    return program, found, text


def program(body: str, outside: Outside | None = OUTSIDE) -> Program:
    found, findings, _ = read(body, outside)
    assert findings == [], [f.message for f in findings]
    return found


def findings(body: str, outside: Outside | None = OUTSIDE) -> list[Diagnostic]:
    return read(body, outside)[1]


def fence(kind: str, *lines: str) -> str:
    return f"\n```{kind}\n" + "".join(line + "\n" for line in lines) + "```\n"


def sizes(*lines: str) -> str:
    return fence("sizes", *lines)


def piece(*lines: str, header: str = "body, in card") -> str:
    return fence(f"piece {header}", *lines)


def quoted(text: str, finding: Diagnostic, place: int = 0) -> str:
    """What a finding underlines."""
    span: Span = finding.places[place].span
    return text[span.start : span.end]


def statement(line: str, *size_lines: str, more: str = "") -> Statement:
    """One line of a piece, the sizes it speaks of declared."""
    body = sizes(*size_lines) if size_lines else ""
    found, _, _ = read(body + piece(line) + more, None)
    return found.pieces[0].statements[0]


@dataclass
class Shelf:
    """A scope with a few things on it."""

    things: dict[str, Value] = field(default_factory=dict)
    reports: list[Diagnostic] = field(default_factory=list)

    def lookup(self, ref: Ref) -> Value | None:
        return self.things.get(ref.text)

    def report(self, finding: Diagnostic) -> None:
        self.reports.append(finding)


SHELF = {
    "caliper of card": Length(0.4),
    "drawer when closed": SizeValue((Length(124.8), Length(84.8), Length(22.4))),
    "width of drawer when closed": Length(124.8),
}
