"""The sizes of a pattern, worked out as they are asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language import ast
from publisher.language.ast import Expr, Ref, SizeDefinition
from publisher.language.evaluate import evaluate, holds
from publisher.language.program import Program
from publisher.language.ranges import range_of, with_unit_of_range
from publisher.language.say import said
from publisher.language.values import (
    PARTS,
    First,
    Number,
    Scope,
    SizeValue,
    Thing,
    Value,
    first_unit,
    kind_said,
)
from publisher.language.walk import refs_in

MAX_DEPTH = 16
"""How deep sizes may wait for pieces that wait for sizes; in plain sums any number may."""


class SizeResult(Struct, frozen=True):
    """A size worked out. ``least`` and ``most`` are the stated range in mm, degrees or as
    plain numbers; ``written`` is the author's own text of the value."""

    definition: SizeDefinition
    value: Value
    least: float | None
    most: float | None
    first: First
    written: str


class Sizes:
    """The scope of a pattern: its own sizes here, everything else from ``outer``.

    ``given`` replaces values: a variant's choice, or what a form's caller gives, which is
    worked out in ``caller``. ``things`` are asked sizes that stand for an edge, a fold or a
    piece and have no value. ``outer`` may ask back for sizes while it looks something up; a
    circle is found and reported.
    """

    def __init__(
        self,
        program: Program,
        outer: Scope,
        given: Mapping[str, Expr] | None = None,
        caller: Scope | None = None,
        things: frozenset[str] = frozenset(),
    ) -> None:
        self.program = program
        self.outer = outer
        self.given: Mapping[str, Expr] = given or {}
        self._caller = caller
        self._definitions = {s.name.text: s for s in program.sizes if s.name.text not in things}
        self._results: dict[str, SizeResult | None] = {}
        self._open: list[str] = []
        self._depth = 0

    # ------------------------------------------------------------ a scope

    def lookup(self, ref: Ref) -> Value | None:
        first = ref.segments[0]
        if len(ref.segments) == 1 and not ref.states and first.name in self._definitions:
            return self.value(first.name)
        if self._is_part_of_size(ref):
            return self._part(ref)
        if not self.program.lost.isdisjoint(s.name for s in ref.segments):
            return None
        return self.outer.lookup(ref)

    def report(self, finding: Diagnostic) -> None:
        self.outer.report(finding)

    def _is_part_of_size(self, ref: Ref) -> bool:
        return (
            len(ref.segments) == 2
            and not ref.states
            and ref.segments[0].name in PARTS
            and ref.segments[1].kind == "name"
            and ref.segments[1].name in self._definitions
        )

    def _part(self, ref: Ref) -> Value | None:
        part, owner = ref.segments
        whole = self.value(owner.name)
        if whole is None:
            return None
        if isinstance(whole, Thing):
            return self.outer.lookup(ref)
        index = PARTS.index(part.name)
        if not isinstance(whole, SizeValue):
            message = f"‘{owner.name}’ is {kind_said(whole)} and has no {part.name}"
            return self._error("wrong-unit", message, ref.span)
        if index >= len(whole.parts):
            message = f"‘{owner.name}’ has two parts, width and height, and no depth"
            return self._error("wrong-unit", message, ref.span)
        return whole.parts[index]

    # ------------------------------------------------------------ sizes

    def results(self) -> tuple[SizeResult, ...]:
        """Every size that has a value, in the order of the file."""
        found = [self.result(name) for name in self._definitions]
        return tuple(r for r in found if r is not None)

    def value(self, name: str) -> Value | None:
        result = self.result(name)
        return None if result is None else result.value

    def result(self, name: str) -> SizeResult | None:
        """A size by name; None where it has no value, which is then reported."""
        if name in self._results:
            return self._results[name]
        if name in self._open:
            self._circle(name)
            return None
        if self._depth >= MAX_DEPTH:
            message = f"‘{name}’ waits for too many pieces that wait for sizes"
            self._results[name] = None
            self._error("goes-in-a-circle", message, self._definitions[name].name.span)
            return None
        self._depth += 1
        self._work_out_from(name)
        self._depth -= 1
        return self._results[name]

    def _work_out_from(self, name: str) -> None:
        """A size and first what it is made of, without recursion: a long chain costs no stack."""
        stack = [name]
        waiting: dict[str, Iterator[str]] = {}
        while stack:
            top = stack[-1]
            if top not in waiting:
                waiting[top] = iter(self._made_of(top))
                self._open.append(top)
            needed = next((n for n in waiting[top] if n not in self._results), None)
            if needed is None:
                self._results.setdefault(top, self._work_out(top))
                self._open.remove(top)
                stack.pop()
            elif needed in self._open:
                self._circle(needed)
            else:
                stack.append(needed)

    def _made_of(self, name: str) -> list[str]:
        """Sizes that its value and range speak of by name alone or by a part."""
        size = self._definitions[name]
        value = None if self._scope_of(name) is not self else self._written(size)
        exprs: list[Expr] = [e for e in (value, size.least, size.most) if e]
        for alternative in size.alternatives:
            exprs.append(alternative.value)
            for comparison in alternative.condition.comparisons:
                exprs.extend((comparison.left, comparison.right))
        return [
            ref.segments[-1].name
            for expr in exprs
            for ref in refs_in(expr)
            if not ref.states
            and ref.segments[-1].name in self._definitions
            and (len(ref.segments) == 1 or self._is_part_of_size(ref))
        ]

    def _circle(self, name: str) -> None:
        """A size that needs itself: name the chain, once."""
        chain = [*self._open[self._open.index(name) :], name]
        if any(n in self._results for n in chain):
            return
        for each in chain[:-1]:
            self._results[each] = None
        shown = chain if len(chain) <= 7 else [*chain[:5], "…", name]
        arrow = " needs ".join(n if n == "…" else f"‘{n}’" for n in shown)
        first, *others = dict.fromkeys(chain)
        message = (
            f"‘{name}’ is defined through itself"
            if len(chain) == 2
            else f"these sizes go in a circle: {arrow}"
        )
        places = [Place(self._definitions[first].name.span)]
        places.extend(Place(self._definitions[o].name.span, "in the circle") for o in others[:5])
        self.report(Diagnostic("goes-in-a-circle", "error", message, tuple(places)))

    def _scope_of(self, name: str) -> Scope:
        """Where the value of a size is worked out."""
        return self._caller if self._caller is not None and name in self.given else self

    def _written(self, size: SizeDefinition) -> Expr | None:
        return self.given.get(size.name.text, size.value)

    def _work_out(self, name: str) -> SizeResult | None:
        size = self._definitions[name]
        if name in self._results:
            return self._results[name]
        expr = self._choose(size)
        if expr is None:  # asked for, and nobody gives it: only a form's caller can
            return None
        value = evaluate(expr, self._scope_of(name))
        # While it was worked out, a circle through pieces may have closed.
        if value is None or name in self._results:
            return self._results.get(name)
        if isinstance(value, Number) and isinstance(expr, ast.Literal) and size.least is not None:
            value = with_unit_of_range(value, expr, size, self)
            if value is None:
                return None
        ends = range_of(size, value, expr, self)
        if ends is None:
            return None
        least, most = ends
        return SizeResult(size, value, least, most, first_unit(value), said(expr))

    def _choose(self, size: SizeDefinition) -> Expr | None:
        """The first alternative whose condition holds, else the value itself."""
        if size.name.text in self.given:
            return self.given[size.name.text]
        for alternative in size.alternatives:
            if holds(alternative.condition, self):
                return alternative.value
        return size.value

    def _error(self, code: str, message: str, span: Span) -> Value | None:
        """Reports a fault; there is no value then."""
        self.report(Diagnostic(code, "error", message, (Place(span),)))
        return None


def evaluate_sizes(
    program: Program, outer: Scope, given: Mapping[str, Expr] | None = None
) -> Sizes:
    """The sizes of a program, all worked out; faults go to ``outer.report``."""
    sizes = Sizes(program, outer, given or {})
    sizes.results()
    return sizes
