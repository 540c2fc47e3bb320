"""The tree of the pattern language: what a fence says, before anything is worked out.

Every node has the ``span`` it was written at. Names are lower case with single spaces.
Numbers are as written, in the unit written; ``publisher.language.evaluate`` turns them into mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal as OneOf
from typing import TypeAlias

from msgspec import Struct

from publisher.diagnostics import Span

Unit: TypeAlias = OneOf["mm", "cm", "in", "pt", "degrees", "seconds", "minutes", "hours", ""]
SegmentKind: TypeAlias = OneOf["name", "side", "corner", "middle", "face", "each", "all"]
State: TypeAlias = OneOf["closed", "open", "full", "empty", "flat"]
Operator: TypeAlias = OneOf["+", "-", "*", "/", "^"]
Relation: TypeAlias = OneOf["is", "is over", "is under", "is at least", "is at most"]
Direction: TypeAlias = OneOf[
    "above",
    "below",
    "beyond",
    "left of",
    "right of",
    "top of",
    "bottom of",
    "in from",
    "clear of",
    "of the way along",
]

# ---------------------------------------------------------------- expressions


class Name(Struct, frozen=True):
    """A name that is being given, or a word: ``text`` is lower case with single spaces."""

    text: str
    span: Span


class Literal(Struct, frozen=True):
    """A number with its unit, "" for a plain number. ``written`` is the author's own text.

    In ``80 x 120 mm`` the first number shares the unit of the last: its ``unit`` is "mm" and
    its ``written`` is "80".
    """

    value: float
    unit: Unit
    written: str
    span: Span


class Segment(Struct, frozen=True):
    """One link of ``left of panel 1 of sleeve``.

    ``name`` is the text without "each": "left", "top left", "middle", "front face", "panel 1";
    for "each wall" the kind is "each" and the name "wall"; for "all" the name is "all".
    """

    kind: SegmentKind
    name: str
    span: Span


class Ref(Struct, frozen=True):
    """A thing spoken of, innermost first: ``width of drawer`` is (width, drawer).

    ``states`` are those of ``when closed and full``, in the order written.
    """

    segments: tuple[Segment, ...]
    states: tuple[State, ...]
    span: Span

    @property
    def text(self) -> str:
        """As a maker would say it, articles left out."""
        said = " of ".join(f"each {s.name}" if s.kind == "each" else s.name for s in self.segments)
        return said + (f" when {' and '.join(self.states)}" if self.states else "")


class Binary(Struct, frozen=True):
    op: Operator
    left: Expr
    right: Expr
    span: Span


class Negate(Struct, frozen=True):
    operand: Expr
    span: Span


class Call(Struct, frozen=True):
    """A function of numbers: ``min(a, b)``."""

    function: Name
    arguments: tuple[Expr, ...]
    span: Span


class Join(Struct, frozen=True):
    """``width x height`` or ``width x height x depth``: two or three parts."""

    parts: tuple[Expr, ...]
    span: Span


class PointAt(Struct, frozen=True):
    """``(across, down)``, from the top left of the piece."""

    across: Expr
    down: Expr
    span: Span


class Several(Struct, frozen=True):
    """``a and b``: in reading order; a shared ``of`` is already given to each."""

    items: tuple[Expr, ...]
    span: Span


Expr: TypeAlias = Literal | Ref | Binary | Negate | Call | Join | PointAt | Several


class Offset(Struct, frozen=True):
    """A place found from other places: ``5 mm above gutter``, ``1/3 of the way along top``."""

    amount: Expr
    direction: Direction
    bases: tuple[Place, ...]
    span: Span


Place: TypeAlias = Expr | Offset


# ---------------------------------------------------------------- conditions


class Comparison(Struct, frozen=True):
    left: Expr
    op: Relation
    right: Expr
    span: Span


class Condition(Struct, frozen=True):
    """All of them must hold."""

    comparisons: tuple[Comparison, ...]
    span: Span


# ---------------------------------------------------------------- phrases


class Prep(Struct, frozen=True):
    """A joining word with places: ``at middle of top``, ``meets bottom of side and top of lid``.

    ``word``: at, on, into, in, along, between, around, over, under, behind, through, facing,
    meets, out from, to, with.
    """

    word: str
    places: tuple[Place, ...]
    span: Span
    word_span: Span


class FromTo(Struct, frozen=True):
    """``from PLACE to PLACE``."""

    start: Place
    end: Place
    span: Span


class Called(Struct, frozen=True):
    name: Name
    span: Span


class When(Struct, frozen=True):
    condition: Condition
    span: Span


class By(Struct, frozen=True):
    """``by 90 degrees``."""

    value: Expr
    span: Span


class Quoted(Struct, frozen=True):
    """``saying "…"`` or ``from file "…"``."""

    word: OneOf["saying", "from file"]
    text: str
    span: Span


Joining: TypeAlias = Prep | FromTo | Called | When | By | Quoted


class Phrase(Struct, frozen=True):
    """What stands between two commas.

    ``24 mm wide``: value and label. ``mountain``: label alone (a plain word). ``60 x 40 mm``:
    value alone. ``6 mm in from left``: an ``Offset`` as value. ``tab = 9 mm``: value and
    ``setting``. ``at middle of top``: joinings alone. ``label`` is the statement's own word
    for it ("wide" also where the author's size is called ``slot width``).
    """

    value: Place | None
    label: str | None
    joinings: tuple[Joining, ...]
    span: Span
    label_span: Span | None = None
    setting: Name | None = None


class Item(Struct, frozen=True):
    """After the colon: ``pocket``, ``hem = 9 mm``, or ``4 of side`` (``count``).

    In ``4 of side`` the name is "side" and each of them measures what ``side`` says.
    """

    name: Name
    value: Expr | None
    count: Expr | None
    span: Span


class Note(Struct, frozen=True):
    """A printed note in quotes."""

    text: str
    span: Span


class Statement(Struct, frozen=True):
    """One line of a piece or a step.

    ``name`` is what the line gives a name to (``panel base, …``), from the first phrase or
    from ``called``; ``form`` is the form that it calls for. ``phrases`` leave out that first
    phrase.
    """

    head: str
    head_span: Span
    name: Name | None
    phrases: tuple[Phrase, ...]
    items: tuple[Item, ...]
    note: Note | None
    span: Span
    form: Name | None = None

    def labelled(self, label: str) -> Phrase | None:
        """The first phrase with that label, with a value or without."""
        return next((p for p in self.phrases if p.label == label), None)

    def has(self, *words: str) -> str | None:
        """The first of ``words`` that stands as a plain word."""
        for phrase in self.phrases:
            if phrase.label in words and phrase.value is None:
                return phrase.label
        return None

    def bare(self) -> tuple[Phrase, ...]:
        """Phrases that are a value and nothing else says what it measures."""
        return tuple(
            p for p in self.phrases if p.value is not None and p.label is None and p.setting is None
        )

    def joinings(self) -> Iterator[Joining]:
        for phrase in self.phrases:
            yield from phrase.joinings

    def preps(self, *words: str) -> tuple[Prep, ...]:
        """All joinings with one of these words, in order."""
        return tuple(j for j in self.joinings() if isinstance(j, Prep) and j.word in words)

    def prep(self, *words: str) -> Prep | None:
        found = self.preps(*words)
        return found[0] if found else None

    def face(self) -> OneOf["front", "back"] | None:
        """The face said by ``on back face``, wherever it stands."""
        for prep in self.preps("on"):
            for place in prep.places:
                if isinstance(place, Ref) and place.segments[0].kind == "face":
                    return "front" if place.segments[0].name.startswith("front") else "back"
        return None


# ---------------------------------------------------------------- sizes


class Alternative(Struct, frozen=True):
    """``or VALUE when CONDITION``."""

    value: Expr
    condition: Condition
    span: Span


class SizeDefinition(Struct, frozen=True):
    """``NAME = VALUE, from A to B, or V when C "note"``; ``asked`` where the caller gives it
    (``value`` is then what ``else`` says, or None)."""

    name: Name
    value: Expr | None
    asked: bool
    least: Expr | None
    most: Expr | None
    alternatives: tuple[Alternative, ...]
    note: Note | None
    span: Span


class Setting(Struct, frozen=True):
    """``NAME = VALUE`` in a variant."""

    name: Name
    value: Expr
    span: Span


class Variant(Struct, frozen=True):
    name: Name
    settings: tuple[Setting, ...]
    note: Note | None
    span: Span


# ---------------------------------------------------------------- fits


class Margin(Struct, frozen=True):
    """``with LEAST to MOST to spare``; one value alone is both; ``at least`` leaves ``most``
    None."""

    least: Expr
    most: Expr | None
    span: Span


class FitClaim(Struct, frozen=True):
    """``SUBJECTS VERB OBJECT with MARGIN to spare, when CONDITION``. ``object`` may be a size
    (closes to)."""

    subjects: tuple[Place, ...]
    verb: str
    verb_span: Span
    object: Place | None
    margin: Margin | None
    note: Note | None
    span: Span
    condition: Condition | None = None


# ---------------------------------------------------------------- fences


class PieceDesign(Struct, frozen=True):
    """A ``piece`` fence. ``stock`` and ``copies`` are as written; ``fence`` is the whole fence's
    span, by which its block in the document is found."""

    name: Name
    stock: Name | None
    copies: Expr | None
    back_up: bool
    statements: tuple[Statement, ...]
    header_span: Span
    fence: Span


class StepDesign(Struct, frozen=True):
    """A ``step`` fence and the heading that it stands under ("" and None where there is
    none)."""

    heading: str
    heading_span: Span | None
    statements: tuple[Statement, ...]
    fence: Span
