"""All lines of a sheet in the order of work, in mm from the sheet's top left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from msgspec import Struct

from publisher.cutfiles.clean import cleaned
from publisher.cutfiles.options import CutOptions, ScoreAs
from publisher.cutfiles.roles import (
    CUT,
    DRAW,
    ENGRAVE,
    GLUE,
    PERFORATION,
    ROLES,
    SCORE_MOUNTAIN,
    SCORE_VALLEY,
    Role,
)
from publisher.cutfiles.worked import Worked
from publisher.geometry.canonical import canonical_region
from publisher.geometry.path import Path
from publisher.layout import CopyPaths, Placed, Sheet, cut_order, on_sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import Machine, Trade

FIRM = ("glue", "draw", "engrave", "score")
"""What is done while the paper is whole."""


class Run(Struct, frozen=True):
    """Lines of one role of one copy that are worked one after another."""

    copy: str
    role: Role
    paths: tuple[Path, ...]


class CopyLines(Struct, frozen=True):
    """One copy of a piece. ``by_role`` has the roles that occur, in the order of work."""

    id: str
    by_role: tuple[tuple[Role, tuple[Path, ...]], ...]


class SheetLines(Struct, frozen=True):
    """One sheet, ready to be written in any format.

    ``runs`` is the order of work over the whole sheet. ``left_whole`` are the ids of copies
    with a line that was to become dashes and lies too near an edge for any.
    """

    title: str
    width_mm: float
    height_mm: float
    runs: tuple[Run, ...]
    score_as: ScoreAs = "groups"
    machine: Machine | None = None
    left_whole: tuple[str, ...] = ()

    @property
    def used(self) -> set[Role]:
        return {run.role for run in self.runs}

    @property
    def copies(self) -> tuple[CopyLines, ...]:
        """The same lines copy by copy, in the order in which the copies come loose, role by
        role: for formats in which a copy is one group."""
        last = {run.copy: place for place, run in enumerate(self.runs)}
        found = []
        for copy in sorted(last, key=lambda c: last[c]):
            lines: dict[Role, list[Path]] = {role: [] for role in ROLES}
            for run in self.runs:
                if run.copy == copy:
                    lines[run.role] += run.paths
            found.append(CopyLines(copy, tuple((r, tuple(p)) for r, p in lines.items() if p)))
        return tuple(found)


def sheet_lines(
    pattern: Pattern,
    sheet: Sheet,
    options: CutOptions | None = None,
    trade: Trade | None = None,
) -> SheetLines:
    """What is to be done to each copy on a sheet, in the order of work.

    Dashes and machines are looked up in ``trade``; raises KeyError where it has not got them.
    """
    chosen = options or CutOptions()
    machine = trade.machines[chosen.machine] if trade and chosen.machine else None
    copies = [_lines_of(pattern.piece(p.piece), p, chosen.glue) for p in sheet.placed]
    worked = Worked(copies, sheet.stock, chosen, machine, trade)
    strokes: list[tuple[str, Role, Path]] = []
    left_whole: list[str] = []
    for copy, role, path in _in_order(copies):
        paths = worked.paths(copy, role, path)
        strokes += [(sheet.placed[copy].id, role, part) for part in paths]
        if not paths and role is not CUT:
            left_whole.append(sheet.placed[copy].id)
    return SheetLines(
        title=f"{pattern.meta.title}, {sheet.name}",
        width_mm=sheet.size.width_mm,
        height_mm=sheet.size.height_mm,
        runs=tuple(_runs(strokes)),
        score_as=chosen.score_as,
        machine=machine,
        left_whole=tuple(dict.fromkeys(left_whole)),
    )


def _lines_of(piece: Piece, placed: Placed, glue: bool) -> list[tuple[Role, Path]]:
    """All lines of a copy, each clean; the outline is the last."""

    def here(path: Path) -> Path:
        return cleaned(on_sheet(path, piece, placed))

    found: list[tuple[Role, Path]] = []
    if glue:
        for zone in piece.glue_zones:
            rings = (zone.region.outer, *zone.region.holes)
            found += [(GLUE, here(ring)) for ring in rings]
    for mark in piece.marks:
        role = ENGRAVE if mark.kind == "engrave" else DRAW
        found += [(role, here(path)) for path in mark.paths]
    for score in piece.scores:
        role = SCORE_VALLEY if score.bend == "valley" else SCORE_MOUNTAIN
        found.append((role, here(score.path)))
    outline = canonical_region(on_sheet(piece.outline, piece, placed))
    found += [(CUT, cleaned(hole)) for hole in outline.holes]
    for opening in piece.openings:
        if opening.kind == "slit":
            found.append((CUT, here(opening.path)))
        elif opening.kind == "perforation":
            found.append((PERFORATION, here(opening.path)))
    found.append((CUT, cleaned(outline.outer)))
    return found


def _in_order(copies: Sequence[list[tuple[Role, Path]]]) -> Iterator[tuple[int, Role, Path]]:
    """Which copy, what for, and the line begun where the tool comes down.

    Glue zones and drawings go with the scores, lines to tear along are cut with the openings.
    """
    firm = [[line for line in copy if line[0].kind in FIRM] for copy in copies]
    inner = [
        [line for line in copy[:-1] if line[0].kind in ("perforation", "cut")] for copy in copies
    ]
    ordered = cut_order(
        [
            CopyPaths(
                outline=copy[-1][1],
                inner=tuple(path for _, path in inner[number]),
                scores=tuple(path for _, path in firm[number]),
            )
            for number, copy in enumerate(copies)
        ]
    )
    for cut in ordered:
        if cut.work == "outline":
            role = CUT
        else:
            role = (firm if cut.work == "score" else inner)[cut.copy][cut.number][0]
        yield cut.copy, role, cut.path


def _runs(strokes: Iterable[tuple[str, Role, Path]]) -> Iterator[Run]:
    for (copy, role), run in groupby(strokes, key=lambda stroke: stroke[:2]):
        yield Run(copy, role, tuple(path for _, _, path in run))
