"""``X closes to A x B [x C]``: the outside of the closed piece, papers counted."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.assembly import closed_size
from publisher.checks.context import Context, Results, failed, passed
from publisher.model.types import Piece

CODE = "closed-size-differs"
_MOST_PAPERS = 8


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
        if off > tolerance:
            size = " x ".join(context.say(v) for v in found[: len(wanted)])
            stated = " x ".join(context.say(v) for v in wanted)
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"{piece.name} closes to {size}, not to {stated}",
                claim.span,
                ways_out=(
                    *_papers(piece, wanted, found, tolerance),
                    f"state the size as {' x '.join(f'{v:g}' for v in found[: len(wanted)])} mm",
                ),
                slack=slack,
            )
        else:
            size = context.told(*found[: len(wanted)])
            yield passed(CODE, piece.name, numbers, f"{piece.name} closes to {size}", slack)


def _papers(
    piece: Piece, wanted: Sequence[float], found: Sequence[float], tolerance: float
) -> tuple[str, ...]:
    """What to add where only papers were forgotten, so that sizes with names keep theirs."""
    caliper = piece.stock.caliper_mm
    added: dict[int, list[str]] = {}
    for axis, stated, is_now in zip(("across", "down", "deep"), wanted, found, strict=False):
        count = round((is_now - stated) / caliper)
        if abs(is_now - stated - count * caliper) > tolerance or not 0 <= count <= _MOST_PAPERS:
            return ()
        if count:
            added.setdefault(count, []).append(axis)
    sums = [
        f"‘{'' if count == 1 else f'{count} * '}caliper of {piece.stock.name}’ {' and '.join(axes)}"
        for count, axes in added.items()
    ]
    return (f"add {' and '.join(sums)}",) if sums else ()
