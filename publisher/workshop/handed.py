"""What the second pair of hands does while this one goes on; each imports what it needs there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic
from publisher.model.types import Pattern
from publisher.trade import Trade

if TYPE_CHECKING:
    from publisher.booklet.types import Caution
    from publisher.cutfiles import CutOptions, CutSheets
    from publisher.drawing.theme import Theme
    from publisher.layout import Sheet


def get_ready() -> None:
    """Import what the cut files, their read-back and the pictures need."""
    from publisher import booklet, cutfiles, readback, templates  # noqa: F401


def cut_out(
    pattern: Pattern, sheets: tuple[Sheet, ...], options: CutOptions, trade: Trade
) -> tuple[CutSheets, list[Diagnostic]]:
    from publisher import readback

    return readback.cut_and_measured(pattern, sheets, options, trade)


def read_booklets(booklets: Mapping[str, bytes], *about: Any) -> list[Diagnostic]:
    """Figures in the booklets that are none of the model's; ``about`` as ``known`` takes it."""
    from publisher import readback

    return readback.measure_booklets(booklets, readback.known(*about))


def read_proofs(
    files: Mapping[str, bytes],
    parts: Sequence[tuple[Pattern, tuple[CheckResult, ...]]],
    templates: Sequence[str],
) -> list[Diagnostic]:
    from publisher import readback

    return readback.measure_proofs(files, parts, templates)


def print_out(
    pattern: Pattern,
    sheets: tuple[Sheet, ...],
    trade: Trade,
    cautions: tuple[Caution, ...],
    language: str,
    theme: Theme,
    beside: Mapping[str, bytes],
) -> tuple[dict[str, bytes], list[Diagnostic]]:
    """Templates and printed pieces, and what is wrong with them."""
    from publisher import printed, readback, templates

    warned = [templates.Warned(c.signal, c.hazard, c.avoid) for c in cautions]
    files, wrong = readback.printed_and_measured(pattern, sheets, trade, warned, language)
    fills = printed.fills_of(pattern, theme)
    more, also = readback.pieces_printed(pattern, beside, fills, trade, language)
    return {**files, **more}, [*wrong, *also]
