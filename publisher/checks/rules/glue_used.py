"""What the design glues is glued in some step.

A pattern none of whose steps glues anything may not be written to its end: of it only that glue is
told that lies on other paper when the last step is done. The list of supplies asks for it already.
"""

from __future__ import annotations

from publisher.assembly.types import Body, FacetId
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.lying import CHORD_MM, hidden, shape_of
from publisher.checks.types import CheckResult
from publisher.geometry.shapely_bridge import to_shapely
from publisher.model.types import GlueZone, Piece

CODE = "glue-not-used"
STICKING = ("glue", "tape")


def check(context: Context) -> Results:
    actions = [action for step in context.pattern.steps for action in step.actions]
    if not any(action.verb in STICKING for action in actions):
        yield from _covered(context)
        return
    acted = {t.piece for action in actions for t in (*action.subjects, *action.objects)}
    by_name, held = _held(context)
    for named in context.pattern.pieces:
        if named.name not in acted:
            continue  # of a piece that no step takes up more is told elsewhere
        piece = context.handled(named.name)
        for zone in named.glue_zones:
            if (named.name, zone.name) not in by_name and not _facets(piece, zone) & held:
                yield _forgotten(named.name, zone)
            else:
                sentence = f"{zone.name} of {named.name} is glued"
                yield passed(CODE, f"{zone.name} of {named.name}", (), sentence)


def _covered(context: Context) -> Results:
    """Glue that nobody was told to spread, its place already on other paper."""
    least = context.practice("glue_cover_least")
    for piece in context.pattern.pieces:
        bodies = [b for b in context.story.end.bodies if b.piece == piece.name and b.placed]
        handled = context.handled(piece.name)
        for zone in piece.glue_zones:
            if any(_under_paper(context, handled, body, zone) >= least for body in bodies):
                yield _forgotten(piece.name, zone)


def _under_paper(context: Context, piece: Piece, body: Body, zone: GlueZone) -> float:
    """Which share of a zone lies on other paper in the end."""
    glue = to_shapely(zone.region, CHORD_MM)
    shared = 0.0
    for facet in piece.facets:
        if zone.panel in (None, facet.panel):
            mine = shape_of(piece, body, facet.name)
            shared += float(glue.intersection(hidden(context, mine, zone.face)).area)
    return shared / float(glue.area)


def _forgotten(piece: str, zone: GlueZone) -> CheckResult:
    return failed(
        CODE,
        f"{zone.name} of {piece}",
        (),
        f"no step glues {zone.name} of {piece}",
        zone.span,
        notes=("The design says that it is glued; a maker would go past it.",),
        ways_out=(
            f"write ‘glue {zone.name} of {piece}’ in the step where it is glued",
            "take the glue out of the piece",
        ),
    )


def _held(context: Context) -> tuple[set[tuple[str, str]], set[FacetId]]:
    """What glue or tape holds in the end: zones of pieces by name, and the facets on both sides
    of glue that no zone was named for."""
    pieces = {body.id: body.piece for body in context.story.end.bodies}
    bonds = [bond for bond in context.story.end.bonds if bond.by in STICKING]
    by_name = {(pieces[bond.first[0]], bond.zone) for bond in bonds if bond.zone}
    facets = {
        (pieces[body], facet)
        for bond in bonds
        if not bond.zone
        for body, facet in (bond.first, bond.second)
    }
    return by_name, facets


def _facets(piece: Piece, zone: GlueZone) -> set[FacetId]:
    return {
        (piece.name, facet.name)
        for facet in piece.facets
        if zone.panel is None or facet.panel == zone.panel
    }
