"""Words of a text, and the amounts that they say: "5 1/4", "one and a half", "three-eighths"."""

from __future__ import annotations

import re

from msgspec import Struct

from publisher.units.words import COUNTS, FRACTION_SIGNS, PARTS

_TOKEN = re.compile(
    r"\d{1,3}(?:,\d{3})+(?!\d)|\d+(?:[.,]\d+)?|[A-Za-zÀ-ÿ]+|[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]|[⁄/×\"″”'′–—-]|[^\s\w]",
)
_LARGEST = 1e7


class Word(Struct, frozen=True):
    """A word or sign and where it stands."""

    text: str
    start: int
    end: int
    quoted: bool  # inside a quotation that a straight quote has opened


class Amount(Struct, frozen=True):
    """A quantity: its value, and the words from ``first`` up to ``last`` that say it."""

    value: float
    first: int
    last: int  # index of the word after it
    fraction: bool = False
    article: bool = False


def split_words(text: str) -> list[Word]:
    """The words, numbers and signs of a text."""
    words: list[Word] = []
    quoted = False
    for match in _TOKEN.finditer(text):
        if match.group() == '"' and not (words and _is_number(words[-1], match.start())):
            quoted = not quoted
        words.append(Word(match.group(), match.start(), match.end(), quoted))
    return words


def _is_number(word: Word, end: int) -> bool:
    return word.end == end and (word.text[0].isdigit() or word.text in FRACTION_SIGNS)


def amount_at(words: list[Word], at: int) -> Amount | None:
    """ "5 1/4", "one and a half", "2.5", "three quarters", "an"."""
    part = fraction_at(words, at)
    if part is not None:
        return part
    whole = _whole_at(words, at)
    if whole is None:
        return None
    for joint in _joints(words, whole.last):
        rest = fraction_at(words, joint)
        if rest is not None and rest.value < 1 and whole.value % 1 == 0 and not whole.article:
            return Amount(whole.value + rest.value, at, rest.last, fraction=True)
    return whole


def _decimal(said: str) -> float:
    """A number with a decimal point or comma, or with commas between thousands."""
    if re.fullmatch(r"\d{1,3}(,\d{3})+", said):
        return float(said.replace(",", ""))
    return float(said.replace(",", "."))


def _joints(words: list[Word], at: int) -> list[int]:
    """Where the fraction of a mixed number may begin: after nothing, "and", or a hyphen."""
    joints = [at]
    if text_at(words, at) in ("and", "-"):
        joints.append(at + 1)
    return joints


def _whole_at(words: list[Word], at: int) -> Amount | None:
    said = text_at(words, at)
    if not said:
        return None
    if said[0].isdigit():
        value = _decimal(said)
        return Amount(value, at, at + 1) if value < _LARGEST else None
    if said in ("a", "an"):
        if text_at(words, at + 1) == "hundred":
            return Amount(100.0, at, at + 2)
        return Amount(1.0, at, at + 1, article=True)
    if said not in COUNTS:
        return None
    count, last = COUNTS[said], at + 1
    if 20 <= count < 100:
        ones_at = last + 1 if text_at(words, last) == "-" else last
        ones = COUNTS.get(text_at(words, ones_at), 0)
        if 1 <= ones <= 9:
            count, last = count + ones, ones_at + 1
    elif count < 10 and text_at(words, last) == "hundred":
        count, last = count * 100, last + 1
    return Amount(float(count), at, last)


def fraction_at(words: list[Word], at: int) -> Amount | None:
    """ "1/4", "¼", "a quarter", "half a", "three-eighths"."""
    said = text_at(words, at)
    if not said:
        return None
    if said in FRACTION_SIGNS:
        return Amount(FRACTION_SIGNS[said], at, at + 1, fraction=True)
    if said.isdigit() and text_at(words, at + 1) in ("/", "⁄") and touching(words, at + 1):
        below = text_at(words, at + 2)
        if below.isdigit() and int(below) > 0 and len(below) <= 3 and len(said) <= 3:
            return Amount(int(said) / int(below), at, at + 3, fraction=True)
        return None
    if said in ("half", "quarter"):
        return Amount(PARTS[said], at, at + 1, fraction=True)
    count, part_at = 1, at + 1
    if said in COUNTS and 1 <= COUNTS[said] <= 31:
        count = COUNTS[said]
    elif said not in ("a", "an"):
        return None
    if text_at(words, part_at) == "-":
        part_at += 1
    part = PARTS.get(text_at(words, part_at))
    return None if part is None else Amount(count * part, at, part_at + 1, fraction=True)


def text_at(words: list[Word], at: int) -> str:
    """The word in lower case, "" outside the text."""
    return words[at].text.lower() if 0 <= at < len(words) else ""


def touching(words: list[Word], at: int) -> bool:
    """Whether a sign stands between its neighbours without spaces."""
    return (
        0 < at < len(words) - 1
        and words[at - 1].end == words[at].start
        and words[at].end == words[at + 1].start
    )
