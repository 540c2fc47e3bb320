"""Names in a row, as they are spoken."""

from __future__ import annotations

from collections.abc import Iterable


def listed(names: Iterable[str]) -> str:
    """ "a", "a and b", "a, b and c"."""
    words = list(dict.fromkeys(names))
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def the(names: Iterable[str]) -> str:
    """The names in a list, with an article unless they are numbered: "the lid", "tab 1"."""
    words = list(dict.fromkeys(names))
    article = "" if words and words[0][-1:].isdigit() else "the "
    return article + listed(words)
