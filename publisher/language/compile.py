"""For contributors: work out ``tables.json`` from the grammar, with Lark.

Run as ``python -m publisher.language.compile`` after every change of the grammar.
"""

from __future__ import annotations

import json
from collections import deque
from pathlib import Path
from typing import Any

from lark import Lark
from lark.grammar import Rule
from lark.lexer import Lexer, TerminalDef

from publisher.language.grammar import GRAMMAR, STARTS

TABLES = Path(__file__).with_name("tables.json")


class _NoLexer(Lexer):
    """Terminals are given, not read."""

    def __init__(self, conf: Any) -> None: ...

    def lex(self, *given: Any) -> Any:
        raise NotImplementedError


def with_lark(grammar: str = GRAMMAR) -> Lark:
    """Lark's own parser; raises ``lark.exceptions.GrammarError`` on any conflict."""
    return Lark(
        grammar,
        start=list(STARTS),
        parser="lalr",
        lexer=_NoLexer,
        maybe_placeholders=False,
        strict=True,
    )


def compiled(grammar: str = GRAMMAR) -> str:
    """The tables as JSON. The same grammar gives the same text: states are numbered in the
    order in which they are reached from the starts, symbols in alphabetical order."""
    data, memo = with_lark(grammar).memo_serialize([TerminalDef, Rule])
    table = data["parser"]["parser"]
    symbols: dict[int, str] = {int(k): v for k, v in table["tokens"].items()}
    raw: dict[int, dict[str, tuple[int, Any]]] = {
        int(state): {symbols[int(t)]: action for t, action in actions.items()}
        for state, actions in table["states"].items()
    }
    number: dict[int, int] = {}
    queue = deque(table["start_states"][s] for s in STARTS)
    while queue:
        state = queue.popleft()
        if state in number:
            continue
        number[state] = len(number)
        queue.extend(arg for _, (reduces, arg) in sorted(raw[state].items()) if not reduces)
    rules = sorted({_rule(memo[arg["@"]]) for a in raw.values() for r, arg in a.values() if r})
    at = {rule: i for i, rule in enumerate(rules)}

    def encoded(reduces: int, arg: Any) -> int:
        return -1 - at[_rule(memo[arg["@"]])] if reduces else number[arg]

    states = [
        {s: encoded(*action) for s, action in sorted(raw[state].items())}
        for state in sorted(number, key=number.__getitem__)
    ]
    kept = {
        "starts": {s: number[table["start_states"][s]] for s in STARTS},
        "ends": {s: number[table["end_states"][s]] for s in STARTS},
        "rules": [[origin, size, node] for origin, _, size, node in rules],
        "states": states,
    }
    return json.dumps(kept, indent=None, separators=(",", ":"), sort_keys=True) + "\n"


def _rule(rule: Any) -> tuple[str, str, int, str]:
    """Origin, expansion, its length, and how its node is called: "" where it makes none and
    hands on its children, "?name" where a single child stands for it."""
    origin = str(rule["origin"]["name"])
    expansion = [str(s["name"]) for s in rule["expansion"]]
    node = str(rule["alias"] or origin)
    if origin.startswith("_"):
        node = ""
    elif rule["options"]["expand1"] and not rule["alias"]:
        node = f"?{origin}"
    return origin, " ".join(expansion), len(expansion), node


if __name__ == "__main__":
    TABLES.write_text(compiled(), encoding="utf-8")
