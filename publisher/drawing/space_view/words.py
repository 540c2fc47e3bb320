"""Alternative text, from the same data as the picture: who follows it by ear can make it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.assembly.types import Body, FoldMotion, Frame, Mark, MoveMotion, TurnMotion
from publisher.drawing.space_view.fold_words import angle, fold_words, side_words
from publisher.drawing.space_view.lists import listed, the
from publisher.drawing.space_view.marks import GlueArea
from publisher.drawing.space_view.sides import Backs
from publisher.drawing.space_view.spared import Spared, spared_words
from publisher.drawing.space_view.stage import Stage, named_bodies, turn_is_over, turn_is_quarter
from publisher.geometry.space import Vector, norm, scaled
from publisher.model.types import Action, Pattern, Piece, Target
from publisher.units import time_words


def body_name(piece: Piece, body: str) -> str:
    """The piece's name, with the copy's number where there are several."""
    return piece.name if piece.copies == 1 else f"{piece.name} {body.rsplit('-', 1)[-1]}"


def target_name(target: Target) -> str:
    if target.kind in ("piece", "made", "object"):
        return the([target.piece or target.part])
    return f"{the([target.said or target.part])} of the {target.piece}"


def heading(v: Vector) -> str:
    """The main direction of a motion, from where the maker sits."""
    words = (("to the right", "to the left"), ("away from you", "towards you"), ("up", "down"))
    axis = max(range(3), key=lambda k: round(abs(v[k]), 6))
    return words[axis][0 if v[axis] > 0 else 1]


def _move(frame: Frame, motion: MoveMotion, stage: Stage, pieces: Mapping[str, Piece]) -> str:
    action = frame.action
    verbs = {"slide": "Slide", "lay": "Lay", "wrap": "Wrap", "set": "Set"}
    verbs |= {"tuck": "Tuck", "pull": "Pull", "thread": "Slide"}
    if action.verb == "mount":
        verbs["lay"] = "Press"
    verb = verbs.get(motion.manner, "Move")
    named = [b for t in action.subjects for b in named_bodies(frame.before, t)]
    first = [b for b in motion.bodies if b in named] or list(motion.bodies)
    others = [body_name(pieces[b], b) for b in motion.bodies if b not in first]
    relation = "out of" if action.relation == "out from" else action.relation
    if motion.manner == "lay" and relation in ("to", ""):
        relation = "on"
    where = ""
    if action.objects:
        where = f" {relation} {listed(target_name(t) for t in action.objects)}"
    if motion.manner == "thread":
        where = _through(action)
    away = stage.away.get(motion.bodies[0], (0.0, 0.0, 0.0))
    way = f", moving {heading(scaled(away, -1.0))}" if norm(away) > 1e-6 else ""
    along = f", {the(others)} with it" if others else ""
    return f"{verb} {the(body_name(pieces[b], b) for b in first)}{where}{way}{along}."


def _through(action: Action) -> str:
    """Through which openings a strip goes, and on which side of the paper it runs between."""
    ways = [f"{'out' if k % 2 else 'in'} at {the([t.part])}" for k, t in enumerate(action.objects)]
    paper = action.objects[0].piece
    ways[0] += f", behind the {paper}"
    return f" through the {paper}: {listed(ways)}"


def _turn(frame: Frame, motion: TurnMotion, pieces: Mapping[str, Piece]) -> str:
    names = listed(body_name(pieces[b], b) for b in motion.bodies)
    if not turn_is_over(motion):
        way = "counter-clockwise" if (motion.angle_deg > 0) == (motion.axis[2] > 0) else "clockwise"
        return f"Turn the {names} round by {angle(abs(motion.angle_deg))} {way}, same face up."
    across = abs(motion.axis[0]) >= abs(motion.axis[1])
    edges = "the near edge goes to the far side" if across else "left and right change places"
    if across and turn_is_quarter(motion) and motion.angle_deg * motion.axis[0] > 0.0:
        edges = "the far edge comes to the near side"
    face = _face_up(frame.after.body(motion.bodies[0]))
    after = f" Its {face} face is up then." if face else ""
    return f"Turn the {names} over, so that {edges}.{after}"


def _face_up(body: Body) -> str:
    z = body.facets[0][1].normal[2] if body.facets else 0.0
    return "front" if z > 0.99 else "back" if z < -0.99 else ""


def _mark(frame: Frame, mark: Mark, piece: Piece, glue: Sequence[GlueArea]) -> list[str]:
    whole = body_name(piece, mark.body)
    if mark.what in ("glue", "tape"):
        here = frame.action.objects if len(frame.motions) == 1 else ()
        return _glue(mark, piece, whole, glue, here)
    if mark.what == "score":
        scores = [s for s in piece.scores if s.name in mark.names]
        parts = [
            f"{bend} lines for {the(s.name for s in scores if s.bend == bend)}"
            for bend in ("valley", "mountain")
            if any(s.bend == bend for s in scores)
        ]
        return [f"Score the {whole} on its {mark.face} face: {listed(parts)}."]
    if mark.what == "cut":
        if mark.names:
            return [f"Cut {the(mark.names)} in the {whole}."]
        return [f"Cut the {whole} out along its outline."]
    if mark.what == "press":
        cut = {o.name for o in piece.openings}
        if not cut.issuperset(mark.names):
            return [f"Press the fold of {the(mark.names)} of the {whole} hard."]
        first = "It is" if len(mark.names) == 1 else "One piece is"
        return [
            f"Press {the(mark.names)} out of the {whole}.",
            f"{first} drawn on its way out, pushed from behind.",
        ]
    if mark.what == "pads":
        pads = frame.action.pad
        name = pads.piece if pads is not None else "pads"
        count = "one of the" if len(mark.boxes) == 1 else str(len(mark.boxes))
        return [f"Put {count} {name} on the {mark.face} face of the {whole}."]
    if mark.what in ("hold", "colour", "dry"):
        return [_by_hand(frame.action, mark, whole)]
    return [f"{frame.action.verb.capitalize()} the {whole}."]


def _by_hand(action: Action, mark: Mark, whole: str) -> str:
    """One sentence on what is held, left to dry, coloured or stamped, how long and with what."""
    what = f"{the(mark.names)} of the {whole}" if mark.names else f"the {whole}"
    if mark.what == "hold":
        return f"Press {what} and hold{_as_long(action)}."
    if mark.what == "dry":
        return f"Let {what} dry{_as_long(action)}."
    tool = f" with {action.note}" if action.note else ""
    return f"{action.verb.capitalize()} {what} on its {mark.face} face{tool}."


def _as_long(action: Action) -> str:
    return "" if action.seconds is None else f" for {time_words(action.seconds)}"


def _glue(
    mark: Mark, piece: Piece, whole: str, glue: Sequence[GlueArea], objects: Sequence[Target]
) -> list[str]:
    sticky = "double-sided tape" if mark.what == "tape" else "glue"
    zones = [z for z in piece.glue_zones if z.name in mark.names]
    if not zones:
        names = listed(target_name(t) for t in objects)
        meets = f", which meets {names}" if names else ""
        panels = [name for name in mark.names if name != piece.name]
        part = f"{the(panels)} of the {whole}" if panels else f"the {whole}"
        sentences = [f"Put {sticky} all over the {mark.face} face of {part}{meets}."]
    else:
        sentences = []
        for zone in zones:
            meets = ""
            if zone.meets is not None:
                other = "" if zone.meets[0] == piece.name else f" of the {zone.meets[0]}"
                meets = f", which meets {the([zone.meets[1] or zone.meets[0]])}{other}"
            at = the([zone.name])
            if zone.panel not in (None, zone.name):
                at = f"{the([zone.panel or ''])}, at {zone.name},"
            sentences.append(f"Put {sticky} on the {mark.face} face of {at} of the {whole}{meets}.")
    own = [g for g in glue if g.body == mark.body]
    through = list(dict.fromkeys(g.zone for g in own if g.through))
    open_zones = {g.zone for g in own if not g.through}
    hidden = [z for z in through if z not in open_zones]
    if hidden:
        sentences.append(
            f"The {mark.what} of {the(hidden)} lies on the side turned away and is drawn as seen "
            "through the paper."
        )
    return sentences


def _partly(piece: Piece, body: Body) -> bool:
    turned = dict(body.angles)
    return any(abs(turned.get(f.name, 0.0)) < 0.5 for f in piece.folds if not f.smooth)


def _lifted(piece: Piece) -> set[str]:
    """Facets that hang on a bend, as a tongue does: the paper lies as the rest of it lies."""
    smooth = {f.name for f in piece.folds if f.smooth}
    return {h.child for h in piece.hinges if h.fold in smooth}


def _standing(stage: Stage, frame: Frame) -> list[str]:
    """How each body stands before the action. One that has no folds and is glued to another
    stands as that one does."""
    sentences = []
    for body_id in stage.bodies:
        piece, body = stage.of(body_id)[0].piece, frame.before.body(body_id)
        name = body_name(piece, body_id)
        off = _lifted(piece)
        levels = [pose.normal[2] for facet, pose in body.facets if facet not in off]
        held = any(body_id in (b.first[0], b.second[0]) for b in frame.before.bonds)
        if all(z > 0.99 for z in levels):
            sentences.append(f"the {name} lies flat, front face up")
        elif all(z < -0.99 for z in levels):
            sentences.append(f"the {name} lies flat, back face up")
        elif all(abs(z) > 0.99 for z in levels):
            part = "partly folded and flat" if _partly(piece, body) else "folded flat"
            sentences.append(f"the {name} is {part}")
        elif any(not f.smooth for f in piece.folds):
            sentences.append(
                f"the {name} is {'partly folded' if _partly(piece, body) else 'folded'}"
            )
        elif not held:
            sentences.append(f"the {name} stands")
    return sentences


def _seen_through(stage: Stage) -> list[str]:
    """What is drawn on the front of a piece that is laid good side down."""
    found = []
    for body in stage.away:
        actors = stage.of(body)
        piece = actors[0].piece if actors else None
        drawn = piece is not None and any(m.kind != "register" for m in piece.marks)
        if piece is not None and drawn and all(a.pose.normal[2] < -0.99 for a in actors):
            found.append(
                f"What is drawn on the front of the {body_name(piece, body)} lies on the side "
                "turned away and is seen through the paper: it tells which end is which."
            )
    return found


def _opened(stage: Stage, pieces: Mapping[str, Piece]) -> list[str]:
    sentences = []
    for motion in stage.closing:
        piece = pieces[motion.body]
        names = [name for name, _, _ in motion.folds]
        moving = [
            piece.facet(f).panel
            for h in piece.hinges
            for f in (h.child, h.parent)
            if h.fold in names and f in motion.moving
        ]
        whole = body_name(piece, motion.body)
        sentences.append(
            f"The picture opens {the(moving)} of the {whole} again to show the glue; then press "
            "the parts together."
        )
    return sentences


def alt_text(
    pattern: Pattern,
    frame: Frame,
    stage: Stage,
    glue: Sequence[GlueArea],
    view: str,
    free: Sequence[Spared] = (),
    backs: Backs = frozenset(),
) -> str:
    """What to do, what it stands on, how it is drawn."""
    by_name = {p.name: p for p in pattern.pieces}
    pieces = {b.id: by_name[b.piece] for b in frame.before.bodies}
    sentences: list[str] = []
    for motion in frame.motions:
        if isinstance(motion, FoldMotion):
            own = pieces[motion.body]
            sentences += fold_words(frame, motion, own, body_name(own, motion.body))
            sentences += side_words(frame, motion, own, backs)
        elif isinstance(motion, MoveMotion):
            sentences.append(_move(frame, motion, stage, pieces))
        elif isinstance(motion, TurnMotion):
            sentences.append(_turn(frame, motion, pieces))
        else:
            sentences += _mark(frame, motion, pieces[motion.body], glue)
    sentences += spared_words(free, pieces)
    sentences += _opened(stage, pieces)
    sentences += _seen_through(stage)
    standing = listed(_standing(stage, frame))
    if standing:
        sentences.append(f"Before this, {standing}.")
    if not frame.motions:
        sentences.append(f"{frame.action.verb.capitalize()}: nothing moves in this picture.")
    return " ".join([*sentences, view]).strip()
