"""What a verb hands back: the scene as it begins, what moves, the scene as it ends."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.assembly.types import Bond, FacetId, Motion, State
from publisher.diagnostics import Diagnostic, Place, Span, WayOut
from publisher.geometry.path import Point
from publisher.geometry.space import Pose
from publisher.model.types import Action, Face, Target

Approach: TypeAlias = Callable[[FacetId, FacetId], tuple[Pose, Pose] | None]
"""Where two facets are shortly before they come to lie as they do at the end; None when this
motion does not tell."""


class Wet(Struct, frozen=True):
    """Glue (or tape) that has been put on and waits for what it shall hold.

    It is on ``panel`` of a body ("" for the whole body), over glue zone ``zone`` ("" for all of
    the panel), on ``face`` (None where nobody said). One of ``partners``, (body, panel or ""),
    must come to lie on it; where there are none, whatever comes to lie on it. ``edge`` is the
    partner's edge that a tab's fold shall meet, or ""; ``line_mm`` a line of it, by its ends.
    """

    body: str
    panel: str
    zone: str
    face: Face | None
    partners: tuple[tuple[str, str], ...]
    edge: str
    by: Literal["glue", "tape"]
    span: Span | None
    line_mm: tuple[Point, Point] | None = None


class Change(Struct, frozen=True):
    """One action carried out.

    ``start`` is the scene as the action begins: with everything taken up that takes part, and
    what comes in from elsewhere standing where its path begins. ``end`` has the new poses; its
    layer order and the bonds that wet glue makes are not yet worked out.
    """

    start: State
    end: State
    motions: tuple[Motion, ...] = ()
    bonds: tuple[Bond, ...] = ()
    wet: tuple[Wet, ...] = ()
    residual_mm: float = 0.0
    findings: tuple[Diagnostic, ...] = ()
    approach: Approach | None = None


def word_span(action: Action) -> Span:
    """The action's first word: its verb."""
    span = action.span
    end = min(span.end, span.start + len(action.verb))
    return Span(span.file, span.start, max(end, span.start), span.line, span.column)


def not_yet(action: Action, what: str, note: str = "") -> Diagnostic:
    """A finding at the verb: this much of the language is not worked out in space."""
    return Diagnostic(
        "not-yet",
        "error",
        f"{what} cannot be worked out in space yet",
        (Place(word_span(action)),),
        notes=(note,) if note else (),
    )


def finding(
    code: str,
    action: Action,
    message: str,
    target: Target | None = None,
    numbers: tuple[tuple[str, float], ...] = (),
    notes: tuple[str, ...] = (),
    ways_out: tuple[str, ...] = (),
    severity: str = "error",
) -> Diagnostic:
    """A finding at the target's words, or at the whole line."""
    span = target.span if target is not None and target.span is not None else action.span
    return Diagnostic(
        code,
        "warning" if severity == "warning" else "error",
        message,
        (Place(span),),
        numbers,
        notes,
        tuple(WayOut(text) for text in ways_out),
    )
