"""What a ``step`` fence can say."""

from __future__ import annotations

from publisher.language.statements.spec import StatementSpec
from publisher.language.statements.step import (
    close,
    crease,
    cut,
    fold,
    glue,
    later,
    lay,
    open,
    press,
    push,
    score,
    slide,
    turn,
    wrap,
)

STEP: dict[str, StatementSpec] = {
    spec.head: spec
    for spec in (
        close.SPEC,
        crease.SPEC,
        cut.SPEC,
        fold.SPEC,
        glue.SPEC,
        lay.SPEC,
        open.SPEC,
        press.SPEC,
        push.SPEC,
        score.SPEC,
        slide.SPEC,
        turn.SPEC,
        wrap.SPEC,
        *later.SPECS,
    )
}
