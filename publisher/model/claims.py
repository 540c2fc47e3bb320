"""Fits fences as claims with their bounds in mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product

from publisher.diagnostics import Diagnostic, Span
from publisher.language.ast import Expr, FitClaim, Join, Literal, Offset, Place, Ref
from publisher.model.findings import Refused, refuse, unknown
from publisher.model.targets import Words
from publisher.model.types import Claim, Target

_OF_SIZE = frozenset({"closes to", "opens to"})


def read_claims(
    designs: tuple[FitClaim, ...], words: Words
) -> tuple[tuple[Claim, ...], list[Diagnostic]]:
    """One claim for every subject and every object, and what could not be understood.

    Two lists of one length go in pairs: each star with its own pane.
    """
    claims: list[Claim] = []
    findings: list[Diagnostic] = []
    for design in designs:
        words.first = None
        try:
            claims.extend(_read(design, words))
        except Refused as refused:
            if refused.diagnostic is not None:
                findings.append(refused.diagnostic)
    return tuple(claims), findings


def _read(design: FitClaim, words: Words) -> list[Claim]:
    subjects = words.targets(design.subjects)
    least, most = _margin(design, words)
    size: tuple[float, ...] | None = None
    objects: list[Target | None] = [None]
    word = ""
    if design.object is not None:
        if design.verb == "mails as":
            word = _post(design.object, words)
        elif design.verb in _OF_SIZE or isinstance(design.object, (Join, Literal)):
            size = _size(design.object, words, angle=design.verb == "opens to")
        else:
            objects = list(words.targets([design.object]))
    return [
        Claim(design.verb, subject, partner, least, most, size, design.span, word)
        for subject, partner in _pairs(subjects, objects)
    ]


def _pairs(
    subjects: Sequence[Target], objects: Sequence[Target | None]
) -> Iterable[tuple[Target, Target | None]]:
    if len(subjects) == len(objects):
        return zip(subjects, objects, strict=True)
    return product(subjects, objects)


def _post(place: Place, words: Words) -> str:
    """The kind of post that is named."""
    known: dict[str, Span | None] = dict.fromkeys(words.known.posts())
    name = place.text if isinstance(place, Ref) else ""
    if name not in known:
        raise unknown("among the kinds of post", name, place.span, known, code="unknown-post")
    return name


def _size(place: Place, words: Words, angle: bool) -> tuple[float, ...]:
    wanted = (
        "an angle is wanted here, such as 180 degrees"
        if angle
        else "a size is wanted here, such as 80 x 60 mm"
    )
    if isinstance(place, Offset):
        raise refuse("wrong-place", wanted, place.span)
    parts, unit = words.known.numbers(place)
    if unit != ("deg" if angle else "mm"):
        raise refuse("wrong-unit", wanted, place.span)
    return parts


def _margin(design: FitClaim, words: Words) -> tuple[float | None, float | None]:
    margin = design.margin
    if margin is None:
        return None, None
    least = _length(margin.least, words)
    most = _length(margin.most, words) if margin.most is not None else None
    if most is not None and most < least:
        raise refuse(
            "range-backwards",
            "the second figure is the larger one: ‘with 1 mm to 3 mm to spare’",
            margin.span,
            numbers=(("least_mm", least), ("most_mm", most)),
        )
    return least, most


def _length(expr: Expr, words: Words) -> float:
    parts, unit = words.known.numbers(expr)
    if len(parts) != 1 or (unit != "mm" and parts != (0.0,)):
        raise refuse("wrong-unit", "a length is wanted here, such as 2 mm", expr.span)
    return parts[0]
