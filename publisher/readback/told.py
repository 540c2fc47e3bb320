"""Findings of this stage, and how they are put."""

from __future__ import annotations

from publisher.diagnostics import Diagnostic, Place
from publisher.readback.expected import WantedCopy
from publisher.units import number

Numbers = tuple[tuple[str, float], ...]


def finding(
    code: str, message: str, numbers: Numbers = (), copy: WantedCopy | None = None
) -> Diagnostic:
    places = (Place(copy.piece.span),) if copy else ()
    return Diagnostic(code, "error", message, places, numbers)


def differs(
    path: str, what: str, numbers: Numbers = (), copy: WantedCopy | None = None
) -> Diagnostic:
    """A written file, and what of it is not as it should be."""
    return finding("written-file-differs", f"{path}: {what}", numbers, copy)


def missing(name: str) -> Diagnostic:
    return finding("written-file-missing", f"{name} was not written")


def mm(value: float) -> str:
    return f"{number(value, 3)} mm"
