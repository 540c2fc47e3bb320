"""The mutation test: content patterns with one size or line changed at random.

For every mutation the check's verdict is compared with a brute-force measure. Those that lie
nearer to the limit than either measures are drawn again. ``python -m tests.checks.mutations
2000`` makes two thousand and prints escapes (a failing pattern that passes) and false alarms.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path as File
from typing import Any

from msgspec.structs import replace

from publisher.assembly.types import Story
from publisher.checks.context import Context
from publisher.checks.making import reshaped
from publisher.checks.rules import (
    borders,
    bridges,
    clears,
    closed_size,
    covers,
    cut_near_score,
    falls_out,
    glue_zones,
    goes_into,
    near_lines,
    outline,
    reaches,
    score_spacing,
    scores,
    slides_on,
    slivers,
    tabs,
)
from publisher.geometry.path import Line, Path, Point, Region, polygon
from publisher.model.types import Claim, Opening, Pattern, Piece, Score, Target
from tests.checks.brute import (
    apart,
    area_outside,
    crosses_itself,
    least_width,
    on_paper,
    sides,
    to_line,
    walk,
)
from tests.checks.mutating import (
    Chance,
    Mutate,
    Mutation,
    Named,
    built,
    design,
    limit,
    practice,
    size,
    with_claim,
    with_piece,
)
from tests.checks.mutations_laid import LAID
from tests.checks.mutations_made import MADE
from tests.checks.mutations_moved import MOVED
from tests.checks.mutations_turned import TURNED
from tests.compiled import ROOT, workshop

# ---------------------------------------------------------------- sizes in the text


def stack_in_drawer(chance: Chance) -> Mutation | None:
    """``room``, the stack's depth or the drawer's: what is between the folds, by hand."""
    text, _, _ = design("sliding-box")
    room, deep, depth = 4.0, 20.0, 22.0
    which = chance.randrange(3)
    if which == 0:
        room = round(chance.uniform(0.5, 9), 2)
    elif which == 1:
        deep = round(chance.uniform(16, 28), 2)
    else:
        depth = round(chance.uniform(16, 28), 2)
    text = size(text, "room", f"{room} mm")
    text = size(text, "stack", f"120 x 80 x {deep} mm")
    text = size(text, "depth", f"{depth} mm")
    pattern, story = built(text)
    # Two tabs of 0.4 mm are glued inside the short walls; 2 to 6 mm are wanted.
    spare = min(room - 0.8 - 2, room - 2, 6 - (room - 0.8), 6 - room)
    fails = spare < 0 or depth < deep
    sure = abs(spare) > 1e-6 and abs(depth - deep) > 1e-6
    return Mutation(pattern, story, fails, sure)


def flap_reaches(chance: Chance) -> Mutation | None:
    text, _, _ = design("envelope")
    upper = round(chance.uniform(49, 63), 2)
    text = size(text, "upper flap", f"{upper} mm")
    text = with_claim(
        text, "upper flap of envelope reaches lower flap of envelope with at least 10 mm to spare"
    )
    pattern, story = built(text)
    fails, sure = limit(67 + upper - 111, 10)
    return Mutation(pattern, story, fails, sure)


def notches_clear(chance: Chance) -> Mutation | None:
    text, _, _ = design("sliding-box")
    thumb = round(chance.uniform(16, 32), 2)
    text = size(text, "thumb", f"{thumb} mm")
    text = with_claim(
        text, "notch 1 of sleeve clears notch 3 of sleeve when flat with at least 100 mm to spare"
    )
    pattern, story = built(text)
    sleeve = pattern.piece("sleeve")
    one, three = (next(o for o in sleeve.openings if o.name == n) for n in ("notch 1", "notch 3"))
    fails, sure = limit(apart(walk(one.path), walk(three.path)), 100, 0.05)
    return Mutation(pattern, story, fails, sure)


def mat_inside(chance: Chance) -> Mutation | None:
    text, _, _ = design("sliding-box")
    border = round(chance.uniform(2, 6), 2)
    text = size(text, "border", f"{border} mm")
    text = with_claim(text, "sleeve mat stays inside panel 1 of sleeve with at least 4 mm to spare")
    pattern, story = built(text)
    fails, sure = limit(border, 4)
    return Mutation(pattern, story, fails, sure)


# ---------------------------------------------------------------- lines of pieces


def _stretch(piece: Piece, axis: int, at: float, by: float) -> Piece:
    """Everything beyond a line is moved away from it."""

    def move(p: Point) -> Point:
        if p[axis] <= at:
            return p
        return (p[0] + by, p[1]) if axis == 0 else (p[0], p[1] + by)

    return reshaped(piece, move)


def sleeve_stretched(chance: Chance) -> Mutation | None:
    _, pattern, story = design("sliding-box")
    sleeve, drawer = pattern.piece("sleeve"), pattern.piece("drawer")
    panels = [p for p in sleeve.panels if p.kind == "panel"]
    which = chance.randrange(2)
    at = (panels[which].bounds[1] + panels[which].bounds[3]) / 2
    sleeve = _stretch(sleeve, 1, at, chance.uniform(-1.0, 1.6))
    tall, deep = (sleeve.panel(p.name).height_mm for p in panels[:2])
    high = drawer.panel("base").height_mm + 2 * 0.4
    thick = max(p.height_mm for p in drawer.panels if p.name == "front wall") + 0.4
    plays = (tall - high, deep - 0.4 - thick)
    spare = min(*(p - 0.5 for p in plays), *(2 - p for p in plays))
    return Mutation(with_piece(pattern, sleeve), story, spare < 0, abs(spare) > 1e-6)


def closes_otherwise(chance: Chance) -> Mutation | None:
    _, pattern, story = design("sliding-box")
    drawer = pattern.piece("drawer")
    drawer = _stretch(drawer, chance.randrange(2), 60.0, chance.uniform(-0.6, 0.6))
    claim = Claim(
        "closes to", Target("piece", "drawer"), None, None, None, (124.8, 84.8), drawer.span
    )
    base = drawer.panel("base")
    off = max(abs(base.width_mm + 0.8 - 124.8), abs(base.height_mm + 0.8 - 84.8))
    changed = replace(with_piece(pattern, drawer), claims=(claim,))
    allowed = practice("size_tolerance_mm")
    return Mutation(changed, story, off > allowed, abs(off - allowed) > 1e-6)


def corner_moved(chance: Chance) -> Mutation | None:
    _, pattern, story = design(chance.choice(("sliding-box", "envelope")))
    piece = chance.choice([p for p in pattern.pieces if p.name != "sleeve mat"])
    ring = [s.start for s in piece.outline.outer.segments if isinstance(s, Line)]
    i = chance.randrange(len(ring))
    x0, y0, x1, y1 = piece.bounds
    ring[i] = (chance.uniform(x0, x1), chance.uniform(y0, y1))
    changed = replace(piece, outline=Region(polygon(ring)), scores=())
    return Mutation(
        with_piece(pattern, changed), story, crosses_itself([*ring, ring[0]]), sure=True
    )


def _some_score(chance: Chance) -> tuple[Pattern, Story, Piece, Score]:
    _, pattern, story = design(chance.choice(("sliding-box", "envelope")))
    piece = chance.choice([p for p in pattern.pieces if p.scores])
    return pattern, story, piece, chance.choice(piece.scores)


def _lengthened(score: Score, by: float) -> Score:
    """Its end moved along itself; less than 0 shortens it."""
    a, b = score.path.start, score.path.end
    length = score.path.length_mm
    end = (b[0] + by * (b[0] - a[0]) / length, b[1] + by * (b[1] - a[1]) / length)
    return replace(score, path=Path((Line(a, end),), closed=False))


def _with_score(piece: Piece, old: Score, new: Score) -> Piece:
    return replace(piece, scores=tuple(new if s is old else s for s in piece.scores))


def _rings(piece: Piece) -> list[list[Point]]:
    return [walk(r) for r in (piece.outline.outer, *piece.outline.holes)]


def score_short(chance: Chance) -> Mutation | None:
    pattern, story, piece, score = _some_score(chance)
    new = _lengthened(score, -chance.uniform(0, 0.12))
    others = [walk(s.path) for s in piece.scores if s is not score]
    short = min(to_line(new.path.end, line) for line in [*_rings(piece), *others])
    fails, sure = limit(-short, -practice("score_end_tolerance_mm"), 0.003)
    changed = _with_score(piece, score, new)
    return Mutation(with_piece(pattern, changed), story, fails, sure)


def score_off(chance: Chance) -> Mutation | None:
    """Off the paper by more than two hundredths, for more than two hundredths."""
    pattern, story, piece, score = _some_score(chance)
    new = _lengthened(score, chance.uniform(0, 0.1))
    rings = _rings(piece)
    end = new.path.end
    out = 0.0 if on_paper(end, rings) else min(to_line(end, r) for r in rings)
    fails, sure = limit(-out, -0.04, 0.005)
    return Mutation(with_piece(pattern, _with_score(piece, score, new)), story, fails, sure)


def _some_zone(chance: Chance) -> tuple[Pattern, Story, Piece, int]:
    _, pattern, story = design(chance.choice(("sliding-box", "envelope")))
    piece = chance.choice([p for p in pattern.pieces if p.glue_zones])
    return pattern, story, piece, chance.randrange(len(piece.glue_zones))


def _with_zone(piece: Piece, number: int, ring: list[Point]) -> Piece:
    zones = list(piece.glue_zones)
    zones[number] = replace(zones[number], region=Region(polygon(ring)))
    return replace(piece, glue_zones=(zones[number],), scores=piece.scores)


def glue_shifted(chance: Chance) -> Mutation | None:
    pattern, story, piece, number = _some_zone(chance)
    zone = piece.glue_zones[number]
    ring = walk(zone.region.outer)[:-1]
    middle = (sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring))
    # A small patch in the zone, moved outwards so that it may cross the panel's edge.
    corner = chance.choice(ring)
    half = 1.5
    share = chance.uniform(0.5, 1.1)
    at = tuple(m + share * (c - m) for m, c in zip(middle, corner, strict=True))
    patch = [
        (at[0] + dx * half, at[1] + dy * half) for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    homes = [walk(f.region.outer) for f in piece.facets if zone.panel in (None, f.panel)]
    corners = [min(0.0 if on_paper(p, [h]) else to_line(p, h) for h in homes) for p in patch]
    out = area_outside([*patch, patch[0]], homes, 0.02)
    if 0 < out < 0.4 or (out == 0 and max(corners) > 0.02):
        return None  # the squares of the measure are too coarse for so thin a strip
    return Mutation(
        with_piece(pattern, _with_zone(piece, number, patch)), story, out > 0.05, sure=True
    )


def glue_narrow(chance: Chance) -> Mutation | None:
    pattern, story, piece, number = _some_zone(chance)
    wide, other, long = chance.uniform(2, 6), chance.uniform(2, 6), chance.uniform(8, 40)
    ring = [(0.0, 0.0), (long, 0.0), (long - chance.uniform(0, 3), other), (0.0, wide)]
    width = least_width(ring)
    fails, sure = limit(width, practice("glue_width_least_mm"), 0.02)
    return Mutation(with_piece(pattern, _with_zone(piece, number, ring)), story, fails, sure)


def mat_uneven(chance: Chance) -> Mutation | None:
    _, pattern, story = design("sliding-box")
    mat = pattern.piece("sleeve mat")
    by = chance.uniform(-0.25, 0.25)
    mat = reshaped(mat, lambda p: (p[0], p[1] - by) if p[1] < 2.0 else p)
    # One side, and with it nothing of the notches: all borders are 4, this one 4 - by.
    allowed = practice("border_tolerance_mm")
    return Mutation(
        with_piece(pattern, mat), story, abs(by) > allowed, abs(abs(by) - allowed) > 0.01
    )


def _windowed(chance: Chance, low: float, high: float) -> tuple[Pattern, Story, Piece, float]:
    """The drawer with a window so far from its fold-free edge."""
    _, pattern, story = design("sliding-box")
    drawer = pattern.piece("drawer")
    left = drawer.panel("left wall").bounds
    gap = chance.uniform(low, high)
    y = chance.uniform(left[1] + 8, left[3] - 30)
    x = left[0] + gap
    hole = polygon([(x, y), (x, y + 20), (x + 8, y + 20), (x + 8, y)])
    piece = replace(drawer, outline=replace(drawer.outline, holes=(hole,)))
    return pattern, story, piece, apart(walk(hole), walk(drawer.outline.outer))


def narrow_bridge(chance: Chance) -> Mutation | None:
    pattern, story, piece, gap = _windowed(chance, 0.6, 3.6)
    fails, sure = limit(gap, practice("bridge_width_least_mm"))
    return Mutation(with_piece(pattern, piece), story, fails, sure)


def thin_strip(chance: Chance) -> Mutation | None:
    pattern, story, piece, gap = _windowed(chance, 0.2, 0.8)
    fails, sure = limit(gap, practice("sliver_width_mm"), 0.03)
    return Mutation(with_piece(pattern, piece), story, fails, sure)


def _slit(piece: Piece, *points: Point) -> Opening:
    lines = tuple(Line(a, b) for a, b in sides(points))
    return Opening("slit 1", "slit", "line", Path(lines, closed=False), None, 10.0, 0.0, piece.span)


def _beside_score(chance: Chance, low: float, high: float) -> tuple[Pattern, Story, Piece, Path]:
    """A line beside the fold of the drawer's left wall, on the base."""
    _, pattern, story = design("sliding-box")
    drawer = pattern.piece("drawer")
    base = drawer.panel("base").bounds
    x = base[0] + chance.uniform(low, high)
    y = chance.uniform(base[1] + 5, base[3] - 40)
    return pattern, story, drawer, Path((Line((x, y), (x, y + 30)),), closed=False)


def slit_near_score(chance: Chance) -> Mutation | None:
    pattern, story, piece, line = _beside_score(chance, 0.4, 2.8)
    slit = _slit(piece, line.start, line.end)
    gap = min(apart([line.start, line.end], walk(s.path)) for s in piece.scores)
    fails, sure = limit(gap, practice("cut_to_score_least_mm"))
    changed = replace(piece, openings=(slit,))
    return Mutation(with_piece(pattern, changed), story, fails, sure)


def lines_near(chance: Chance) -> Mutation | None:
    pattern, story, piece, line = _beside_score(chance, 0.04, 0.4)
    slit = _slit(piece, line.start, line.end)
    gap = min(apart([line.start, line.end], walk(s.path)) for s in piece.scores)
    fails, sure = limit(gap, practice("near_line_mm"), 0.003)
    changed = replace(piece, openings=(slit,))
    return Mutation(with_piece(pattern, changed), story, fails, sure)


def scores_near(chance: Chance) -> Mutation | None:
    pattern, story, piece, line = _beside_score(chance, 0.5, 3.6)
    new = replace(piece.scores[0], name="another", path=line, fold=None)
    gap = min(apart([line.start, line.end], walk(s.path)) for s in piece.scores)
    least = max(practice("score_spacing_least_mm"), practice("score_spacing_least_calipers") * 0.4)
    fails, sure = limit(gap, least)
    changed = replace(piece, scores=(*piece.scores, new))
    return Mutation(with_piece(pattern, changed), story, fails, sure)


def slits_close(chance: Chance) -> Mutation | None:
    """Three slits round a triangle; the last ends so far before, or after, the first."""
    _, pattern, story = design("sliding-box")
    drawer = pattern.piece("drawer")
    x, y = 60 + chance.uniform(-20, 20), 60 + chance.uniform(-15, 15)
    gap = chance.uniform(-1, 1)
    points = [(x, y), (x + 20, y), (x + 10, y + 15), (x + gap * 0.5547, y + gap * 0.83205)]
    changed = replace(drawer, openings=(_slit(drawer, *points),))
    return Mutation(with_piece(pattern, changed), story, gap < 0, abs(gap) > 0.05)


def tab_shallow(chance: Chance) -> Mutation | None:
    _, pattern, story = design("sliding-box")
    drawer = pattern.piece("drawer")
    tab = chance.choice([p for p in drawer.panels if p.kind == "tab"])
    fold = next(f for f in drawer.folds if f.child == tab.name)
    depth = chance.uniform(4, 12)

    def far(p: Point) -> float:
        (ax, ay), (bx, by) = fold.start, fold.end
        dx, dy = (bx - ax) / fold_long, (by - ay) / fold_long
        return abs((p[0] - ax) * dy - (p[1] - ay) * dx)

    fold_long = ((fold.end[0] - fold.start[0]) ** 2 + (fold.end[1] - fold.start[1]) ** 2) ** 0.5
    whole = max(map(far, tab.ring))
    share = depth / whole
    ax, ay = fold.start
    nx, ny = (fold.end[1] - ay) / fold_long, -(fold.end[0] - ax) / fold_long

    def nearer(p: Point) -> Point:
        away = (p[0] - ax) * nx + (p[1] - ay) * ny
        return (p[0] - (1 - share) * away * nx, p[1] - (1 - share) * away * ny)

    ring = tuple(nearer(p) for p in tab.ring)
    panels = tuple(replace(p, ring=ring) if p is tab else p for p in drawer.panels)
    fails, sure = limit(max(map(far, ring)), practice("tab_depth_least_mm"))
    return Mutation(with_piece(pattern, replace(drawer, panels=panels)), story, fails, sure)


CHECKS: Named = {
    "goes into": (goes_into, ("does-not-go-in", "too-loose"), stack_in_drawer),
    "slides on": (slides_on, ("does-not-slide-on", "too-loose"), sleeve_stretched),
    "closes to": (closed_size, ("closed-size-differs",), closes_otherwise),
    "reaches": (reaches, ("does-not-reach",), flap_reaches),
    "clears": (clears, ("does-not-clear",), notches_clear),
    "stays inside": (covers, ("sticks-out",), mat_inside),
    "outline": (outline, ("outline-not-simple",), corner_moved),
    "score ends": (scores, ("score-ends-inside",), score_short),
    "score off": (scores, ("score-off-paper",), score_off),
    "glue leaves": (glue_zones, ("glue-leaves-panel",), glue_shifted),
    "glue narrow": (glue_zones, ("glue-too-narrow",), glue_narrow),
    "border": (borders, ("border-uneven",), mat_uneven),
    "bridge": (bridges, ("bridge-too-narrow",), narrow_bridge),
    "sliver": (slivers, ("sliver",), thin_strip),
    "cut near score": (cut_near_score, ("cut-too-near-score",), slit_near_score),
    "near lines": (near_lines, ("lines-almost-same",), lines_near),
    "score spacing": (score_spacing, ("scores-too-near",), scores_near),
    "falls out": (falls_out, ("part-falls-out",), slits_close),
    "tab": (tabs, ("tab-too-narrow",), tab_shallow),
    **LAID,
    **MADE,
    **MOVED,
    **TURNED,
}


@dataclass
class Count:
    """Of one check: mutations made, truly failing, passed though failing, failed though not."""

    made: int = 0
    failing: int = 0
    escapes: int = 0
    false_alarms: int = 0


def run(name: str, count: int, seed: int) -> Count:
    rule, codes, mutate = CHECKS[name]
    chance = Chance(f"{name} {seed}")
    found = Count()
    for mutation in _sure(mutate, chance):
        told = any(code in codes for code in _found(rule, mutation))
        found.made += 1
        found.failing += mutation.fails
        found.escapes += mutation.fails and not told
        found.false_alarms += told and not mutation.fails
        if found.made == count:
            break
    return found


def _found(rule: Any, mutation: Mutation) -> tuple[str, ...]:
    if mutation.found is not None:
        return mutation.found
    context = Context(mutation.pattern, mutation.story, workshop().trade)
    return tuple(r.code for r in rule.check(context) if r.result != "pass")


def _sure(mutate: Mutate, chance: Chance) -> Iterator[Mutation]:
    while True:
        mutation = mutate(chance)
        if mutation is not None and mutation.sure:
            yield mutation


def main(total: int, seed: int, names: list[str]) -> int:
    names = names or list(CHECKS)
    each = -(-total // len(names))
    counts = {name: run(name, each, seed) for name in names}
    out = sys.stdout
    out.write(f"{'check':<18} {'made':>5} {'failing':>8} {'escapes':>8} {'false alarms':>13}\n")
    for name, c in counts.items():
        out.write(f"{name:<18} {c.made:>5} {c.failing:>8} {c.escapes:>8} {c.false_alarms:>13}\n")
    made = sum(c.made for c in counts.values())
    escapes = sum(c.escapes for c in counts.values())
    alarms = sum(c.false_alarms for c in counts.values())
    failing = sum(c.failing for c in counts.values())
    out.write(
        f"{len(names)} checks, {made} mutations, {failing / made:.0%} truly failing,"
        f" {escapes} escapes, {alarms} false alarms\n"
    )
    return 1 if escapes or alarms else 0


if __name__ == "__main__":
    assert File.cwd() == ROOT
    told = sys.argv[1:]
    numbers = [int(word) for word in told if word.isdigit()]
    total, seed = [*numbers, *(2000, 1)[len(numbers) :]]
    sys.exit(main(total, seed, [word for word in told if not word.isdigit()]))
