"""markdown-it-py, set up so that its tokens tell where they begin.

It gives the lines of a block. Where on its first line a block begins is taken from the
parser's state as each rule ends.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from markdown_it import MarkdownIt, rules_block
from markdown_it.rules_block import StateBlock

from publisher.source import inlines

BlockRule = Callable[[StateBlock, int, int, bool], bool]

MAX_NESTING = 40
"""Lists and quotes within each other; a list counts twice."""

BEGINS = "begins"
"""Under this key a token keeps how far its beginning is from the end of its first line."""


@cache
def markdown() -> MarkdownIt:
    """The parser, made once: no raw HTML, tables on."""
    md = MarkdownIt("commonmark", {"html": False, "maxNesting": MAX_NESTING})
    md.enable("table")
    ruler = md.block.ruler
    stops_text = ["paragraph", "reference"]
    stops_quote = [*stops_text, "blockquote"]
    stops_list = [*stops_quote, "list"]
    for name, rule, alternatives in (
        ("table", rules_block.table, stops_text),
        ("code", rules_block.code, []),
        ("fence", rules_block.fence, stops_list),
        ("blockquote", rules_block.blockquote, stops_list),
        ("hr", rules_block.hr, stops_list),
        ("list", rules_block.list_block, stops_quote),
        ("heading", rules_block.heading, stops_quote),
        ("lheading", rules_block.lheading, []),
        ("paragraph", rules_block.paragraph, []),
    ):
        ruler.at(name, _placed(rule), {"alt": alternatives})
    inlines.prepare(md)
    return md


def _placed(rule: BlockRule) -> BlockRule:
    def wrapped(state: StateBlock, start: int, end: int, silent: bool) -> bool:
        if silent:
            return rule(state, start, end, True)
        known = len(state.tokens)
        if not rule(state, start, end, False):
            return False
        for token in state.tokens[known:]:
            if token.map is not None and BEGINS not in token.meta:
                line = token.map[0]
                begins = state.bMarks[line] + state.tShift[line]
                # Kept as the distance from the line's end: that is the same in the source.
                token.meta[BEGINS] = state.eMarks[line] - begins
        return True

    return wrapped
