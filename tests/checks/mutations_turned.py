"""Mutations of which face lies up, which way round a piece is cut, and what tongues hold.

Each verdict is worked out from how the thing was laid, on paper, or by areas cut out by hand.
"""

from __future__ import annotations

from publisher.checks.rules import glue_order, mirrored, slit_holders
from publisher.geometry.path import Point
from tests.checks.mutating import Chance, Mutation, Named, limit, practice, written

LINED = """
```piece folder, in {base}
outline  rectangle, 80 x 60 mm
{window}
```

```piece lining, in {stock}
outline  rectangle, {wide} x 40 mm
{glue}
```

```piece cover, in card
outline  rectangle, 60 x {cover} mm
```

```step
turn     over folder
glue     lining {how} folder
{then}
```
"""


def lining_turned(chance: Chance) -> Mutation | None:
    """A lining behind a folder, glued by one face or the other, with or without a window before
    it, and at times with a cover that lies over its other side."""
    by_back, printed = chance.random() < 0.2, chance.random() < 0.9
    pane = round(chance.uniform(0.8, 1.4), 2) if chance.random() < 0.3 else 0.0
    wide = round(chance.uniform(50, 70), 1)
    # The cover is 60 mm wide and lies in the middle of the lining, which is 40 mm high.
    high = round(chance.uniform(1, 20), 1) if chance.random() < 0.4 else 0.0
    pattern, story = written(
        LINED.replace("{base}", "card")
        .replace("{stock}", "patterned paper" if printed else "paper")
        .replace("{window}", f"window rectangle, {pane} x {pane} mm, at middle" if pane else "")
        .replace("{wide}", f"{wide}")
        .replace("{cover}", f"{high or 30}")
        .replace("{glue}", "glue rectangle, 30 x 20 mm, at middle, on back face" if by_back else "")
        .replace("{how}", "behind")
        .replace("{then}", "glue cover behind lining" if high and not by_back else "lay cover")
    )
    under = min(wide, 60.0) * min(high, 40.0) / (wide * 40.0) if not by_back else 0.0
    through = pane * pane > mirrored.WINDOW_MM2
    fails = printed and not by_back and not through and under < 0.1
    sure = abs(under - 0.1) > 0.002 and abs(pane * pane - mirrored.WINDOW_MM2) > 0.05
    return Mutation(pattern, story, fails, sure)


def hand_wrong(chance: Chance) -> Mutation | None:
    """A lining drawn for a folder with one corner cut off, turned over and laid behind it: how
    much of it lies beyond, as it lies and mirrored."""
    cut = chance.uniform(10, 40)
    own = cut * chance.uniform(0.6, 1.1)
    wide, high = chance.uniform(66, 79), chance.uniform(46, 59)
    flipped = chance.random() < 0.15

    def cornered(w: float, h: float, off: float) -> list[Point]:
        return [(0.0, 0.0), (w, 0.0), (w, h - off), (w - off, h), (0.0, h)]

    def said(points: list[Point]) -> str:
        return " and ".join(f"({x:.4f} mm, {y:.4f} mm)" for x, y in points)

    folder, lining = cornered(80.0, 60.0, cut), cornered(wide, high, own)
    more = ", mirrored" if flipped else ""
    pattern, story = written(
        f"```piece folder, in card\noutline points, at {said(folder)}\n```\n\n"
        f"```piece lining, in card\noutline points, at {said(lining)}{more}\n"
        "glue rectangle, 20 x 10 mm, at middle, on back face\n```\n\n"
        "```step\nglue lining behind folder\n```\n"
    )
    dx, dy = (80.0 - wide) / 2, (60.0 - high) / 2
    as_drawn = [(x + dx, y + dy) for x, y in lining]
    over = [(80.0 - x, y) for x, y in as_drawn]
    both = [(80.0 - x, 60.0 - y) for x, y in as_drawn]
    # Upside down is a mirror image too: of what is turned over it is the half turn.
    down = [(x, 60.0 - y) for x, y in as_drawn]
    laid, others = (as_drawn, (over, down)) if flipped else (over, (as_drawn, both))
    area = wide * high - own * own / 2

    def beyond(ring: list[Point]) -> float:
        return 1.0 - within(ring, folder) / area

    out, best = beyond(laid), min(beyond(other) for other in others)
    fails = out > mirrored.MOST_OUT and best < mirrored.NOTHING_OUT
    # The check leaves a hair at the edge: some 0.05 mm of 30 mm of slant.
    sure = abs(out - mirrored.MOST_OUT) > 0.002 and not 0.0002 < best < 0.003
    return Mutation(pattern, story, fails, sure)


def within(ring: list[Point], home: list[Point]) -> float:
    """The area that two convex shapes share: one is cut along each side of the other."""
    left = ring
    for (ax, ay), (bx, by) in zip(home, [*home[1:], home[0]], strict=True):
        cut: list[Point] = []
        for p, q in zip(left, [*left[1:], left[0]], strict=True):
            here, there = ((bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in (p, q))
            if here >= 0:
                cut.append(p)
            if here * there < 0:
                t = here / (here - there)
                cut.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
        left = cut
    turns = zip(left, [*left[1:], *left[:1]], strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in turns)) / 2


HOLDER = """
```piece carrier, in card
outline  rectangle, 120 x 90 mm
slit     half round, {wide} mm wide, facing top, at {off} mm above middle of bottom, called foot
slit     half round, {wide} mm wide, facing bottom, at {off} mm below middle of top, called head
```

```piece token, in card
outline  rectangle, {across} x {down} mm
```

```step
lay      carrier
tuck     token under {under} of carrier
```
"""


def tongue_holds(chance: Chance) -> Mutation | None:
    """Half circles, their feet so far from the long edges of a carrier 120 x 90: a token lies in
    the middle between two, or with its edge on the foot of one."""
    wide, off = round(chance.uniform(9, 34), 2), round(chance.uniform(3, 12), 2)
    both = chance.random() < 0.6
    room = round(chance.uniform(0.05, 3), 2) if both else 10.0
    down = round(90 - 2 * off - room, 2)
    # Wider than it is high, so that it lies as it is drawn.
    across = round(max(down + 1, wide + chance.uniform(0, 40)), 2)
    pattern, story = written(
        HOLDER.replace("{wide}", f"{wide}")
        .replace("{off}", f"{off}")
        .replace("{across}", f"{across}")
        .replace("{down}", f"{down}")
        .replace("{under}", "head and foot" if both else "foot")
    )
    spare = (
        wide / 2 - (room / 2 if both else 0.0) - practice("tongue_bite_least_mm"),
        (room if both else 10.0) - practice("tongue_headroom_least_mm"),
        wide - practice("tongue_width_least_mm"),
        across - 2 * practice("tongue_inside_least_mm") - wide,
        min(off, (120 - wide) / 2) - practice("slit_to_edge_least_mm"),
    )
    return Mutation(pattern, story, min(spare) < 0, min(map(abs, spare)) > 0.03)


POUCH = """
```piece pouch, in card
panel    back, 80 x 60 mm
panel    side, on right of back, {deep} mm deep, mountain
panel    pocket, on bottom of back, {high} mm deep, mountain
glue     along right of side, 10 mm wide, on back face, meets back of pouch
```

```step
score    pouch
turn     over pouch
{order}
```
"""
ORDERS = (
    "fold side of pouch\nglue side of pouch to back of pouch\nfold pocket of pouch",
    "fold pocket of pouch\nfold side of pouch\nglue side of pouch to back of pouch",
    "fold pocket of pouch\nglue side of pouch\nfold side of pouch",
)


def glued_late(chance: Chance) -> Mutation | None:
    """A side 60 mm high, folded in before the pocket or after it: the pocket reaches so far up
    along its strip of glue."""
    high, deep = round(chance.uniform(1, 14), 2), round(chance.uniform(14, 60), 1)
    order = chance.choice((*ORDERS, *ORDERS[1:]))
    pattern, story = written(
        POUCH.replace("{high}", f"{high}").replace("{deep}", f"{deep}").replace("{order}", order)
    )
    fails, sure = limit(-high / 60, practice("glue_cover_least") - 1.0, 0.001)
    return Mutation(pattern, story, fails and order != ORDERS[0], sure)


TURNED: Named = {
    "glue order": (glue_order, (glue_order.CODE,), glued_late),
    "tongue": (slit_holders, (slit_holders.CODE,), tongue_holds),
    "good side": (mirrored, (mirrored.HIDDEN,), lining_turned),
    "other hand": (mirrored, (mirrored.MIRRORED,), hand_wrong),
}
