"""The values that a finding is made of."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

Severity = Literal["error", "warning"]


class Span(Struct, frozen=True, order=True):
    """A stretch of one source file.

    ``file`` is the path as shown to the designer (relative to the workshop, with forward
    slashes). ``start`` and ``end`` are character offsets into the file's text as decoded
    (a byte order mark is not counted), ``end`` exclusive. ``line`` and ``column`` count from 1
    and belong to ``start``; a span may run over several lines. ``call`` is where the words were
    called for, where they stand in a form; a form that another form calls for has a ``call``
    that has one itself.
    """

    file: str
    start: int
    end: int
    line: int
    column: int
    call: Span | None = None


class Place(Struct, frozen=True):
    """A span and what is to be said under it ("" where the message says enough)."""

    span: Span
    label: str = ""


class Edit(Struct, frozen=True):
    """Replace what ``span`` covers by ``text``."""

    span: Span
    text: str


class WayOut(Struct, frozen=True):
    """One way to mend a finding, in words and where possible as an edit."""

    text: str
    edit: Edit | None = None


class Diagnostic(Struct, frozen=True):
    """One finding.

    ``code`` is lower-case words with hyphens and has a page in ``publisher/guide/codes``.
    ``message`` is one sentence without a closing full stop. ``places[0]`` is where it went
    wrong; further places are where the other half of the contradiction stands. ``numbers``
    are the figures behind it, (name, value) with the unit in the name (``free_mm``).
    ``notes`` are further sentences. An ``error`` stops a build, a ``warning`` does not.
    """

    code: str
    severity: Severity
    message: str
    places: tuple[Place, ...] = ()
    numbers: tuple[tuple[str, float], ...] = ()
    notes: tuple[str, ...] = ()
    ways_out: tuple[WayOut, ...] = ()


def has_errors(diagnostics: Iterable[Diagnostic]) -> bool:
    """Whether any of them stops a build."""
    return any(d.severity == "error" for d in diagnostics)
