"""What may be chosen about cut files; what is not chosen stays as it always was."""

from __future__ import annotations

from typing import Literal, TypeAlias, cast

from msgspec import Struct
from msgspec.structs import replace

from publisher.layout import Sheet, on_bed
from publisher.trade import CUT_FORMATS, Cutting, Machine, Trade

ScoreAs: TypeAlias = Literal["groups", "dashes", "drawn"]
"""Scores and lines to tear along: whole lines in groups of their own, real cut dashes, or
light lines to draw."""

FORMATS = ("svg", "dxf", "pdf")
"""What is written where nothing else is asked for."""

UNITS_PER_INCH: dict[str, float] = {
    "svg": 96,
    "svg-72": 72,
    "svg-90": 90,
    "dxf": 25.4,
    "dxf-r12": 25.4,
    "pdf": 72,
    "png": 300,
}
"""Every format, and how many of a file's own units make an inch."""


class CutOptions(Struct, frozen=True):
    """How cut files are written.

    ``machine`` is the name of one of ``Trade.machines`` or "". ``pieces`` adds a file for each
    piece beside those for each sheet, ``glue`` the outlines of glue zones. ``blade`` writes the
    machine's overcut and lead into the lines, for programs that do not add them themselves.
    ``once`` cuts an edge that two pieces share only once.
    """

    score_as: ScoreAs = "groups"
    machine: str = ""
    formats: tuple[str, ...] = FORMATS
    pieces: bool = False
    glue: bool = False
    blade: bool = False
    once: bool = False


def suited(machine: Machine, formats: tuple[str, ...] = FORMATS) -> CutOptions:
    """What a machine needs: dashes where it cannot score, the SVG that its programs open at the
    right size beside the plain one."""
    own = f"svg-{machine.units_per_inch}"
    if own in UNITS_PER_INCH and own not in formats:
        formats = (*formats, own)
    return CutOptions(
        score_as="dashes" if machine.scores == "no" else "groups",
        machine=machine.name,
        formats=formats,
    )


def fits_bed(sheet: Sheet, machine: Machine) -> bool:
    """Whether a machine takes the sheet, upright or turned, and reaches all that lies on it.

    A sheet whose own margin is narrower than the machine's has lines out of reach.
    """
    return sheet.size.margin_mm >= machine.margin_mm and on_bed(sheet.size, machine)


def options_for(cutting: Cutting, trade: Trade) -> CutOptions:
    """What was chosen: the machine's needs where nothing else is said, further formats beside
    the plain ones, a file for each piece unless only sheets are wanted.

    Raises KeyError for a machine that is not there.
    """
    machine = trade.machines[cutting.machine] if cutting.machine else None
    own = suited(machine) if machine else CutOptions()
    return replace(
        own,
        score_as=cast(ScoreAs, cutting.scores) if cutting.scores else own.score_as,
        formats=tuple(f for f in CUT_FORMATS if f in (*own.formats, *cutting.formats)),
        pieces=cutting.pieces != "on sheets",
        blade=cutting.overcut == "yes",
        once=cutting.edges == "shared",
    )
