"""Lengths in running text, in figures and in words: "12 mm", "5 1/4 in", "a quarter of an inch".

A small reader of quantities: a number, a fraction, or both, then a unit. Lists share the unit
of their last member ("120 x 80 mm", "10 to 12 mm").
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Literal

from publisher.units.numbers import MM_PER_INCH
from publisher.units.words import AFTER_INCHES, COUNTS, FRACTION_SIGNS, HEDGES, PARTS, UNITS

FigureUnit = Literal["mm", "cm", "m", "in", "ft"]

MM_PER_UNIT: dict[FigureUnit, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
}


@dataclass(frozen=True, slots=True)
class Figure:
    """One length found in a text; ``start`` and ``end`` are character offsets into it.

    ``amount`` is in the unit written. ``hedge`` is the word before it that loosens it ("about",
    "at least"), or "". Members of a list each have their own figure; those before the last end
    before the unit. ``in_words`` where no digit was used.
    """

    start: int
    end: int
    mm: float
    amount: float
    unit: FigureUnit
    written: str
    hedge: str = ""
    in_words: bool = False


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    start: int
    end: int
    quoted: bool  # inside a quotation that a straight quote has opened


@dataclass(frozen=True, slots=True)
class _Amount:
    value: float
    first: int
    last: int  # index of the word after it
    fraction: bool = False
    article: bool = False


_TOKEN = re.compile(
    r"\d{1,3}(?:,\d{3})+(?!\d)|\d+(?:[.,]\d+)?|[A-Za-zÀ-ÿ]+|[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]|[⁄/×\"″”'′–—-]|[^\s\w]",
)
_JOINERS = ("x", "×", "by", "to", "or", "–", "—", "-")
_LONGEST_LIST = 4
_LARGEST = 1e7


def figures_in(text: str) -> tuple[Figure, ...]:
    """Every length in ``text``, in order, without overlaps. Angles and counts are no lengths."""
    words = _words(text)
    found: list[Figure] = []
    position = 0
    while position < len(words):
        figures, after = _list_at(text, words, position)
        found.extend(figures)
        position = max(after, position + 1)
    return tuple(found)


def _words(text: str) -> list[_Word]:
    words: list[_Word] = []
    quoted = False
    for match in _TOKEN.finditer(text):
        if match.group() == '"' and not (words and _is_number(words[-1], match.start())):
            quoted = not quoted
        words.append(_Word(match.group(), match.start(), match.end(), quoted))
    return words


def _is_number(word: _Word, end: int) -> bool:
    return word.end == end and (word.text[0].isdigit() or word.text in FRACTION_SIGNS)


# ---------------------------------------------------------------- lists


def _list_at(text: str, words: list[_Word], position: int) -> tuple[list[Figure], int]:
    """A list of amounts that ends in a unit, and the word after it."""
    amounts: list[_Amount] = []
    at = position
    while len(amounts) < _LONGEST_LIST:
        amount = _amount_at(words, at)
        if amount is None:
            break
        amounts.append(amount)
        if _unit_at(text, words, amount) is not None:
            return _figures(text, words, amounts)
        at = amount.last
        if at >= len(words) or words[at].text.lower() not in _JOINERS:
            break
        at += 1
    return [], position + 1


def _figures(text: str, words: list[_Word], amounts: list[_Amount]) -> tuple[list[Figure], int]:
    last = amounts[-1]
    unit, after = _unit_at(text, words, last) or ("mm", last.last)
    last, after = _afterthought(text, words, last, after)
    hedge = _hedge_before(words, amounts[0].first)
    figures: list[Figure] = []
    for number, amount in enumerate(amounts):
        is_last = number == len(amounts) - 1
        start = words[amount.first].start
        end = words[(after if is_last else amount.last) - 1].end
        if is_last:
            amount = replace(last, first=amount.first)
        written = text[start:end]
        figures.append(
            Figure(
                start=start,
                end=end,
                mm=amount.value * MM_PER_UNIT[unit],
                amount=amount.value,
                unit=unit,
                written=written,
                hedge=hedge,
                in_words=not any(c.isdigit() or c in FRACTION_SIGNS for c in written),
            )
        )
    return figures, after


def _afterthought(
    text: str, words: list[_Word], amount: _Amount, after: int
) -> tuple[_Amount, int]:
    """ "an inch **and a half**": a fraction said after the unit."""
    if amount.fraction or _text(words, after) != "and":
        return amount, after
    part = _fraction_at(words, after + 1)
    if part is None or _unit_at(text, words, part) is not None:
        return amount, after
    if _text(words, part.last) == "of":
        return amount, after
    return replace(amount, value=amount.value + part.value), part.last


def _hedge_before(words: list[_Word], first: int) -> str:
    for length in (2, 1):
        if first >= length:
            said = " ".join(w.text.lower() for w in words[first - length : first])
            if said in HEDGES:
                return said
    return ""


# ---------------------------------------------------------------- units


def _unit_at(text: str, words: list[_Word], amount: _Amount) -> tuple[FigureUnit, int] | None:
    """The unit after an amount, and the word after the unit."""
    at = amount.last
    if _text(words, at) == "-" and _touching(words, at) and _text(words, at + 1) in UNITS:
        at += 1
    elif amount.fraction:
        if _text(words, at) == "of" and _text(words, at + 1) in ("a", "an"):
            at += 2
        elif _text(words, at) in ("a", "an"):
            at += 1
    said = _text(words, at)
    unit = UNITS.get(said)
    if unit is None:
        return _mark_at(words, amount)
    if amount.article and len(said) <= 2:
        return None
    if said == "in" and not _is_inches(words, amount, at):
        return None
    if said == "m" and _text(words, at + 1) in ("'", "’", "/"):
        return None
    after = at + 1
    if said == "in" and _text(words, after) == "." and _abbreviated(text, words, after):
        after += 1
    return unit, after


def _mark_at(words: list[_Word], amount: _Amount) -> tuple[FigureUnit, int] | None:
    """Inch marks: a double prime, or a straight quote that closes no quotation."""
    at = amount.last
    if at >= len(words) or words[at].start != words[at - 1].end:
        return None
    mark = words[at].text
    if mark == "″":
        return "in", at + 1
    if mark == '"' and not words[at].quoted:
        return "in", at + 1
    return None


def _is_inches(words: list[_Word], amount: _Amount, at: int) -> bool:
    following = _text(words, at + 1)
    if not following or not following[0].isalnum():
        return True
    if following in ("the", "a", "an", "half", "all", "place", "turn", "order", "your"):
        return False
    return amount.fraction or amount.value % 1 != 0 or following in AFTER_INCHES


def _abbreviated(text: str, words: list[_Word], dot: int) -> bool:
    """Whether the full stop belongs to "in." and does not end the sentence."""
    rest = text[words[dot].end :].lstrip()
    return bool(rest) and (rest[0].islower() or rest[0].isdigit() or rest[0] in ",;:)")


# ---------------------------------------------------------------- amounts


def _amount_at(words: list[_Word], at: int) -> _Amount | None:
    """ "5 1/4", "one and a half", "2.5", "three quarters", "an"."""
    part = _fraction_at(words, at)
    if part is not None:
        return part
    whole = _whole_at(words, at)
    if whole is None:
        return None
    for joint in _joints(words, whole.last):
        rest = _fraction_at(words, joint)
        if rest is not None and rest.value < 1 and whole.value % 1 == 0 and not whole.article:
            return _Amount(whole.value + rest.value, at, rest.last, fraction=True)
    return whole


def _decimal(said: str) -> float:
    """A number with a decimal point or comma, or with commas between thousands."""
    if re.fullmatch(r"\d{1,3}(,\d{3})+", said):
        return float(said.replace(",", ""))
    return float(said.replace(",", "."))


def _joints(words: list[_Word], at: int) -> list[int]:
    """Where the fraction of a mixed number may begin: after nothing, "and", or a hyphen."""
    joints = [at]
    if _text(words, at) in ("and", "-"):
        joints.append(at + 1)
    return joints


def _whole_at(words: list[_Word], at: int) -> _Amount | None:
    said = _text(words, at)
    if not said:
        return None
    if said[0].isdigit():
        value = _decimal(said)
        return _Amount(value, at, at + 1) if value < _LARGEST else None
    if said in ("a", "an"):
        if _text(words, at + 1) == "hundred":
            return _Amount(100.0, at, at + 2)
        return _Amount(1.0, at, at + 1, article=True)
    if said not in COUNTS:
        return None
    count, last = COUNTS[said], at + 1
    if 20 <= count < 100:
        ones_at = last + 1 if _text(words, last) == "-" else last
        ones = COUNTS.get(_text(words, ones_at), 0)
        if 1 <= ones <= 9:
            count, last = count + ones, ones_at + 1
    elif count < 10 and _text(words, last) == "hundred":
        count, last = count * 100, last + 1
    return _Amount(float(count), at, last)


def _fraction_at(words: list[_Word], at: int) -> _Amount | None:
    """ "1/4", "¼", "a quarter", "half a", "three-eighths"."""
    said = _text(words, at)
    if not said:
        return None
    if said in FRACTION_SIGNS:
        return _Amount(FRACTION_SIGNS[said], at, at + 1, fraction=True)
    if said.isdigit() and _text(words, at + 1) in ("/", "⁄") and _touching(words, at + 1):
        below = _text(words, at + 2)
        if below.isdigit() and int(below) > 0 and len(below) <= 3 and len(said) <= 3:
            return _Amount(int(said) / int(below), at, at + 3, fraction=True)
        return None
    if said in ("half", "quarter"):
        return _Amount(PARTS[said], at, at + 1, fraction=True)
    count, part_at = 1, at + 1
    if said in COUNTS and 1 <= COUNTS[said] <= 31:
        count = COUNTS[said]
    elif said not in ("a", "an"):
        return None
    if _text(words, part_at) == "-":
        part_at += 1
    part = PARTS.get(_text(words, part_at))
    return None if part is None else _Amount(count * part, at, part_at + 1, fraction=True)


# ---------------------------------------------------------------- words


def _text(words: list[_Word], at: int) -> str:
    return words[at].text.lower() if 0 <= at < len(words) else ""


def _touching(words: list[_Word], at: int) -> bool:
    """Whether a sign stands between its neighbours without spaces."""
    return (
        0 < at < len(words) - 1
        and words[at - 1].end == words[at].start
        and words[at].end == words[at + 1].start
    )
