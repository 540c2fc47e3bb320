"""Glue tabs are deep enough for fingers, and what overlaps does so by enough."""

from __future__ import annotations

import math

from publisher.checks.context import Context, Results, failed, passed
from publisher.model.types import BandOf, Panel, Piece

CODE = "tab-too-narrow"
OVERLAP = "overlap-too-short"


def check(context: Context) -> Results:
    least = context.practice("tab_depth_least_mm")
    lap = context.practice("glue_overlap_least_mm")
    for piece in context.pattern.pieces:
        for panel in piece.panels:
            if panel.kind != "tab":
                continue
            depth = depth_mm(piece, panel)
            band = isinstance(piece.derived, BandOf)
            limit = lap if band else least
            code = OVERLAP if band else CODE
            numbers = (("depth_mm", depth), ("least_mm", limit))
            subject = f"{piece.name}: {panel.name}"
            if depth < limit - 1e-6:
                yield failed(
                    code,
                    subject,
                    numbers,
                    f"{panel.name} of {piece.name} is {context.say(depth)} deep;"
                    f" {context.say(limit)} is the least that can be pressed",
                    panel.span,
                    severity="warning",
                )
            else:
                yield passed(code, subject, numbers, f"{panel.name} of {piece.name} holds well")


def depth_mm(piece: Piece, panel: Panel) -> float:
    """How far a tab reaches from its fold."""
    fold = next((f for f in piece.folds if f.child == panel.name), None)
    if fold is None:
        return min(panel.width_mm, panel.height_mm)
    (ax, ay), (bx, by) = fold.start, fold.end
    length = math.dist(fold.start, fold.end)
    return max(abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length for x, y in panel.ring)
