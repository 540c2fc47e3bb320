"""What is said where glue meets nothing, or where papers cannot be put in an order."""

from __future__ import annotations

from publisher.assembly.change import Wet
from publisher.assembly.contact import PARALLEL_DEG, Reach
from publisher.assembly.kit import Kit
from publisher.assembly.layering import SHARED_MM2, Contact
from publisher.assembly.types import State
from publisher.diagnostics import Diagnostic, Place
from publisher.model.types import Action, Piece
from publisher.units import angle, both


def missed(kit: Kit, state: State, wet: Wet, best: Reach | None, action: Action) -> Diagnostic:
    """Glue that was put on and met nothing by the end of the last step."""
    piece = kit.pieces[state.body(wet.body).piece]
    what = f"{wet.zone or wet.panel} of {piece.name}" if wet.panel or wet.zone else piece.name
    place = Place(wet.span or action.span)
    if best is None:
        return Diagnostic(
            "glue-meets-nothing",
            "error",
            f"nothing comes to lie on the glue at {what}",
            (place,),
            notes=(_where(piece, wet),),
        )
    partner = state.body(best.second[0])
    panel = kit.pieces[partner.piece].facet(best.second[1]).panel
    whose = panel if partner.piece == piece.name else f"{panel} of {partner.piece}"
    return Diagnostic(
        "tab-misses",
        "error",
        f"{what} does not reach {whose}: {_how(kit, best, wet)}",
        (place,),
        best.numbers,
        notes=_unfolded(kit, state, wet) or _hint(best, wet, what),
    )


def _where(piece: Piece, wet: Wet) -> str:
    if wet.face is None:
        return "Nothing lies there when the last step is done."
    where = wet.panel or piece.name
    return (
        f"The glue is on the {wet.face} face of {where}, and nothing lies there when the last"
        " step is done."
    )


def _how(kit: Kit, reach: Reach, wet: Wet) -> str:
    def say(mm: float) -> str:
        return both(mm, kind="thin", first=kit.pattern.meta.first_unit)

    if reach.angle_deg > PARALLEL_DEG:
        return f"they stand at {angle(reach.angle_deg)} to each other"
    if reach.edge_mm > reach.allowed_mm:
        what = "line" if wet.line_mm is not None else "edge"
        return f"its fold is {say(reach.edge_mm)} from the {what} that it meets"
    if reach.away_mm > reach.allowed_mm:
        return f"it is {say(reach.away_mm)} away"
    if reach.shared_mm2 <= SHARED_MM2:
        return "it lies beside it"
    return f"it lies on the other side than the {wet.face} face, which has the glue"


def _unfolded(kit: Kit, state: State, wet: Wet) -> tuple[str, ...]:
    """That the panel with the glue lies as flat still as it was cut, where it does."""
    body = state.body(wet.body)
    angles = dict(body.angles)
    flat = [f for f in kit.pieces[body.piece].folds if f.child == wet.panel]
    if not flat or any(abs(angles[f.name]) > PARALLEL_DEG for f in flat):
        return ()
    return (f"No step has folded {wet.panel}: ‘fold {wet.panel} of {body.piece}’.",)


def _hint(reach: Reach, wet: Wet, what: str) -> tuple[str, ...]:
    if reach.angle_deg > PARALLEL_DEG:
        return (f"Fold {what} and what it meets before the last step ends.",)
    return ()


def circling(kit: Kit, state: State, contact: Contact, action: Action) -> Diagnostic:
    """Two papers of which it cannot be said which lies over the other."""
    names = []
    for body, facet in (contact.first, contact.second):
        piece = kit.pieces[state.body(body).piece]
        panel = piece.facet(facet).panel
        copy = f" {state.body(body).copy}" if piece.copies > 1 else ""
        whole = f"{piece.name}{copy}"
        names.append(whole if panel == piece.name else f"{panel} of {whole}")
    return Diagnostic(
        "layers-undecided",
        "error",
        f"it cannot be said which lies on top: {names[0]} or {names[1]}",
        (Place(action.span),),
        (("shared_mm2", contact.area_mm2),),
        notes=("Fold or lay one before the other, in an action of its own.",),
    )
