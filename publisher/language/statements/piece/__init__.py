"""What a ``piece`` fence can say."""

from __future__ import annotations

from publisher.language.statements.piece import (
    band,
    bridge,
    corners,
    edge,
    form,
    glue,
    island,
    later,
    mat,
    notch,
    outline,
    panel,
    panels,
    point,
    score,
    shaping,
    slit,
    tab,
    unscored,
    window,
)
from publisher.language.statements.spec import StatementSpec

PIECE: dict[str, StatementSpec] = {
    spec.head: spec
    for spec in (
        band.SPEC,
        bridge.SPEC,
        corners.SPEC,
        edge.SPEC,
        form.SPEC,
        glue.SPEC,
        island.SPEC,
        mat.SPEC,
        notch.SPEC,
        outline.SPEC,
        panel.SPEC,
        panels.SPEC,
        point.SPEC,
        score.SPEC,
        shaping.JOIN,
        shaping.TRIM,
        shaping.CUT,
        slit.SPEC,
        tab.SPEC,
        unscored.SPEC,
        window.SPEC,
        *later.SPECS,
    )
}
