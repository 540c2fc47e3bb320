"""What a whole file says: its fences as trees, and the document they stand in."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from publisher.diagnostics import Span
from publisher.language.ast import (
    Expr,
    FitClaim,
    PieceDesign,
    SizeDefinition,
    StepDesign,
    Variant,
)
from publisher.source import Document


class Outside(Struct, frozen=True):
    """Names that come from outside the file: stocks, things that patterns hold, forms."""

    stocks: frozenset[str] = frozenset()
    objects: frozenset[str] = frozenset()
    forms: frozenset[str] = frozenset()


class Program(Struct, frozen=True):
    """A parsed file. ``spoken`` holds the expression of each ``{…}`` in the prose, by the span
    of its node in the document; one that could not be parsed is missing there. ``lost`` are
    names that refused lines would have given: what speaks of them needs no second finding."""

    document: Document
    sizes: tuple[SizeDefinition, ...]
    variants: tuple[Variant, ...]
    pieces: tuple[PieceDesign, ...]
    steps: tuple[StepDesign, ...]
    claims: tuple[FitClaim, ...]
    spoken: Mapping[Span, Expr] = field(default_factory=dict)
    lost: frozenset[str] = frozenset()

    def size(self, name: str) -> SizeDefinition | None:
        return next((s for s in self.sizes if s.name.text == name), None)

    def piece(self, name: str) -> PieceDesign | None:
        return next((p for p in self.pieces if p.name.text == name), None)
