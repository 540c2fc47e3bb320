"""Heavy paper is scored before it is folded."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed

CODE = "fold-not-scored"
SCORING = ("score", "crease")


def check(context: Context) -> Results:
    heavy = context.practice("score_grammage_least_gsm")
    scored: set[str] = set()
    told: set[str] = set()
    for frame in context.story.frames:
        action = frame.action
        pieces = {t.piece for t in action.subjects if t.kind != "made"}
        if action.verb in SCORING:
            scored |= pieces
        if action.verb != "fold":
            continue
        for name in sorted(pieces - told):
            told.add(name)
            stock = context.pattern.piece(name).stock
            numbers = (("grammage_gsm", stock.grammage_gsm), ("heavy_gsm", heavy))
            if stock.grammage_gsm >= heavy and name not in scored:
                yield failed(
                    CODE,
                    name,
                    numbers,
                    f"{name} is folded before it is scored, and {stock.name} is too heavy for that",
                    action.span,
                    severity="warning",
                    notes=("Heavy paper cracks where it is folded without a score.",),
                    ways_out=(f"write ‘score {name}’ in a step before",),
                )
            else:
                yield passed(CODE, name, numbers, f"{name} is folded as its paper wants it")
