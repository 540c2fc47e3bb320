"""The nearest known word, for the answer to a misspelt one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice most like ``word``, or None where nothing is like it.

    Letters of one case count as the other. Among equals the first in alphabetical order wins,
    so that the answer does not depend on the order of a set.
    """
    wanted = word.lower()
    letters = Counter(wanted)
    best: str | None = None
    best_score = 0.0
    for choice in sorted(set(choices)):
        other = choice.lower()
        if wanted == other:
            return choice
        needed = _needed(wanted, other)
        both = len(wanted) + len(other)
        if both == 0 or 2 * min(len(wanted), len(other)) < needed * both:
            continue
        # A cheap upper bound first: most choices are nothing like the word.
        if 2 * (letters & Counter(other)).total() < needed * both:
            continue
        # Loaded here: a pattern without slips need not wait for it.
        from difflib import SequenceMatcher

        score = SequenceMatcher(None, wanted, other, autojunk=False).ratio()
        if score >= needed and score > best_score:
            best, best_score = choice, score
    return best


def a_line(head: str) -> str:
    """``a ‘score’ line``, ``an ‘outline’ line``."""
    return f"{'an' if head[:1] in 'aeiou' else 'a'} ‘{head}’ line"


def nearest_phrase(word: str, choices: Iterable[str]) -> str:
    """``nearest`` as a sentence with its leading space, "" where there is none."""
    found = nearest(word, choices)
    return f" Nearest: ‘{found}’." if found else ""


def _needed(a: str, b: str) -> float:
    if sorted(a) == sorted(b):  # two letters changed places
        return 0.5
    # Short words need more likeness: "in" is not a slip of "on side".
    shortest = min(len(a), len(b))
    return 0.75 if shortest <= 2 else 0.64
