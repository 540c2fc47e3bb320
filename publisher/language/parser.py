"""Terminals to tree: a walk over the kept LALR(1) tables.

The tables are Lark's (see ``publisher.language.grammar``); here they are only followed.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache, lru_cache
from itertools import chain
from pathlib import Path
from typing import TypeAlias

from msgspec import Struct

END = "$END"


class Token(Struct, frozen=True):
    """A terminal: its kind, its text, and where it stands in the fence."""

    kind: str
    text: str
    start: int
    end: int


class Node(Struct, frozen=True):
    """A rule of the grammar with its parts; it reaches from the first to the last of them."""

    name: str
    parts: tuple[Part, ...]
    start: int
    end: int


Part: TypeAlias = Token | Node


class Unexpected(Struct, frozen=True):
    """Where a line leaves the grammar: the terminal's index (the number of terminals where
    the line ends too early), and the kinds that could stand there."""

    index: int
    expected: frozenset[str]


class _Tables(Struct, frozen=True):
    starts: dict[str, int]
    ends: dict[str, int]
    rules: tuple[tuple[str, int, str], ...]
    states: tuple[dict[str, int], ...]


@cache
def _tables() -> _Tables:
    text = Path(__file__).with_name("tables.json").read_text(encoding="utf-8")
    kept = json.loads(text)
    return _Tables(
        kept["starts"],
        kept["ends"],
        tuple((origin, size, node) for origin, size, node in kept["rules"]),
        tuple(kept["states"]),
    )


def parse_line(start: str, tokens: Sequence[Token]) -> Node | Unexpected:
    """The tree of one line whose rule is ``start``. Time grows with the number of terminals."""
    steps = _steps(start, tuple([token.kind for token in tokens]))
    if isinstance(steps, Unexpected):
        return steps
    parts: list[tuple[Part, ...]] = []
    waiting = iter(tokens)
    for size, name in steps:
        if size < 0:
            parts.append((next(waiting),))
            continue
        if size == 1:
            children = parts.pop()
        else:
            children = tuple(chain.from_iterable(parts[-size:]))
            del parts[-size:]
        if name:
            children = (Node(name, children, children[0].start, children[-1].end),)
        parts.append(children)
    (node,) = parts[-1]
    assert isinstance(node, Node)
    return node


@lru_cache(maxsize=4096)
def _steps(start: str, kinds: tuple[str, ...]) -> tuple[tuple[int, str], ...] | Unexpected:
    """How the terminals become a tree: take the next one (-1), or make a node of so many parts
    ("": they stay parts). Remembered, as the lines of a pattern are much alike."""
    tables = _tables()
    states, rules = tables.states, tables.rules
    end_state = tables.ends[start]
    stack = [tables.starts[start]]
    widths: list[int] = []
    steps: list[tuple[int, str]] = []
    for index, kind in enumerate((*kinds, END)):
        while True:
            action = states[stack[-1]].get(kind)
            if action is None:
                return Unexpected(index, _expected(stack))
            if action >= 0:
                stack.append(action)
                widths.append(1)
                steps.append((-1, ""))
                break
            origin, size, name = rules[-1 - action]
            width = sum(widths[len(widths) - size :])
            if name and name[0] == "?":
                name = "" if width == 1 else name[1:]
            del stack[len(stack) - size :], widths[len(widths) - size :]
            stack.append(states[stack[-1]][origin])
            widths.append(1 if name else width)
            # Most steps only call a term an expression: nothing is made of it.
            if size != 1 or name:
                steps.append((size, name))
            if kind == END and stack[-1] == end_state:
                return tuple(steps)
    raise AssertionError("the end of a line is always expected or unexpected")


def _expected(stack: Sequence[int]) -> frozenset[str]:
    """The terminals that can really follow: LALR states list some that a reduction refuses."""
    tables = _tables()
    return frozenset(
        kind
        for kind in tables.states[stack[-1]]
        if (kind.isupper() or kind == END) and _accepts(list(stack), kind)
    )


def _accepts(stack: list[int], kind: str) -> bool:
    tables = _tables()
    while True:
        action = tables.states[stack[-1]].get(kind)
        if action is None:
            return False
        if action >= 0:
            return True
        origin, size, _ = tables.rules[-1 - action]
        del stack[len(stack) - size :]
        stack.append(tables.states[stack[-1]][origin])
        if kind == END and stack[-1] in tables.ends.values():
            return True
