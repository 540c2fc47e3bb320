"""What a whole file says: its fences as trees, and the document they stand in."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from publisher.diagnostics import Diagnostic, Span, has_errors
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
    """Names that come from outside the file: stocks, things that patterns hold, forms.

    ``beside`` are the files in the pattern's folder by their path inside it, and under "" the
    font of the theme."""

    stocks: frozenset[str] = frozenset()
    objects: frozenset[str] = frozenset()
    forms: Mapping[str, Form] = field(default_factory=dict)
    beside: Mapping[str, bytes] = field(default_factory=dict)


class Program(Struct, frozen=True):
    """A parsed file. ``spoken`` holds the expression of each ``{…}`` in the prose, by the span
    of its node in the document; one that could not be parsed is missing there. ``lost`` are
    names that refused lines would have given: what speaks of them needs no second finding.
    ``variant`` is the name of the one that is chosen, as its author wrote it."""

    document: Document
    sizes: tuple[SizeDefinition, ...]
    variants: tuple[Variant, ...]
    pieces: tuple[PieceDesign, ...]
    steps: tuple[StepDesign, ...]
    claims: tuple[FitClaim, ...]
    spoken: Mapping[Span, Expr] = field(default_factory=dict)
    lost: frozenset[str] = frozenset()
    variant: str = ""
    forms: Mapping[str, Form] = field(default_factory=dict)
    beside: Mapping[str, bytes] = field(default_factory=dict)

    def size(self, name: str) -> SizeDefinition | None:
        return next((s for s in self.sizes if s.name.text == name), None)

    def piece(self, name: str) -> PieceDesign | None:
        return next((p for p in self.pieces if p.name.text == name), None)


class Form(Struct, frozen=True):
    """A reusable piece or detail as its file says it; ``file`` is the shown path.

    ``parts`` are the kinds of its named parts by name, of forms that it calls for too.
    ``findings`` are what is wrong with the file: then nothing is built from it.
    """

    name: str
    file: str
    program: Program | None
    parts: Mapping[str, str] = field(default_factory=dict)
    findings: tuple[Diagnostic, ...] = ()

    @property
    def piece(self) -> PieceDesign | None:
        """What it describes; None where the file is wrong, or is being read."""
        if self.program is None or has_errors(self.findings):
            return None
        return self.program.pieces[0]

    @property
    def asked(self) -> Mapping[str, SizeDefinition]:
        """The sizes that a caller gives, by name, in the order of the file."""
        sizes = self.program.sizes if self.program is not None else ()
        return {s.name.text: s for s in sizes if s.asked}
