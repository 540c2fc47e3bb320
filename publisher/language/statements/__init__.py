"""The registry: every statement of the language, one file each."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.language.statements.fits import FITS
from publisher.language.statements.piece import PIECE
from publisher.language.statements.sizes import SIZES
from publisher.language.statements.spec import (
    LABELS,
    StatementSpec,
    VerbSpec,
    Where,
    canonical,
)
from publisher.language.statements.step import STEP

STATEMENTS: dict[Where, Mapping[str, StatementSpec]] = {
    "sizes": SIZES,
    "piece": PIECE,
    "step": STEP,
}
"""By fence, then by head."""

__all__ = [
    "FITS",
    "LABELS",
    "STATEMENTS",
    "StatementSpec",
    "VerbSpec",
    "Where",
    "canonical",
]
