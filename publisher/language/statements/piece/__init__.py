"""What a ``piece`` fence can say."""

from __future__ import annotations

from publisher.language.statements.piece import (
    band,
    corners,
    glue,
    later,
    mat,
    named,
    notch,
    outline,
    panel,
    panels,
    score,
    slit,
    tab,
    window,
)
from publisher.language.statements.spec import StatementSpec

PIECE: dict[str, StatementSpec] = {
    spec.head: spec
    for spec in (
        band.SPEC,
        corners.SPEC,
        glue.SPEC,
        mat.SPEC,
        named.POINT,
        named.EDGE,
        notch.SPEC,
        outline.SPEC,
        panel.SPEC,
        panels.SPEC,
        score.SPEC,
        slit.SPEC,
        tab.SPEC,
        window.SPEC,
        *later.SPECS,
    )
}
