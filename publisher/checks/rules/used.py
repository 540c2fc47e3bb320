"""Every piece is taken up in some step."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed

CODE = "piece-not-used"


def check(context: Context) -> Results:
    used: dict[str, int] = {}
    made: dict[str, set[str]] = {}
    for step in context.pattern.steps:
        for action in step.actions:
            targets = (*action.subjects, *action.objects)
            names = {t.piece for t in targets if t.kind != "made"}
            for target in targets:
                if target.kind == "made":
                    names |= made.get(target.part or target.piece, set())
            for name in names:
                used.setdefault(name, step.number)
            if action.called:
                made[action.called] = names
    for piece in context.pattern.pieces:
        first = used.get(piece.name, 0)
        numbers = (("first_step", float(first)),)
        if first:
            yield passed(CODE, piece.name, numbers, f"{piece.name} is first used in step {first}")
        else:
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"{piece.name} is cut but no step uses it",
                piece.span,
                ways_out=(
                    f"name {piece.name} in a step where it is folded, glued or laid in place",
                    "take the piece out",
                ),
            )
