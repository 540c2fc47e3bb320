"""A spine is wide enough for the papers and the contents that it goes round."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.rules.goes_into import inside
from publisher.geometry.space import dot, lift
from publisher.model.folding import closed_angles, facet_poses
from publisher.model.types import Piece

CODE = "spine-too-narrow"
SQUARE = 0.02


def check(context: Context) -> Results:
    for piece in context.pattern.pieces:
        for fold in piece.folds:
            for other in piece.folds:
                if other.parent == fold.child and _book(piece, fold.name, other.name):
                    yield from _spine(context, piece, fold.child, fold.parent, other.child)


def _book(piece: Piece, first: str, second: str) -> bool:
    """Two folds of a right angle the same way, on opposite sides of the panel between them."""
    a, b = piece.fold(first), piece.fold(second)
    square = all(abs(abs(f.closing_deg) - 90.0) < 1.0 for f in (a, b))
    ax, ay = a.end[0] - a.start[0], a.end[1] - a.start[1]
    bx, by = b.end[0] - b.start[0], b.end[1] - b.start[1]
    return square and a.bend == b.bend and abs(ax * by - ay * bx) < 1e-6 * (ax * ax + ay * ay)


def _spine(context: Context, piece: Piece, spine: str, front: str, back: str) -> Results:
    poses = facet_poses(piece, closed_angles(piece))
    names = {f.panel: f.name for f in reversed(piece.facets)}
    if not {spine, front, back} <= names.keys():
        return
    home = poses[names[front]].inverse()
    room = abs(home.after(poses[names[back]]).apply(lift(_corner(piece, names[back])))[2])
    if any(_walls(piece, names, panel, spine) for panel in (front, back)):
        return  # a wall of a tray, not the spine of a cover
    between = 0
    for facet in piece.facets:
        into = home.after(poses[facet.name])
        level = abs(into.apply(lift(_corner(piece, facet.name)))[2])
        flat = abs(dot(into.normal, (0.0, 0.0, 1.0))) > 1 - SQUARE
        if facet.panel not in (front, back, spine) and flat and level < room + 1e-6:
            between += 1
    thick = max(
        (
            pair[0].size_mm[2]
            for pair in map(inside, context.pattern.claims)
            if pair is not None and pair[1].piece == piece.name and pair[0].size_mm is not None
        ),
        default=0.0,
    )
    need = between * piece.stock.caliper_mm + thick
    numbers = (("room_mm", room), ("need_mm", need), ("papers", float(between)))
    if room < need - 1e-6:
        yield failed(
            CODE,
            f"{piece.name}: {spine}",
            numbers,
            f"{spine} of {piece.name} leaves {context.say(room)} between its covers, and"
            f" {context.say(need)} of paper and contents lie there",
            piece.fold(spine).span,
            severity="warning",
            ways_out=(f"make {spine} {context.say(need - room)} wider",),
        )
    else:
        sentence = f"{spine} of {piece.name} is wide enough for what it goes round"
        yield passed(CODE, f"{piece.name}: {spine}", numbers, sentence)


def _corner(piece: Piece, facet: str) -> tuple[float, float]:
    return piece.facet(facet).region.outer.start


def _walls(piece: Piece, names: dict[str, str], panel: str, spine: str) -> bool:
    """Whether a cover has upright neighbours besides the spine."""
    beside = [f for f in piece.folds if panel in (f.parent, f.child)]
    return any(
        spine not in (f.parent, f.child) and abs(abs(f.closing_deg) - 90.0) < 1.0 for f in beside
    )
