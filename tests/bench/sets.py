"""Made-up pieces such as patterns have, in sets that are the same on every machine."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass

from publisher.geometry.canonical import canonical_region
from publisher.geometry.path import Arc, Line, Path, Point, Region, circle, polygon
from publisher.geometry.segments import reversed_path

COUNTS = (5, 20, 60)
SHEETS = ("12 x 12 in", "a4")
SEEDS = (1, 2, 3, 4)
GAP_MM = 2.0
MEAN_MM = {5: 110.0, 20: 66.0, 60: 48.0}
"""The usual side of a piece in a set of so many."""


@dataclass(frozen=True)
class Case:
    count: int
    sheet: str
    seed: int

    @property
    def name(self) -> str:
        return f"{self.count} on {self.sheet}, {self.seed}"

    def regions(self) -> list[Region]:
        return made(self.count, self.seed * 100 + self.count + (7 if self.sheet == "a4" else 0))


def cases() -> list[Case]:
    return [Case(n, sheet, seed) for sheet in SHEETS for n in COUNTS for seed in SEEDS]


def made(count: int, seed: int) -> list[Region]:
    """So many pieces: trays, sleeves, frames, pillow blanks, envelopes, pennants and the like.

    No side is over 190 mm, so that each fits A4 one way or the other.
    """
    luck = random.Random(seed)
    pieces = []
    for _ in range(count):
        maker = luck.choices([m for m, _ in MAKERS], [w for _, w in MAKERS])[0]
        side = min(175.0, max(22.0, luck.gauss(MEAN_MM[count], MEAN_MM[count] * 0.35)))
        pieces.append(canonical_region(maker(round(side, 1), luck)))
    return pieces


def _ratio(side: float, luck: random.Random, least: float = 0.5, most: float = 1.0) -> float:
    return round(side * luck.uniform(least, most), 1)


def label(w: float, luck: random.Random) -> Region:
    h = _ratio(w, luck, 0.4)
    return Region(polygon([(0, 0), (w, 0), (w, h), (0, h)]))


def band(w: float, luck: random.Random) -> Region:
    length = min(190.0, w * 1.7)
    h = round(max(10.0, w * 0.2), 1)
    return Region(polygon([(0, 0), (length, 0), (length, h), (0, h)]))


def tray(w: float, luck: random.Random) -> Region:
    """A base with four walls and tapered tabs on two of them."""
    h = _ratio(w, luck, 0.6)
    d = round(w * luck.uniform(0.15, 0.28), 1)
    t = d * 0.25
    x1, x2, y1, y2 = d, w - d, d, h - d
    if y2 - y1 < 3 * t:
        y2 = y1 + 3 * t
        h = y2 + d
    return Region(
        polygon(
            [
                *((x1, 0), (x2, 0), (x2, y1), (w - t, y1 + 0.2 * t), (w, y1 + t), (w, y2 - t)),
                *((w - t, y2 - 0.2 * t), (x2, y2), (x2, h), (x1, h), (x1, y2)),
                *((t, y2 - 0.2 * t), (0, y2 - t), (0, y1 + t), (t, y1 + 0.2 * t), (x1, y1)),
            ]
        )
    )


def sleeve(w: float, luck: random.Random) -> Region:
    """A strip with half-round thumb notches in both ends."""
    h = _ratio(w, luck, 0.5, 0.9)
    r = round(min(w * 0.12, h * 0.3), 1)
    m = w / 2
    return Region(
        Path(
            (
                Line((0, 0), (m - r, 0)),
                Arc((m - r, 0), (m + r, 0), (m, 0), False),
                Line((m + r, 0), (w, 0)),
                Line((w, 0), (w, h)),
                Line((w, h), (m + r, h)),
                Arc((m + r, h), (m - r, h), (m, h), False),
                Line((m - r, h), (0, h)),
                Line((0, h), (0, 0)),
            ),
            True,
        )
    )


def frame(w: float, luck: random.Random) -> Region:
    h = _ratio(w, luck, 0.6)
    b = round(min(w, h) * luck.uniform(0.12, 0.22), 1)
    hole = polygon([(b, b), (b, h - b), (w - b, h - b), (w - b, b)])
    return Region(polygon([(0, 0), (w, 0), (w, h), (0, h)]), (hole,))


def ring(w: float, luck: random.Random) -> Region:
    r = w / 2
    inner = r * luck.uniform(0.55, 0.8)
    return Region(circle((r, r), r), (reversed_path(circle((r, r), inner)),))


def disc(w: float, luck: random.Random) -> Region:
    return Region(circle((w * 0.35, w * 0.35), w * 0.35))


def pillow(w: float, luck: random.Random) -> Region:
    """A blank whose ends are arcs that bulge outward on one half, inward on none."""
    h = _ratio(w, luck, 0.5, 0.9)
    s = h * 0.12
    r = (h * h / 4 + s * s) / (2 * s)
    right = Arc((w - s, 0), (w - s, h), (w - r, h / 2), True)
    left = Arc((s, h), (s, 0), (r, h / 2), True)
    return Region(Path((Line((s, 0), (w - s, 0)), right, Line((w - s, h), (s, h)), left), True))


def envelope(w: float, luck: random.Random) -> Region:
    h = _ratio(w, luck, 0.8)
    side, flap = w * 0.14, h * 0.26
    points: list[Point] = [
        *((side, flap), (side + 3, 0), (w - side - 3, 0), (w - side, flap), (w, flap + 4)),
        *((w, h - flap - 4), (w - side, h - flap), (w - side - 3, h), (side + 3, h)),
        *((side, h - flap), (0, h - flap - 4), (0, flap + 4)),
    ]
    return Region(polygon(points))


def pennant(w: float, luck: random.Random) -> Region:
    h = _ratio(w, luck, 0.7, 1.2)
    return Region(polygon([(0, 0), (w, 0), (w / 2, h)]))


def corner(w: float, luck: random.Random) -> Region:
    b = round(w * luck.uniform(0.25, 0.4), 1)
    return Region(polygon([(0, 0), (w, 0), (w, b), (b, b), (b, w), (0, w)]))


def tag(w: float, luck: random.Random) -> Region:
    h = _ratio(w, luck, 0.4, 0.6)
    c = h * 0.3
    hole = reversed_path(circle((c + 3, h / 2), 2.0))
    outer = polygon([(c, 0), (w, 0), (w, h), (c, h), (0, h - c), (0, c)])
    return Region(outer, (hole,))


def star(w: float, luck: random.Random) -> Region:
    r = w * 0.45
    tips = [
        (
            r + (r if i % 2 == 0 else 0.45 * r) * math.cos(math.pi * (i / 5 - 0.5)),
            r + (r if i % 2 == 0 else 0.45 * r) * math.sin(math.pi * (i / 5 - 0.5)),
        )
        for i in range(10)
    ]
    return Region(polygon(tips))


MAKERS: list[tuple[Callable[[float, random.Random], Region], float]] = [
    (label, 3),
    (band, 1.5),
    (tray, 3),
    (sleeve, 2),
    (frame, 1.5),
    (ring, 1),
    (disc, 1),
    (pillow, 1.5),
    (envelope, 2),
    (pennant, 1),
    (corner, 1),
    (tag, 1.5),
    (star, 1),
]
