"""Where a piece stands whose tabs are glued to lines on another one: each fold on its line."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from publisher.assembly.kit import Kit, landed
from publisher.assembly.targets import edge_name, panel_name
from publisher.assembly.types import Body
from publisher.geometry.path import Point
from publisher.geometry.space import Pose, Vector, add, lift, moved, scaled, turned
from publisher.model.types import Piece, Target

Ends = tuple[Point, Point]


def on_lines(
    kit: Kit,
    body: Body,
    own: str,
    on: Body,
    facet: str,
    levels_mm: Mapping[bool, float],
    side: int,
    pairs: Sequence[tuple[Target, Target]],
) -> tuple[Pose, bool]:
    """The pose in which the facet ``own`` of a body lies on ``facet`` of another, its line on
    the first line, middle on middle, and whether the body is turned over for it.

    ``levels_mm`` are the heights that our facet may have, upright (False) and turned over
    (True). Of these, and of the two ways round that a line has, that in which the body stands
    off the other's face on ``side`` and its further lines come nearest to theirs.
    """
    hung = kit.hang(body.piece, dict(body.angles))
    home, ground = hung[own].inverse(), on.facet_pose(facet).inverse()
    here: list[tuple[Vector, Vector]] = []
    there: list[tuple[Vector, Vector]] = []
    for subject, target in pairs:
        if target.line_mm is None:
            continue
        part = next(iter(kit.facets_of(body.piece, panel_name(subject))), own)
        below = next(iter(kit.facets_of(on.piece, panel_name(target))), facet)
        a, b = (lift(p) for p in _line_of(kit.pieces[body.piece], subject, part))
        here.append((home.apply(hung[part].apply(a)), home.apply(hung[part].apply(b))))
        c, d = (lift(p) for p in target.line_mm)
        pose = on.facet_pose(below)
        there.append((ground.apply(pose.apply(c)), ground.apply(pose.apply(d))))
    shapes = [
        (home.after(hung[name]), kit.shapes[body.piece, name].outer) for name, _ in body.facets
    ]
    best: tuple[tuple[float, float], Pose, bool] | None = None
    for over, level_mm in levels_mm.items():
        flip = turned((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), 180.0) if over else Pose()
        for ends in (there[0], there[0][::-1]):
            place = _laid(flip, here[0], ends, level_mm)
            off = sum(
                math.dist(place.apply(_middle(*ours)), _middle(*theirs))
                for ours, theirs in zip(here[1:], there[1:], strict=True)
            )
            heights = (
                side * p[2] for pose, ring in shapes for p in landed(place.after(pose), ring)
            )
            found = (round(max(0.0, -min(heights)), 3), round(off, 6))
            if best is None or found < best[0]:
                best = (found, place, over)
    assert best is not None
    return on.facet_pose(facet).after(best[1]).after(home), best[2]


def _laid(
    flip: Pose, ours: tuple[Vector, Vector], theirs: tuple[Vector, Vector], level_mm: float
) -> Pose:
    a, b = (flip.apply(p) for p in ours)
    c, d = theirs
    turn = math.atan2(d[1] - c[1], d[0] - c[0]) - math.atan2(b[1] - a[1], b[0] - a[0])
    spin = turned((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), math.degrees(turn)).after(flip)
    x, y, _ = add(_middle(*theirs), scaled(spin.apply(_middle(*ours)), -1.0))
    return moved((x, y, level_mm)).after(spin)


def _middle(a: Vector, b: Vector) -> Vector:
    return scaled(add(a, b), 0.5)


def _line_of(piece: Piece, subject: Target, facet: str) -> Ends:
    """What is laid on a line: an edge where one is named, else the fold that a tab hangs on;
    of a panel without one, its lower edge."""
    panel = piece.panel(piece.facet(facet).panel)
    if subject.kind == "edge":
        named = next((e for e in panel.edges if e.name == edge_name(subject)), panel.edges[0])
        return named.start, named.end
    fold = next((f for f in piece.folds if f.child == panel.name), None)
    if fold is not None:
        return fold.start, fold.end
    edge = next((e for e in panel.edges if e.name == "bottom"), panel.edges[0])
    return edge.start, edge.end
