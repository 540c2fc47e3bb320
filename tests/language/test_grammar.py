"""The grammar: conflict-free, and the kept tables are the ones that Lark works out."""

from __future__ import annotations

import json

import pytest
from lark import Token as LarkToken
from lark import Tree
from lark.exceptions import GrammarError, UnexpectedInput

from publisher.language import words
from publisher.language.compile import TABLES, compiled, with_lark
from publisher.language.grammar import GRAMMAR, STARTS
from publisher.language.lexer import lex
from publisher.language.lines import Line
from publisher.language.parser import Node, Token, Unexpected, parse_line
from publisher.source import SourceText
from publisher.source.text import plain_mapping

LINES: list[tuple[str, words.Mode, str]] = [
    ("header", "header", "drawer, 2 copies, in card, back face up"),
    (
        "size",
        "sizes",
        'inside = 80 x (a + 2 * b) x 40 mm, from 3 to 5 mm, or 4 mm when a is over b "n"',
    ),
    ("variant", "sizes", "variant mini: depth = 12 mm, border = -3 mm"),
    (
        "statement",
        "piece",
        "tab on left and right of front wall, tab deep, meets top of side 1, called x",
    ),
    ("statement", "piece", "panels down, 140 mm wide: 4 of side, (a + 1) of flap, hem = 9 mm"),
    (
        "statement",
        "piece",
        "slit along a / 2 left of middle of fold, from rise above fold to (1, 2)",
    ),
    ("statement", "step", "slide slot of divider 1 into slot of divider 2, called cross"),
    ("claim", "fits", "each star of lantern stays inside pane with at least min(3 mm, a) to spare"),
    ("claim", "fits", "stack goes into drawer when closed and full with 2 mm to 6 mm to spare"),
    ("spoken", "spoken", "round(width of drawer when closed / 2, 0.5 mm) ^ 2"),
    ("statement", "piece", "notch half round 24 mm wide"),
    ("size", "sizes", "tab 12 mm"),
    ("claim", "fits", "stack goes into drawer with 2 mm"),
    ("statement", "piece", "glue along"),
    ("spoken", "spoken", "(a + b"),
]


def tokens(text: str, mode: words.Mode) -> tuple[Token, ...]:
    source = SourceText.of(text, "f")
    lexed = lex(plain_mapping(source, 0, len(text)), text, Line(0, len(text)), mode)
    assert lexed.findings == ()
    return lexed.tokens


def test_there_are_no_conflicts() -> None:
    with_lark()  # strict: raises on any


def test_a_conflict_would_be_noticed() -> None:
    doubtful = GRAMMAR.replace("spoken: value", "spoken: value | expr AND expr")
    assert doubtful != GRAMMAR
    with pytest.raises(GrammarError):
        with_lark(doubtful)


def test_the_kept_tables_are_current() -> None:
    """After a change of the grammar run ``python -m publisher.language.compile``."""
    assert TABLES.read_text(encoding="utf-8") == compiled()


def as_lark(node: Node) -> object:
    return (node.name, [as_lark(p) if isinstance(p, Node) else p.text for p in node.parts])


def from_lark(tree: Tree[LarkToken] | LarkToken) -> object:
    if isinstance(tree, LarkToken):
        return str(tree)
    return (str(tree.data), [from_lark(c) for c in tree.children])


@pytest.mark.parametrize(("start", "mode", "text"), LINES, ids=range(len(LINES)))
def test_the_walk_agrees_with_lark(start: str, mode: words.Mode, text: str) -> None:
    """Oracle: Lark's own interactive parser, fed the same terminals."""
    terminals = tokens(text, mode)
    session = with_lark().parse_interactive(start=start)
    expected: object
    try:
        for terminal in terminals:
            session.feed_token(LarkToken(terminal.kind, terminal.text))
        expected = from_lark(session.feed_eof())
    except UnexpectedInput as fault:
        expected = (str(getattr(fault, "token", "")), session.accepts())
    found = parse_line(start, terminals)
    if isinstance(found, Unexpected):
        at = terminals[found.index].text if found.index < len(terminals) else ""
        assert (at, set(found.expected)) == expected
    else:
        assert as_lark(found) == expected


def test_every_terminal_has_a_plain_name() -> None:
    kept = json.loads(TABLES.read_text(encoding="utf-8"))
    kinds = {s for state in kept["states"] for s in state if s.isupper()}
    assert kinds - {"$END"} <= set(words.PLAIN)
    assert set(kept["starts"]) == set(STARTS)


def test_nodes_reach_from_their_first_to_their_last_terminal() -> None:
    text = "tab on left of wall, 12 mm deep"
    found = parse_line("statement", tokens(text, "piece"))
    assert isinstance(found, Node)
    assert text[found.start : found.end] == text
    phrases = [p for p in found.parts if isinstance(p, Node)]
    assert [text[p.start : p.end] for p in phrases] == ["on left of wall", "12 mm deep"]
