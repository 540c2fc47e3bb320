"""Mutations of what is made of a design: seen, folded, glued, drawn by ruler, over a range.

Each verdict is worked out from the figures that were changed, from dots, or from makers drawn
one by one.
"""

from __future__ import annotations

import itertools
import math
from types import SimpleNamespace

import numpy as np

from publisher.checks.context import Context
from publisher.checks.making_verdicts import making_verdicts
from publisher.checks.ruler_verdicts import ruler_verdicts
from publisher.checks.rules import (
    figures,
    glue_used,
    grain,
    hidden_layers,
    unscored,
    used,
)
from publisher.checks.small_parts import small_parts
from tests.checks.mutating import Chance, Mutation, Named, limit, practice, written
from tests.checks.test_figures import PATTERN
from tests.checks.test_glue_used import POUCH
from tests.checks.test_mending import tray
from tests.checks.test_ranges import swept
from tests.compiled import workshop

MAKERS = 40_000
COVER = """
```piece folder, in card
panels   down, 60 mm wide, valley: front = {front} mm, back = {back} mm
```

```piece mat, in patterned paper
mat      on back of folder, {border} mm border
```

```step
score    folder
glue     mat to back of folder
fold     back of folder
```
"""


def mat_covered(chance: Chance) -> Mutation | None:
    """A mat on the back, folded onto a front that is as high, or less: row by row of the mat,
    whether the front lies over it."""
    back, border = round(chance.uniform(30, 60), 1), round(chance.uniform(2, 6), 1)
    front = round(border + (back - 2 * border) * chance.uniform(0.8, 1.05), 2)
    pattern, story = written(
        COVER.replace("{front}", f"{front}")
        .replace("{back}", f"{back}")
        .replace("{border}", f"{border}")
    )
    rows = [border + (back - 2 * border) * (n + 0.5) / 4000 for n in range(4000)]
    hidden = sum(row < front for row in rows) / len(rows)
    fails, sure = limit(-hidden, -0.9, 0.002)
    return Mutation(pattern, story, fails, sure)


LOOSE = """
```piece card, in card
outline  rectangle, 60 x 40 mm
```

```piece seal, in card
outline  {shape}
```

```step
{step}
```
"""


def part_small(chance: Chance) -> Mutation | None:
    """A seal that lies loose, or is glued on: each way into the cylinder is tried."""
    wide, high = round(chance.uniform(18, 45), 1), round(chance.uniform(30, 66), 1)
    glued = chance.random() < 0.15
    text = LOOSE.replace("{shape}", f"rectangle, {wide} x {high} mm")
    step = "glue seal to card" if glued else "lay card\nlay seal"
    pattern, story = written(text.replace("{step}", step))
    thick = workshop().trade.stocks["card"].caliper_mm
    # The most that is left of the radius, and of the depth, on the best of all ways in.
    room = max(
        min(15.85 - max(math.dist((0, 0), (x * a / 2, y * b / 2)) for x, y in CORNERS), 57.1 - c)
        for a, b, c in itertools.permutations((wide, high, thick))
    )
    return Mutation(pattern, story, room >= 0 and not glued, abs(room) > 0.01)


CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))


def against_grain(chance: Chance) -> Mutation | None:
    """Folds across a piece in card, whose grain runs along an A4 sheet; 5 mm stay free round."""
    wide, one = round(chance.uniform(120, 205), 1), round(chance.uniform(90, 150), 1)
    two = round(chance.uniform(one / 2, one), 1)
    if chance.random() < 0.5:
        panels = f"panels down, {wide} mm wide, mountain: upper = {one} mm, lower = {two} mm"
        along, beside = wide, one + two
    else:
        panels = f"panels across, {wide} mm high, mountain: upper = {one} mm, lower = {two} mm"
        along, beside = wide, one + two
    pattern, story = written(f"```piece card, in card\n{panels}\n```\n")
    grain_way = min(287 - along, 200 - beside)  # the folds run along the sheet
    other_way = min(200 - along, 287 - beside)
    fails = grain_way < 0 <= other_way
    return Mutation(pattern, story, fails, min(abs(grain_way), abs(other_way)) > 0.01)


def figure_said(chance: Chance) -> Mutation | None:
    """A figure in the prose, and the size that it speaks of a little changed."""
    by = round(chance.uniform(-0.6, 0.6), 3)
    said, old, new, share = chance.choice(
        (
            ("The mat leaves a border of 5 mm.", "border = 5 mm", f"border = {5 + by:g} mm", 1.0),
            ("The foot is 20 mm deep.", "foot = 20 mm", f"foot = {20 + by:g} mm", 1.0),
            ("The front is 60 mm high.", "front = 60 mm", f"front = {60 + by:g} mm", 1.0),
            ("The front is 80 mm wide.", "down, 80 mm", f"down, {80 + by:g} mm", 1.0),
            ("The mat is 70 mm wide.", "border = 5 mm", f"border = {5 + by:g} mm", 2.0),
            ("The thumb notch is 20 mm wide.", "round, 20 mm", f"round, {20 + by:g} mm", 1.0),
            ("The thumb notch has a radius of 10 mm.", "round, 20", f"round, {20 + by:g}", 0.5),
            ("Score the stand 60 mm from its top edge.", "t = 60", f"t = {60 + by:g}", 1.0),
        )
    )
    assert PATTERN.count(old) == 1
    pattern, story = written(PATTERN.replace(old, new).replace("{prose}", said))
    fails, sure = limit(-abs(by) * share, -practice("figure_tolerance_mm"), 0.005)
    return Mutation(pattern, story, fails, sure)


def strip_forgotten(chance: Chance) -> Mutation | None:
    """Lines of glue taken out of the steps of a pouch."""
    strips = ["left strip", "right strip"]
    text = POUCH
    if chance.random() < 0.5:
        strips.append("foot strip")
        text = text.replace(
            "called right strip\n",
            "called right strip\nglue     along bottom of back, 6 mm wide, on back face, called"
            " foot strip\n",
        )
    lines = [name for name in strips if chance.random() < 0.7] or strips[:1]
    chance.shuffle(lines)
    pattern, story = written(
        text.replace("STEPS", "\n".join(f"glue     {name} of pouch" for name in lines))
    )
    return Mutation(pattern, story, set(lines) != set(strips), sure=True)


def score_forgotten(chance: Chance) -> Mutation | None:
    """Two pieces that are folded; each is scored before, after, or not at all."""
    text, steps = "", []
    fails = False
    for name in ("card", "band"):
        stock = chance.choice(("card", "paper", "card", "patterned paper"))
        panels = "panels down, 80 mm wide, valley: upper = 50 mm, lower = 50 mm"
        text += f"```piece {name}, in {stock}\n{panels}\n```\n\n"
        lines = [f"score {name}", f"fold lower of {name}"]
        scored = chance.random() < 0.45
        steps += lines if scored else lines[1:]
        heavy = workshop().trade.stocks[stock].grammage_gsm >= practice("score_grammage_least_gsm")
        fails = fails or (heavy and not scored)
    pattern, story = written(text + "```step\n" + "\n".join(steps) + "\n```\n")
    return Mutation(pattern, story, fails, sure=True)


def piece_forgotten(chance: Chance) -> Mutation | None:
    """Cards that are laid down in steps, some of their lines taken out."""
    names = [f"card {'abcdef'[n]}" for n in range(chance.randrange(2, 5))]
    laid = [name for name in names if chance.random() < 0.8] or names[:1]
    text = "".join(
        f"```piece {name}, in card\noutline rectangle, 60 x 40 mm\n```\n\n" for name in names
    )
    pattern, story = written(
        text + "```step\n" + "\n".join(f"lay {name}" for name in laid) + "\n```\n"
    )
    return Mutation(pattern, story, laid != names, sure=True)


def ruled(chance: Chance) -> Mutation | None:
    """A stack 80 wide that wants 1 to 6 mm beside it, in a base that is cut by a ruler: to
    half millimetres, or to sixteenths of an inch."""
    room = round(chance.uniform(1.0, 2.6), 2)
    pattern, story = written(tray(room=f"{room} mm", margin="1 mm to 6 mm"))
    sixteenth = 25.4 / 16
    by_inch = (80 + room) / sixteenth
    spares = [round((80 + room) * 2) / 2 - 80, round(by_inch) * sixteenth - 80]
    fails = min(spares) < 1 - 1e-6 or max(spares) > 6
    ties = (abs(by_inch % 1 - 0.5), abs((80 + room) * 2 % 1 - 0.5))
    found = _codes(ruler_verdicts(Context(pattern, story, workshop().trade)))
    return Mutation(pattern, story, fails, min(ties) > 0.01, found)


def over_range(chance: Chance) -> Mutation | None:
    """Two sizes with ranges, the fit worked out at many places between their ends."""
    low, high = round(chance.uniform(1.4, 3.4), 2), round(chance.uniform(4.4, 6.4), 2)
    least = round(chance.uniform(17.2, 19.9), 2)
    body = tray(room=f"4 mm, from {low} mm to {high} mm", wall=f"20 mm, from {least} mm to 30 mm")
    rooms = [low + (high - low) * n / 60 for n in range(61)]
    walls = [least + (30 - least) * n / 60 for n in range(61)]
    spare = min(min(r - 2, 6 - r, w - 18) for r in rooms for w in walls)
    pattern, story = written(tray())
    return Mutation(pattern, story, spare < 0, abs(spare) > 0.01, _codes(swept(body, 8)))


def makers_fail(chance: Chance) -> Mutation | None:
    """So much beside a stack, between two folds: each maker's scores and folds are drawn."""
    room = round(chance.uniform(0.22, 1.0), 3)
    pattern, story = written(tray(room=f"{room} mm", margin="at least 0.2 mm"))
    draw = np.random.default_rng(chance.randrange(2**32))
    shares = []
    for by in ("machine", "hand"):
        off = [
            draw.normal(0.0, practice(f"{by}_{kind}_tolerance_mm") / 3, MAKERS)
            for kind in ("score", "score", "fold", "fold")
        ]
        shares.append(float((room + off[0] - off[1] + off[2] - off[3] < 0).mean()))
    most = practice("failing_makers_most")
    unsure = 5 * math.sqrt(max(most, 1 / MAKERS) / MAKERS)
    sure = min(abs(s - most) for s in shares) > unsure
    found = _codes(making_verdicts(Context(pattern, story, workshop().trade)))
    return Mutation(pattern, story, max(shares) > most, sure, found)


def _codes(results: object) -> tuple[str, ...]:
    return tuple(r.code for r in results if r.result != "pass")  # type: ignore[attr-defined]


SMALL = SimpleNamespace(check=small_parts)
TOLD = SimpleNamespace(check=None)
"""The mutation brings what was found along."""

MADE: Named = {
    "hidden": (hidden_layers, ("layer-hidden",), mat_covered),
    "small part": (SMALL, ("small-part",), part_small),
    "grain": (grain, ("folds-across-grain",), against_grain),
    "figure": (figures, ("figure-differs",), figure_said),
    "glue used": (glue_used, ("glue-not-used",), strip_forgotten),
    "unscored": (unscored, ("fold-not-scored",), score_forgotten),
    "used": (used, ("piece-not-used",), piece_forgotten),
    "ruler": (TOLD, ("ruler-breaks-fit",), ruled),
    "range": (TOLD, ("fails-in-range",), over_range),
    "making": (TOLD, ("fails-in-the-making",), makers_fail),
}
