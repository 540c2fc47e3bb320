"""Terminals to tree: a walk over the kept LALR(1) tables.

The tables are Lark's (see ``publisher.language.grammar``); here they are only followed.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
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
    tables = _tables()
    states, rules = tables.states, tables.rules
    end_state = tables.ends[start]
    stack = [tables.starts[start]]
    parts: list[tuple[Part, ...]] = []
    for index in range(len(tokens) + 1):
        kind = tokens[index].kind if index < len(tokens) else END
        while True:
            action = states[stack[-1]].get(kind)
            if action is None:
                return Unexpected(index, _expected(stack))
            if action >= 0:
                stack.append(action)
                parts.append((tokens[index],))
                break
            origin, size, name = rules[-1 - action]
            if size == 1 and (not name or (name[0] == "?" and len(parts[-1]) == 1)):
                # Most steps only call a term an expression: nothing is made of it.
                stack[-1] = states[stack[-2]][origin]
                continue
            at = len(parts) - size
            children = parts[at] if size == 1 else tuple(chain.from_iterable(parts[at:]))
            del stack[len(stack) - size :]
            del parts[at:]
            stack.append(states[stack[-1]][origin])
            parts.append(_made(name, children))
            if kind == END and stack[-1] == end_state:
                (node,) = parts[-1]
                assert isinstance(node, Node)
                return node
    raise AssertionError("the end of a line is always expected or unexpected")


def _made(name: str, children: tuple[Part, ...]) -> tuple[Part, ...]:
    if not name or (name[0] == "?" and len(children) == 1):
        return children
    return (Node(name.removeprefix("?"), children, children[0].start, children[-1].end),)


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
