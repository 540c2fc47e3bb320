"""What the words of a step stand for: bodies, folds, panels, glue zones."""

from __future__ import annotations

from publisher.assembly.bodies import joined
from publisher.assembly.kit import Kit
from publisher.assembly.types import State
from publisher.model.types import Action, Fold, GlueZone, Piece, Target


def target_bodies(state: State, target: Target) -> tuple[str, ...]:
    """The bodies that a target speaks of, in the order of the state; () for an object."""
    if target.kind == "made":
        made = dict(state.made)
        return made.get(target.piece) or made.get(target.part) or ()
    copies = [b for b in state.bodies if b.piece == target.piece]
    return tuple(b.id for b in copies if target.copy in (0, b.copy))


def whole_bodies(state: State, targets: tuple[Target, ...]) -> tuple[str, ...]:
    """The bodies of several targets with all that hold to them."""
    return joined(state, [b for target in targets for b in target_bodies(state, target)])


def acted_on(action: Action) -> tuple[Target, ...]:
    """The subjects; for ``turn over X`` written with X after the joining word, the objects."""
    return action.subjects or action.objects


def panel_name(target: Target) -> str:
    """The panel of a part that may be written ``edge of panel``."""
    return target.part.rsplit(" of ", 1)[-1]


def edge_name(target: Target) -> str:
    """The edge of a part written ``edge of panel``; "" where only a panel or edge stands."""
    return target.part.rsplit(" of ", 1)[0] if " of " in target.part else ""


def folds_of(kit: Kit, target: Target) -> tuple[Fold, ...]:
    """The folds that a target names: all of a piece; one by its name, which is its child
    panel's; or, for a panel that is no fold's child, those that hang on it if there is but
    one."""
    piece = kit.pieces.get(target.piece)
    if piece is None:
        return ()
    if target.kind == "piece" or not target.part:
        return piece.folds
    name = panel_name(target)
    named = tuple(f for f in piece.folds if f.name in (name, target.part) or f.child == name)
    # A detail that a form made has its name behind its own parts' names.
    named = named or tuple(f for f in piece.folds if f.name.endswith(f" of {target.part}"))
    if named:
        return named
    hanging = tuple(f for f in piece.folds if f.parent == name)
    return hanging if len(hanging) == 1 else ()


def zones_of(piece: Piece, target: Target) -> tuple[GlueZone, ...]:
    """The glue zones that a target names: all of a piece, one by name, all of a panel."""
    if target.kind == "piece" or not target.part:
        return piece.glue_zones
    named = tuple(z for z in piece.glue_zones if z.name == target.part)
    return named or tuple(z for z in piece.glue_zones if z.panel == panel_name(target))
