"""A small sketch of a fit: one thing in another, drawn to scale from the check's own figures.

A mat is drawn on what it lies on. Where a check gives no two sizes, the piece that it speaks of
first is drawn flat.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from publisher.drawing.theme import Theme
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path, Point
from publisher.model.types import MatOf, Pattern, Piece
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
    piece = named[0] if named else pattern.pieces[0]
    beneath = _beneath(piece, pattern)
    alt = f"{fit.subject}, drawn flat" + (" and to scale" if beneath else "")
    return Sketch(_flat(piece, theme, beneath), alt)


def _beneath(piece: Piece, pattern: Pattern) -> tuple[Point, ...]:
    """The panel that a mat lies on or behind, in the mat's own coordinates."""
    if not isinstance(piece.derived, MatOf):
        return ()
    mat = piece.derived
    panels = [
        panel
        for other in pattern.pieces
        if other.name == mat.piece
        for panel in other.panels
        if panel.name == mat.panel
    ]
    return tuple((x - mat.offset[0], y - mat.offset[1]) for p in panels for x, y in p.ring)


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


def _flat(piece: Piece, theme: Theme, beneath: tuple[Point, ...]) -> str:
    x0, y0, x1, y1 = piece.bounds
    xs, ys = [x0, x1, *(x for x, _ in beneath)], [y0, y1, *(y for _, y in beneath)]
    x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
    scale = min((WIDE - 2 * PAD) / (x1 - x0), (HIGH - 2 * PAD) / (y1 - y0))
    dx, dy = (WIDE - (x1 - x0) * scale) / 2, (HIGH - (y1 - y0) * scale) / 2

    def ring(points: Iterable[Point]) -> str:
        return "M" + "L".join(
            f"{dx + (x - x0) * scale:.3f} {dy + (y - y0) * scale:.3f}" for x, y in points
        )

    def data(path: Path) -> str:
        return ring(flattened(path, 0.05)) + ("Z" if path.closed else "")

    rings = "".join(data(r) for r in (piece.outline.outer, *piece.outline.holes))
    folds = "".join(data(s.path) for s in piece.scores)
    ink, paper = theme.colours["ink"], theme.paper_colour("front", piece.stock)
    other = (
        f'<path d="{ring(beneath)}Z" fill="none" stroke="{ink}" stroke-width="0.18"/>'
        if beneath
        else ""
    )
    # What a mat lies behind is drawn over it.
    over = _covers(piece)
    return _svg(
        ("" if over else other)
        + f'<path d="{rings}" fill="{paper}" fill-rule="evenodd" stroke="{ink}"'
        f' stroke-width="0.35"/><path d="{folds}" fill="none" stroke="{theme.colours["crease"]}"'
        ' stroke-width="0.18"/>' + (other if over else "")
    )


def _covers(piece: Piece) -> bool:
    return isinstance(piece.derived, MatOf) and piece.derived.behind


def _svg(inside: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE}mm" height="{HIGH}mm"'
        f' viewBox="0 0 {WIDE} {HIGH}">{inside}</svg>'
    )
