"""Compile a source as far as the model."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic
from publisher.language import Library, Outside, parse
from publisher.model import build_pattern
from publisher.model.types import Pattern, Piece
from publisher.source import read_document
from publisher.trade import Trade
from publisher.workshop import beside_of, open_workshop
from tests.model.sources import FRONT

ROOT = Path(__file__).parents[2]


@cache
def trade() -> Trade:
    workshop, wrong = open_workshop(ROOT)
    assert not wrong
    return workshop.trade


@cache
def forms() -> dict[str, str]:
    return open_workshop(ROOT)[0].forms


def compiled(text: str, name: str = "trial") -> tuple[Pattern | None, list[Diagnostic]]:
    """The pattern and all findings, those of the earlier stages first."""
    document, findings = read_document(text, "content/trial/pattern.md")
    assert document is not None
    stocks, objects = frozenset(trade().stocks), frozenset(trade().objects)
    known = Outside(stocks, objects, beside=beside_of(open_workshop(ROOT)[0], name))
    known = replace(known, forms=Library(forms(), known))
    program, more = parse(document, known)
    findings = [*findings, *more]
    pattern, more = build_pattern(program, trade(), "trial", findings)
    return pattern, [*findings, *more]


def made(text: str, name: str = "trial") -> Pattern:
    """A pattern without findings; ``name`` is the folder of the files that lie beside it."""
    pattern, findings = compiled(text, name)
    assert findings == [], [(f.code, f.message, f.places[0].span.line) for f in findings]
    assert pattern is not None
    return pattern


def piece(lines: str, sizes: str = "", stock: str = "card") -> Piece:
    """A single piece called ``trial`` from its lines."""
    fence = f"```sizes\n{sizes}\n```\n\n" if sizes else ""
    return made(f"{FRONT}{fence}```piece trial, in {stock}\n{lines}\n```\n").piece("trial")


def faults(body: str) -> list[Diagnostic]:
    """What is wrong with front matter and ``body``."""
    return compiled(FRONT + body)[1]


def faults_of(lines: str, sizes: str = "") -> list[Diagnostic]:
    """What is wrong with a piece called ``trial``."""
    fence = f"```sizes\n{sizes}\n```\n\n" if sizes else ""
    return faults(f"{fence}```piece trial, in card\n{lines}\n```\n")


def word(text: str, finding: Diagnostic) -> str:
    """The text that a finding underlines."""
    span = finding.places[0].span
    return text[span.start : span.end]
