"""What was just glued is left to dry before it is pulled about."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed
from publisher.model.types import Action

CODE = "glue-still-wet"
PULLING = ("slide", "pull", "open", "push")
"""What tears at a joint; a fold that closes a thing presses it together."""


def check(context: Context) -> Results:
    fresh: dict[str, Action] = {}
    step = 0
    told = False
    for frame in context.story.frames:
        if frame.step != step:
            fresh, step = {}, frame.step
        action = frame.action
        bodies = {t.piece for t in (*action.subjects, *action.objects)}
        wet = [fresh[b] for b in sorted(bodies) if b in fresh]
        if action.verb in PULLING and wet:
            told = True
            yield failed(
                CODE,
                f"step {frame.step}",
                (("step", float(frame.step)),),
                f"in step {frame.step} a joint is glued and at once made to {action.verb}",
                action.span,
                wet[0].span,
                severity="warning",
                ways_out=("begin a new step after the glue, and say in it that it must dry",),
            )
        new = set(frame.after.bonds) - set(frame.before.bonds)
        for bond in new:
            if bond.by == "glue":
                for body_id, _ in (bond.first, bond.second):
                    fresh[frame.after.body(body_id).piece] = action
    if fresh is not None and not told and any(b.by == "glue" for b in context.story.end.bonds):
        yield passed(
            CODE, context.pattern.name, (("step", 0.0),), "glue has time to dry before it is pulled"
        )
