"""What the design glues is glued in some step.

A pattern none of whose steps glues anything is not written to its end: nothing is said of it.
"""

from __future__ import annotations

from publisher.assembly.types import FacetId
from publisher.checks.context import Context, Results, failed, passed
from publisher.model.types import GlueZone, Piece

CODE = "glue-not-used"
STICKING = ("glue", "tape")


def check(context: Context) -> Results:
    actions = [action for step in context.pattern.steps for action in step.actions]
    if not any(action.verb in STICKING for action in actions):
        return
    acted = {t.piece for action in actions for t in (*action.subjects, *action.objects)}
    by_name, held = _held(context)
    for named in context.pattern.pieces:
        if named.name not in acted:
            continue  # of a piece that no step takes up more is told elsewhere
        piece = context.handled(named.name)
        for zone in named.glue_zones:
            if (named.name, zone.name) not in by_name and not _facets(piece, zone) & held:
                yield failed(
                    CODE,
                    f"{zone.name} of {named.name}",
                    (),
                    f"no step glues {zone.name} of {named.name}",
                    zone.span,
                    notes=("The design says that it is glued; a maker would go past it.",),
                    ways_out=(
                        f"write ‘glue {zone.name} of {named.name}’ in the step where it is glued",
                        "take the glue out of the piece",
                    ),
                )
            else:
                sentence = f"{zone.name} of {named.name} is glued"
                yield passed(CODE, f"{zone.name} of {named.name}", (), sentence)


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
