"""A small sketch of a fit: one thing in another, drawn to scale from the check's own figures.

Where a check gives no two sizes, the pieces that it speaks of are drawn flat.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from publisher.drawing.theme import Theme
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path
from publisher.model.types import Pattern, Piece
from publisher.proof.fits import Fit

WIDE, HIGH, PAD = 44.0, 30.0, 2.0
"""The sketch in mm, and the white round it."""


class Sketch(Struct, frozen=True):
    """``svg`` with its words for those who do not see it."""

    svg: str
    alt: str


def sketch_of(fit: Fit, pattern: Pattern, theme: Theme) -> Sketch:
    numbers = dict(fit.numbers)
    outer = _outer(numbers)
    inner = _inner(numbers, outer) if outer else None
    if outer and inner:
        alt = f"{fit.subject}, to scale: the inner outline leaves what is to spare"
        return Sketch(_nested(outer, inner, theme), alt)
    pieces = sorted(
        (p for p in pattern.pieces if p.name in fit.subject), key=lambda p: fit.subject.find(p.name)
    )
    named = [p for p in pieces if not any(p.name in o.name and p is not o for o in pieces)]
    return Sketch(_flat(named[0] if named else pattern.pieces[0], theme), f"{fit.subject}, flat")


def _outer(numbers: Mapping[str, float]) -> tuple[float, float] | None:
    if "across_free_mm" in numbers:
        return numbers["across_free_mm"], numbers["down_free_mm"]
    if "body_width_mm" in numbers:
        wide = numbers["body_width_mm"] + numbers.get("play_wide_mm", 0.0)
        if "play_wide_mm" not in numbers and "play_thick_mm" in numbers:
            # A loop round a body, seen from its open end.
            return (
                numbers["body_height_mm"] + numbers.get("play_high_mm", 0.0),
                numbers["body_thick_mm"] + numbers["play_thick_mm"],
            )
        return wide, numbers["body_height_mm"] + numbers.get("play_high_mm", 0.0)
    return None


def _inner(numbers: Mapping[str, float], outer: tuple[float, float]) -> tuple[float, float]:
    if "across_spare_mm" in numbers:
        return outer[0] - numbers["across_spare_mm"], outer[1] - numbers["down_spare_mm"]
    if "play_wide_mm" not in numbers and "play_thick_mm" in numbers:
        return numbers["body_height_mm"], numbers["body_thick_mm"]
    return numbers["body_width_mm"], numbers["body_height_mm"]


def _nested(outer: tuple[float, float], inner: tuple[float, float], theme: Theme) -> str:
    widest, highest = max(outer[0], inner[0]), max(outer[1], inner[1])
    scale = min((WIDE - 2 * PAD) / widest, (HIGH - 2 * PAD) / highest)

    def box(size: tuple[float, float], look: str) -> str:
        w, h = size[0] * scale, size[1] * scale
        return (
            f'<rect x="{(WIDE - w) / 2:.3f}" y="{(HIGH - h) / 2:.3f}" width="{w:.3f}"'
            f' height="{h:.3f}" {look}/>'
        )

    # The outline last: of a little play nothing would be seen under what lies in it.
    line = f'fill="none" stroke="{theme.colours["ink"]}" stroke-width="0.18"'
    return _svg(box(inner, f'fill="{theme.colours["plain"]}"') + box(outer, line))


def _flat(piece: Piece, theme: Theme) -> str:
    x0, y0, x1, y1 = piece.bounds
    scale = min((WIDE - 2 * PAD) / (x1 - x0), (HIGH - 2 * PAD) / (y1 - y0))
    dx, dy = (WIDE - (x1 - x0) * scale) / 2, (HIGH - (y1 - y0) * scale) / 2

    def data(path: Path) -> str:
        points = [
            f"{dx + (x - x0) * scale:.3f} {dy + (y - y0) * scale:.3f}"
            for x, y in flattened(path, 0.05)
        ]
        return "M" + "L".join(points) + ("Z" if path.closed else "")

    rings = "".join(data(r) for r in (piece.outline.outer, *piece.outline.holes))
    folds = "".join(data(s.path) for s in piece.scores)
    ink, paper = theme.colours["ink"], theme.paper_colour("front", piece.stock)
    return _svg(
        f'<path d="{rings}" fill="{paper}" fill-rule="evenodd" stroke="{ink}"'
        f' stroke-width="0.35"/><path d="{folds}" fill="none" stroke="{theme.colours["crease"]}"'
        ' stroke-width="0.18"/>'
    )


def _svg(inside: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE}mm" height="{HIGH}mm"'
        f' viewBox="0 0 {WIDE} {HIGH}">{inside}</svg>'
    )
