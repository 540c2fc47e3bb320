"""``X covers Y`` and ``X stays inside Y``: one shape within the other, and by how much."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.checks.claims import Measured, judged_in_place, said, unproven, verdict
from publisher.checks.context import Context, Results
from publisher.checks.places import Shape, away_mm, parallel, seen_from
from publisher.checks.types import CheckResult
from publisher.model.types import Claim

COVERS = "does-not-cover"
INSIDE = "sticks-out"


def check(context: Context) -> Results:
    yield from judged_in_place(context, ("covers", "stays inside"), _claim)


def _claim(
    context: Context, claim: Claim, first: tuple[Shape, ...], second: tuple[Shape, ...]
) -> CheckResult:
    assert claim.object is not None
    covers = claim.verb == "covers"
    cover, hidden = (first, second) if covers else (second, first)
    spares = [_spare(cover, shape, whole=not covers) for shape in hidden]
    known = [s for s in spares if s is not None]
    if len(known) < len(spares):
        return unproven(
            claim,
            f"{said(claim.subject)} and {said(claim.object)} do not lie parallel at the end, so"
            f" ‘{claim.verb}’ cannot be proven",
        )
    a, b = said(claim.subject), said(claim.object)
    measured = Measured("beyond" if covers else "within", min(known))
    if covers:
        return verdict(
            context,
            claim,
            COVERS,
            measured,
            f"{a} covers {b} with {{}} beyond it",
            f"{a} does not cover {b}: {{}} of it shows",
            ways_out=(f"make {a} larger, or {b} smaller",),
        )
    return verdict(
        context,
        claim,
        INSIDE,
        measured,
        f"{a} stays {{}} inside {b}",
        f"{a} sticks out of {b} by {{}}",
        ways_out=(f"make {a} smaller, or {b} larger",),
    )


def _spare(cover: tuple[Shape, ...], hidden: Shape, *, whole: bool) -> float | None:
    """How far the rim of what covers lies beyond what is hidden; less than 0 by how far the
    hidden reaches out. None where nothing lies parallel to it. ``whole``: windows are no gaps."""
    flat = [s for s in cover if parallel(s, hidden) and s.facet != hidden.facet] or [
        s for s in cover if s.facet == hidden.facet
    ]
    if not flat:
        return None
    far = [abs(away_mm(hidden.pose, s)) for s in flat]
    near = [s for s, d in zip(flat, far, strict=True) if d <= min(far) + 2.0]
    paper: BaseGeometry = shapely.unary_union([_paper(hidden, s, whole=whole) for s in near])
    # Facets of one panel meet along their fold: the hair between them is no gap.
    paper = paper.buffer(0.005, join_style="mitre").buffer(-0.005, join_style="mitre")
    out = hidden.flat.difference(paper.buffer(1e-6))
    if out.is_empty:
        return float(paper.boundary.distance(hidden.flat))
    points = shapely.points(shapely.get_coordinates(out))
    return -float(shapely.distance(paper, points).max())


def _paper(hidden: Shape, cover: Shape, *, whole: bool) -> BaseGeometry:
    """What covers, in the plane of what is hidden. A window of the very paper that is to hold
    it is no gap in it."""
    flat = seen_from(hidden.pose, cover)
    if (whole or cover.facet == hidden.facet) and isinstance(flat, shapely.Polygon):
        return shapely.Polygon(flat.exterior)
    return flat
