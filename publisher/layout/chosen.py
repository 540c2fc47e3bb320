"""Sheets as they were chosen: margins, copies, gap, and a bed that takes them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place, WayOut
from publisher.layout.room import misfits, size_of, way
from publisher.model.types import Pattern
from publisher.trade import Cutting, Machine, SheetSize, Trade
from publisher.units import both_sizes

if TYPE_CHECKING:
    from publisher.layout.cache import LayoutCache
    from publisher.layout.types import Sheet


def lay_chosen(
    pattern: Pattern, trade: Trade, cutting: Cutting, cache: LayoutCache | None = None
) -> tuple[tuple[Sheet, ...], list[Diagnostic]]:
    """``lay_out`` as chosen. Where edges are shared no gap stays unless one is asked for."""
    from publisher.layout.laying import GAP_MM, lay_out  # a check does without

    gap_mm = cutting.gap_mm
    if gap_mm is None:
        gap_mm = 0.0 if cutting.edges == "shared" else GAP_MM
    return lay_out(
        pattern,
        with_margins(trade, cutting),
        cutting.sheet or None,
        copies=cutting.copies or 1,
        gap_mm=gap_mm,
        cache=cache,
    )


def to_cut(pattern: Pattern, trade: Trade, cutting: Cutting) -> Pattern:
    """The pattern with each piece that goes on no sheet whole in the parts that its author
    allows; itself where there is no such piece."""
    if not any(piece.divisions for piece in pattern.pieces):
        return pattern
    from publisher.layout.divide import divided  # few pieces are divided

    return divided(pattern, with_margins(trade, cutting), cutting.sheet or None)


def chosen_misfits(pattern: Pattern, trade: Trade, cutting: Cutting) -> list[Diagnostic]:
    """Pieces that go on no sheet, nor in parts, and sheets that the machine's bed does not
    take."""
    margined = with_margins(trade, cutting)
    pattern = to_cut(pattern, trade, cutting)
    found = misfits(pattern, margined, cutting.sheet or None)
    machine = trade.machines.get(cutting.machine)
    if machine is None:
        return found
    sizes: dict[str, SheetSize] = {}
    for piece in pattern.pieces:
        size = size_of(margined.sheets, cutting.sheet or piece.stock.sheet)
        if size is not None and not on_bed(size, machine):
            sizes.setdefault(size.name, size)
    return found + [_off_bed(pattern, margined, size, machine) for size in sizes.values()]


def with_margins(trade: Trade, cutting: Cutting) -> Trade:
    """The trade with each sheet's margin as it was asked for, or at least what the machine
    needs."""
    machine = trade.machines.get(cutting.machine)
    least = machine.margin_mm if machine else 0.0
    asked = cutting.margin_mm
    if asked is None and not least:
        return trade
    return replace(
        trade,
        sheets={
            name: replace(size, margin_mm=max(size.margin_mm if asked is None else asked, least))
            for name, size in trade.sheets.items()
        },
    )


def on_bed(size: SheetSize, machine: Machine) -> bool:
    """Whether a machine takes a sheet, upright or turned."""
    across = machine.bed_width_mm or float("inf")
    down = machine.bed_height_mm or float("inf")
    width, height = size.width_mm, size.height_mm
    return (width <= across and height <= down) or (height <= across and width <= down)


def _off_bed(pattern: Pattern, trade: Trade, size: SheetSize, machine: Machine) -> Diagnostic:
    first = pattern.meta.first_unit
    whole = both_sizes((size.width_mm, size.height_mm), kind="standard", first=first)
    sides = [
        ("across", machine.bed_width_mm),
        ("down", machine.bed_height_mm),
    ]
    takes = " and ".join(
        f"{both_sizes((mm,), kind='standard', first=first)} {word}" for word, mm in sides if mm
    )
    able = [
        other
        for other in trade.sheets.values()
        if on_bed(other, machine) and all(way(p, other) is not None for p in pattern.pieces)
    ]
    # The largest wastes least: fewer sheets have fewer edges.
    best = max(able, key=lambda s: (s.width_mm * s.height_mm, s.name), default=None)
    return Diagnostic(
        code="sheet-larger-than-bed",
        severity="error",
        message=f"a sheet of {size.title} is {whole}, and the {machine.name} takes {takes}",
        places=tuple(Place(piece.span) for piece in pattern.pieces[:1]),
        numbers=(
            ("sheet_width_mm", size.width_mm),
            ("sheet_height_mm", size.height_mm),
            ("bed_width_mm", machine.bed_width_mm),
            ("bed_height_mm", machine.bed_height_mm),
        ),
        ways_out=(WayOut(f"write sheet: {best.name}"),) if best else (),
    )
