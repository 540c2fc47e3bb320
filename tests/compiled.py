"""Compile a pattern written in a test, with the project's own shared data."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from publisher.assembly.types import Story
from publisher.model.types import Pattern
from publisher.pipeline import Outcome, check_text
from publisher.workshop import Workshop, open_workshop

ROOT = Path(__file__).resolve().parents[1]

HEAD = """---
title: Trial piece
summary: A piece made to be measured.
version: 1.0.0
date: 2026-11-25
edition: free
units: {units}
level: easy
time: 5 min
licence: personal
---
"""


@cache
def workshop() -> Workshop:
    opened, wrong = open_workshop(ROOT)
    assert not wrong, wrong
    return opened


def compile_text(
    body: str,
    units: str = "mm",
    head: str = HEAD,
    forms: Mapping[str, str] | None = None,
    beside: Mapping[str, bytes] | None = None,
    thorough: bool = False,
) -> Outcome:
    """All stages up to the layout, of front matter and ``body``."""
    text = head.replace("{units}", units) + body
    return check_text(
        text.encode(),
        "content/trial/pattern.md",
        "trial",
        workshop().trade,
        forms=workshop().forms if forms is None else forms,
        beside=beside,
        thorough=thorough,
    )


def told_by(body: str) -> tuple[Pattern, Story]:
    """The pattern and the story of its assembly, which must be there."""
    outcome = compile_text(body)
    assert outcome.pattern is not None
    assert outcome.story is not None
    return outcome.pattern, outcome.story


def codes(outcome: Outcome) -> list[str]:
    """The codes of all findings, in order."""
    return [d.code for d in outcome.diagnostics]


def numbers(outcome: Outcome, code: str) -> dict[str, float]:
    """The figures of the first result or finding with this code."""
    for result in outcome.checks:
        if result.code == code:
            return dict(result.numbers)
    return dict(next(d for d in outcome.diagnostics if d.code == code).numbers)
