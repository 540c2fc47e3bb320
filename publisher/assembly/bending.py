"""At which angles the strips of bent panels stand, and their flaps; see ``creased``."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence

from publisher.assembly.creased import Bent, middle_of
from publisher.assembly.creases import bend_name, crease_name
from publisher.model.types import Fold, Piece


def standing(
    piece: Piece, bent: Mapping[str, Bent], lean_deg: float, pressed: Sequence[str]
) -> dict[str, float]:
    """Every fold's angle when the flaps in ``pressed`` lean so far from the panels' rulings
    (90 is upright) and all panels are bent for that. Raises ValueError where the paper would
    have to stretch."""
    lean = math.tan(math.radians(lean_deg) / 2.0)
    angles: dict[str, float] = {}
    slopes = {p: own.slopes(lean) for p, own in bent.items() if own.curves}
    for name, own in bent.items():
        if not own.curves:
            continue
        a = slopes[name]
        for i in range(1, len(a)):
            turn = math.degrees(a[i - 1] - a[i])
            angles[bend_name(name, i)] = turn
            for curve in own.curves:
                on = curve.score in pressed
                angles[bend_name(curve.score, i)] = turn if on else -turn
        for curve in own.curves:
            for i, slope in enumerate(a, start=1):
                run = curve.depths_mm[i] - curve.depths_mm[i - 1]
                wide = own.at_mm[i] - own.at_mm[i - 1]
                angle = crease_angle(slope, run / wide, lean) if curve.score in pressed else 0.0
                angles[crease_name(curve.score, i)] = angle
    for fold in piece.folds:
        if fold.parent in bent and fold.child in bent and fold.parent != fold.child:
            ends = [_end_slope(piece, bent, slopes, p, fold) for p in (fold.parent, fold.child)]
            angles[fold.name] = 180.0 - math.degrees(sum(ends))
    for name, own in bent.items():
        if own.curves:
            continue
        partner, edge = piece.panel(name).meets or ("", "")
        turns = _turns(slopes[partner])
        if not _from_start(piece, bent[partner], partner, edge):
            turns = turns[::-1]
        for i in range(1, len(own.at_mm) - 1):
            angles[bend_name(name, i)] = turns[i - 1]
    return angles


def _turns(slopes: Sequence[float]) -> list[float]:
    return [math.degrees(a - b) for a, b in itertools.pairwise(slopes)]


def _from_start(piece: Piece, own: Bent, panel: str, edge: str) -> bool:
    middle = own.seen(middle_of(piece.panel(panel)))
    return own.seen(piece.panel(panel).edge(edge).start)[0] < middle[0]


def _end_slope(
    piece: Piece,
    bent: Mapping[str, Bent],
    slopes: Mapping[str, Sequence[float]],
    panel: str,
    fold: Fold,
) -> float:
    """How steep the strip at a fold stands; a tab as that of the panel that it lies in."""
    if panel in slopes:
        own = bent[panel]
        first = own.seen(fold.start)[0] < own.at_mm[-1] / 2.0
        return abs(slopes[panel][0 if first else -1])
    partner, edge = piece.panel(panel).meets or ("", "")
    first = _from_start(piece, bent[partner], partner, edge)
    return abs(slopes[partner][0 if first else -1])


def crease_angle(slope: float, run: float, lean: float) -> float:
    """How far the flap of one strip is folded, degrees. ``slope`` is how steep the strip stands
    (radians), ``run`` how far the curve goes inwards on the paper for each millimetre across.

    The panel's rulings run along x, inwards; y goes across, z is up, where its front looks. The
    plane of the curve is z = lean x. The flap is the mirror image in it of the strip carried on.
    """
    size = math.hypot(1.0, lean)
    mirror = (-lean / size, 0.0, 1.0 / size)
    across = (0.0, math.cos(slope), math.sin(slope))
    normal = (0.0, -math.sin(slope), math.cos(slope))
    # Square to the curve in the paper, outwards.
    wide = math.hypot(1.0, run)
    out = [(-1.0 * (i == 0) + run * across[i]) / wide for i in range(3)]
    along = sum(a * b for a, b in zip(out, mirror, strict=True))
    flap = [a - 2.0 * along * m for a, m in zip(out, mirror, strict=True)]
    sine = -sum(a * b for a, b in zip(flap, normal, strict=True))
    cosine = sum(a * b for a, b in zip(flap, out, strict=True))
    return math.degrees(math.atan2(sine, cosine))
