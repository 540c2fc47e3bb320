"""Folds in words: which parts, at which crease, which way and how far, where they end, and what
only follows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from publisher.assembly.types import FoldMotion, Frame
from publisher.drawing.space_view.bends import bent_words
from publisher.drawing.space_view.fold_words import turned_name, turned_panel
from publisher.drawing.space_view.helped import backed, helped
from publisher.drawing.space_view.layers import called, face_met, touching
from publisher.drawing.space_view.lists import gathered, listed, sentence, the
from publisher.drawing.space_view.place_words import angle, body_name, corners, heading, middle
from publisher.drawing.space_view.squeezed import squeeze_words
from publisher.drawing.space_view.turned_folds import (
    FLAT_DEG,
    STILL_DEG,
    Kind,
    Turned,
    made_by_hand,
    turned_folds,
)
from publisher.geometry.space import sub
from publisher.model.types import Face, Piece

_MOST_UNDER = 3
_OVER = {"up": "up and over", "down": "down and under"}


def fold_sentences(
    frame: Frame,
    motion: FoldMotion,
    pieces: Mapping[str, Piece],
    made: Mapping[str, Sequence[str]] | None,
) -> Iterator[str]:
    """The sentences of a fold motion. ``made`` are the folds that hands make, by body; all that
    the action names where it is not given."""
    piece = pieces[motion.body]
    whole = body_name(piece, motion.body)
    if motion.shown:
        yield from squeeze_words(frame, motion, piece, whole)
        yield from bent_words(motion, piece, whole)
        return
    by_hand = made_by_hand(frame, motion, piece, made)
    out = [turned_name(piece, motion, name) for name in helped(frame, motion, piece)]
    where = "from the open sides" if backed(frame, motion) else "from behind"
    if not by_hand:
        yield f"{_capital(the([whole]))} folds with it."
        if out:
            yield f"Help {gathered(out)} of {the([whole])} out, {where}."
        return
    told = turned_folds(frame, motion, piece, by_hand)
    if frame.action.verb == "push":
        yield from _pushed(told, whole, frame, motion, piece)
    else:
        groups: dict[tuple[Kind, Face, float, float], list[Turned]] = {}
        for one in told:
            groups.setdefault(one.alike, []).append(one)
        if len(groups) > 1 and _to_and_fro(told):
            yield _alternately(told, whole)
            yield from _creases(told)
            groups.clear()
        for own in groups.values():
            yield _made(own, whole, frame, motion, pieces)
            yield from _creases(own)
        yield from _met(frame, motion, piece, told)
    names = {t.name for t in told}
    follow = [turned_name(piece, motion, n) for n, _, _ in motion.folds if n not in names]
    if follow:
        verb = "follows of itself" if len(set(follow)) == 1 else "follow of themselves"
        yield sentence(f"{gathered(follow)} {verb}")
    if out:
        yield f"Help {gathered(out)} out, {where}."
    moving = frozenset(motion.moving)
    along = {f.panel for f in piece.facets if f.name in moving}
    along -= {turned_panel(piece, motion, n) for n, _, _ in motion.folds}
    carried = [p.name for p in piece.panels if p.name in along]
    if carried:
        yield sentence(f"{gathered(carried)} {'moves' if len(carried) == 1 else 'move'} along")


def _pushed(
    told: Sequence[Turned], whole: str, frame: Frame, motion: FoldMotion, piece: Piece
) -> Iterator[str]:
    """What is pushed out from behind, which way, and how each of its folds ends."""
    facets = [t.facet for t in told]
    ends = [
        middle(
            [p for f in facets for p in corners(piece, f, state.body(motion.body).facet_pose(f))]
        )
        for state in (frame.before, frame.after)
    ]
    way = heading(sub(ends[1], ends[0]))
    yield f"Push {gathered(t.part for t in told)} of the {whole} out from behind, {way}."
    by_end: dict[tuple[float, Face], list[str]] = {}
    for one in told:
        by_end.setdefault((one.end_deg, one.inside), []).append(one.part)
    folds = [
        f"{gathered(parts)}{'' if k else ' fold' if len(parts) > 1 else ' folds'} to {angle(end)} "
        f"with the {inside} faces inside"
        for k, ((end, inside), parts) in enumerate(by_end.items())
    ]
    yield sentence(listed(folds))
    through = [t.part for t in told if t.kind == "through"]
    if through:
        verb = "goes" if len(through) == 1 else "go"
        yield sentence(f"{gathered(through)} {verb} through to the other side")


def _made(
    own: Sequence[Turned],
    whole: str,
    frame: Frame,
    motion: FoldMotion,
    pieces: Mapping[str, Piece],
) -> str:
    """What turns which way, how far, and where it ends: of folds alike."""
    first = own[0]
    names = {t.name for t in own}
    roots = [t for t in own if t.after not in names]
    way = _way(roots)
    each = " each" if len(own) > 1 else ""
    what = gathered(t.part for t in own)
    what += "" if what == the([whole]) else f" of {the([whole])}"
    inner = len(own) == 1 and first.part == first.beside  # a crease across one panel
    if inner:
        what = f"the {first.at} part of {what}"
    if first.kind == "back":
        left = f", to {angle(first.end_deg)}" if first.end_deg > STILL_DEG else ", flat again"
        way = _OVER.get(way, way) if first.by_deg > FLAT_DEG else way
        return f"Unfold {what}{_spaced(way)} by {angle(first.by_deg)}{each}{left}."
    flat = first.end_deg > FLAT_DEG
    over = _OVER if flat and first.kind == "new" else {}
    far = f"by {angle(first.by_deg)}"
    at = f" at the {first.at} edge of {the([first.beside])}" if len(own) == 1 and first.at else ""
    at = " at its crease" if inner else at
    how = f"{_spaced(over.get(way, way))} {far}{each}{at}"
    if first.kind == "on":
        how = f"{_spaced(way)} {far} more{each}{at}, to {angle(first.end_deg)}"
    elif first.kind == "through":
        how = f"{at} through to the other side, to {angle(first.end_deg)}{each}"
    if flat:
        how += _onto(own, frame, motion, pieces)
    elif len(roots) == len(own) and len({t.ends for t in own}) == 1:
        how += first.ends
    return f"Fold {what}{how}, {first.inside} faces inside."


def _to_and_fro(told: Sequence[Turned]) -> bool:
    """Whether parts that hang on each other turn by as much, but not all the same way."""
    by_name = {t.name: t for t in told}
    same = {(t.kind, t.by_deg, t.end_deg) for t in told}
    ways = [t.inside != by_name[t.after].inside for t in told if t.after in by_name]
    return len(same) == 1 and told[0].kind == "new" and any(ways)


def _alternately(told: Sequence[Turned], whole: str) -> str:
    by_face: dict[Face, list[str]] = {}
    for one in told:
        by_face.setdefault(one.inside, []).append(one.part)
    faces = listed(f"the {face} faces inside at {gathered(own)}" for face, own in by_face.items())
    what = f"{gathered(t.part for t in told)} of {the([whole])}"
    return f"Fold {what} by {angle(told[0].by_deg)} each, to and fro: {faces}."


def _way(roots: Sequence[Turned]) -> str:
    """The one way that all set out on; none where what they hang on moves as well."""
    if any(t.after for t in roots):
        return ""
    if len(roots) == 1:
        return roots[0].heads
    ways = {t.way for t in roots}
    return ways.pop() if len(ways) == 1 else "inwards" if all(t.inward for t in roots) else ""


def _spaced(word: str) -> str:
    return f" {word}" if word else ""


def _onto(
    own: Sequence[Turned], frame: Frame, motion: FoldMotion, pieces: Mapping[str, Piece]
) -> str:
    """On what the parts come to lie."""
    piece = pieces[motion.body]
    panels = {piece.facet(t.facet).panel for t in own}
    ours = [f.name for f in piece.facets if f.panel in panels and f.name in motion.moving]
    under = touching(frame.after, [(motion.body, name) for name in ours])
    parts = {t.part for t in own}
    names = [called(f, pieces) for f in under]
    names = [n for n in dict.fromkeys(names) if n not in parts]
    return f", flat onto {gathered(names)}" if 0 < len(names) <= _MOST_UNDER else ", flat"


def _creases(own: Sequence[Turned]) -> Iterator[str]:
    """Where the creases of several parts are, and which hang on which."""
    if len(own) < 2:
        return
    names = {t.name for t in own}
    beyond: dict[str, list[str]] = {}
    by_place: dict[str, list[Turned]] = {}
    root: Turned | None = None
    for one in own:
        if one.after in names and root is not None:
            beyond.setdefault(root.name, []).append(one.part)
            continue
        root = one
        by_place.setdefault(one.beside, []).append(one)
    roots = [t for group in by_place.values() for t in group]
    places = {t.at for t in roots}
    if not beyond and len(roots) == len(by_place) and len(places) == 1:
        if roots[0].at:
            yield f"Their creases are the {roots[0].at} edges of {gathered(by_place)}."
        return
    clauses = []
    verb = " hinges"
    for beside, group in by_place.items():
        of = f"the {{}} edge of {the([beside])}"
        for one in group:
            then = f", then {gathered(beyond[one.name])} in turn" if one.name in beyond else ""
            clauses.append(f"{the([one.part])}{verb} at {of.format(one.at)}{then}")
            of, verb = "its {} edge", ""
    yield sentence("; ".join(clauses) if beyond else listed(clauses))


def _met(frame: Frame, motion: FoldMotion, piece: Piece, told: Sequence[Turned]) -> Iterator[str]:
    """What comes to lie against what it will be glued to."""
    parts = {t.part for t in told if 0.0 < t.end_deg < FLAT_DEG}
    met: dict[str, list[str]] = {}
    for zone in piece.glue_zones:
        if zone.panel in parts and zone.meets is not None and zone.meets[0] == piece.name:
            face = face_met(frame.after.body(motion.body), piece, zone)
            if face and zone.panel is not None:
                far = f"the {face} face of {the([zone.meets[1]])}"
                met.setdefault(far, []).append(zone.panel)
    ends = [
        f"{gathered(own)} {'ends' if len(own) == 1 else 'end'} against {far}"
        for far, own in met.items()
    ]
    if ends:
        yield sentence(listed(ends))


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
