"""Pieces that go on no sheet, cut in two along the author's lines, with a tab to glue."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.geometry.booleans import clip_path, region_intersection
from publisher.geometry.canonical import canonical_region
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Path, Region
from publisher.geometry.transform import translated
from publisher.layout.room import size_of, way
from publisher.model.division import Division
from publisher.model.shaping.dividing import sides_of, tab_of
from publisher.model.types import GlueZone, Opening, Pattern, Piece, Score
from publisher.trade import SheetSize, Trade

MOST = 6
"""More lines of a piece are not tried: the ways of choosing among them double with each."""


def divided(pattern: Pattern, trade: Trade, sheet_name: str | None = None) -> Pattern:
    """The pattern as it is cut: each piece that goes on no sheet in the fewest parts that its
    lines allow and that all do. A piece that no line helps stays whole.

    Parts are named "banner part 1" and so on. The tab is a glue zone on its front face.
    """
    pieces: list[Piece] = []
    names = {piece.name for piece in pattern.pieces}
    for piece in pattern.pieces:
        size = size_of(trade.sheets, sheet_name or piece.stock.sheet)
        parts = None
        if piece.divisions and size is not None and way(piece, size) is None:
            parts = _parts(piece, piece.divisions[:MOST], size)
        if parts is None:
            pieces.append(piece)
            continue
        for number, part in enumerate(parts, 1):
            name = f"{piece.name} part {number}"
            while name in names:
                name = f"{name} of {piece.name}"
            names.add(name)
            pieces.append(replace(part, name=name))
    if len(pieces) == len(pattern.pieces):
        return pattern
    return replace(pattern, pieces=tuple(pieces))


def _parts(
    piece: Piece, divisions: tuple[Division, ...], size: SheetSize
) -> tuple[Piece, ...] | None:
    if way(piece, size) is not None:
        return (piece,)
    best: tuple[Piece, ...] | None = None
    for division in divisions:
        halves = _halves(piece, division)
        if halves is None:
            continue
        found: tuple[Piece, ...] | None = ()
        for half in halves:
            # Each part carries its own lines, moved along with it.
            own = _parts(half, half.divisions, size)
            found = None if own is None or found is None else found + own
        if found is not None and (best is None or len(found) < len(best)):
            best = found
    return best


def _halves(piece: Piece, division: Division) -> tuple[Piece, Piece] | None:
    first, second = sides_of(piece.outline, division)
    if len(first) != 1 or len(second) != 1:
        return None
    others = tuple(other for other in piece.divisions if other != division)
    whole = replace(piece, divisions=others)
    tabs = tuple(
        GlueZone(f"tab {number}", None, region, "front", division.span)
        for number, region in enumerate(tab_of(piece.outline, division), 1)
    )
    with_tab = _part(whole, first[0], tabs)
    return with_tab, _part(whole, second[0], ())


def _part(piece: Piece, paper: Region, tabs: tuple[GlueZone, ...]) -> Piece:
    """What of a piece lies on a part of its paper, its top left at (0, 0)."""
    x, y, _, _ = path_bounds(paper.outer)

    def here(path: Path) -> tuple[Path, ...]:
        return tuple(translated(part, -x, -y) for part in clip_path(path, paper))

    scores = tuple(
        Score(s.name if n == 0 else f"{s.name} part {n + 1}", path, s.bend, None, s.span)
        for s in piece.scores
        for n, path in enumerate(here(s.path))
    )
    openings: tuple[Opening, ...] = tuple(
        replace(o, path=path, panel=None)
        for o in piece.openings
        if o.kind in ("slit", "perforation")
        for path in here(o.path)
    )
    zones = tuple(
        replace(zone, region=region, panel=None)
        for zone in piece.glue_zones
        for region in region_intersection(zone.region, paper)
    )
    marks = tuple(
        replace(mark, paths=paths, panel=None)
        for mark in piece.marks
        if (paths := tuple(part for path in mark.paths for part in here(path)))
    )
    return replace(
        piece,
        outline=canonical_region(translated(paper, -x, -y)),
        panels=(),
        folds=(),
        facets=(),
        hinges=(),
        islands=(),
        bridges=(),
        corners=(),
        derived=None,
        scores=scores,
        openings=openings,
        glue_zones=tuple(
            replace(zone, region=translated(zone.region, -x, -y)) for zone in (*zones, *tabs)
        ),
        marks=marks,
        divisions=tuple(
            replace(
                d,
                start=(d.start[0] - x, d.start[1] - y),
                end=(d.end[0] - x, d.end[1] - y),
            )
            for d in piece.divisions
        ),
    )
