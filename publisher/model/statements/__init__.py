"""Every statement of a piece, one file each, found by its head.

Takes lines of a piece fence and the piece in the making, adds what they say to it.
"""

from __future__ import annotations

from publisher.model.statements import (
    band,
    bridge,
    corners,
    divide,
    glue,
    island,
    marks,
    mat,
    named,
    notch,
    outline,
    panel,
    panels,
    score,
    shaping,
    slit,
    tab,
    unscored,
    window,
)
from publisher.model.statements.kinds import Phase, StatementKind

STATEMENTS: dict[str, StatementKind] = {
    kind.head: kind
    for kind in (
        outline.KIND,
        panels.KIND,
        panel.KIND,
        mat.KIND,
        band.KIND,
        tab.KIND,
        named.POINT,
        named.EDGE,
        shaping.JOIN,
        shaping.TRIM,
        shaping.CUT,
        corners.KIND,
        notch.KIND,
        window.KIND,
        island.KIND,
        bridge.KIND,
        slit.KIND,
        slit.PERFORATE,
        marks.DRAW,
        marks.ENGRAVE,
        marks.CROSS,
        divide.KIND,
        score.KIND,
        unscored.KIND,
        glue.KIND,
    )
}

__all__ = ["STATEMENTS", "Phase", "StatementKind"]
