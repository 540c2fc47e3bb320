"""Lengths of panels and tabs, and of the whole piece."""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.drawing.flat.board import Axis
from publisher.drawing.flat.lengths import NEAR_MM, Across, Anchor, Pointed, extent, printed
from publisher.model.types import Fold, Panel, Piece


def overall(piece: Piece) -> Iterator[Across]:
    box = piece.bounds
    yield Across("overall", piece.name, "x", box[2] - box[0], (box,))
    yield Across("overall", piece.name, "y", box[3] - box[1], (box,))


def panels(piece: Piece) -> Iterator[Across]:
    for panel in piece.panels:
        if panel.kind == "panel":
            yield Across("panel", panel.name, "x", panel.width_mm, (panel.bounds,))
            yield Across("panel", panel.name, "y", panel.height_mm, (panel.bounds,))


def _folds_to_tabs(piece: Piece) -> Iterator[tuple[Panel, Fold]]:
    folds = {fold.child: fold for fold in piece.folds}
    for panel in piece.panels:
        if panel.kind == "tab" and panel.name in folds:
            yield panel, folds[panel.name]


def tabs(piece: Piece) -> Iterator[Across]:
    for tab, fold in _folds_to_tabs(piece):
        (x1, y1), (x2, y2) = fold.start, fold.end
        if abs(y1 - y2) < NEAR_MM:
            yield Across("tab", tab.name, "y", tab.height_mm, (tab.bounds,))
        elif abs(x1 - x2) < NEAR_MM:
            yield Across("tab", tab.name, "x", tab.width_mm, (tab.bounds,))


def slanted_tabs(piece: Piece) -> Iterator[Pointed]:
    """Tabs on a slanted edge: their depth cannot be shown along x or y."""
    found: dict[str, Pointed] = {}
    for tab, fold in _folds_to_tabs(piece):
        dx, dy = fold.end[0] - fold.start[0], fold.end[1] - fold.start[1]
        if min(abs(dx), abs(dy)) < NEAR_MM:
            continue
        length = math.hypot(dx, dy)
        out = (dy / length, -dx / length)  # the child lies on the left of the fold
        depth = max(
            (x - fold.start[0]) * out[0] + (y - fold.start[1]) * out[1] for x, y in tab.ring
        )
        middle = ((fold.start[0] + fold.end[0]) / 2, (fold.start[1] + fold.end[1]) / 2)
        anchor = Anchor((middle[0] + out[0] * depth, middle[1] + out[1] * depth), out)
        key = printed(depth)
        before = found[key].anchors if key in found else ()
        name = found[key].name if key in found else tab.name
        found[key] = Pointed("tab", name, ((depth, "deep"),), (*before, anchor))
    yield from found.values()


def far_edges(piece: Piece) -> Iterator[Across]:
    """The outer edge of a part that narrows from its fold, where it lies along x or y."""
    folds = {fold.child: fold for fold in piece.folds}
    for panel in piece.panels:
        fold = folds.get(panel.name)
        if fold is None:
            continue
        (x1, y1), (_, y2) = fold.start, fold.end
        axis: Axis = "x" if abs(y1 - y2) < NEAR_MM else "y"
        k = 0 if axis == "x" else 1
        if abs(fold.start[1 - k] - fold.end[1 - k]) > NEAR_MM:
            continue
        parallel = [e for e in panel.edges if abs(e.start[1 - k] - e.end[1 - k]) < NEAR_MM]
        far = max(parallel, key=lambda e: abs(e.start[1 - k] - (y1, x1)[k]), default=None)
        if far is None or abs(far.start[1 - k] - (y1, x1)[k]) < NEAR_MM:
            continue
        low, high = sorted((far.start[k], far.end[k]))
        full = extent(panel.bounds, axis)
        if printed(high - low) == printed(full[1] - full[0]):
            continue
        at = far.start[1 - k]
        box = (low, at, high, at) if axis == "x" else (at, low, at, high)
        yield Across("edge", panel.name, axis, high - low, (box,))
