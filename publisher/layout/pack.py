"""Boxes on as few sheets as the packer finds, in whole thousandths of a millimetre."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import Any, TypeAlias

from msgspec import Struct
from rectpack import (
    SORT_AREA,
    SORT_LSIDE,
    SORT_SSIDE,
    MaxRectsBaf,
    MaxRectsBl,
    MaxRectsBssf,
    PackingBin,
    PackingMode,
    newPacker,
)

from publisher.layout.room import UNITS_PER_MM, Box, units

Rule: TypeAlias = tuple[Any, Any]
"""Of rectpack: where a box goes, and which box goes next."""
USUAL: Rule = (MaxRectsBssf, SORT_AREA)
RULES: tuple[Rule, ...] = tuple(
    product((MaxRectsBssf, MaxRectsBaf, MaxRectsBl), (SORT_AREA, SORT_LSIDE, SORT_SSIDE))
)


class Spot(Struct, frozen=True):
    """Where a box came to lie, from the top left of the usable part of its sheet."""

    sheet: int
    x_mm: float
    y_mm: float
    turned: bool


def pack(
    boxes: Sequence[Box],
    width_mm: float,
    height_mm: float,
    gap_mm: float,
    may_turn: bool,
    rule: Rule = USUAL,
) -> list[Spot]:
    """A spot for every box, in their order.

    Each box must fit the sheet upright. Sheets count from 0, by their topmost, leftmost box of
    the least number. The packer is rectpack's maximal rectangles, by best short side fit
    unless another ``rule`` is given.
    """
    gap = units(gap_mm)
    packer = newPacker(
        mode=PackingMode.Offline,
        bin_algo=PackingBin.BBF,
        pack_algo=rule[0],
        sort_algo=rule[1],
        rotation=may_turn,
    )
    # The gap is added to every box, and once to the sheet, whose far edges need none.
    packer.add_bin(units(width_mm) + gap, units(height_mm) + gap, count=len(boxes))
    for number, box in enumerate(boxes):
        packer.add_rect(units(box.width_mm) + gap, units(box.height_mm) + gap, rid=number)
    packer.pack()
    found: dict[int, tuple[int, int, int, bool]] = {}
    for sheet, x, y, width, _, number in packer.rect_list():
        turned = width != units(boxes[number].width_mm) + gap
        found[number] = (sheet, x, y, turned)
    order: dict[int, int] = {}
    for number in sorted(found):
        order.setdefault(found[number][0], len(order))
    return [
        Spot(order[sheet], x / UNITS_PER_MM, y / UNITS_PER_MM, turned)
        for sheet, x, y, turned in (found[number] for number in range(len(boxes)))
    ]
