"""The short facts and the tables of a pattern, figures written for a maker."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import PurePosixPath

from msgspec import Struct

from publisher.layout.types import Sheet
from publisher.model.types import Pattern, Piece, Size
from publisher.units import (
    FirstUnit,
    Kind,
    Ruler,
    angle,
    both_sizes,
    kind_for,
    number,
    one_sizes,
    time_words,
)

UNIT_TITLES = {"mm": "mm", "in": "inches"}


class SizeRow(Struct, frozen=True):
    """A size: ``first`` and ``second`` hold its figures in the author's unit and the other,
    without the unit; ``second`` is "" for an angle or a plain number."""

    name: str
    note: str
    first: str
    second: str


class PieceRow(Struct, frozen=True):
    """A piece to cut: how many, from what, how large."""

    name: str
    count: int
    stock: str
    first: str
    second: str


def second_unit(first: FirstUnit) -> FirstUnit:
    return "in" if first == "mm" else "mm"


def titled(name: str) -> str:
    """A name as a title: its first letter large."""
    return name[:1].upper() + name[1:]


def facts(pattern: Pattern) -> tuple[tuple[str, str], ...]:
    """Label and value: level, time, and what it holds (how many pieces where it holds nothing)."""
    meta = pattern.meta
    held = holds(pattern)
    count = sum(piece.copies for piece in pattern.pieces)
    last = ("Holds", held) if held else ("Pieces", str(count))
    return (("Level", titled(meta.level)), ("Time", time_in_all(pattern)), last)


def time_in_all(pattern: Pattern) -> str:
    """The time that the author states for hands, and what glue takes to dry beside it."""
    actions = [action for step in pattern.steps for action in step.actions]
    drying = sum(a.seconds or 0.0 for a in actions if a.verb == "dry")
    return f"{pattern.meta.time}, and {time_words(drying)} to dry" if drying else pattern.meta.time


def holds(pattern: Pattern) -> str:
    """The sizes of the things that the author says go into it, or ""."""
    found: dict[str, tuple[float, ...]] = {}
    for claim in pattern.claims:
        if claim.verb == "goes into" and claim.subject.size_mm:
            found[claim.subject.piece] = claim.subject.size_mm
    first = pattern.meta.first_unit
    return "; ".join(both_sizes(size, kind=_kind(size), first=first) for size in found.values())


def size_rows(pattern: Pattern) -> tuple[SizeRow, ...]:
    """All named sizes in the order of the document."""
    return tuple(_size_row(size, pattern.meta.ruler) for size in pattern.sizes)


def _size_row(size: Size, ruler: Ruler) -> SizeRow:
    name = titled(size.name)
    if size.unit == "deg":
        return SizeRow(name, size.note, angle(size.values[0]), "")
    if size.unit == "":
        return SizeRow(name, size.note, " × ".join(number(v) for v in size.values), "")
    return SizeRow(
        name,
        size.note,
        _bare(size.values, ruler.first, ruler),
        _bare(size.values, second_unit(ruler.first), ruler),
    )


def piece_rows(pattern: Pattern) -> tuple[PieceRow, ...]:
    """All pieces in the order of the document, each with the size of its blank."""
    ruler = pattern.meta.ruler
    rows = []
    for piece in pattern.pieces:
        size = blank_mm(piece)
        rows.append(
            PieceRow(
                titled(piece.name),
                piece.copies,
                piece.stock.title,
                _bare(size, ruler.first, ruler),
                _bare(size, second_unit(ruler.first), ruler),
            )
        )
    return tuple(rows)


def blank_mm(piece: Piece) -> tuple[float, float]:
    """Width and height of the rectangle that the piece is cut from."""
    x_min, y_min, x_max, y_max = piece.bounds
    return (x_max - x_min, y_max - y_min)


def sheet_titles(sheets: Iterable[Sheet]) -> tuple[str, ...]:
    """``Card, A4`` or, where there are more of a kind, ``Card, A4, sheet 1 of 2``."""
    listed = list(sheets)
    kinds = [(sheet.stock.name, sheet.size.name) for sheet in listed]
    titles = []
    for index, sheet in enumerate(listed):
        title = f"{sheet.stock.title}, {sheet.size.title}"
        count = kinds.count(kinds[index])
        if count > 1:
            title += f", sheet {kinds[: index + 1].count(kinds[index])} of {count}"
        titles.append(title)
    return tuple(titles)


def file_words(files: Iterable[str]) -> str:
    """``card-1 (svg, dxf, pdf)``: files that differ in their format only, named once."""
    formats: dict[str, list[str]] = {}
    for file in files:
        path = PurePosixPath(file)
        formats.setdefault(path.stem, []).append(path.suffix.lstrip("."))
    return "; ".join(f"{stem} ({', '.join(kinds)})" for stem, kinds in formats.items())


def _bare(values_mm: tuple[float, ...], unit: FirstUnit, ruler: Ruler) -> str:
    """The figures without their unit, which heads the column."""
    shown = one_sizes(values_mm, kind=_kind(values_mm), unit=unit, ruler=ruler)
    return shown.removesuffix(f" {unit}")


def _kind(values_mm: tuple[float, ...]) -> Kind:
    return kind_for(min(values_mm, key=abs)) if len(values_mm) == 1 else "ruled"
