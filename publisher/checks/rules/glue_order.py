"""Glue meets its partner before other paper comes between.

A tab that belongs inside a pocket must be folded in before the pocket is closed: afterwards it
comes to lie outside, and the pocket is between it and what it was to hold to.
"""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import Bond, FacetId, Frame, State
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.lying import CHORD_MM, shape_of
from publisher.checks.places import Shape, seen_from
from publisher.checks.types import CheckResult
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.space import dot
from publisher.model.types import Piece

CODE = "glue-covered"
STICKING = ("glue", "tape")
DUST = 1e-6


def check(context: Context) -> Results:
    seen: set[Bond] = set()
    told: set[str] = set()
    for frame in context.story.frames:
        for bond in frame.after.bonds:
            if bond in seen or bond.by not in STICKING:
                continue
            seen.add(bond)
            yield from _between(context, frame, bond, told)


def _sides(state: State) -> dict[tuple[FacetId, FacetId], int]:
    """For two facets that lie flat on each other, on which side of the first the second lies: +1
    where its front looks to."""
    found: dict[tuple[FacetId, FacetId], int] = {}
    for lower, upper, side in state.above:
        normals = [state.body(b).facet_pose(f).normal for b, f in (lower, upper)]
        found[lower, upper] = side
        found[upper, lower] = -side if dot(*normals) > 0 else side
    return found


def _shape(context: Context, state: State, facet: FacetId) -> Shape | None:
    """A facet of paper; what lies there that is no paper can be taken away."""
    body = state.body(facet[0])
    if body.piece not in {p.name for p in context.pattern.pieces}:
        return None
    return shape_of(context.handled(body.piece), body, facet[1])


def _between(context: Context, frame: Frame, bond: Bond, told: set[str]) -> Results:
    """What lies between two parts as they are glued."""
    state = frame.after
    sides = _sides(state)
    one, other = bond.first, bond.second
    if (one, other) not in sides:
        return
    mine = _shape(context, state, one)
    if mine is None:
        return
    glue = _glue(context.handled(mine.piece), one[1], bond.zone, mine.flat)
    subject = f"{_named(context, state, one)} and {_named(context, state, other)}"
    if subject in told:
        return
    told.add(subject)
    worst, share = "", 0.0
    for third in sorted({b for a, b in sides if a == one} - {other} - _at_once(frame, other)):
        lies = sides.get((other, third))
        if sides[one, third] != sides[one, other] or lies != sides[other, one]:
            continue
        shape = _shape(context, state, third)
        covered = _share(mine, glue, shape) if shape is not None else 0.0
        if covered > share:
            worst, share = _named(context, state, third), covered
    yield _verdict(
        context,
        frame,
        subject,
        share,
        f"{worst} lies between {subject} when they are glued",
        "fold and glue what lies inside before what closes it",
    )


def _at_once(frame: Frame, other: FacetId) -> set[FacetId]:
    """What is glued to the same part at the same time: two tabs that lap hold to each other."""
    new = [b for b in frame.after.bonds if b.by in STICKING and b not in frame.before.bonds]
    ends = [(b.first, b.second) for b in new]
    return {one if there == other else there for one, there in ends if other in (one, there)}


def _glue(piece: Piece, facet: str, zone: str, flat: BaseGeometry) -> BaseGeometry:
    panel = piece.facet(facet).panel
    for own in piece.glue_zones:
        if own.name == zone and own.panel in (None, panel):
            glue = to_shapely(own.region, CHORD_MM).intersection(flat)
            return glue if glue.area > 0.0 else flat
    return flat


def _share(mine: Shape, glue: BaseGeometry, over: Shape) -> float:
    """Which share of the glue lies under a facet."""
    return float(glue.intersection(seen_from(mine.pose, over)).area) / float(glue.area)


def _verdict(
    context: Context, frame: Frame, subject: str, share: float, sentence: str, way: str
) -> CheckResult:
    most = 1.0 - context.practice("glue_cover_least")
    numbers = (("covered", share), ("most", most))
    if share <= most + DUST:
        return passed(CODE, subject, numbers, f"nothing comes between: {subject}")
    return failed(
        CODE,
        subject,
        numbers,
        sentence,
        frame.action.span,
        notes=(f"{share:.0%} of the glue would stick to the wrong paper.",),
        ways_out=(way,),
    )


def _named(context: Context, state: State, facet: FacetId) -> str:
    body = state.body(facet[0])
    piece = context.handled(body.piece)
    panel = piece.facet(facet[1]).panel
    return panel if panel == piece.name else f"{panel} of {piece.name}"
