"""What is glued lies on its partner, and nothing that is glued moves afterwards."""

from __future__ import annotations

import math

import shapely

from publisher.assembly.types import Bond, FacetId, State
from publisher.checks.borders import CHORD_MM
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.types import CheckResult
from publisher.geometry.booleans import region_union
from publisher.geometry.flatten import flattened
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.space import Pose, lift
from publisher.model.types import Action, GlueZone

CODE = "glue-misses"
MOVES = "glued-parts-move"


def check(context: Context) -> Results:
    calipers = max((p.stock.caliper_mm for p in context.pattern.pieces), default=0.0)
    seen: set[Bond] = set()
    told: set[tuple[str, str]] = set()
    for frame in context.story.frames:
        for bond in frame.after.bonds:
            if bond in seen or bond.by == "tuck":
                continue
            seen.add(bond)
            result = _meets(context, frame.after, bond, frame.action, calipers)
            if result is not None and (result.subject, result.result) not in told:
                told.add((result.subject, result.result))
                yield result
    yield from _moves(context)


def _zone(context: Context, state: State, bond: Bond) -> tuple[FacetId, FacetId, GlueZone] | None:
    for here, there in ((bond.first, bond.second), (bond.second, bond.first)):
        piece = context.handled(state.body(here[0]).piece)
        for zone in piece.glue_zones:
            if zone.name == bond.zone and zone.panel in (None, piece.facet(here[1]).panel):
                return here, there, zone
    return None


def _relative(state: State, first: FacetId, second: FacetId) -> Pose:
    """The second facet's pose as seen from the first."""
    a = state.body(first[0]).facet_pose(first[1])
    return a.inverse().after(state.body(second[0]).facet_pose(second[1]))


def _meets(
    context: Context, state: State, bond: Bond, action: Action, calipers: float
) -> CheckResult | None:
    found = _zone(context, state, bond)
    if found is None:
        return None
    here, there, zone = found
    into = _relative(state, there, here)
    piece = context.handled(state.body(there[0]).piece)
    partner = piece.facet(there[1])
    paper = partner.region
    name = there[1]
    whole = context.pattern.piece(piece.name).facets
    if name not in {f.name for f in whole}:
        # A strip of a panel that will bend; as it is glued it still lies flat with the rest.
        name = partner.panel
        parts = [f.region for f in whole if f.panel == name]
        paper = parts[0] if len(parts) == 1 else region_union(parts)[0]
    points = [into.apply(lift(p)) for p in flattened(zone.region.outer, 0.01)]
    away = max(abs(p[2]) for p in points)
    landed = shapely.Polygon([(p[0], -p[1]) for p in points])
    covered = float(landed.intersection(to_shapely(paper, CHORD_MM)).area) / float(
        to_shapely(zone.region, CHORD_MM).area
    )
    least = context.practice("glue_cover_least")
    numbers = (("covered", covered), ("away_mm", away), ("least", least))
    subject = f"{zone.name} on {name} of {piece.name}"
    if covered < least or away > 4 * calipers + 0.1:
        return failed(
            CODE,
            subject,
            numbers,
            f"{covered:.0%} of the glue at {zone.name} meets {name} of {piece.name}"
            + (f", {context.say(away)} away" if away > 4 * calipers + 0.1 else ""),
            zone.span,
            action.span,
            notes=(f"At least {least:.0%} must lie on the partner for the joint to hold.",),
        )
    return passed(CODE, subject, numbers, f"{zone.name} meets {name} of {piece.name}")


def _play(context: Context, state: State, bond: Bond) -> float:
    """How far the papers of a joint may be off in the model while they move: folds go round in
    rings as if paper had no thickness, and its calipers come on top."""
    papers = (context.handled(state.body(b).piece) for b, _ in (bond.first, bond.second))
    return sum(p.stock.caliper_mm for p in papers) + 1e-6


def _moves(context: Context) -> Results:
    made: dict[Bond, Action] = {}
    told: set[Bond] = set()
    for frame in context.story.frames:
        for bond in (b for b in frame.before.bonds if b.by != "tuck"):
            first = _relative(frame.before, bond.first, bond.second)
            second = _relative(frame.after, bond.first, bond.second)
            shift = max(
                math.dist(first.apply(p), second.apply(p))
                for p in ((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (0.0, 100.0, 0.0))
            )
            if shift > _play(context, frame.before, bond) and bond not in told:
                told.add(bond)
                yield failed(
                    MOVES,
                    f"{bond.first[1]} and {bond.second[1]}",
                    (("moved_mm", shift),),
                    f"{bond.first[1]} and {bond.second[1]} are glued, and then made to move",
                    frame.action.span,
                    *((made[bond].span,) if bond in made else ()),
                    ways_out=("fold before you glue",),
                )
        for bond in (b for b in frame.after.bonds if b.by != "tuck"):
            made.setdefault(bond, frame.action)
    for bond in made:
        if bond not in told:
            yield passed(
                MOVES,
                f"{bond.first[1]} and {bond.second[1]}",
                (("moved_mm", 0.0),),
                f"{bond.first[1]} and {bond.second[1]} stay as they were glued",
            )
