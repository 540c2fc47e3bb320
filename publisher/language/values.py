"""What expressions come to: lengths, angles, plain numbers, sizes of parts, and things."""

from __future__ import annotations

from typing import Literal, Protocol, TypeAlias

from msgspec import Struct

from publisher.diagnostics import Diagnostic
from publisher.language.ast import Ref, Unit
from publisher.units import MM_PER_INCH, MM_PER_POINT

First: TypeAlias = Literal["mm", "in", ""]
"""The unit that the author wrote first, in which it prints first; "" where none was written."""

MM_PER_UNIT: dict[Unit, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "in": MM_PER_INCH,
    "pt": MM_PER_POINT,
}

SECONDS_PER_UNIT: dict[Unit, float] = {"seconds": 1.0, "minutes": 60.0, "hours": 3600.0}


class Length(Struct, frozen=True):
    """Two are the same when they are as long; ``first`` only says how it prints."""

    mm: float
    first: First = ""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Length) and self.mm == other.mm

    def __hash__(self) -> int:
        return hash(self.mm)


class Angle(Struct, frozen=True):
    deg: float


class Duration(Struct, frozen=True):
    """How long something waits."""

    seconds: float


class Number(Struct, frozen=True):
    value: float


class SizeValue(Struct, frozen=True):
    """Two or three lengths: across, down, and out of the paper."""

    parts: tuple[Length, ...]


class ListValue(Struct, frozen=True):
    """Several lengths, one of each thing that was spoken of: ``height of each panel``."""

    items: tuple[Length, ...]


class PointValue(Struct, frozen=True):
    """From the top left of the piece."""

    across: Length
    down: Length


class Thing(Struct, frozen=True):
    """Something of the model that has a name and is no measure: a piece, an edge, a fold.

    ``what`` is the word for it ("piece"), ``said`` its name, ``value`` the model's own object.
    """

    what: str
    said: str
    value: object = None

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Thing) and (self.what, self.said) == (other.what, other.said)

    def __hash__(self) -> int:
        return hash((self.what, self.said))


Value: TypeAlias = Length | Angle | Duration | Number | SizeValue | ListValue | PointValue | Thing

PARTS = ("width", "height", "depth")
"""The words for the parts of a size."""


class Scope(Protocol):
    """Where an expression finds what its names mean."""

    def lookup(self, ref: Ref) -> Value | None:
        """What a reference means. None where that cannot be told; then the scope has reported
        why, or another stage has."""

    def report(self, finding: Diagnostic) -> None:
        """Keep a finding."""


def first_unit(value: Value) -> First:
    """The unit that a value prints first in, "" where nothing says so."""
    match value:
        case Length():
            return value.first
        case SizeValue():
            return next((p.first for p in value.parts if p.first), "")
        case PointValue():
            return value.across.first or value.down.first
        case _:
            return ""


def kind_said(value: Value) -> str:
    """What a value is, in words."""
    match value:
        case Length():
            return "a length"
        case Angle():
            return "an angle"
        case Duration():
            return "a time"
        case Number():
            return "a plain number"
        case SizeValue():
            return f"a size of {'two' if len(value.parts) == 2 else 'three'} parts"
        case ListValue():
            return f"a list of {len(value.items)} lengths"
        case PointValue():
            return "a point"
        case Thing():
            return f"a {value.what}"
