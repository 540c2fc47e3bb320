"""Display lists: what is to be drawn, flat, after projection and visibility.

Coordinates are mm on paper, x right, y down, origin at the drawing's top left. Items carry
roles, never colours or widths: a theme gives those. Items are painted in order.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from msgspec import Struct

from publisher.geometry.path import Path, Point

LineRole: TypeAlias = Literal[
    "outline",  # edge of paper
    "outline-moving",  # edge of paper that moves: stronger, so that it is told in grey too
    "inner",  # edge between facets, already folded
    "cut",  # to be cut now
    "valley",
    "mountain",
    "perforation",
    "slit",
    "engrave",
    "fold-now",  # the fold that this action makes
    "fold-made",  # a crease already there
    "hidden",
    "ghost",  # where a part will land
    "clear",  # edge of paper drawn as if it were glass
    "dimension",
    "extension",
    "leader",
    "glue-border",
]
FillRole: TypeAlias = Literal[
    "front",  # front face of the stock
    "back",
    "front-moving",
    "back-moving",
    "front-clear",  # of paper drawn as if it were glass
    "back-clear",
    "glue",  # hatch, on the face that is seen
    "glue-wet",  # lighter hatch, of glue that an earlier picture spread
    "tape",  # hatch of double-sided tape, on the face that is seen
    "glue-through",  # hatch, on the other face and seen through the paper
    "no-glue",  # crosses, where glue must not come
    "no-glue-through",  # crosses of dashes, where it must not come on the other face
    "colour",  # dots, where hands colour or stamp
    "arrow-fold",
    "arrow-move",
    "arrow-turn",
    "halo",
    "sign",
    "pattern",  # light repeat on a patterned face
    "pattern-through",  # the same, on the other face and seen through the paper
]
LabelRole: TypeAlias = Literal["label", "dimension", "name", "letter"]


class Stroke(Struct, frozen=True):
    """A line along paths. ``id`` is stable; ``stock`` picks paper colours where they matter."""

    role: LineRole
    paths: tuple[Path, ...]
    id: str = ""


class Fill(Struct, frozen=True):
    """An area (even-odd of its rings). ``shade`` is 0 (full light) to 1 (darkest shade).

    ``hatch_deg`` turns a glue hatch. ``plane`` (a, b, c, d, e, f) carries the repeat of a
    pattern onto the drawing, so that it lies on its facet: (x, y) of the facet, in mm on the
    drawing's scale, comes to (a x + b y + e, c x + d y + f).
    """

    role: FillRole
    rings: tuple[Path, ...]
    stock: str = ""
    shade: float = 0.0
    id: str = ""
    hatch_deg: float = 45.0
    plane: tuple[float, float, float, float, float, float] = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class Label(Struct, frozen=True):
    """Text at a point on its baseline. ``anchor`` is which part of the text lies there;
    ``turn_deg`` is clockwise about ``at`` and never outside -90..90, so that nothing stands
    on its head. ``publisher.drawing.text`` measures it."""

    text: str
    at: Point
    size_pt: float = 8.0
    anchor: Literal["start", "middle", "end"] = "middle"
    turn_deg: float = 0.0
    role: LabelRole = "label"
    id: str = ""


Item: TypeAlias = Stroke | Fill | Label


class Drawing(Struct, frozen=True):
    """One picture. ``scale`` is paper mm per model mm; ``signs`` are the legend entries used;
    ``alt`` is complete alternative text from the same data."""

    name: str
    width_mm: float
    height_mm: float
    items: tuple[Item, ...]
    scale: float
    signs: tuple[str, ...]
    alt: str
