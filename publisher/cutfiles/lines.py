"""All lines of a sheet in the order of work, in mm from the sheet's top left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from publisher.cutfiles.blade import lead, overcut
from publisher.cutfiles.clean import cleaned
from publisher.cutfiles.dashes import dash_rule, dashed
from publisher.cutfiles.once import CutOnce
from publisher.cutfiles.options import CutOptions, ScoreAs
from publisher.cutfiles.order import in_order
from publisher.cutfiles.roles import (
    CUT,
    GLUE,
    PERFORATION,
    ROLES,
    SCORE_MOUNTAIN,
    SCORE_VALLEY,
    Role,
    is_dashed,
)
from publisher.geometry.canonical import canonical_region
from publisher.geometry.measure import is_inside, path_bounds
from publisher.geometry.path import Path, Point, Region
from publisher.layout import Placed, Sheet, on_sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import Machine, Practice, Stock, Trade

_Paper = tuple[tuple[float, float, float, float], Region]


class Stroke(NamedTuple):
    """One line; ``last`` are those after which a piece is loose."""

    role: Role
    path: Path
    last: bool = False


@dataclass(frozen=True, slots=True)
class CopyLines:
    """One copy of a piece. ``by_role`` has the roles that occur, in the order of work."""

    id: str
    by_role: tuple[tuple[Role, tuple[Path, ...]], ...]


@dataclass(frozen=True, slots=True)
class SheetLines:
    """One sheet, ready to be written in any format.

    ``left_whole`` are the ids of copies with a line that was to become dashes and lies too
    near an edge for any.
    """

    title: str
    width_mm: float
    height_mm: float
    copies: tuple[CopyLines, ...]
    score_as: ScoreAs = "groups"
    machine: Machine | None = None
    left_whole: tuple[str, ...] = ()

    @property
    def used(self) -> set[Role]:
        return {role for copy in self.copies for role, _ in copy.by_role}


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
    if chosen.once:
        copies = _cut_once(copies)
    left_whole: list[str] = []
    if chosen.score_as == "dashes":
        practice = trade.practice if trade else {}
        for number, placed in enumerate(sheet.placed):
            strokes, whole = _with_dashes(copies[number], sheet.stock, practice)
            copies[number] = strokes
            left_whole += [placed.id] if whole else []
    done = tuple(CopyLines(sheet.placed[number].id, lines) for number, lines in _in_order(copies))
    if machine is not None and chosen.blade:
        paper = [_paper(pattern.piece(p.piece), p) for p in sheet.placed]
        done = tuple(_for_blade(copy, machine, paper) for copy in done)
    return SheetLines(
        title=f"{pattern.meta.title}, {sheet.name}",
        width_mm=sheet.size.width_mm,
        height_mm=sheet.size.height_mm,
        copies=done,
        score_as=chosen.score_as,
        machine=machine,
        left_whole=tuple(left_whole),
    )


def _lines_of(piece: Piece, placed: Placed, glue: bool) -> list[Stroke]:
    """All lines of a copy, each clean; the outline is the last."""

    def here(path: Path) -> Path:
        return cleaned(on_sheet(path, piece, placed))

    found: list[Stroke] = []
    if glue:
        for zone in piece.glue_zones:
            rings = (zone.region.outer, *zone.region.holes)
            found += [Stroke(GLUE, here(ring)) for ring in rings]
    for score in piece.scores:
        role = SCORE_VALLEY if score.bend == "valley" else SCORE_MOUNTAIN
        found.append(Stroke(role, here(score.path)))
    outline = canonical_region(on_sheet(piece.outline, piece, placed))
    found += [Stroke(CUT, cleaned(hole)) for hole in outline.holes]
    for opening in piece.openings:
        if opening.kind == "slit":
            found.append(Stroke(CUT, here(opening.path)))
        elif opening.kind == "perforation":
            found.append(Stroke(PERFORATION, here(opening.path)))
    found.append(Stroke(CUT, cleaned(outline.outer), last=True))
    return found


def _cut_once(copies: Sequence[list[Stroke]]) -> list[list[Stroke]]:
    sheet = CutOnce()
    return [
        [
            Stroke(stroke.role, part, stroke.last)
            for stroke in copy
            for part in (sheet.left(stroke.path) if stroke.role is CUT else (stroke.path,))
        ]
        for copy in copies
    ]


def _with_dashes(
    copy: list[Stroke], stock: Stock, practice: Mapping[str, Practice]
) -> tuple[list[Stroke], bool]:
    rules = {
        kind: dash_rule(kind, stock, practice)
        for kind in sorted({s.role.kind for s in copy if is_dashed(s.role)})
    }
    edges = [stroke.path for stroke in copy if stroke.role is CUT]
    lines = [stroke for stroke in copy if is_dashed(stroke.role)]
    found: list[Stroke] = []
    whole = False
    for stroke in copy:
        if not is_dashed(stroke.role):
            found.append(stroke)
            continue
        others = [line.path for line in lines if line is not stroke]
        parts = dashed(stroke.path, rules[stroke.role.kind], edges, others)
        whole = whole or not parts
        found += [Stroke(stroke.role, part) for part in parts]
    return found, whole


def _in_order(
    copies: Sequence[list[Stroke]],
) -> list[tuple[int, tuple[tuple[Role, tuple[Path, ...]], ...]]]:
    """Role by role; of the cuts those inside come before the last one, the outline."""
    groups = []
    for copy in copies:
        own = [tuple(s.path for s in copy if s.role is role and not s.last) for role in ROLES]
        groups.append((*own, tuple(s.path for s in copy if s.last)))
    found = []
    for number, done in in_order(groups):
        by_role = (*done[:-2], done[-2] + done[-1])
        lines = tuple((r, paths) for r, paths in zip(ROLES, by_role, strict=True) if paths)
        found.append((number, lines))
    return found


def _paper(piece: Piece, placed: Placed) -> _Paper:
    region = on_sheet(piece.outline, piece, placed)
    return path_bounds(region.outer), region


def _for_blade(copy: CopyLines, machine: Machine, paper: Sequence[_Paper]) -> CopyLines:
    """Closed cuts with what the machine adds at their start."""

    def is_waste(p: Point) -> bool:
        return not any(
            b[0] <= p[0] <= b[2] and b[1] <= p[1] <= b[3] and is_inside(region, p)
            for b, region in paper
        )

    def done(path: Path) -> Path:
        if not path.closed:
            return path
        first = lead(path, machine.lead_mm, is_waste)
        path = overcut(path, machine.overcut_mm)
        return path if first is None else Path((first, *path.segments), closed=False)

    return CopyLines(
        copy.id,
        tuple(
            (role, tuple(done(p) for p in paths) if role is CUT else paths)
            for role, paths in copy.by_role
        ),
    )
