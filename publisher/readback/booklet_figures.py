"""Every figure in a booklet's text is a figure of the model, its table of sizes too.

A length printed in both units must be one length of the model in both. Where a drawing's figures
stand one above the other, the page's order tells nothing of what belongs together: each must have
a partner in the other unit on its page.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence

from publisher.diagnostics import Diagnostic
from publisher.readback.figures import (
    MM,
    Figure,
    Number,
    figures_on,
    is_on_ruler,
    number_of,
    pages_of,
    reach_mm,
)
from publisher.readback.known import Known
from publisher.readback.told import finding

CODE = "printed-figure-differs"
DUST_MM = 2e-6
ROUGH = ("cm", "m", "ft")
GLUE_STEPS = {"cm²": 500.0, "sq in": MM["in"] ** 2}
"""Glue is rounded up to these, mm²."""
_FIGURES = re.compile(r" -?\d")
_PART = re.compile(r"-?(?:(?:\d+ )?\d+[/⁄][1-9]\d{0,3}|\d+(?:\.\d+)?)")


def measure_booklets(files: Mapping[str, bytes], known: Known) -> list[Diagnostic]:
    """What in these booklets is no figure of the model."""
    found: list[Diagnostic] = []
    for path, pdf in files.items():
        try:
            pages = pages_of(pdf)
        except Exception as error:  # whatever a reader raises on a broken file
            found.append(_told(path, f"it cannot be read: {error}"))
            continue
        found += compared_text(path, pages, known)
    return found


def compared_text(path: str, pages: Sequence[str], known: Known) -> Iterator[Diagnostic]:
    for number, text in enumerate(pages, 1):
        where = f"{path}, page {number}"
        alone: list[Figure] = []
        yield from figures_that_differ(where, text, known)
        for figure in figures_on(text):
            single = figure.again is None and figure.unit in ("mm", "in")
            if single and _holds(figure, known):
                alone.append(figure)
        yield from _without_partner(where, alone, known)
    yield from _wrong_rows(path, pages, known)


def figures_that_differ(where: str, text: str, known: Known) -> Iterator[Diagnostic]:
    """Figures on a page that are none of the model's."""
    for figure in figures_on(text):
        if not _holds(figure, known):
            yield _told(where, f"nothing in the design is {figure.written}")


def _is_said(figure: Figure, known: Known) -> bool:
    return all((n.value, figure.unit) in known.said for n in figure.numbers)


def _holds(figure: Figure, known: Known) -> bool:
    both = (figure, *((figure.again,) if figure.again else ()))
    if all(_is_said(one, known) for one in both):
        return True
    if figure.unit == "°":
        return _near(known.angles, figure.numbers[0].value, 0.05)
    if figure.unit == "g/m²":
        return _near(known.papers, figure.numbers[0].value, 0.5)
    if figure.unit in GLUE_STEPS:
        return any(
            all(_rounds_up(mm2, one.numbers[0], GLUE_STEPS[one.unit], one.unit) for one in both)
            for mm2 in known.areas
        )
    if any(one.unit in ROUGH for one in both):
        return bool(_lengths(figure, known, known.long, rough=True))
    return bool(_lengths(figure, known, known.lengths))


def _near(values: Sequence[float], value: float, reach: float) -> bool:
    at = bisect_left(values, value - reach - DUST_MM)
    return at < len(values) and values[at] <= value + reach + DUST_MM


def _rounds_up(mm2: float, said: Number, step: float, unit: str) -> bool:
    value = said.value * (100.0 if unit == "cm²" else GLUE_STEPS["sq in"])
    return -DUST_MM <= value - mm2 < step and abs(value / step - round(value / step)) < DUST_MM


def _lengths(
    figure: Figure, known: Known, values: Sequence[float], rough: bool = False
) -> list[list[float]]:
    """For each number of a figure the lengths that it may be, in both units where it has both;
    empty where one has none."""
    found = []
    for index, number in enumerate(figure.numbers):
        fitting = set(_may_be(number, figure.unit, known, values, rough))
        if figure.again is not None:
            other = figure.again.numbers[index]
            fitting &= set(_may_be(other, figure.again.unit, known, values, rough))
        if not fitting:
            return []
        found.append(sorted(fitting))
    return found


def _may_be(
    number: Number, unit: str, known: Known, values: Sequence[float], rough: bool
) -> Iterator[float]:
    """The lengths for which a number may stand."""
    if not is_on_ruler(number):
        return
    for value in (number.value, *((number.other,) if number.other is not None else ())):
        mm, reach = value * MM[unit], reach_mm(number, unit, rough) + DUST_MM
        # Other marks than the nearest are chosen where only so the thing fits.
        marks = [c for c in known.chosen if c[0] == unit]
        yield from (own for _, own, printed in marks if abs(printed - mm) < 0.01)
        at = bisect_left(values, mm - reach)
        while at < len(values) and values[at] <= mm + reach:
            yield values[at]
            at += 1


def _without_partner(where: str, alone: list[Figure], known: Known) -> Iterator[Diagnostic]:
    """Figures in one unit that are nowhere on the page in the other."""
    lengths = [(f, {v for fit in _lengths(f, known, known.drawn) for v in fit}) for f in alone]
    for figure, own in lengths:
        if _is_said(figure, known):
            continue  # the author's word, or the trade's, in one unit
        others = (fit for other, fit in lengths if other.unit != figure.unit)
        if not any(own & fit for fit in others):
            unit = "inches" if figure.unit == "mm" else "millimetres"
            yield _told(where, f"{figure.written} is nowhere said in {unit}")


# ---------------------------------------------------------------- the table of sizes


def _wrong_rows(path: str, pages: Sequence[str], known: Known) -> Iterator[Diagnostic]:
    """Sizes that stand at the head of a line with figures that are not theirs. A theme may leave
    the table out or break a long name, so that what is not there is no mistake."""
    lines = [line for text in pages for line in text.split("\n")]
    for name, values, unit in known.sizes:
        words = name.split(" ")
        begins = {" ".join(words[:k]).casefold() for k in range(1, len(words) + 1)}
        rows = [
            line[len(begin) + 1 :]
            for line in lines
            for begin in begins
            if line[: len(begin)].casefold() == begin and _FIGURES.match(line, len(begin))
        ]
        if rows and not any(_tells(row, values, unit, known) for row in rows):
            yield _told(path, f"the table of sizes does not say ‘{name}’ as the design has it")


def _tells(said: str, values: tuple[float, ...], unit: str, known: Known) -> bool:
    if unit == "deg":
        turn = re.match(r"(-?\d+(?:\.\d+)?)°", said)
        return turn is not None and abs(float(turn[1]) - values[0]) < 0.05 + DUST_MM
    if unit == "":
        numbers = re.match(r"-?\d+(?:\.\d+)?(?: × -?\d+(?:\.\d+)?)*", said)
        parts = [float(part) for part in numbers[0].split(" × ")] if numbers else []
        return len(parts) == len(values) and all(
            abs(a - b) < 0.0005 + DUST_MM for a, b in zip(parts, values, strict=True)
        )
    units = (known.first, "in" if known.first == "mm" else "mm")
    return any(
        all(_are(column, values, own, known) for column, own in zip(columns, units, strict=True))
        for columns in _columns(said, len(values))
    )


def _columns(said: str, count: int) -> Iterator[tuple[list[str], list[str]]]:
    """Two columns of figures stand side by side with nothing between them: every way to read
    them, as ``22 7/8`` may be one figure and two."""
    words = said.split(" ")
    for first, after in _figures(words, 0, count):
        for second, _ in _figures(words, after, count):
            yield first, second


def _figures(words: list[str], at: int, count: int) -> Iterator[tuple[list[str], int]]:
    """``count`` figures with a times sign between them, and where they end."""
    for length in (1, 2):
        figure = " ".join(words[at : at + length])
        if not _PART.fullmatch(figure):
            continue
        after = at + length
        if count == 1:
            yield [figure], after
        elif words[after : after + 1] == ["×"]:
            yield from (
                ([figure, *rest], end) for rest, end in _figures(words, after + 1, count - 1)
            )


def _are(column: list[str], values: tuple[float, ...], unit: str, known: Known) -> bool:
    if len(column) != len(values):
        return False
    for said, value in zip(column, values, strict=True):
        one = number_of(said.removeprefix("-"))
        if said.startswith("-") != (value < 0.0):
            return False
        if abs(value) not in set(_may_be(one, unit, known, (abs(value),), False)):
            return False
    return True


def _told(where: str, what: str) -> Diagnostic:
    return finding(CODE, f"{where}: {what}")
