"""All names of a pattern and what they come to, worked out when they are asked for.

Sizes may speak of pieces and pieces of sizes; whatever is asked for first is built first, and
a circle is a finding.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Span
from publisher.language.ast import Condition, Expr, Place, Ref
from publisher.language.evaluate import evaluate, holds
from publisher.language.program import Form, Program
from publisher.language.sizes import Sizes
from publisher.language.values import (
    Angle,
    Duration,
    Length,
    ListValue,
    Number,
    Scope,
    SizeValue,
    Thing,
    Value,
)
from publisher.model import measures
from publisher.model.draft import Draft
from publisher.model.filled import State, closed_or_flat
from publisher.model.findings import Refused, circle, refuse, unknown
from publisher.model.pieces import Built, build_piece
from publisher.model.types import Piece
from publisher.trade import Trade

MOST_WAITING = 24
"""How many pieces may be made from each other in a row."""


class World:
    """One pattern while it is worked out. It is the outermost scope of the language."""

    def __init__(
        self, program: Program, trade: Trade, findings: list[Diagnostic] | None = None
    ) -> None:
        self.program = program
        self.trade = trade
        self.findings: list[Diagnostic] = findings if findings is not None else []
        self.sizes = Sizes(program, self)
        self._built: dict[str, Built] = {}
        self._waiting: list[str] = []
        self._spans = {p.name.text: p.name.span for p in program.pieces}

    # ------------------------------------------------------------ a scope

    def lookup(self, ref: Ref) -> Value | None:
        return self.meaning(ref, None)

    def report(self, finding: Diagnostic) -> None:
        self.findings.append(finding)

    def meaning(self, ref: Ref, home: Draft | None) -> Value | None:
        """What a reference that is no size comes to; ``home`` is the piece that asks."""
        try:
            return self._meaning(ref, home)
        except Refused as refused:
            if refused.diagnostic is not None:
                self.report(refused.diagnostic)
            return None

    def _meaning(self, ref: Ref, home: Draft | None) -> Value:
        first = ref.segments[0]
        if len(ref.segments) > 1 and first.kind == "name" and first.name in measures.WORDS:
            if any(s.kind in ("each", "all") for s in ref.segments):
                each = measures.measure_each(ref, self, home)
                return ListValue(tuple(Length(mm) for mm in each))
            return Length(measures.measure(ref, self, home))
        if len(ref.segments) > 1 or first.kind != "name":
            return Thing("place", ref.text)
        if first.name in self._spans:
            if ref.states:
                size = self.filled_size(first.name, ref.states, first.span)
                return SizeValue(tuple(Length(mm) for mm in size))
            return Thing("piece", first.name)
        found = self.trade.objects.get(first.name)
        if found is not None:
            return SizeValue(
                (Length(found.width_mm), Length(found.height_mm), Length(found.depth_mm))
            )
        if first.name in self.trade.stocks:
            return Thing("paper", first.name)
        if home is not None and first.name in home.named():
            return Thing("part", first.name)
        if first.name in (self.program.lost if home is None else home.lost):
            raise Refused
        raise unknown("", first.name, first.span, self.known())

    def view(self, home: Draft) -> View:
        return View(self, home)

    # ------------------------------------------------------------ pieces

    def pieces(self) -> Mapping[str, Span]:
        return self._spans

    def built(self, name: str) -> Built:
        """A piece of the program by its name, built now if it has not been."""
        if name not in self._built:
            design = self.program.piece(name)
            assert design is not None
            self._waiting.append(name)
            self._built[name] = build_piece(design, self, self.trade, self.program.lost)
            self._waiting.pop()
            self.findings.extend(self._built[name].findings)
        return self._built[name]

    def finished(self, name: str, span: Span) -> tuple[Piece, Draft]:
        """A piece that another one is made from."""
        if name not in self._spans and name in self.program.lost:
            raise Refused
        if name not in self._spans:
            raise unknown("among the pieces", name, span, dict(self._spans))
        if name in self._waiting:
            raise circle([*self._waiting[self._waiting.index(name) :], name], span)
        if len(self._waiting) >= MOST_WAITING:
            raise refuse(
                "goes-in-a-circle", "too many pieces are made from each other in a row", span
            )
        built = self.built(name)
        if built.piece is None or built.draft is None:
            raise Refused
        return built.piece, built.draft

    def filled_size(
        self, name: str, states: Sequence[str], span: Span
    ) -> tuple[float, float, float]:
        """Outside of a piece in a state: across, down, deep in mm."""
        piece, _ = self.finished(name, span)
        content = self._content_depth(name) if "full" in states else 0.0
        return closed_or_flat(piece, State.of(states), content)

    def _content_depth(self, name: str) -> float:
        """How thick what goes into a piece is, as its claims say; 0 where none does."""
        deepest = 0.0
        for claim in self.program.claims:
            if claim.verb in ("goes into", "tucks under") and _is_about(claim.object, name):
                for subject in claim.subjects:
                    if isinstance(subject, Ref):
                        deepest = max(deepest, self._depth_of(subject))
            elif (
                claim.verb == "holds"
                and isinstance(claim.object, Ref)
                and any(_is_about(s, name) for s in claim.subjects)
            ):
                deepest = max(deepest, self._depth_of(claim.object))
        return deepest

    def _depth_of(self, subject: Ref) -> float:
        first = subject.segments[0]
        if len(subject.segments) == 1 and first.name in self._spans:
            return self.filled_size(first.name, subject.states or ("closed",), first.span)[2]
        size = self.object_size(first.name) if len(subject.segments) == 1 else None
        return size[2] if size is not None else 0.0

    # ------------------------------------------------------------ for forms

    @property
    def chain(self) -> tuple[str, ...]:
        return ()

    def forms(self) -> Mapping[str, Form]:
        return self.program.forms

    def beside(self) -> Mapping[str, bytes]:
        return self.program.beside

    def is_measure(self, name: str) -> bool:
        return self.program.size(name) is not None or name in self.trade.objects

    def name(self, text: str) -> str:
        return text

    def places(self, places: Sequence[Place]) -> tuple[Place, ...]:
        return tuple(places)

    # ------------------------------------------------------------ for steps, claims, measures

    def draft(self, name: str) -> Draft | None:
        if name not in self._spans:
            return None
        draft = self.built(name).draft
        if draft is None:
            raise Refused
        return draft

    def object_size(self, name: str) -> tuple[float, float, float] | None:
        if self.program.size(name) is not None:
            value = self.sizes.value(name)
            if isinstance(value, SizeValue):
                parts = [p.mm for p in value.parts]
                return (parts[0], parts[1], parts[2] if len(parts) > 2 else 0.0)
            return None
        found = self.trade.objects.get(name)
        return (found.width_mm, found.height_mm, found.depth_mm) if found is not None else None

    def size_parts(self, name: str, span: Span) -> tuple[tuple[float, ...], str] | None:
        if self.program.size(name) is None:
            return None
        value = self.sizes.value(name)
        if value is None:
            raise Refused
        return parts_of(value, span)

    def numbers(self, expr: Expr) -> tuple[tuple[float, ...], str]:
        value = evaluate(expr, self.sizes)
        if value is None:
            raise Refused
        return parts_of(value, expr.span)

    def posts(self) -> Iterable[str]:
        return self.trade.posts

    def other_names(self) -> Mapping[str, Span | None]:
        names: dict[str, Span | None] = dict.fromkeys(self.trade.objects)
        return names | {s.name.text: s.name.span for s in self.program.sizes}

    def lost_names(self) -> Set[str]:
        return self.program.lost

    def known(self) -> Mapping[str, Span | None]:
        """Everything that could have been meant, for the nearest name."""
        names = dict(self.other_names())
        for built in self._built.values():
            if built.draft is not None:
                names |= built.draft.named()
        return names | dict(self._spans)


class View(Struct, frozen=True):
    """The scope of one piece's lines: its own parts first, then the sizes of the pattern."""

    world: World
    home: Draft

    def lookup(self, ref: Ref) -> Value | None:
        first = ref.segments[0]
        if len(ref.segments) > 1 and first.kind == "name" and first.name in measures.WORDS:
            return self.world.meaning(ref, self.home)
        if self.world.program.size(first.name) is not None:
            return self.world.sizes.lookup(ref)
        return self.world.meaning(ref, self.home)

    def report(self, finding: Diagnostic) -> None:
        self.world.report(finding)


def condition_holds(condition: Condition, scope: Scope) -> bool:
    """Whether it is true; ``Refused`` where it cannot be told."""
    result = holds(condition, scope)
    if result is None:
        raise Refused
    return result


def parts_of(value: Value, span: Span) -> tuple[tuple[float, ...], str]:
    """A value as mm, degrees or a plain number, with its unit."""
    match value:
        case Length():
            return (value.mm,), "mm"
        case Angle():
            return (value.deg,), "deg"
        case Duration():
            return (value.seconds,), "s"
        case Number():
            return (value.value,), ""
        case SizeValue():
            return tuple(p.mm for p in value.parts), "mm"
        case Thing():
            raise refuse(
                "wrong-measure",
                f"‘{value.said}’ is a {value.what}; say what of it: ‘width of {value.said}’",
                span,
            )
        case _:
            raise refuse("wrong-place", "a measure is wanted here, and this is a point", span)


def _is_about(place: Place | None, name: str) -> bool:
    return isinstance(place, Ref) and place.segments[-1].name == name
