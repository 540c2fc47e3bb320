"""What a ``piece`` fence can say."""

from __future__ import annotations

from publisher.language.statements.piece import (
    band,
    bridge,
    corners,
    cut,
    divide,
    draw,
    edge,
    engrave,
    form,
    glue,
    island,
    join,
    mark,
    mat,
    notch,
    outline,
    panel,
    panels,
    perforate,
    point,
    score,
    slit,
    tab,
    trim,
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
        cut.SPEC,
        divide.SPEC,
        draw.SPEC,
        edge.SPEC,
        engrave.SPEC,
        form.SPEC,
        glue.SPEC,
        island.SPEC,
        join.SPEC,
        mark.SPEC,
        mat.SPEC,
        notch.SPEC,
        outline.SPEC,
        panel.SPEC,
        panels.SPEC,
        perforate.SPEC,
        point.SPEC,
        score.SPEC,
        slit.SPEC,
        tab.SPEC,
        trim.SPEC,
        unscored.SPEC,
        window.SPEC,
    )
}
