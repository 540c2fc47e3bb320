"""Findings in a form, shown where the form was called for."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from publisher.diagnostics.types import Diagnostic, Place, Span


def at_call(finding: Diagnostic) -> Diagnostic:
    """The finding at the line that called for the form, the form's own line as second place."""
    if not finding.places or finding.places[0].span.call is None:
        return finding
    first, *others = finding.places
    calls = _calls(first.span)
    label = first.label or "in the form"
    places = (*(Place(call) for call in calls), Place(first.span, label), *others)
    return replace(finding, places=places)


def at_calls(findings: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Each finding where its form was called for, once; the others as they are."""
    kept: dict[object, Diagnostic] = {}
    for number, finding in enumerate(findings):
        told = at_call(finding)
        same: object = number if told is finding else (told.code, told.message, told.places[0])
        kept.setdefault(same, told)
    return list(kept.values())


def _calls(span: Span) -> list[Span]:
    """From the pattern's own line to the innermost call."""
    found: list[Span] = []
    while span.call is not None:
        span = span.call
        found.append(span)
    return found[::-1]
