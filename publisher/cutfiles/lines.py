"""All lines of a sheet, copy by copy and role by role, in mm from the sheet's top left."""

from __future__ import annotations

from dataclasses import dataclass

from publisher.cutfiles.roles import CUT, ROLES, SCORE_MOUNTAIN, SCORE_VALLEY, Role
from publisher.geometry.canonical import canonical_path, canonical_region
from publisher.geometry.path import Path
from publisher.layout import Placed, Sheet, on_sheet
from publisher.model.types import Pattern, Piece


@dataclass(frozen=True, slots=True)
class CopyLines:
    """One copy of a piece. ``by_role`` has the roles that occur, in the order of work."""

    id: str
    by_role: tuple[tuple[Role, tuple[Path, ...]], ...]


def sheet_lines(pattern: Pattern, sheet: Sheet) -> tuple[CopyLines, ...]:
    """What is to be done to each copy on a sheet, in the order of their placing."""
    return tuple(_copy_lines(pattern.piece(p.piece), p) for p in sheet.placed)


def _copy_lines(piece: Piece, placed: Placed) -> CopyLines:
    outline = canonical_region(on_sheet(piece.outline, piece, placed))
    lines: dict[Role, list[Path]] = {role: [] for role in ROLES}
    for score in piece.scores:
        role = SCORE_VALLEY if score.bend == "valley" else SCORE_MOUNTAIN
        lines[role].append(canonical_path(on_sheet(score.path, piece, placed)))
    # Inner cuts first: once its outline is cut a piece can shift.
    lines[CUT] += outline.holes
    for opening in piece.openings:
        if opening.kind == "slit":
            lines[CUT].append(canonical_path(on_sheet(opening.path, piece, placed)))
    lines[CUT].append(outline.outer)
    return CopyLines(
        placed.id, tuple((role, tuple(paths)) for role, paths in lines.items() if paths)
    )
