"""Scores, cuts and what hands do that moves nothing, in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from publisher.assembly.types import Frame, Mark
from publisher.drawing.space_view.layers import called
from publisher.drawing.space_view.lists import gathered, listed, plural, the
from publisher.drawing.space_view.lying_words import face_up
from publisher.drawing.space_view.place_words import body_name
from publisher.geometry.space import lift, sub
from publisher.model.types import Action, Bend, Fold, Piece, Score
from publisher.units import time_words

_LEVEL = 0.05


def mark_sentences(frame: Frame, mark: Mark, pieces: Mapping[str, Piece]) -> Iterator[str]:
    """What is done to one face; glue and tape have words of their own."""
    piece = pieces[mark.body]
    whole = body_name(piece, mark.body)
    if mark.what == "score":
        yield from _scores(frame, mark, piece, whole)
    elif mark.what == "cut":
        if mark.names:
            yield f"Cut {gathered(mark.names)} in {_in_which(mark, piece, whole)}."
        else:
            yield f"Cut {the([whole])} out along its outline."
    elif mark.what == "press" and not {o.name for o in piece.openings} >= set(mark.names):
        folds = plural("fold") if len(mark.names) > 1 else "fold"
        yield f"Press the {folds} of {gathered(mark.names)} of {the([whole])} hard."
    elif mark.what == "press":
        yield f"Press {gathered(mark.names)} out of {_in_which(mark, piece, whole)}, from behind."
    elif mark.what == "pads":
        pads = frame.action.pad.piece if frame.action.pad is not None else "pads"
        count = "one of the" if len(mark.boxes) == 1 else str(len(mark.boxes))
        yield f"Put {count} {pads} on the {mark.face} face of {the([whole])}."
    elif mark.what in ("hold", "colour", "dry"):
        yield _by_hand(frame, mark, whole, pieces)
    else:
        yield f"{frame.action.verb.capitalize()} {the([whole])}."


def _in_which(mark: Mark, piece: Piece, whole: str) -> str:
    """The body that openings are in, with their panels where it has several."""
    panels = [o.panel for o in piece.openings if o.name in mark.names and o.panel]
    unique = list(dict.fromkeys(panels))
    if len({p.name for p in piece.panels}) > 1:
        if len(unique) == 1:
            return f"{the(unique)} of {the([whole])}"
        if len(unique) == len(mark.names):
            return f"{the([whole])}, one each in {gathered(unique)}"
    return the([whole])


def _by_hand(frame: Frame, mark: Mark, whole: str, pieces: Mapping[str, Piece]) -> str:
    """One sentence on what is held, left to dry, coloured or stamped, how long and with what."""
    what = f"{gathered(mark.names)} of {the([whole])}" if mark.names else the([whole])
    action = frame.action
    if mark.what == "hold":
        return f"Press {what}{_against(frame, mark, pieces)} and hold{_as_long(action)}."
    if mark.what == "dry":
        return f"Let {what} dry{_as_long(action)}."
    tool = f" with {action.note}" if action.note else ""
    return f"{action.verb.capitalize()} {what} on its {mark.face} face{tool}."


def _against(frame: Frame, mark: Mark, pieces: Mapping[str, Piece]) -> str:
    """To what the parts that are held are joined."""
    piece = pieces[mark.body]
    found = []
    for bond in frame.before.bonds:
        for one, far in ((bond.first, bond.second), (bond.second, bond.first)):
            panel = piece.facet(one[1]).panel if one[0] == mark.body else ""
            if panel in mark.names and called(far, pieces) not in mark.names:
                found.append(called(far, pieces))
    return f" against {gathered(found)}" if found else ""


def _as_long(action: Action) -> str:
    return "" if action.seconds is None else f" for {time_words(action.seconds)}"


def _scores(frame: Frame, mark: Mark, piece: Piece, whole: str) -> Iterator[str]:
    scores = [s for s in piece.scores if s.name in mark.names]
    parts = []
    for bend in ("valley", "mountain"):
        own = [s for s in scores if s.bend == bend]
        if own:
            parts.append(_lines(own, bend, piece, frame, mark))
    yield f"Score {the([whole])} on its {mark.face} face: {'; '.join(parts)}."


def _lines(scores: Sequence[Score], bend: Bend, piece: Piece, frame: Frame, mark: Mark) -> str:
    """The lines of one bend: rows by their ends, others by what hangs on them."""
    folds = {f.name: f for f in piece.folds}
    lines = {s.fold: folds[s.fold] for s in scores if s.fold in folds}
    stretches = Counter(s.fold for s in scores if s.fold in folds)
    said: list[str] = []
    told: set[str] = set()
    for row in _rows(list(lines.values())):
        own = [name for name, fold in lines.items() if fold in row]
        told |= set(own)
        run = _run([lines[n] for n in own], frame, mark)
        ends = f"from {the([row[0].parent])} to {the([row[-1].child])}"
        said.append(f"{len(own)}{run} in the row {ends}")
    by_run: dict[str, list[str]] = {}
    for name, fold in lines.items():
        if name not in told:
            by_run.setdefault(_run([fold], frame, mark), []).append(name)
    for name in (s.name for s in scores if s.fold not in lines):
        by_run.setdefault(" curved", []).append(name)
    for run, own in by_run.items():
        one = lines.get(own[0])
        if len(own) == 1 and one is not None and one.parent != one.child:
            said.append(f"1{run} between {the([one.parent])} and {the([one.child])}")
        else:
            said.append(f"{len(own)}{run} for {gathered(own)}")
    first, _, rest = said[0].partition(" ")
    count = f"{first} {bend} {'line' if first == '1' else plural('line')}"
    said[0] = f"{count} {rest}".strip()
    parted = [name for name, count in stretches.items() if count > 1 and name]
    gaps = f", with gaps at {gathered(parted)}" if parted else ""
    return listed(said) + gaps


def _rows(folds: Sequence[Fold]) -> list[list[Fold]]:
    """Three folds and more of which each turns on what the last one turns, side by side."""
    found: list[list[Fold]] = []
    for fold in folds:
        row = next(
            (r for r in found if r[-1].child == fold.parent and _parallel(r[-1], fold)), None
        )
        if row is not None:
            row.append(fold)
        else:
            found.append([fold])
    return [row for row in found if len(row) > 2 and row[0].parent != row[-1].child]


def _parallel(a: Fold, b: Fold) -> bool:
    (x0, y0), (x1, y1) = a.start, a.end
    (u0, v0), (u1, v1) = b.start, b.end
    across = (x1 - x0) * (v1 - v0) - (y1 - y0) * (u1 - u0)
    return abs(across) < _LEVEL * abs((x1 - x0) * (u1 - u0) + (y1 - y0) * (v1 - v0))


def _run(folds: Sequence[Fold], frame: Frame, mark: Mark) -> str:
    """Which way lines run that lie flat on the table."""
    body = frame.before.body(mark.body)
    if not face_up(body):
        return ""
    pose = body.facets[0][1]
    ways = set()
    for fold in folds:
        x, y, _ = pose.turn(sub(lift(fold.end), lift(fold.start)))
        if abs(x) < _LEVEL * abs(y):
            ways.add(" from near to far")
        elif abs(y) < _LEVEL * abs(x):
            ways.add(" from left to right")
        else:
            ways.add("")
    return ways.pop() if len(ways) == 1 else ""
