"""Names in a row, as they are spoken."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import groupby

_NUMBERED = re.compile(r"(.+) (\d+)")


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


def gathered(names: Iterable[str]) -> str:
    """Names in a row, what neighbours share said once: "sides 2 to 5, the last side and the
    seam", "the front and back walls"."""
    spoken: list[str] = []
    for (stem, tail), group in groupby(dict.fromkeys(names), _shared):
        own = list(group)
        if stem:
            spoken.append(_run(stem, [int(name.rpartition(" ")[2]) for name in own]))
        elif len(own) > 1 and tail:
            heads = [name.rpartition(" ")[0] for name in own]
            spoken.append(f"the {listed(heads)} {plural(tail)}")
        else:
            spoken += [the([name]) for name in own]
    return listed(spoken)


def _shared(name: str) -> tuple[str, str]:
    """What a name may share with the next: all before its number, or its last word."""
    numbered = _NUMBERED.fullmatch(name)
    if numbered:
        return numbered[1], ""
    return "", name.rpartition(" ")[2] if " " in name else ""


def _run(stem: str, numbers: Sequence[int]) -> str:
    """``tabs 1 to 4``, ``tabs 1 and 3``, ``tab 1``."""
    first, last = numbers[0], numbers[-1]
    if len(numbers) == 1:
        return f"{stem} {first}"
    if len(numbers) > 2 and list(numbers) == list(range(first, last + 1)):
        return f"{plural(stem)} {first} to {last}"
    return f"{plural(stem)} {listed(str(n) for n in numbers)}"


def plural(name: str) -> str:
    """Of the last word of a name: ``feet``, ``left halves``, ``boxes``."""
    before, _, word = name.rpartition(" ")
    if word.endswith("foot"):
        word = f"{word[:-4]}feet"
    elif word.endswith(("leaf", "half", "shelf")):
        word = f"{word[:-1]}ves"
    elif word.endswith(("s", "x", "ch", "sh")):
        word = f"{word}es"
    elif word.endswith("y") and word[-2:-1] not in tuple("aeiou"):
        word = f"{word[:-1]}ies"
    else:
        word = f"{word}s"
    return f"{before} {word}".strip()


def sentence(text: str) -> str:
    """With a capital and a full stop."""
    return f"{text[0].upper()}{text[1:]}."
