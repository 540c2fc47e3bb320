"""Mutations of what moves: paper through paper, flaps and tabs that miss, glue pulled about.

Each verdict is worked out from the lengths and angles that were changed, and from the order of
the lines.
"""

from __future__ import annotations

import math
from types import SimpleNamespace

from publisher.checks.rules import wet_glue
from tests.checks.mutating import Chance, Mutation, Named, assembled, limit, written

CALIPER_MM = 0.4
"""Of card."""
ALLOWED_MM = 2 * CALIPER_MM + 0.05
"""What two papers and a scoring board explain."""

STRIP = """
```piece strip, in card
panels   down, 60 mm wide, mountain by 90 degrees: front = {front} mm, side = {side} mm,
         back = {back} mm, flap = {flap} mm
```

```step
score    strip
turn     over strip
fold     side and back and flap of strip
```
"""


def spiral(chance: Chance) -> Mutation | None:
    """A strip folded round three times; its end comes down on the front from inside, or goes
    past it where the back is the longer one."""
    side = round(chance.uniform(20, 60), 1)
    front = round(chance.uniform(30, 60), 1)
    back = round(front + chance.choice((-1, -1, -1, 1)) * chance.uniform(3, 20), 1)
    flap = round(side + chance.uniform(-4, 6), 2)
    text = STRIP
    for name, mm in (("front", front), ("side", side), ("back", back), ("flap", flap)):
        text = text.replace(f"{{{name}}}", f"{mm}")
    pattern, story, found = assembled(text)
    through = min(flap - side, front - back)
    fails, sure = limit(-through, -ALLOWED_MM, 0.02)
    return Mutation(pattern, story, fails, sure, found)


BOX = """
```piece box, in card
panel    base, 60 x {deep} mm
panel    front wall, on bottom of base, 25 mm deep, mountain by 90 degrees
panel    back wall, on top of base, {high} mm deep, mountain by 90 degrees
panel    cover, on top of back wall, {cover} mm deep, mountain by 90 degrees
panel    flap, on top of cover, 15 mm deep, 1 mm taper, mountain by 90 degrees
```

```step
score    box
turn     over box
fold     each wall of box
tuck     flap of box behind front wall
```
"""


def cover_short(chance: Chance) -> Mutation | None:
    """A flap behind the front wall: as far from it as the cover is shorter than the base."""
    deep = round(chance.uniform(30, 60), 1)
    off = round(chance.uniform(-2, 2), 2)
    text = BOX.replace("{deep}", f"{deep}").replace("{high}", "25")
    pattern, story, found = assembled(text.replace("{cover}", f"{deep + off:g}"))
    fails, sure = limit(-abs(off), -ALLOWED_MM, 0.02)
    return Mutation(pattern, story, fails, sure, found)


TABBED = """
```piece box, in card
panel    base, 60 x 40 mm
panel    front wall, on bottom of base, 20 mm deep, mountain by {front} degrees
panel    {side} wall, on {side} of base, 20 mm deep, mountain by {wall} degrees
tab      on {side} of front wall, 12 mm deep, 2 mm taper, mountain by {tab} degrees,
         meets bottom of {side} wall
```

```step
score    box
turn     over box
fold     {walls} of box
fold     each tab of box
glue     each tab of box
```
"""


def tab_astray(chance: Chance) -> Mutation | None:
    """A tab in the corner of two walls; one of the three folds goes less or more far, or a
    wall is forgotten. Planes within a degree count as parallel; but the tab, 12 deep on a wall
    20 high, may not come to lie outside the wall that it is to be glued in."""
    angles = {"front": 90.0, "wall": 90.0, "tab": 90.0}
    name = chance.choice(tuple(angles))
    off = chance.choice((-1, 1)) * chance.choice((0.0, 0.1, 0.4, 3.0, 20.0))
    angles[name] += off
    forgotten = chance.random() < 0.2
    text = TABBED.replace("{walls}", "front wall" if forgotten else "each wall")
    for each, angle in angles.items():
        text = text.replace(f"{{{each}}}", f"{angle:g}")
    side = chance.choice(("left", "right"))
    pattern, story, found = assembled(text.replace("{side}", side))
    outside = {"front": 0.0, "wall": 20 * off, "tab": -12 * off}[name] * math.pi / 180
    fails = forgotten or abs(off) > 1.0 or outside > 0.05
    return Mutation(pattern, story, fails, True, found)


POUCH = """
```piece pouch, in paper
panels   down, 100 mm wide, mountain: front = 60 mm, back = 60 mm
glue     along left and right of front, 8 mm wide, on back face, called strip
```

```step
{steps}
```
"""


def glued_moves(chance: Chance) -> Mutation | None:
    """A pouch folded by so many degrees, glued, and folded once more: what is glued flat
    together cannot be moved."""
    first = chance.choice((180, 180, 60, 90, 120))
    second = chance.choice((180, 180, 45, 100, 150))
    lines = [f"fold back of pouch by {first} degrees", "glue each strip of pouch"]
    if chance.random() < 0.2:
        lines.reverse()
    if second != first:
        lines.append(f"fold back of pouch by {second} degrees")
    pattern, story, found = assembled(POUCH.replace("{steps}", "\n".join(lines)))
    return Mutation(pattern, story, first == 180 and second != 180, True, found)


BELT = """
```piece note, in card
panels   down, 105 mm wide, mountain: front = 74 mm, back = 74 mm
```

```piece belt, in paper
band     down, around note when closed, 25 mm wide, 15 mm overlap, 1 mm ease
```

```step
{steps}
```
"""


def wet_pulled(chance: Chance) -> Mutation | None:
    """A belt that is glued and slid; a new step begins at some line, or at none."""
    lines = [
        "score    note",
        "turn     over note",
        "fold     back of note",
        "score    belt",
        "turn     over belt",
        "wrap     belt around note",
        "glue     overlap of belt",
        "slide    note into belt",
    ]
    breaks = {at for at in range(1, len(lines)) if chance.random() < 0.25}
    text = "\n".join(
        f"```\n\nWait.\n\n```step\n{line}" if at in breaks else line
        for at, line in enumerate(lines)
    )
    pattern, story = written(BELT.replace("{steps}", text))
    return Mutation(pattern, story, len(lines) - 1 not in breaks, True)


STORY = SimpleNamespace(check=None)
"""Found while the steps are carried out; the mutation brings it along."""

MOVED: Named = {
    "through paper": (STORY, ("papers-collide",), spiral),
    "tucked": (STORY, ("tuck-misses",), cover_short),
    "tab meets": (STORY, ("tab-misses",), tab_astray),
    "glued moves": (STORY, ("glued-parts-move", "folds-do-not-close"), glued_moves),
    "wet glue": (wet_glue, ("glue-still-wet",), wet_pulled),
}
