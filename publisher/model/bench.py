"""What a statement works with: the piece in the making, sizes as mm, other pieces by name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol, TypeVar

from msgspec import Struct, field

from publisher.diagnostics import Diagnostic, Span
from publisher.geometry.path import Point
from publisher.language.ast import Condition, Expr, Name, Offset, Phrase, Place, Ref, Several
from publisher.language.evaluate import angle_deg, evaluate, holds, length_mm, plain_number
from publisher.language.program import Form
from publisher.language.values import Angle, Scope, SizeValue
from publisher.model.draft import Draft
from publisher.model.findings import Refused, refuse, taken
from publisher.model.places.parts import ends_so
from publisher.model.places.resolve import resolve
from publisher.model.places.things import AtEdge, AtPanel, AtPoint, Thing, kind_of
from publisher.model.shaping.panels import inside_ring
from publisher.model.types import Edge, Piece
from publisher.units import both

T = TypeVar("T")

SMALLEST_MM = 0.01
LARGEST_MM = 10_000.0
"""Longer than any roll that a pattern is cut from; beyond it, arcs lose their places."""
"""Nothing smaller is cut, folded or glued: a twentieth of the thinnest paper."""


class NotYet(Exception):  # noqa: N818 - a line that waits, not an error
    """A line speaks of a panel that a later line gives."""

    def __init__(self, name: str, span: Span) -> None:
        super().__init__(name)
        self.name = name
        self.span = span


class Shop(Protocol):
    """The other pieces, as one piece's lines see them."""

    def finished(self, name: str, span: Span) -> tuple[Piece, Draft]:
        """Another piece, built now if need be; ``Refused`` where it cannot be."""

    def filled_size(
        self, name: str, states: Sequence[str], span: Span
    ) -> tuple[float, float, float]:
        """Outside of a piece in a state: across, down, deep."""

    def view(self, home: Draft) -> Scope:
        """Sizes and measures as the lines of this piece see them."""

    @property
    def chain(self) -> tuple[str, ...]:
        """The forms that have called for each other so far."""

    def forms(self) -> Mapping[str, Form]:
        """The forms that a line may call for."""

    def beside(self) -> Mapping[str, bytes]:
        """The files in the pattern's folder by their path; under "" the font of the theme."""

    def is_measure(self, name: str) -> bool:
        """Whether a name by itself has a value: a size, or an object of the trade."""

    def name(self, text: str) -> str:
        """The name that a part gets in the piece."""

    def places(self, places: Sequence[Place]) -> tuple[Place, ...]:
        """Places of a line in the words of the piece."""


class TabPlan(Struct, frozen=True):
    """A tab as its line asks for it, before it makes room for its neighbours."""

    name: str
    edge: Edge
    depth_mm: float
    taper_mm: float
    meets: tuple[str, str] | None


class Bench(Struct):
    """One piece on the cutting table."""

    draft: Draft
    shop: Shop
    coming: dict[str, Span] = field(default_factory=dict)
    """Panels that lines of this piece will give, and where they are named."""
    tabs: list[TabPlan] = field(default_factory=list)
    reports: list[Diagnostic] = field(default_factory=list)

    # ------------------------------------------------------------ measures

    @property
    def scope(self) -> Scope:
        return self.shop.view(self.draft)

    def length(self, expr: Expr) -> float:
        """A single length in mm."""
        return _told(length_mm(expr, self.scope))

    def positive(self, expr: Expr, what: str) -> float:
        """A length above nothing."""
        mm = self.length(expr)
        self._large_enough(mm, expr.span, what)
        return mm

    def _large_enough(self, mm: float, span: Span, what: str) -> None:
        if mm <= 0:
            raise self.not_positive(mm, span, what)
        if mm < SMALLEST_MM:
            raise refuse(
                "too-small",
                f"the {what} is {both(mm, kind='thin')}; nobody can cut that",
                span,
                numbers=((f"{what.replace(' ', '_')}_mm", mm), ("least_mm", SMALLEST_MM)),
            )
        if mm > LARGEST_MM:
            raise refuse(
                "too-large",
                f"the {what} is {both(mm, kind='thin')}; no paper is so large",
                span,
                numbers=((f"{what.replace(' ', '_')}_mm", mm), ("most_mm", LARGEST_MM)),
            )

    def not_negative(self, expr: Expr, what: str) -> float:
        mm = self.length(expr)
        if mm < 0:
            raise self.not_positive(mm, expr.span, what)
        return mm

    def not_positive(self, mm: float, span: Span, what: str) -> Refused:
        return refuse(
            "not-positive",
            f"the {what} is {both(mm, kind='thin')}; it has to be more than nothing",
            span,
            numbers=((f"{what.replace(' ', '_')}_mm", mm),),
        )

    def share(self, expr: Expr) -> float:
        """A plain number, such as 1/3."""
        return _told(plain_number(expr, self.scope))

    def degrees(self, expr: Expr) -> float:
        return _told(angle_deg(expr, self.scope))

    def is_angle(self, expr: Expr) -> bool:
        return isinstance(_told(evaluate(expr, self.scope)), Angle)

    def holds(self, condition: Condition) -> bool:
        return _told(holds(condition, self.scope))

    def size(self, expr: Expr, count: int, what: str) -> tuple[float, ...]:
        """``count`` lengths joined by x, each above nothing; a three-part size gives its first
        two where two are wanted."""
        value = _told(evaluate(expr, self.scope))
        if not isinstance(value, SizeValue) or len(value.parts) < count:
            example = " x ".join(["60", "40", "20"][:count])
            raise refuse(
                "wrong-unit", f"the {what} wants {count} lengths, such as {example} mm", expr.span
            )
        for part in value.parts[:count]:
            self._large_enough(part.mm, expr.span, f"size of the {what}")
        return tuple(part.mm for part in value.parts[:count])

    def value(self, phrase: Phrase) -> Expr:
        """The phrase's value as an expression."""
        value = phrase.value
        if value is None or isinstance(value, Offset):
            raise refuse("wrong-place", "a measure is wanted here", phrase.span)
        return value

    # ------------------------------------------------------------ places

    def things(self, places: Sequence[Place]) -> list[Thing]:
        for place in places:
            self._wait_for(place)
        return resolve(self.draft, places, self.length, self.share)

    def _wait_for(self, place: Place) -> None:
        for ref in _refs(place):
            for segment in ref.segments:
                waits = segment.name in self.coming and segment.name not in self.draft.panels
                if segment.kind == "name" and waits:
                    raise NotYet(segment.name, segment.span)
                if segment.kind == "each":
                    for name in self.coming:
                        if name not in self.draft.panels and ends_so(name, segment.name):
                            raise NotYet(name, segment.span)

    def edges(self, places: Sequence[Place]) -> list[AtEdge]:
        return self._all(places, AtEdge, "an edge")

    def panels(self, places: Sequence[Place]) -> list[AtPanel]:
        return self._all(places, AtPanel, "a panel")

    def points(self, places: Sequence[Place]) -> list[AtPoint]:
        return self._all(places, AtPoint, "a point")

    def panel_at(self, point: Point) -> str | None:
        """The panel that a point lies in."""
        for panel in self.draft.panels.values():
            if inside_ring(panel.ring, point):
                return panel.name
        return None

    def _all(self, places: Sequence[Place], wanted: type[T], word: str) -> list[T]:
        found: list[T] = []
        for thing in self.things(places):
            if not isinstance(thing, wanted):
                raise refuse(
                    "wrong-place",
                    f"{word} is wanted here, and this is {kind_of(thing)}",
                    places[0].span,
                )
            found.append(thing)
        return found

    # ------------------------------------------------------------ names

    def claim(self, name: Name) -> None:
        """Refuses a part's name that is taken in this piece."""
        first = self.draft.named().get(name.text)
        if first is not None:
            raise taken(name.text, name.span, first, "a part of this piece")

    def numbered(self, stem: str, count: int, called: Name | None) -> list[str]:
        """Names for ``count`` new parts: the name itself for one, ``name 1`` ... for several;
        ``stem 1`` ... counted on in the piece where the author gave none."""
        if called is not None and count == 1:
            self.claim(called)
            return [called.text]
        used = set(self.draft.named())
        if called is not None:
            names = [f"{called.text} {i}" for i in range(1, count + 1)]
            again = next((n for n in names if n in used), None)
            if again is not None:
                first = self.draft.named()[again]
                raise taken(again, called.span, first, "a part of this piece")
            return names
        return self.draft.free_names(stem, used, count)


def _refs(place: Place) -> list[Ref]:
    if isinstance(place, Ref):
        return [place]
    if isinstance(place, Offset):
        return [r for base in place.bases for r in _refs(base)]
    if isinstance(place, Several):
        return [r for item in place.items for r in _refs(item)]
    return []


def _told(value: T | None) -> T:
    """The value; where there is none its fault has been reported."""
    if value is None:
        raise Refused
    return value
