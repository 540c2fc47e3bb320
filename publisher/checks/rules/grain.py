"""The main folds of a piece can run with the grain of its paper."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed
from publisher.model.types import Piece

CODE = "folds-across-grain"
MAIN_SHARE = 0.6
"""Folds in one direction are the main ones when they are this much of all."""


def check(context: Context) -> Results:
    for piece in context.pattern.pieces:
        if piece.stock.grain == "none" or not piece.scores:
            continue
        result = _main(piece)
        if result is None:
            continue
        share, down = result
        numbers = (("main_share", share),)
        word = "down" if down else "across"
        if _fits(context, piece, folds_down=down) or not _fits(context, piece, folds_down=not down):
            sentence = f"the main folds of {piece.name} ({word}) can run with the grain"
            yield passed(CODE, piece.name, numbers, sentence)
        else:
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"{piece.name} fits its sheet only with its main folds, {word}, across the grain of"
                f" {piece.stock.name}",
                piece.span,
                severity="warning",
                notes=("Folds across the grain crack more easily: score them well.",),
            )


def _main(piece: Piece) -> tuple[float, bool] | None:
    """The share of the folds' length in the direction that has most of it, and whether that is
    down the piece."""
    across = sum(abs(s.path.end[0] - s.path.start[0]) for s in piece.scores)
    down = sum(abs(s.path.end[1] - s.path.start[1]) for s in piece.scores)
    share = max(across, down) / (across + down)
    return (share, down > across) if share >= MAIN_SHARE else None


def _fits(context: Context, piece: Piece, *, folds_down: bool) -> bool:
    """Whether the piece fits on its sheet so that folds of that direction run with the grain."""
    sheet = context.trade.sheets.get(piece.stock.sheet)
    if sheet is None:
        return True
    x0, y0, x1, y1 = piece.bounds
    wide, high = sheet.width_mm - 2 * sheet.margin_mm, sheet.height_mm - 2 * sheet.margin_mm
    grain_down = (piece.stock.grain == "long") == (sheet.height_mm >= sheet.width_mm)
    size = (x1 - x0, y1 - y0)
    if folds_down != grain_down:
        size = size[::-1]
    return size[0] <= wide + 1e-6 and size[1] <= high + 1e-6
