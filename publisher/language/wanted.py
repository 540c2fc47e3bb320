"""What could stand where a line leaves the grammar."""

from __future__ import annotations

import re

from publisher.language.words import PLAIN, VERBS

OPENS_A_VALUE = frozenset(
    {"MEASURE", "NUMBER", "NAME", "OPENING", "EACH", "ALL", "SIDE", "CORNER", "MIDDLE", "FACE"}
)
ENDS_A_VALUE = frozenset({"MEASURE", "NUMBER", "NAME", "CLOSING", "STATE", "SIDE", "MIDDLE"})

_SAID_FIRST = ("COMMA", "EQUALS", "COLON", "VERB", "TO", "CLOSING", "OF")
_LIKE_A_VERB = 0.75


def wanted(kinds: frozenset[str]) -> str:
    """What could stand in a place, as a maker would say it: the likeliest of ``kinds``."""
    said: list[str] = []
    if "NAME" in kinds:
        said.append("a measure or a name" if kinds & {"MEASURE", "NUMBER"} else PLAIN["NAME"])
    elif kinds & {"MEASURE", "NUMBER"}:
        said.append(PLAIN["MEASURE"])
    said.extend(PLAIN[k] for k in _SAID_FIRST if k in kinds)
    if not said:
        rest = kinds - OPENS_A_VALUE - {"$END", "MINUS"}
        said.extend(sorted(PLAIN[k] for k in rest)[:4])
    if "$END" in kinds and len(said) < 3:
        said.append(PLAIN["$END"])
    if not said:
        return "this does not belong here"
    if len(said) == 1:
        return f"{said[0]} is wanted"
    return ", ".join(said[:-1]) + f" or {said[-1]} is wanted"


def nearest_verb(text: str, fault: int | None) -> tuple[str, int, int] | None:
    """The verb of a statement of fit that some words of ``text`` come near to, and where they
    stand; with ``fault`` only words that reach over it."""
    # Loaded here: only a slip needs it.
    from difflib import SequenceMatcher

    words = list(re.finditer(r"\S+", text))
    best: tuple[str, int, int] | None = None
    best_score = _LIKE_A_VERB
    for verb in VERBS:
        count = len(verb.split())
        for group in zip(*(words[1 + i :] for i in range(count)), strict=False):
            start, end = group[0].start(), group[-1].end()
            if fault is not None and not start <= fault < end:
                continue
            said = " ".join(m.group().lower() for m in group)
            score = SequenceMatcher(None, said, verb).ratio()
            if score > best_score or (score == best_score and best is None):
                best, best_score = (verb, start, end), score
    return best
