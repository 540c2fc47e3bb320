"""What a designer is told: findings with a code, places in the source, numbers and ways out.

Used by every stage; knows none of them.
"""

from publisher.diagnostics.types import (
    Diagnostic,
    Edit,
    Place,
    Severity,
    Span,
    WayOut,
    has_errors,
)

__all__ = ["Diagnostic", "Edit", "Place", "Severity", "Span", "WayOut", "has_errors"]
