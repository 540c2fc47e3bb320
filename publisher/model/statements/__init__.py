"""Every statement of a piece, one file each, found by its head.

Takes lines of a piece fence and the piece in the making, adds what they say to it.
"""

from __future__ import annotations

from collections.abc import Mapping

from publisher.model.statements.kinds import Phase, StatementKind
from publisher.registry import OnDemand

STATEMENTS: Mapping[str, StatementKind] = OnDemand(
    __name__,
    {
        "outline": "outline:KIND",
        "panels": "panels:KIND",
        "panel": "panel:KIND",
        "mat": "mat:KIND",
        "band": "band:KIND",
        "tab": "tab:KIND",
        "point": "named:POINT",
        "edge": "named:EDGE",
        "row": "row:KIND",
        "join": "shaping:JOIN",
        "trim": "shaping:TRIM",
        "cut": "shaping:CUT",
        "corners": "corners:KIND",
        "notch": "notch:KIND",
        "window": "window:KIND",
        "island": "island:KIND",
        "bridge": "bridge:KIND",
        "slit": "slit:KIND",
        "perforate": "slit:PERFORATE",
        "draw": "marks:DRAW",
        "engrave": "marks:ENGRAVE",
        "mark": "marks:CROSS",
        "divide": "divide:KIND",
        "score": "score:KIND",
        "unscored": "unscored:KIND",
        "glue": "glue:KIND",
    },
)

__all__ = ["STATEMENTS", "Phase", "StatementKind"]
