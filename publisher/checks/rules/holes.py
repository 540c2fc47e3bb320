"""Windows are large enough to be cut cleanly."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed

CODE = "hole-too-small"


def check(context: Context) -> Results:
    least = context.practice("hole_least_mm")
    for piece in context.pattern.pieces:
        for opening in piece.openings:
            if opening.kind != "window":
                continue
            size = min(opening.width_mm, opening.depth_mm)
            numbers = (("size_mm", size), ("least_mm", least))
            subject = f"{piece.name}: {opening.name}"
            if size < least - 1e-6:
                yield failed(
                    CODE,
                    subject,
                    numbers,
                    f"{opening.name} of {piece.name} is {context.say(size)} across;"
                    f" {context.say(least)} is the least that a blade can turn in",
                    opening.span,
                    severity="warning",
                    notes=("Smaller holes are made with a punch or an awl.",),
                )
            else:
                yield passed(CODE, subject, numbers, f"{opening.name} can be cut")
