"""``X closes to A x B [x C]``: the outside of the closed piece, papers counted."""

from __future__ import annotations

from publisher.assembly import closed_size
from publisher.checks.context import Context, Results, failed, passed

CODE = "closed-size-differs"


def check(context: Context) -> Results:
    tolerance = context.practice("size_tolerance_mm")
    for claim in context.pattern.claims:
        if claim.verb != "closes to" or claim.size_mm is None:
            continue
        piece = context.pattern.piece(claim.subject.piece)
        found = closed_size(piece)
        wanted = claim.size_mm
        off = max(abs(a - b) for a, b in zip(wanted, found, strict=False))
        numbers = (
            ("width_mm", found[0]),
            ("height_mm", found[1]),
            ("thick_mm", found[2]),
            ("off_mm", off),
        )
        slack = tuple(
            (f"off {axis}", tolerance - abs(a - b))
            for axis, a, b in zip(("across", "down", "deep"), wanted, found, strict=False)
        )
        size = " x ".join(context.say(v) for v in found[: len(wanted)])
        if off > tolerance:
            stated = " x ".join(context.say(v) for v in wanted)
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"{piece.name} closes to {size}, not to {stated}",
                claim.span,
                ways_out=(f"state the size as {' x '.join(f'{v:g}' for v in found)} mm",),
                slack=slack,
            )
        else:
            yield passed(CODE, piece.name, numbers, f"{piece.name} closes to {size}", slack)
