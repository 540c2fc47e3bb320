"""The words that the language keeps for itself, and the marks that stand for several of them.

Everything else is free for names.
"""

from __future__ import annotations

import re
from typing import Literal, TypeAlias

Mode: TypeAlias = Literal["header", "sizes", "piece", "step", "fits", "spoken"]
"""Where a line stands: in the line that opens a fence, in a fence, or in braces in prose."""

ARTICLES = frozenset({"the", "a", "an"})

JOINING = (
    "at",
    "on",
    "into",
    "in",
    "along",
    "between",
    "around",
    "over",
    "under",
    "behind",
    "through",
    "facing",
    "meets",
)
"""Words that join a phrase to a place."""

SIDES = frozenset({"top", "bottom", "left", "right"})
UNITS = ("mm", "cm", "in", "pt", "degrees")

SINGLE: dict[str, str] = {
    **dict.fromkeys(JOINING, "PREP"),
    "to": "TO",
    "with": "WITH",
    "from": "FROM",
    "called": "CALLED",
    "when": "WHEN",
    "by": "BY",
    "and": "AND",
    "of": "OF",
    "each": "EACH",
    "all": "ALL",
    "middle": "MIDDLE",
    "above": "DIRECTION",
    "below": "DIRECTION",
    "beyond": "DIRECTION",
    "is": "COMPARE",
    "x": "X",
}
"""Words that stand for one terminal wherever they are."""

BY_MODE: dict[Mode, dict[str, str]] = {
    "header": {},
    "sizes": {"asked": "ASKED", "else": "ELSE", "or": "OR"},
    "piece": {"saying": "SAYING"},
    "step": {"saying": "SAYING"},
    "fits": {},
    "spoken": {},
}
"""Further words that a fence keeps."""

KEPT: dict[Mode, dict[str, str]] = {
    mode: {
        **dict.fromkeys(ARTICLES, "ARTICLE"),
        **dict.fromkeys(SIDES, "SIDE"),
        **SINGLE,
        **more,
    }
    for mode, more in BY_MODE.items()
}
"""All words that are no names, by the fence that they stand in."""

RESERVED: frozenset[str] = (
    frozenset(SINGLE) | SIDES | ARTICLES | frozenset(UNITS) | {"asked", "else", "or", "saying"}
)

_ART = r"(?:(?:the|a|an)\s+)?"
_STATE = r"(?:closed|open|full|empty|flat)"

_PHRASES = (
    ("of", "DIRECTION", rf"of {_ART}way along"),
    ("in", "DIRECTION", r"in from"),
    ("clear", "DIRECTION", r"clear of"),
    ("out", "PREP", r"out from"),
    ("from", "FROM_FILE", r"from file"),
    ("to", "TO_SPARE", r"to spare"),
    ("is", "COMPARE", r"is (?:over|under|at least|at most)"),
    ("at", "AT_LEAST", r"at least"),
    ("top bottom", "CORNER", r"(?:top|bottom) (?:left|right)"),
    ("front back", "FACE", r"(?:front|back) face"),
    ("when", "STATE", rf"when {_STATE}(?: and {_STATE})*"),
)

PHRASES: dict[str, tuple[str, re.Pattern[str]]] = {
    first: (kind, re.compile(pattern.replace(" ", r"\s+") + r"(?![\w-])", re.IGNORECASE))
    for starts, kind, pattern in _PHRASES
    for first in starts.split()
}
"""By their first word, several words that are one terminal; they win over single words."""

VERBS: tuple[str, ...] = (
    "goes into",
    "slides on",
    "tucks under",
    "stays inside",
    "closes to",
    "opens to",
    "covers",
    "clears",
    "reaches",
    "lies flush with",
    "holds",
    "mails as",
)
"""What a statement of fit can say."""

VERB = re.compile(
    r"(?:"
    + "|".join(v.replace(" ", r"\s+") for v in sorted(VERBS, key=len, reverse=True))
    + r")(?![\w-])",
    re.IGNORECASE,
)

PLAIN: dict[str, str] = {
    "NUMBER": "a number",
    "MEASURE": "a measure such as 12 mm",
    "NAME": "a name",
    "SIDE": "a side (top, right, bottom, left)",
    "CORNER": "a corner",
    "FACE": "a face",
    "MIDDLE": "‘middle’",
    "EACH": "‘each’",
    "ALL": "‘all’",
    "STATE": "a state (when closed)",
    "COMPARE": "‘is over’ or the like",
    "AT_LEAST": "‘at least’",
    "TO_SPARE": "‘to spare’",
    "PREP": "a place",
    "TO": "‘to’",
    "WITH": "‘with’",
    "FROM": "‘from’",
    "FROM_FILE": "‘from file’",
    "CALLED": "‘called’",
    "WHEN": "‘when’",
    "BY": "‘by’",
    "SAYING": "‘saying’",
    "AND": "‘and’",
    "OF": "‘of’",
    "X": "‘x’",
    "DIRECTION": "‘above’ or the like",
    "ASKED": "‘asked’",
    "ELSE": "‘else’",
    "OR": "‘or’",
    "VARIANT": "‘variant’",
    "HEAD": "what is to be done",
    "VERB": "what it does, such as ‘goes into’",
    "STRING": "words in quotation marks",
    "COMMA": "a comma",
    "COLON": "a colon",
    "EQUALS": "‘=’",
    "OPENING": "a bracket",
    "CLOSING": "a closing bracket",
    "PLUS": "‘+’",
    "MINUS": "‘-’",
    "TIMES": "‘*’",
    "OVER": "‘/’",
    "POWER": "‘^’",
    "$END": "the end of the line",
}
"""Terminals as a maker would name them."""
