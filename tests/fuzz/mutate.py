"""Sources spoilt in the ways that hands and files spoil them."""

from __future__ import annotations

import random
import re

from tests.compiled import HEAD, ROOT

FRONT = HEAD.replace("{units}", "mm")
FOLDERS = ("content/*/*.md", "tests/suite/whole/*.md", "publisher/guide/**/examples/**/*.md")
WORDS = re.compile(r"\w+|\s+|.", re.DOTALL)
ODD = (
    *("", " ", ",", "=", "0", "-1", "1e9", "999999", "9" * 30, "(", ")" * 30, "(" * 30, '"', "“"),
    *("```", "```piece x, in card\n", "#", "\x00", "\u202e", "é", "𝟙", "{", "}", "{{", "|", "> "),
    *("- ", "\t", "\r", "mm", "1/0 mm", "0 mm", "90 degrees", "each", "of", "when closed", "^"),
    *("x 3 x", "form tray", "form lid, box = lid", "200 of side", "called base", "1000 copies"),
    *("from 1 mm to 0 mm", "polygon, 100000 sides", "at middle of", "mountain, valley"),
    "join circle, 5 mm across, at middle of top",
)


def sources() -> list[str]:
    """What is spoilt: patterns of the project, and the guide's examples."""
    files = sorted(p for folder in FOLDERS for p in ROOT.glob(folder))
    texts = [p.read_bytes().decode("utf-8") for p in files]
    return [t if t.startswith("---") else f"{FRONT}\n{t}" for t in texts]


def spoilt(texts: list[str], chance: random.Random) -> str:
    """One source with one to six changes."""
    text = chance.choice(texts)
    for _ in range(chance.randint(1, 6)):
        text = chance.choice(_WAYS)(text, texts, chance)
    return text[:200_000]


def _swap_word(text: str, texts: list[str], chance: random.Random) -> str:
    """A word gives way to another one of the same or of another source."""
    words = WORDS.findall(text)
    others = WORDS.findall(chance.choice(texts))
    if words and others:
        words[chance.randrange(len(words))] = chance.choice(others)
    return "".join(words)


def _put_odd(text: str, texts: list[str], chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    return text[:at] + chance.choice(ODD) + text[at:]


def _drop(text: str, texts: list[str], chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    return text[:at] + text[at + chance.randint(1, 40) :]


def _swap_lines(text: str, texts: list[str], chance: random.Random) -> str:
    lines = text.split("\n")
    a, b = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[a], lines[b] = lines[b], lines[a]
    return "\n".join(lines)


def _take_line(text: str, texts: list[str], chance: random.Random) -> str:
    """A line of another source goes in, perhaps many times."""
    lines = text.split("\n")
    line = chance.choice(chance.choice(texts).split("\n"))
    lines[chance.randrange(len(lines)) : 0] = [line] * chance.choice((1, 1, 1, 3, 200))
    return "\n".join(lines)


def _change_number(text: str, texts: list[str], chance: random.Random) -> str:
    found = list(re.finditer(r"\d+(?:\.\d+)?", text))
    if not found:
        return text
    one = chance.choice(found)
    new = chance.choice(
        ("0", "0.001", "1", "7", "63.5", "400", "99999", "1000000", "1/3", "12.5.5")
    )
    return text[: one.start()] + new + text[one.end() :]


_WAYS = (_swap_word, _put_odd, _drop, _swap_lines, _take_line, _change_number, _change_number)
