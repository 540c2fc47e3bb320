"""Mutations of what lies on or over something else: layers, flaps, glue, spines, openings, post.

Each verdict is worked out from the figures that were changed, as a maker would on paper, or
measured point by point.
"""

from __future__ import annotations

import itertools

from msgspec.structs import replace

from publisher.checks.rules import (
    borders,
    covers,
    flaps,
    glue_meets,
    holes,
    lies_flush_with,
    mails_as,
    opens_to,
    outline,
    over_glue,
    reaches,
    slides_on,
    spines,
    tabs,
)
from publisher.geometry.path import Line, Path, Region, polygon
from publisher.model.types import GlueZone, MatOf, Opening
from tests.checks.brute import area_outside, least_width, to_line, walk
from tests.checks.mutating import (
    Chance,
    Mutation,
    Named,
    built,
    design,
    limit,
    practice,
    size,
    with_claim,
    with_piece,
    written,
)
from tests.checks.test_claims import FOLDER, POST
from tests.checks.test_opens_to import page
from tests.checks.test_trade_rules import BOOK


def line_twice(chance: Chance) -> Mutation | None:
    """A slit along the fold of the drawer's left wall that leaves it after a while."""
    _, pattern, story = design("sliding-box")
    drawer = pattern.piece("drawer")
    base = drawer.panel("base").bounds
    shared = chance.choice((chance.uniform(0.05, 0.4), 15.0))
    off = chance.choice((0.0, chance.uniform(0.0, 0.05)))
    x, y = base[0] + off, base[1] + chance.uniform(5, 40)
    points = [(x, y), (x, y + shared), (x + 8, y + shared)]
    path = Path(tuple(Line(a, b) for a, b in itertools.pairwise(points)), closed=False)
    slit = Opening("slit 1", "slit", "line", path, None, 10.0, 0.0, drawer.span)
    folds = [walk(s.path) for s in drawer.scores]
    dots = [(x, y + shared * (n + 0.5) / 2000) for n in range(2000)]
    on = sum(min(to_line(p, f) for f in folds) <= 0.02 for p in dots) * shared / 2000
    fails, sure = limit(-on, -0.2, 0.05)
    changed = replace(drawer, openings=(slit,))
    clear = sure and abs(off - 0.02) > 0.003
    return Mutation(with_piece(pattern, changed), story, fails, clear)


def hole_small(chance: Chance) -> Mutation | None:
    """Rectangles, circles and half rounds in a label, measured on their outlines."""
    wide, high = round(chance.uniform(0.8, 2.6), 2), round(chance.uniform(0.8, 2.6), 2)
    shape = chance.choice((f"rectangle, {wide} x {high} mm", f"circle, {wide} mm across"))
    pattern, story = written(
        f"```piece card, in card\noutline rectangle, 80 x 60 mm\nwindow {shape}, at middle\n```\n"
        "```step\nlay card\n```\n"
    )
    (hole,) = pattern.piece("card").outline.holes
    fails, sure = limit(least_width(walk(hole)), practice("hole_least_mm"), 0.005)
    return Mutation(pattern, story, fails, sure)


def flap_long(chance: Chance) -> Mutation | None:
    """The upper flap of the envelope over the far edge of its centre, 111 high."""
    text, _, _ = design("envelope")
    deep = round(chance.uniform(110.0, 112.6), 2)
    pattern, story = built(size(text, "upper flap", f"{deep} mm"))
    fails, sure = limit(111 - deep, -practice("size_tolerance_mm"), 0.02)
    return Mutation(pattern, story, fails, sure)


def spine_narrow(chance: Chance) -> Mutation | None:
    """Between the covers lie a pocket of 0.4 mm card and the notes."""
    thick, spine = round(chance.uniform(1, 4), 2), round(chance.uniform(1, 5), 2)
    pattern, story = written(BOOK.replace("{thick}", f"{thick}").replace("{spine}", f"{spine} mm"))
    fails, sure = limit(spine, thick + 0.4)
    return Mutation(pattern, story, fails, sure)


def layer_on_glue(chance: Chance) -> Mutation | None:
    """A patch of glue on the front of the sleeve, across the edge of its mat."""
    _, pattern, story = design("sliding-box")
    sleeve, mat = pattern.piece("sleeve"), pattern.piece("sleeve mat")
    assert isinstance(mat.derived, MatOf)
    dx, dy = mat.derived.offset
    ring = [(x + dx, y + dy) for x, y in walk(mat.outline.outer)]
    left = min(x for x, _ in ring)
    wide, high = chance.uniform(2, 6), chance.uniform(2, 6)
    x = left - wide + chance.uniform(-0.5, 1.2)
    y = min(p[1] for p in ring) + chance.uniform(3, 8)
    patch = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
    over = wide * high - area_outside([*patch, patch[0]], [ring], 0.0)
    fails, sure = limit(-over, -1.0, 0.4)
    zone = GlueZone("patch", None, Region(polygon(patch)), "front", sleeve.span)
    changed = replace(sleeve, glue_zones=(zone,))
    return Mutation(with_piece(pattern, changed), story, fails, sure)


def layer_over(chance: Chance) -> Mutation | None:
    """The whole mat moved up; it lies 4 mm below the panel's edge."""
    _, pattern, story = design("sliding-box")
    mat = pattern.piece("sleeve mat")
    assert isinstance(mat.derived, MatOf)
    by = chance.uniform(3.8, 4.2)
    dx, dy = mat.derived.offset
    moved = replace(mat, derived=replace(mat.derived, offset=(dx, dy - by)))
    return Mutation(with_piece(pattern, moved), story, by > 4.0, abs(by - 4.0) > 0.03)


def overlap_short(chance: Chance) -> Mutation | None:
    text, _, _ = design("sliding-box")
    deep = round(chance.uniform(5, 12), 2)
    pattern, story = built(size(text, "tab", f"{deep} mm"))
    fails, sure = limit(deep, practice("glue_overlap_least_mm"))
    return Mutation(pattern, story, fails, sure)


def glue_beside(chance: Chance) -> Mutation | None:
    """Glue on a tab of the drawer, partly above the rim or before the fold: the tab at the left
    of the front wall lies in the corner of the left wall, which is 22 high."""
    _, pattern, story = design("sliding-box")
    drawer = pattern.piece("drawer")
    front = drawer.panel("front wall").bounds
    zones = list(drawer.glue_zones)
    number = next(
        i
        for i, z in enumerate(zones)
        if z.meets == ("drawer", "left wall")
        and drawer.panel(z.panel or "").bounds[1] > front[1] - 1
    )
    low, high = chance.uniform(-4, 2), chance.uniform(19, 28)
    near, far = chance.uniform(-1.5, 1), chance.uniform(8, 11)
    x, y = front[0], front[1]
    ring = [(x - far, y + low), (x - near, y + low), (x - near, y + high), (x - far, y + high)]
    share = (
        (min(high, 22.0) - max(low, 0.0)) * (far - max(near, 0.0)) / ((high - low) * (far - near))
    )
    zones[number] = replace(zones[number], region=Region(polygon(ring)))
    fails, sure = limit(share, practice("glue_cover_least"), 0.002)
    changed = replace(drawer, glue_zones=tuple(zones))
    return Mutation(with_piece(pattern, changed), story, fails, sure)


def pane_covered(chance: Chance) -> Mutation | None:
    """A patch 46 x 26 over a pane 40 x 20; one of its sides is changed."""
    wide, high = round(chance.uniform(43, 49), 2), round(chance.uniform(23, 29), 2)
    text = FOLDER.replace("rectangle, 46 x 26 mm", f"rectangle, {wide} x {high} mm")
    claim = "patch covers pane with at least 3 mm to spare"
    pattern, story = written(text.replace("{claim}", claim))
    fails, sure = limit(min(wide - 40, high - 20) / 2, 3)
    return Mutation(pattern, story, fails, sure)


def mat_flush(chance: Chance) -> Mutation | None:
    text, _, _ = design("sliding-box")
    border = round(chance.uniform(0.03, 0.2), 3)
    text = size(text, "border", f"{border} mm")
    side = chance.choice(("left", "right", "top", "bottom"))
    claim = f"{side} of sleeve mat lies flush with {side} of panel 1 of sleeve"
    pattern, story = built(with_claim(text, claim))
    fails, sure = limit(-border, -practice("mating_tolerance_mm"), 0.004)
    return Mutation(pattern, story, fails, sure)


def pocket_under(chance: Chance) -> Mutation | None:
    """A flap of 30 comes down over a pocket 50 high on a back 60 high."""
    deep = round(chance.uniform(24, 36), 2)
    text = FOLDER.replace("flap = 30 mm", f"flap = {deep} mm")
    assert text != FOLDER
    claim = "pocket of folder tucks under flap of folder with at least 20 mm to spare"
    pattern, story = written(text.replace("{claim}", claim))
    fails, sure = limit(deep + 50 - 60, 20)
    return Mutation(pattern, story, fails, sure)


def as_letter(chance: Chance) -> Mutation | None:
    """USPS DMM 101, 1.1: 5 x 3.5 in at the least, 11.5 x 6.125 in at the most."""
    long, high = round(chance.uniform(115, 310), 1), round(chance.uniform(80, 168), 1)
    pattern, story = written(
        POST.replace("{size}", f"{long} x {high} mm")
        .replace("{post}", "us letter")
        .replace("in paper", "in card")
    )
    a, b = max(long, high), min(long, high)
    fails = not (127 <= a <= 292.1 and 88.9 <= b <= 155.575)
    edges = (a - 127, a - 292.1, b - 88.9, b - 155.575)
    return Mutation(pattern, story, fails, min(map(abs, edges)) > 0.05)


def letter_shape(chance: Chance) -> Mutation | None:
    """USPS DMM 101, 1.2: no less than 1.3 and no more than 2.5 times as long as high."""
    high = round(chance.uniform(90, 150), 1)
    long = round(min(292.0, max(127.1, high * chance.uniform(1.0, 2.9))), 1)
    pattern, story = written(
        POST.replace("{size}", f"{long} x {high} mm")
        .replace("{post}", "us letter")
        .replace("in paper", "in card")
    )
    ratio = max(long, high) / min(long, high)
    return Mutation(
        pattern, story, not 1.3 <= ratio <= 2.5, min(abs(ratio - 1.3), abs(ratio - 2.5)) > 1e-4
    )


def opens(chance: Chance) -> Mutation | None:
    """A step in the middle fold: closed, it reaches (105 - head) + 30 into a page half of 105."""
    head = round(chance.uniform(16, 44), 2)
    pattern, story = written(page(head, head + 30))
    out = (105 - head) + 30 - 105
    fails, sure = limit(-out, -0.05, 0.02)
    return Mutation(pattern, story, fails, sure)


def slot_tight(chance: Chance) -> Mutation | None:
    """The slot of a divider over the other one, whose paper is thicker or thinner."""
    _, pattern, story = design("lidded-box")
    divider = pattern.piece("divider")
    thick = round(chance.uniform(0.05, 0.75), 3)
    stock = replace(divider.stock, caliper_mm=thick)
    slot = next(o for o in divider.openings if o.name == "slot")
    wide = least_width(walk(slot.path))
    play = wide - thick
    fails = not 0.1 <= play <= 0.3
    sure = min(abs(play - 0.1), abs(play - 0.3)) > 0.002
    return Mutation(with_piece(pattern, replace(divider, stock=stock)), story, fails, sure)


LAID: Named = {
    "line twice": (outline, ("line-cut-twice",), line_twice),
    "hole": (holes, ("hole-too-small",), hole_small),
    "flap": (flaps, ("flap-sticks-out",), flap_long),
    "spine": (spines, ("spine-too-narrow",), spine_narrow),
    "layer over glue": (over_glue, ("layer-over-glue",), layer_on_glue),
    "layer over edge": (borders, ("layer-reaches-over",), layer_over),
    "overlap": (tabs, ("overlap-too-short",), overlap_short),
    "glue meets": (glue_meets, ("glue-misses",), glue_beside),
    "covers": (covers, ("does-not-cover",), pane_covered),
    "flush": (lies_flush_with, ("not-flush",), mat_flush),
    "tucks under": (reaches, ("not-tucked-under",), pocket_under),
    "mails as": (mails_as, ("not-as-post",), as_letter),
    "post by hand": (mails_as, ("post-by-hand",), letter_shape),
    "opens": (opens_to, ("does-not-open",), opens),
    "slot": (slides_on, ("does-not-slide-on", "too-loose", "too-much-to-spare"), slot_tight),
}
