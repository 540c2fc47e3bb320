"""The nearest known word, for the answer to a misspelt one."""

from __future__ import annotations

from collections.abc import Iterable


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice most like ``word``, or None where nothing is like it.

    Letters of one case count as the other. Among equals the first in alphabetical order wins,
    so that the answer does not depend on the order of a set.
    """
    # Loaded here: it takes 0.02 s, which a pattern without slips need not wait for.
    from difflib import SequenceMatcher

    wanted = word.lower()
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
        matcher = SequenceMatcher(None, wanted, other, autojunk=False)
        # Cheap upper bounds first: most choices are nothing like the word.
        if matcher.quick_ratio() < needed:
            continue
        score = matcher.ratio()
        if score >= needed and score > best_score:
            best, best_score = choice, score
    return best


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
