"""An action as a short order: "Fold the front, back, left and right walls of the drawer"."""

from __future__ import annotations

from itertools import groupby

from publisher.drawing.space_view.lists import gathered, listed, the
from publisher.model.types import Action, Target
from publisher.units import angle, time_words

_STICKY = {"glue": "Put glue on", "tape": "Put double-sided tape on"}


def order(action: Action) -> str:
    """One sentence without a full stop, in the words of the step's line."""
    verb = action.verb.capitalize()
    what = _targets(action.subjects)
    if action.relation == "over" and not action.objects:
        words = f"{verb} {what} over"
    elif action.verb == "turn" and not action.relation:
        words = f"Turn {what} round"
    else:
        zones_only = all(target.kind == "glue" for target in action.subjects)
        put = _STICKY.get(action.verb, verb) if zones_only else verb
        if action.verb == "press" and all(t.kind == "opening" for t in action.subjects):
            put = "Press out"
        words = f"{put} {what}" if action.verb != "dry" else f"Let {what} dry"
        if action.seconds is not None:
            words += f" for {time_words(action.seconds)}"
        if action.note:
            words += f" with {action.note}"
        if action.objects:
            relation = "out of" if action.relation == "out from" else action.relation
            words += f" {relation} {_targets(action.objects)}"
    if action.pad is not None:
        words += f" with {action.pad.piece}"
    odd = action.verb == "turn" and action.angle_deg is not None and action.angle_deg % 90.0 != 0.0
    if action.angle_deg is not None and not odd:
        words += f", by {angle(action.angle_deg)}"
    if action.face is not None and action.verb in ("score", "glue", "cut", "colour", "stamp"):
        words += f", on the {action.face} face"
    return words


def _targets(targets: tuple[Target, ...]) -> str:
    """Parts are gathered by the piece they belong to, which is named once."""
    spoken = []
    for (piece, copy, whole), group in groupby(
        targets, key=lambda t: (t.piece, t.copy, t.kind == "piece" or not t.part)
    ):
        body = _numbered(piece, copy)
        if whole:
            spoken.append(the([body]))
            continue
        parts = gathered([target.said or target.part for target in group])
        same = parts == the([body]) or not piece
        spoken.append(parts if same else f"{parts} of {the([body])}")
    return listed(spoken)


def _numbered(piece: str, copy: int) -> str:
    return f"{piece} {copy}" if copy else piece
