"""What a ``step`` fence can say."""

from __future__ import annotations

from publisher.language.statements.spec import StatementSpec
from publisher.language.statements.step import (
    close,
    crease,
    curl,
    cut,
    fold,
    glue,
    lay,
    open,
    press,
    pull,
    push,
    score,
    slide,
    tape,
    tuck,
    turn,
    wrap,
)

STEP: dict[str, StatementSpec] = {
    spec.head: spec
    for spec in (
        close.SPEC,
        crease.SPEC,
        curl.SPEC,
        cut.SPEC,
        fold.SPEC,
        glue.SPEC,
        lay.SPEC,
        open.SPEC,
        press.SPEC,
        pull.SPEC,
        push.SPEC,
        score.SPEC,
        slide.SPEC,
        tape.SPEC,
        tuck.SPEC,
        turn.SPEC,
        wrap.SPEC,
    )
}
