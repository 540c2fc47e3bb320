"""An action as a short order: "Fold the front, back, left and right walls of the drawer"."""

from __future__ import annotations

import re
from itertools import groupby

from publisher.model.types import Action, Target
from publisher.units import angle, time_words

_STICKY = {"glue": "Put glue on", "tape": "Put double-sided tape on"}
_NUMBERED = re.compile(r"(.+) (\d+)")


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
            spoken.append(_the(body))
            continue
        parts = _gathered([target.said or target.part for target in group])
        same = parts == _the(body) or not piece
        spoken.append(parts if same else f"{parts} of {_the(body)}")
    return _listed(spoken)


def _numbered(piece: str, copy: int) -> str:
    return f"{piece} {copy}" if copy else piece


def _the(name: str) -> str:
    return name if _NUMBERED.fullmatch(name) else f"the {name}"


def _gathered(names: list[str]) -> str:
    """Names in a row, what they share said once."""
    names = list(dict.fromkeys(names))
    if len(names) == 1:
        return _the(names[0])
    matches = [_NUMBERED.fullmatch(name) for name in names]
    if all(matches):
        stems = {m.group(1) for m in matches if m}
        numbers = [int(m.group(2)) for m in matches if m]
        if len(stems) == 1 and _in_a_row(numbers):
            return _run(stems.pop(), numbers)
        runs = [
            (stem, [int(m.group(2)) for m in group])
            for stem, group in groupby((m for m in matches if m), key=lambda m: m.group(1))
        ]
        if len(runs) < len(names) and all(_in_a_row(numbers) for _, numbers in runs):
            return _listed([_run(stem, numbers) for stem, numbers in runs])
        return _listed(names)
    tails = {name.rsplit(" ", 1)[-1] for name in names}
    if len(tails) == 1 and all(" " in name for name in names):
        heads = [name.rsplit(" ", 1)[0] for name in names]
        return f"the {_listed(heads)} {_plural(tails.pop())}"
    return _listed([_the(name) for name in names])


def _in_a_row(numbers: list[int]) -> bool:
    return numbers == list(range(numbers[0], numbers[0] + len(numbers)))


def _run(stem: str, numbers: list[int]) -> str:
    """``tabs 1 to 4``, ``tabs 1 and 2``, ``tab 1``."""
    if len(numbers) == 1:
        return f"{stem} {numbers[0]}"
    joint = "and" if len(numbers) == 2 else "to"
    return f"{_plural(stem)} {numbers[0]} {joint} {numbers[-1]}"


def _plural(name: str) -> str:
    """Of the last word of a name: ``feet``, ``left halves``, ``boxes``."""
    before, _, word = name.rpartition(" ")
    if word.endswith("foot"):
        word = f"{word[:-4]}feet"
    elif word.endswith(("leaf", "half", "shelf")):
        word = f"{word[:-1]}ves"
    elif word.endswith(("s", "x", "ch", "sh")):
        word = f"{word}es"
    elif word.endswith("y") and word[-2:-1] not in tuple("aeiou"):
        word = f"{word[:-1]}ies"
    else:
        word = f"{word}s"
    return f"{before} {word}".strip()


def _listed(words: list[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
