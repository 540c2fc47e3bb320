"""Words that makers say for a word of the language. Loaded only where one is not known."""

from __future__ import annotations

from collections.abc import Container

from publisher.language.statements import Where

MEANT: dict[str, str] = {
    "tall": "high",
    "thick": "deep",
    "broad": "wide",
    "width": "wide",
    "height": "high",
    "depth": "deep",
    "length": "long",
    "diameter": "across",
    "overlapping": "overlap",
    "tapered": "taper",
    "tapering": "taper",
    "horizontal": "across",
    "horizontally": "across",
    "vertical": "down",
    "vertically": "down",
    "round": "circle",
    "hexagon": "polygon",
    "octagon": "polygon",
    "triangular": "polygon",
    "oval": "ellipse",
    "disc": "circle",
    "rotated": "turned",
    "flipped": "mirrored",
    "semicircle": "half round",
    "semicircular": "half round",
    "triangle": "vee",
    "oblong": "rectangle",
    "near": "at",
    "wrapped": "around",
}
"""Of measures, shapes and the ways they lie."""

JOININGS: dict[str, tuple[str, ...]] = {
    "inside": ("in", "into"),
    "in": ("into",),
    "to": ("into",),
    "within": ("in", "into"),
    "onto": ("on", "to"),
    "upon": ("on", "to"),
    "against": ("to", "on"),
    "beneath": ("under", "behind"),
    "below": ("under",),
    "using": ("with",),
    "round": ("around",),
}
HEADS: dict[tuple[Where, str], str] = {
    ("piece", "hole"): "window",
    ("piece", "opening"): "window",
    ("piece", "slot"): "notch",
    ("piece", "flap"): "panel",
    ("piece", "wall"): "panel",
    ("piece", "rectangle"): "outline",
    ("piece", "circle"): "outline",
    ("piece", "shape"): "outline",
    ("piece", "layer"): "mat",
    ("piece", "line"): "draw",
    ("step", "flip"): "turn over",
    ("step", "rotate"): "turn",
    ("step", "punch"): "cut",
    ("step", "put"): "lay",
    ("step", "place"): "lay",
    ("step", "insert"): "slide",
    ("step", "thread"): "slide",
    ("step", "attach"): "glue",
    ("step", "stick"): "glue",
    ("step", "fix"): "glue",
    ("step", "bend"): "fold",
    ("step", "roll"): "curl",
    ("step", "paint"): "colour",
    ("step", "unfold"): "open",
    ("step", "shut"): "close",
    ("step", "wait"): "dry",
    ("step", "remove"): "pull",
}


def meant_by(word: str, known: Container[str]) -> str | None:
    """The one of the known words that a maker means by this one."""
    choices = (MEANT.get(word, ""), *JOININGS.get(word, ()))
    return next((choice for choice in choices if choice and choice in known), None)


def head_meant_by(word: str, where: Where) -> str | None:
    """The beginning of a line that a maker means by this one."""
    return HEADS.get((where, word))
