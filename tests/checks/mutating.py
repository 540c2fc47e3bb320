"""What every mutation is made of: a design, a change of it, and the limit that it is held to."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from msgspec.structs import replace

from publisher.assembly import assemble
from publisher.assembly.types import Story
from publisher.diagnostics import Diagnostic, has_errors
from publisher.language import Library, Outside, parse
from publisher.model import build_pattern
from publisher.model.types import Pattern, Piece
from publisher.source import read_document
from tests.compiled import HEAD, ROOT, workshop

Chance = random.Random


@dataclass(frozen=True)
class Mutation:
    """A changed pattern, and whether it truly fails; ``sure`` where it is not on the edge.
    ``found`` are the codes that were found, where the check takes more than the pattern."""

    pattern: Pattern
    story: Story
    fails: bool
    sure: bool
    found: tuple[str, ...] | None = None


Mutate = Callable[[Chance], Mutation | None]
Named = dict[str, tuple[Any, tuple[str, ...], Mutate]]
"""By name: what has the check, the codes that it may find, and what makes a mutation."""


@cache
def design(name: str) -> tuple[str, Pattern, Story]:
    text = (ROOT / "content" / name / "pattern.md").read_text(encoding="utf-8")
    pattern, story = built(text)
    return text, pattern, story


def built(text: str) -> tuple[Pattern, Story]:
    """Built and assembled; no ways out are looked for."""
    pattern, story, wrong = _told(text)
    if has_errors(wrong):
        raise ValueError(f"not assembled: {wrong}")
    return pattern, story


def assembled(body: str) -> tuple[Pattern, Story, tuple[str, ...]]:
    """A pattern of the tests, and the codes of what does not work while it is put together."""
    pattern, story, wrong = _told(HEAD.replace("{units}", "mm") + body)
    return pattern, story, tuple(one.code for one in wrong)


def _told(text: str) -> tuple[Pattern, Story, tuple[Diagnostic, ...]]:
    found = workshop()
    document, _ = read_document(text, "content/trial/pattern.md")
    assert document is not None
    known = Outside(frozenset(found.trade.stocks), frozenset(found.trade.objects))
    known = replace(known, forms=Library(found.forms, known))
    program, _ = parse(document, known)
    pattern, wrong = build_pattern(program, found.trade, "trial")
    if pattern is None or has_errors(wrong):
        raise ValueError(f"not built: {wrong}")
    story, wrong = assemble(pattern)
    return pattern, story, tuple(wrong)


def limit(measure: float, least: float, sure: float = 0.01) -> tuple[bool, bool]:
    return measure < least, abs(measure - least) > sure


def practice(name: str) -> float:
    return workshop().trade.practice[name].value


def with_piece(pattern: Pattern, piece: Piece) -> Pattern:
    return replace(
        pattern, pieces=tuple(piece if p.name == piece.name else p for p in pattern.pieces)
    )


def size(text: str, name: str, value: str) -> str:
    """The pattern's text with another value of a size; its range, if any, left out."""
    return re.sub(
        rf"^({name} +=) [^\"\n]*?(  +\"|$)", rf"\1 {value} \2", text, count=1, flags=re.MULTILINE
    )


def with_claim(text: str, claim: str) -> str:
    return text.replace("```fits\n", f"```fits\n{claim}\n", 1)


def written(body: str) -> tuple[Pattern, Story]:
    """A pattern of the tests, its front matter put before it."""
    return built(HEAD.replace("{units}", "mm") + body)
