"""Bodies that are folded flat: their layers as they can really lie."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from publisher.assembly.change import finding
from publisher.assembly.kit import Kit, landed
from publisher.assembly.layering import Above, looks_up
from publisher.assembly.types import Body, State
from publisher.diagnostics import Diagnostic
from publisher.folding.flat import FlatFold, Pair, flat_fold
from publisher.folding.orders import Stacking, stacking
from publisher.model.types import Action

_FLAT_DEG = 1e-6
_NEAR_MM = 1e-4
_FEW = 2
"""One fold alone can always lie flat."""


def lying_flat(
    kit: Kit, before: State, after: State, action: Action
) -> tuple[State, list[Diagnostic]]:
    """The state with its layers put right where the motion's order would pass paper through
    paper, and what cannot lie flat at all."""
    findings = []
    for body in after.bodies:
        angles = dict(body.angles)
        flat = [a for a in angles.values() if abs(abs(a) - 180.0) < _FLAT_DEG]
        if len(flat) < _FEW or body.angles == before.body(body.id).angles:
            continue
        if any(_FLAT_DEG < abs(a) < 180.0 - _FLAT_DEG for a in angles.values()):
            continue
        if not _doubtful(kit, body, angles, after.above):
            continue
        fold = flat_fold(kit.pieces[body.piece], angles)
        assert fold is not None
        up = looks_up(dict(body.facets)[fold.names[0]].normal)
        held = _held(fold, body.id, after.above, up)
        if stacking(fold, held).verdict == "found":
            continue
        found = stacking(fold)
        if found.verdict == "found":
            after = _replaced(after, body, fold, found, up)
        else:
            findings.append(_refuted(body, found, action))
    return after, findings


def _doubtful(kit: Kit, body: Body, angles: Mapping[str, float], above: tuple[Above, ...]) -> bool:
    """Whether paper may pass through paper, looked at in haste: with boxes round the facets.
    What is in order here needs no closer look."""
    over = {(a[1], b[1]) for a, b, _ in above if a[0] == b[0] == body.id}
    if not over:
        return False
    piece = kit.pieces[body.piece]
    poses = dict(body.facets)
    into = poses[piece.facets[0].name].inverse()
    boxes = {}
    for name, pose in body.facets:
        points = landed(into.after(pose), kit.shapes[body.piece, name].box)
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        boxes[name] = (min(xs), min(ys), max(xs), max(ys))
    lines = []
    for hinge in piece.hinges:
        ends = landed(into.after(poses[hinge.parent]), (hinge.start, hinge.end))
        line = (ends[0][0], ends[0][1], ends[1][0], ends[1][1])
        lines.append((hinge.parent, hinge.child, abs(angles[hinge.fold]) > 90.0, line))
    sides: dict[str, dict[str, int]] = {}
    for under, upper in sorted(over):
        sides.setdefault(under, {})[upper] = 1
    for under, upper in sorted(over):
        sides.setdefault(upper, {}).setdefault(under, -1)
    return any(_meets(sides, boxes, lines, one) for one in lines)


_Line = tuple[str, str, bool, tuple[float, float, float, float]]


def _meets(
    sides: Mapping[str, Mapping[str, int]],
    boxes: Mapping[str, tuple[float, float, float, float]],
    lines: Sequence[_Line],
    one: _Line,
) -> bool:
    """Whether anything lies between the papers on both sides of a fold where it may not, or on
    both sides of a line that is not folded. ``sides`` has 1 for what lies over a facet, -1 for
    what lies under it."""
    a, b, folded, (x, y, u, v) = one
    from_a, from_b = sides.get(a, {}), sides.get(b, {})

    def wrong(k: str) -> bool:
        return from_a.get(k, 0) * from_b.get(k, 0) < 0

    left, right, top, bottom = min(x, u), max(x, u), min(y, v), max(y, v)
    for k, side in from_a.items():
        if k in (a, b) or side * from_b.get(k, 0) >= 0:
            continue
        x0, y0, x1, y1 = boxes[k]
        crosses = left < x1 - _NEAR_MM and right > x0 + _NEAR_MM
        if crosses and top < y1 - _NEAR_MM and bottom > y0 + _NEAR_MM:
            return True
    if not folded:
        return False
    for c, d, also, other in lines:
        if also and not {c, d} & {a, b} and _in_line(one[3], other) and wrong(c) != wrong(d):
            return True
    return False


def _in_line(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    x, y, u, v = one
    size = math.hypot(u - x, v - y)
    off = (abs((u - x) * (other[i + 1] - y) - (v - y) * (other[i] - x)) for i in (0, 2))
    return all(o < _NEAR_MM * size for o in off)


def _held(fold: FlatFold, body: str, above: tuple[Above, ...], up: int) -> dict[Pair, int]:
    """The order of the body's facets as it stands, as seen from the first facet's front."""
    number = {name: i for i, name in enumerate(fold.names)}
    held = {}
    for lower, upper, _ in above:
        if lower[0] == upper[0] == body:
            low, high = number[lower[1]], number[upper[1]]
            pair, sign = ((low, high), 1) if low < high else ((high, low), -1)
            if pair in fold.pairs:
                held[pair] = sign * up
    return held


def _replaced(state: State, body: Body, fold: FlatFold, found: Stacking, up: int) -> State:
    facets = dict(body.facets)
    others = [a for a in state.above if not a[0][0] == a[1][0] == body.id]
    pairs = {frozenset((a[0][1], a[1][1])) for a in state.above if a[0][0] == a[1][0] == body.id}
    own = []
    for low, high in found.order:
        if frozenset((low, high)) in pairs:
            under, over = (low, high) if up > 0 else (high, low)
            own.append(((body.id, under), (body.id, over), looks_up(facets[under].normal)))
    return replace(state, above=tuple(sorted((*others, *own))))


def _refuted(body: Body, found: Stacking, action: Action) -> Diagnostic:
    names = " and ".join(found.between)
    if found.verdict == "undecided":
        text = f"the layers of {body.piece} are too many to say how they lie"
        return finding("layers-undecided", action, text)
    text = f"{body.piece} cannot lie flat so: paper would go through paper at {names}"
    return finding("layers-cannot-lie", action, text)
