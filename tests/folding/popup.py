"""A pop-up card with a large and a small step, worked out by hand.

A page of 148 x 210 with its gutter in the middle (y 105). The large step hangs between slits at
x 49 and 99: folds 50 above the gutter, 20 above (mountain), 30 below. The small one stands on
the large one's foot (y 135), between slits at x 64 and 84: folds 20 above that, 5 above
(mountain), 15 below.
"""

from __future__ import annotations

from publisher.diagnostics import Span
from publisher.geometry.path import Point, Region, polygon
from publisher.model.types import Bend, Facet, Fold, Hinge, Panel, Piece
from tests.handmade import CARD

HERE = Span("content/test/pattern.md", 0, 40, 1, 1)

UPPER = ((0, 0), (148, 0), (148, 105), (99, 105), (99, 55), (49, 55), (49, 105), (0, 105))
TREAD = ((49, 55), (99, 55), (99, 85), (49, 85))
FRONT = ((49, 85), (99, 85), (99, 135), (84, 135), (84, 115), (64, 115), (64, 135), (49, 135))
SMALL_TREAD = ((64, 115), (84, 115), (84, 130), (64, 130))
SMALL_FRONT = ((64, 130), (84, 130), (84, 150), (64, 150))
LOWER = (
    *((0, 105), (49, 105), (49, 135), (64, 135), (64, 150), (84, 150)),
    *((84, 135), (99, 135), (99, 105), (148, 105), (148, 210), (0, 210)),
)
PLAIN_FRONT = ((49, 85), (99, 85), (99, 135), (49, 135))
PLAIN_LOWER = (
    *((0, 105), (49, 105), (49, 135), (99, 135)),
    *((99, 105), (148, 105), (148, 210), (0, 210)),
)


def _level(
    name: str, parent: str, child: str, y: float, bend: Bend, *runs: tuple[float, float]
) -> tuple[Fold, list[Hinge]]:
    """A level fold; the parent lies above it, so it runs from right to left."""
    right, left = max(r for _, r in runs), min(x for x, _ in runs)
    # A score within a panel has that panel on both its sides.
    ends = (parent, child) if name == "lower" else ("upper", "upper")
    fold = Fold(name, (right, y), (left, y), bend, 180.0, *ends, HERE)
    return fold, [Hinge(name, parent, child, (r, y), (x, y)) for x, r in runs]


def card(
    facets: dict[str, tuple[Point, ...]], folds: list[tuple[Fold, list[Hinge]]], name: str = "page"
) -> Piece:
    xs = [p[0] for ring in facets.values() for p in ring]
    ys = [p[1] for ring in facets.values() for p in ring]
    outline = ((min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys)))
    return Piece(
        name=name,
        stock=CARD,
        copies=1,
        outline=Region(polygon(outline)),
        panels=tuple(Panel(n, "panel", facets[n], (), HERE) for n in ("upper", "lower")),
        folds=tuple(fold for fold, _ in folds),
        scores=(),
        openings=(),
        glue_zones=(),
        facets=tuple(
            Facet(n, n if n == "lower" else "upper", Region(polygon(r))) for n, r in facets.items()
        ),
        hinges=tuple(hinge for _, hinges in folds for hinge in hinges),
        span=HERE,
    )


def one_step(rise: float = 50.0) -> Piece:
    """The large step alone; ``rise`` other than 50 makes it stick out or not."""
    up = 105.0 - rise
    nose = up + 30.0
    upper = ((0, 0), (148, 0), (148, 105), (99, 105), (99, up), (49, up), (49, 105), (0, 105))
    facets = {
        "upper": upper,
        "tread": ((49, up), (99, up), (99, nose), (49, nose)),
        "front": ((49, nose), (99, nose), (99, 135), (49, 135)),
        "lower": PLAIN_LOWER,
    }
    return card(
        facets,
        [
            _level("lower", "upper", "lower", 105, "valley", (0, 49), (99, 148)),
            _level("head", "upper", "tread", up, "valley", (49, 99)),
            _level("nose", "tread", "front", nose, "mountain", (49, 99)),
            _level("foot", "front", "lower", 135, "valley", (49, 99)),
        ],
    )


def two_steps() -> Piece:
    facets = {
        "upper": UPPER,
        "tread": TREAD,
        "front": FRONT,
        "small tread": SMALL_TREAD,
        "small front": SMALL_FRONT,
        "lower": LOWER,
    }
    return card(
        facets,
        [
            _level("lower", "upper", "lower", 105, "valley", (0, 49), (99, 148)),
            _level("head", "upper", "tread", 55, "valley", (49, 99)),
            _level("nose", "tread", "front", 85, "mountain", (49, 99)),
            _level("foot", "front", "lower", 135, "valley", (49, 64), (84, 99)),
            _level("small head", "front", "small tread", 115, "valley", (64, 84)),
            _level("small nose", "small tread", "small front", 130, "mountain", (64, 84)),
            _level("small foot", "small front", "lower", 150, "valley", (64, 84)),
        ],
    )
