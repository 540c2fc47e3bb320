"""Lengths in running text, in figures and in words: "12 mm", "5 1/4 in", "a quarter of an inch".

A small reader of quantities: a number, a fraction, or both, then a unit. Lists share the unit
of their last member ("120 x 80 mm", "10 to 12 mm").
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from publisher.units.amounts import (
    Amount,
    Word,
    amount_at,
    fraction_at,
    split_words,
    text_at,
    touching,
)
from publisher.units.numbers import MM_PER_INCH
from publisher.units.words import AFTER_INCHES, FRACTION_SIGNS, HEDGES, UNITS

FigureUnit = Literal["mm", "cm", "m", "in", "ft"]

MM_PER_UNIT: dict[FigureUnit, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
}


class Figure(Struct, frozen=True):
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


_JOINERS = ("x", "×", "by", "to", "or", "–", "—", "-")
_LONGEST_LIST = 4


def figures_in(text: str) -> tuple[Figure, ...]:
    """Every length in ``text``, in order, without overlaps. Angles and counts are no lengths."""
    words = split_words(text)
    found: list[Figure] = []
    position = 0
    while position < len(words):
        figures, after = _list_at(text, words, position)
        found.extend(figures)
        position = max(after, position + 1)
    return tuple(found)


# ---------------------------------------------------------------- lists


def _list_at(text: str, words: list[Word], position: int) -> tuple[list[Figure], int]:
    """A list of amounts that ends in a unit, and the word after it."""
    amounts: list[Amount] = []
    at = position
    while len(amounts) < _LONGEST_LIST:
        amount = amount_at(words, at)
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


def _figures(text: str, words: list[Word], amounts: list[Amount]) -> tuple[list[Figure], int]:
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


def _afterthought(text: str, words: list[Word], amount: Amount, after: int) -> tuple[Amount, int]:
    """ "an inch **and a half**": a fraction said after the unit."""
    if amount.fraction or text_at(words, after) != "and":
        return amount, after
    part = fraction_at(words, after + 1)
    if part is None or _unit_at(text, words, part) is not None:
        return amount, after
    if text_at(words, part.last) == "of":
        return amount, after
    return replace(amount, value=amount.value + part.value), part.last


def _hedge_before(words: list[Word], first: int) -> str:
    for length in (2, 1):
        if first >= length:
            said = " ".join(w.text.lower() for w in words[first - length : first])
            if said in HEDGES:
                return said
    return ""


# ---------------------------------------------------------------- units


def _unit_at(text: str, words: list[Word], amount: Amount) -> tuple[FigureUnit, int] | None:
    """The unit after an amount, and the word after the unit."""
    at = amount.last
    if text_at(words, at) == "-" and touching(words, at) and text_at(words, at + 1) in UNITS:
        at += 1
    elif amount.fraction:
        if text_at(words, at) == "of" and text_at(words, at + 1) in ("a", "an"):
            at += 2
        elif text_at(words, at) in ("a", "an"):
            at += 1
    said = text_at(words, at)
    unit = UNITS.get(said)
    if unit is None:
        return _mark_at(words, amount)
    if amount.article and len(said) <= 2:
        return None
    if said == "in" and not _is_inches(words, amount, at):
        return None
    if said == "m" and text_at(words, at + 1) in ("'", "’", "/"):
        return None
    after = at + 1
    if said == "in" and text_at(words, after) == "." and _abbreviated(text, words, after):
        after += 1
    return unit, after


def _mark_at(words: list[Word], amount: Amount) -> tuple[FigureUnit, int] | None:
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


def _is_inches(words: list[Word], amount: Amount, at: int) -> bool:
    following = text_at(words, at + 1)
    if not following or not following[0].isalnum():
        return True
    if following in ("the", "a", "an", "half", "all", "place", "turn", "order", "your"):
        return False
    return amount.fraction or amount.value % 1 != 0 or following in AFTER_INCHES


def _abbreviated(text: str, words: list[Word], dot: int) -> bool:
    """Whether the full stop belongs to "in." and does not end the sentence."""
    rest = text[words[dot].end :].lstrip()
    return bool(rest) and (rest[0].islower() or rest[0].isdigit() or rest[0] in ",;:)")
