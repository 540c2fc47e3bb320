"""Step fences as actions: who moves, how, and what stays."""

from __future__ import annotations

from publisher.diagnostics import Diagnostic, Edit, Place, WayOut
from publisher.diagnostics.near import nearest
from publisher.language.ast import Called, Literal, Offset, Prep, Ref, Statement, StepDesign
from publisher.language.ast import Place as Where
from publisher.model.findings import Refused, listed, refuse, taken
from publisher.model.statements.phrases import Phrases
from publisher.model.targets import Words, face_said
from publisher.model.types import Action, Face, Step, Target
from publisher.units import angle as degrees

VERBS = (
    "cut",
    "press",
    "score",
    "crease",
    "fold",
    "open",
    "close",
    "push",
    "pull",
    "turn",
    "curl",
    "glue",
    "tape",
    "tuck",
    "lay",
    "mount",
    "slide",
    "wrap",
    "hold",
    "dry",
    "colour",
    "stamp",
)
"""Heads of a step's lines."""

WAITING = frozenset({"hold", "dry"})
"""Verbs that take their time and move nothing."""

COLOURING = frozenset({"colour", "stamp"})
"""Verbs whose note says with what."""

FLAT_DEG = 180.0
_ON_FOLDS = frozenset({"fold", "crease", "push"})
_FOLDING = frozenset({"fold", "crease", "push", "close", "open"})
_TO_LINES = frozenset({"glue", "tape"})
_RELATIONS = (
    "to",
    "into",
    "on",
    "around",
    "over",
    "under",
    "through",
    "behind",
    "in",
    "out from",
)
_WORDS: dict[str, tuple[str, ...]] = {"curl": ("across", "down", "mountain", "valley")}
"""Plain words that the lines of a verb may hold."""


def read_steps(
    designs: tuple[StepDesign, ...], words: Words
) -> tuple[tuple[Step, ...], list[Diagnostic]]:
    """All steps, numbered from 1, and what could not be understood in them."""
    steps: list[Step] = []
    findings: list[Diagnostic] = []
    for number, design in enumerate(designs, start=1):
        words.first = None
        actions: list[Action] = []
        for statement in design.statements:
            try:
                actions.append(read_action(statement, words))
            except Refused as refused:
                if refused.diagnostic is not None:
                    findings.append(refused.diagnostic)
        title = design.heading or f"Step {number}"
        steps.append(Step(number, title, tuple(actions), design.fence))
    return tuple(steps), findings


def read_action(statement: Statement, words: Words) -> Action:
    """One line. Raises ``Refused`` at the word that is wrong."""
    verb = statement.head
    if verb not in VERBS:
        raise _unknown_verb(statement)
    phrases = Phrases(statement)
    plain = tuple(phrases.all_words(*_WORDS.get(verb, ())))
    length = _radius(phrases, words) if verb == "curl" else None
    seconds = _waiting(phrases, words) if verb in WAITING else None
    said: list[Where] = list(phrases.bare_places())
    face: Face | None = None
    relation = ""
    objects: list[Where] = []
    for joining in statement.joinings():
        if not isinstance(joining, Prep) or joining.word not in _RELATIONS:
            continue
        only_face = face_said(joining.places)
        face = only_face or face
        if only_face is not None and all(_bare_face(p) for p in joining.places):
            if joining.word != "on":
                said_so = f"{joining.word} {only_face} face"
                raise refuse(
                    "missing-phrase",
                    f"the {only_face} face of what? Write for example ‘{said_so} of cover’",
                    joining.span,
                )
            continue
        phrases.take_joinings((joining,))
        if relation:
            raise refuse(
                "said-twice",
                f"‘{relation}’ and ‘{joining.word}’: one line, one motion",
                joining.word_span,
                notes=("Give the second motion a line of its own",),
            )
        relation = joining.word
        objects.extend(joining.places)
    read = words.folds if verb in _ON_FOLDS else words.targets
    if verb == "turn" and relation == "over" and not said:
        said, objects = objects, []
    subjects: list[Target] = read(said)
    if not subjects:
        raise refuse(
            "missing-phrase",
            f"what does ‘{verb}’ act on?",
            statement.head_span,
            notes=("Name a piece or a part of one",),
        )
    pad = _pad(phrases, words) if verb == "mount" else None
    by = phrases.by()
    angle = None
    if by is not None:
        parts, unit = words.known.numbers(by.value)
        wanted = (
            ("mm", "a length", "40 mm") if verb == "pull" else ("deg", "an angle", "90 degrees")
        )
        if unit != wanted[0] or len(parts) != 1:
            text = f"{wanted[1]} is wanted here, such as {wanted[2]}"
            raise refuse("wrong-unit", text, by.value.span)
        if verb == "pull":
            length = parts[0]
        else:
            angle = parts[0]
            if verb in _FOLDING and abs(angle) > FLAT_DEG:
                text = f"nothing folds by {degrees(angle)}: {degrees(FLAT_DEG)} lies flat on itself"
                numbers = (("angle_deg", angle), ("most_deg", FLAT_DEG))
                raise refuse("wrong-angle", text, by.value.span, numbers=numbers)
    for word in _RELATIONS:
        while phrases.prep(word) is not None:
            pass
    phrases.face()
    phrases.finish()
    called = _called(statement, words)
    return Action(
        verb,
        tuple(subjects),
        relation,
        tuple(words.targets(objects, lines=verb in _TO_LINES)),
        angle,
        called,
        face,
        statement.span,
        length,
        plain,
        seconds,
        statement.note.text if statement.note is not None and verb in COLOURING else "",
        pad,
    )


def _pad(phrases: Phrases, words: Words) -> Target:
    """What lies between: a thing of three sizes, the last of which is how thick it is."""
    said = phrases.prep("with")
    if said is None:
        raise phrases.missing("with what", "mount flower on card with foam pads")
    pads = words.targets(said.places)
    if len(pads) != 1 or pads[0].kind != "object":
        text = "pads are wanted here: a thing that is so wide, so high and so thick"
        notes = ("Write ‘foam pads’, or a size of your own such as ‘10 x 10 x 3 mm’",)
        raise refuse("wrong-place", text, said.span, notes=notes)
    return pads[0]


def _waiting(phrases: Phrases, words: Words) -> float | None:
    """How long is waited, in seconds; None where the line does not say."""
    for phrase in phrases.statement.bare():
        value = phrase.value
        named = isinstance(value, Ref) and value.text in words.known.other_names()
        if not isinstance(value, (Literal, Ref)) or (isinstance(value, Ref) and not named):
            continue
        parts, unit = words.known.numbers(value)
        if named and unit != "s":
            continue
        if unit != "s" or parts[0] <= 0:
            text = "how long is wanted here, such as 10 minutes"
            raise refuse("wrong-unit", text, value.span)
        phrases.take(phrase)
        return parts[0]
    return None


def _radius(phrases: Phrases, words: Words) -> float | None:
    said = phrases.labelled("radius")
    if said is None or said.value is None or isinstance(said.value, Offset):
        return None
    parts, unit = words.known.numbers(said.value)
    if unit != "mm" or len(parts) != 1 or parts[0] <= 0:
        raise refuse("wrong-unit", "a length is wanted here, such as 30 mm", said.value.span)
    return parts[0]


def _bare_face(place: Where) -> bool:
    segments = getattr(place, "segments", ())
    return len(segments) == 1


def _called(statement: Statement, words: Words) -> str:
    for joining in statement.joinings():
        if isinstance(joining, Called):
            name = joining.name
            first = words.made.get(name.text) or words.known.pieces().get(name.text)
            if first is not None:
                raise taken(name.text, name.span, first, "something else")
            words.made[name.text] = name.span
            return name.text
    return ""


def _unknown_verb(statement: Statement) -> Refused:
    near = nearest(statement.head, VERBS)
    span = statement.head_span
    if near is None:
        message = f"‘{statement.head}’ is no action of a step"
        diagnostic = Diagnostic(
            "unknown-action",
            "error",
            message,
            (Place(span),),
            notes=(f"Known: {listed(VERBS, 20)}",),
        )
        return Refused(diagnostic)
    return refuse(
        "unknown-action",
        f"‘{statement.head}’ is no action of a step. Nearest: ‘{near}’",
        span,
        ways_out=(WayOut(f"write ‘{near}’", Edit(span, near)),),
    )
