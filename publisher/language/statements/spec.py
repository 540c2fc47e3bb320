"""What a statement is made of, as data: read by the checker, by the editor and by the guide."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias, TypeVar

from msgspec import Struct

from publisher.registry import OnDemand

Where: TypeAlias = Literal["sizes", "piece", "step", "fits"]


class StatementSpec(Struct, frozen=True):
    """One statement.

    ``labels`` are words that follow a value (``24 mm wide``), ``words`` stand alone
    (``mountain``), ``joins`` join places (``at``, ``from``, ``by``). ``bare`` is how many
    values may stand without a label, ``offsets`` which directions a place of its own may have
    (``6 mm in from left``). ``names``: the first phrase gives a name to what the line makes.
    ``later`` are words of the language that nothing builds yet.
    """

    head: str
    where: Where
    says: str
    example: str
    names: bool = False
    labels: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    joins: tuple[str, ...] = ()
    bare: int = 0
    offsets: tuple[str, ...] = ()
    items: bool = False
    settings: bool = False
    needs_face: bool = False
    later: tuple[str, ...] = ()
    built: bool = True


class VerbSpec(Struct, frozen=True):
    """One statement of fit. ``takes`` says what stands after the verb; ``margin`` whether
    ``with … to spare`` may follow."""

    verb: str
    says: str
    example: str
    takes: Literal["thing", "size", "angle", "name"] = "thing"
    margin: bool = True
    built: bool = True


Spec = TypeVar("Spec", StatementSpec, VerbSpec)


def specs(_: type[Spec], package: str, *heads: str) -> Mapping[str, Spec]:
    """The specs of one fence by head or verb, each from the file of its name."""
    return OnDemand(package, {head: f"{head.replace(' ', '_')}:SPEC" for head in heads})


SHAPES = (
    "rectangle",
    "circle",
    "ellipse",
    "ring",
    "polygon",
    "star",
    "half round",
    "points",
    "path",
    "letters",
    "artwork",
)
"""Shapes of an outline, a window, an island, or of what is joined or trimmed."""

CORNER_WORDS = ("rounded corners", "bevelled corners", "scooped corners")

SHAPE_WORDS = (
    *SHAPES,
    *CORNER_WORDS,
    "turned",
    "mirrored",
    "grown",
    "shrunk",
    "spaced",
    "rounded",
    "bevelled",
)
SHAPE_LABELS = ("wide", "high", "deep", "across", "side", "sides", "points", "radius")
SHAPE_JOINS = ("at", "by", "from", "to", "through", "with", "saying", "from file")

PLACED_WORDS = (*SHAPE_WORDS, "across", "down", "evenly", "aligned")
PLACED_LABELS = (*SHAPE_LABELS, "times", "apart", "short")
PLACED_JOINS = (*SHAPE_JOINS, "around", "in", "along")
PLACED_OFFSETS = ("in from", "beyond")
"""What a shape takes that is placed, in rows or round a centre too."""

LABELS: dict[str, tuple[str, ...]] = {
    "wide": ("width",),
    "high": ("height",),
    "deep": ("depth",),
    "long": ("length",),
    "across": ("span",),
    "border": (),
    "overlap": (),
    "ease": (),
    "play": (),
    "taper": (),
    "radius": (),
    "points": (),
    "side": (),
    "sides": (),
    "times": (),
    "apart": (),
    "short": (),
    "tab": (),
}
"""Every label, and the nouns by which a size's own name says the same: ``slot width`` is wide.
A size whose name ends in the label itself needs no noun: ``border``."""


def canonical(label: str) -> str | None:
    """The label that a word stands for, None where it is none."""
    if label in LABELS:
        return label
    return next((known for known, nouns in LABELS.items() if label in nouns), None)
