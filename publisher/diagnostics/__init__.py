"""What a designer is told: findings with a code, places in the source, numbers and ways out.

Used by every stage; knows none of them. Rendering them is in ``publisher.diagnostics.render``.
"""

from publisher.diagnostics.alike import told_once
from publisher.diagnostics.called import at_calls
from publisher.diagnostics.near import a_line, nearest, nearest_phrase
from publisher.diagnostics.types import (
    Diagnostic,
    Edit,
    Place,
    Severity,
    Span,
    WayOut,
    has_errors,
)

__all__ = [
    "Diagnostic",
    "Edit",
    "Place",
    "Severity",
    "Span",
    "WayOut",
    "a_line",
    "at_calls",
    "has_errors",
    "nearest",
    "nearest_phrase",
    "told_once",
]
