"""What the lines of a form see: its sizes first, then what its caller sees."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Span
from publisher.language.ast import Place, Ref
from publisher.language.program import Form
from publisher.language.sizes import Sizes
from publisher.language.values import Scope, Thing, Value
from publisher.model import measures
from publisher.model.bench import Shop
from publisher.model.draft import Draft
from publisher.model.forms.renaming import Renaming
from publisher.model.types import Piece


class Caller(Struct, frozen=True):
    """The scope outside of a form's sizes: the caller's, asked in the caller's words."""

    scope: Scope
    renaming: Renaming

    def lookup(self, ref: Ref) -> Value | None:
        first = ref.segments[0]
        if len(ref.segments) > 1 and first.kind == "name" and first.name in measures.WORDS:
            return self.scope.lookup(self.renaming.measure(ref))
        (*_, told) = self.renaming.place(ref)
        return self.scope.lookup(told) if isinstance(told, Ref) else None

    def report(self, finding: Diagnostic) -> None:
        self.scope.report(finding)


class FormView(Struct, frozen=True):
    """Measures as the lines of a form say them."""

    sizes: Sizes
    caller: Caller

    def lookup(self, ref: Ref) -> Value | None:
        owner = ref.segments[-1]
        is_size = self.sizes.program.size(owner.name) is not None
        if is_size and owner.name not in self.caller.renaming.things and not ref.states:
            if len(ref.segments) == 1:
                return self.sizes.lookup(ref)
            value = self.sizes.value(owner.name)
            if len(ref.segments) == 2 and not isinstance(value, Thing) and self._is_size(ref):
                return self.sizes.lookup(ref)
        return self.caller.lookup(ref)

    def _is_size(self, ref: Ref) -> bool:
        """Whether the name means the size: a part may share the name of a plain length."""
        word, owner = ref.segments
        given = self.caller.renaming.given
        return word.name in measures.PARTS and (owner.name not in given or self._has_parts(owner))

    def _has_parts(self, owner: object) -> bool:
        value = self.sizes.value(getattr(owner, "name", ""))
        return len(getattr(value, "parts", ())) > 1

    def report(self, finding: Diagnostic) -> None:
        self.caller.report(finding)


class FormShop(Struct, frozen=True):
    """The other pieces as a form's lines see them: as its caller does. ``chain`` are the forms
    that have called for each other so far."""

    outer: Shop
    sizes: Sizes
    caller: Caller
    chain: tuple[str, ...]

    def finished(self, name: str, span: Span) -> tuple[Piece, Draft]:
        return self.outer.finished(name, span)

    def filled_size(
        self, name: str, states: Sequence[str], span: Span
    ) -> tuple[float, float, float]:
        return self.outer.filled_size(name, states, span)

    def view(self, home: Draft) -> Scope:
        return FormView(self.sizes, self.caller)

    # ------------------------------------------------------------ forms

    def forms(self) -> Mapping[str, Form]:
        return self.outer.forms()

    def beside(self) -> Mapping[str, bytes]:
        return self.outer.beside()

    def is_measure(self, name: str) -> bool:
        if self.sizes.program.size(name) is not None:
            return name not in self.caller.renaming.things
        return self.outer.is_measure(name)

    def name(self, text: str) -> str:
        return self.outer.name(self.caller.renaming.name(text))

    def places(self, places: Sequence[Place]) -> tuple[Place, ...]:
        return self.outer.places(self.caller.renaming.places(places))
