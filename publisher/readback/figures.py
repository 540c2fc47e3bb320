"""Figures with their units as they stand in the text of a page, found by a reader of its own.

It shares nothing with what writes figures or reads them in a pattern: it knows numbers, fractions
and units, and how far a printed figure may be from the length that it stands for.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pypdfium2 as pdfium
from msgspec import Struct

MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
RULED_FROM_MM = 2.0
"""From here on a metric ruler's half millimetres are what is meant."""
RULER_PARTS = (2, 4, 8, 16, 32)
_EXACT = 1e-6
_WHOLE = r"\d+(?:\.\d+)?"
_GAP = r"[ \n]{1,2}"  # a reader gives a line's end a space of its own
_UNDER = r"[1-9]\d{0,3}"  # a maker's size such as 3/0 is no fraction
_NUMBER = rf"(?:\d+(?:{_GAP}\d+[/⁄]{_UNDER}|[/⁄]{_UNDER})|{_WHOLE})"
_SHARE = rf"(?!{_GAP}1000?(?![\d.]|{_GAP}(?:mm|×)))"  # "4 in 100" is no length
_UNIT = rf"(?:mm|cm²|cm|m|sq{_GAP}in|in{_SHARE}|ft|g/m²)(?![\w²/])"
_ONE = rf"(?P<list>{_NUMBER}(?:[ \n]*×[ \n]*{_NUMBER})*)(?:{_GAP}(?P<unit>{_UNIT})|(?P<turn>°))"
_FIGURE = re.compile(rf"(?<![\w.,/⁄-]){_ONE}")
_JOIN = re.compile(r"[ \n]*\(")
_TIMES = re.compile(r"[ \n]*×[ \n]*")
_SHAPE = re.compile(rf"(?:(?P<whole>\d+)(?P<gap>[ \n]+))?(?P<over>\d+)[/⁄](?P<under>{_UNDER})")
_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta"}
_VOID |= {"param", "source", "track", "wbr"}
"""Elements of HTML that nothing closes."""


class Number(Struct, frozen=True):
    """A number as it is written. ``step`` is the place value of its last digit or its fraction;
    ``other`` what it is where the whole number before a line's end is no part of it."""

    value: float
    step: float
    fraction: bool = False
    other: float | None = None


class Figure(Struct, frozen=True):
    """Numbers that share a unit, and the same again in the other unit where it follows in
    brackets."""

    written: str
    numbers: tuple[Number, ...]
    unit: str
    again: Figure | None = None


def pages_of(pdf: bytes) -> list[str]:
    """The text of every page, as PDFium reads it. Raises what PDFium raises on what is no PDF."""
    document = pdfium.PdfDocument(pdf)
    try:
        return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in document]
    finally:
        document.close()


def page_of(html: bytes) -> str:
    """The text of a page of HTML. Raises ValueError where its tags are not in order."""
    reader = _Words()
    reader.feed(html.decode("utf-8"))
    reader.close()
    return " ".join(" ".join(reader.words).split())


class _Words(HTMLParser):
    """Raises where a tag is closed that is not open."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.open: list[str] = [""]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in _VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Opens and closes nothing."""

    def handle_endtag(self, tag: str) -> None:
        if self.open.pop() != tag:
            raise ValueError(f"a {tag} is closed that is not open")

    def handle_data(self, data: str) -> None:
        if self.open[-1] not in ("style", "script"):
            self.words.append(data)


def figures_on(text: str) -> Iterator[Figure]:
    """Every figure with a unit, in the order of the text."""
    at = 0
    while match := _FIGURE.search(text, at):
        figure, at = _read(match), match.end()
        joint = _JOIN.match(text, at)
        inner = _FIGURE.match(text, joint.end()) if joint else None
        if inner and text[inner.end() : inner.end() + 1] == ")":
            again = _read(inner)
            pair = {figure.unit, again.unit}
            if len(figure.numbers) == len(again.numbers) and len(pair) == 2:
                written = " ".join(text[match.start() : inner.end() + 1].split())
                figure = Figure(written, figure.numbers, figure.unit, again)
                at = inner.end()
        yield figure


def _read(match: re.Match[str]) -> Figure:
    unit = " ".join((match["unit"] or "°").split())
    numbers = tuple(number_of(said) for said in _TIMES.split(match["list"]))
    return Figure(" ".join(match.group().split()), numbers, unit)


def number_of(said: str) -> Number:
    """``12``, ``0.157``, ``5 1/4``."""
    shape = _SHAPE.fullmatch(said)
    if shape is None:
        decimals = len(said.partition(".")[2])
        return Number(float(said), 10.0**-decimals)
    part, whole = float(shape["over"]) / int(shape["under"]), float(shape["whole"] or 0)
    other = part if "\n" in (shape["gap"] or "") else None
    return Number(whole + part, 1.0 / int(shape["under"]), True, other)


def is_on_ruler(number: Number) -> bool:
    """Whether a fraction is one that a ruler has, in lowest terms."""
    if not number.fraction or not math.isfinite(number.value):
        return not number.fraction
    under = round(1.0 / number.step)
    over = round(number.value % 1.0 / number.step)
    return under in RULER_PARTS and over % 2 == 1


def _is_whole(value: float) -> bool:
    return math.isfinite(value) and abs(value - round(value)) < _EXACT


def reach_mm(number: Number, unit: str, rough: bool = False) -> float:
    """How far from the length in mm the figure may be: half of the least step that shows there.

    ``rough`` is for long lengths that nobody measures: the last digit is all that is meant.
    """
    if rough:
        return number.step * MM[unit] / 2.0
    if unit == "mm":
        if number.value >= RULED_FROM_MM and _is_whole(2.0 * number.value):
            return 0.25
        return 0.025 if _is_whole(20.0 * number.value) else 0.005
    if unit == "in":
        finer = number.fraction and number.step < 1.0 / 16.0
        ruled = number.fraction or number.step == 1.0
        return MM["in"] * ((1.0 / 64.0 if finer else 1.0 / 32.0) if ruled else number.step / 2.0)
    return number.step * MM[unit] / 2.0
