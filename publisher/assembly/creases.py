"""Panels that bend along curves, cut into strips and flaps; see ``creased``."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from publisher.assembly.creased import Bent, bent_panels
from publisher.geometry.booleans import split_region
from publisher.geometry.path import Line, Path, Point
from publisher.geometry.space import Pose
from publisher.model.shaping.facets import hinges_of
from publisher.model.types import Bend, Facet, Fold, Piece

_FAR_MM = 1000.0


def strip_name(part: str, number: int) -> str:
    return f"{part} strip {number}"


def bend_name(part: str, number: int) -> str:
    return f"bend {number} of {part}"


def crease_name(score: str, number: int) -> str:
    return f"{score} part {number}"


def resting_strip(bent: Mapping[str, Bent], poses: Mapping[str, Pose]) -> str:
    """The middle strip of the panel that lies lowest: it stays when all bends."""
    middles = [strip_name(n, len(own.at_mm) // 2) for n, own in bent.items() if own.curves]
    return min(middles, key=lambda name: round(poses[name].shift[2], 6))


def creased(piece: Piece) -> Piece:
    """The piece with its bent panels in strips, and what lies beyond the curves apart."""
    found = bent_panels(piece)
    facets: list[Facet] = []
    for facet in piece.facets:
        own = found.get(facet.panel)
        facets += _strips(facet, own) if own is not None else [facet]
    folds = list(piece.folds)
    for own in found.values():
        folds += _folds(piece, own)
    return replace(piece, folds=tuple(folds), facets=tuple(facets), hinges=hinges_of(folds, facets))


def _strips(facet: Facet, own: Bent) -> list[Facet]:
    cuts = [
        Path((Line(own.point(s, -_FAR_MM), own.point(s, _FAR_MM)),), closed=False)
        for s in own.at_mm[1:-1]
    ]
    for curve in own.curves:
        lines = tuple(Line(a, b) for a, b in itertools.pairwise(own.along(curve)))
        cuts.append(Path(lines, closed=False))
    made: dict[str, list[Facet]] = {}
    for region in split_region(facet.region, cuts):
        ends = [own.seen(segment.start) for segment in region.outer.segments]
        s = (min(p[0] for p in ends) + max(p[0] for p in ends)) / 2.0
        number = sum(s > a for a in own.at_mm[:-1])
        name = strip_name(_part(own, ends, number), number)
        made.setdefault(name, []).append(Facet(name, facet.panel, region))
    strips = []
    for same in made.values():
        strips += [
            f if k == 1 else replace(f, name=f"{f.name} piece {k}") for k, f in enumerate(same, 1)
        ]
    return sorted(strips, key=lambda f: _order(f.name, own.panel))


def _order(name: str, panel: str) -> tuple[bool, str, int, str]:
    part, _, rest = name.rpartition(" strip ")
    return part != panel, part, int(rest.split(" ")[0]), rest


def _part(own: Bent, ends: Sequence[Point], number: int) -> str:
    """Whether a stretch lies beyond one of the curves: which, or the panel."""
    for curve in own.curves:
        (a, b), (s, t) = (
            curve.depths_mm[number - 1 : number + 1],
            own.at_mm[number - 1 : number + 1],
        )
        beyond = []
        for p in ends:
            share = (p[0] - s) / (t - s)
            chord = curve.level_mm - curve.out * (a + (b - a) * share)
            beyond.append(curve.out * (p[1] - chord))
        if max(beyond) > -min(beyond):
            return curve.score
    return own.panel


def _folds(piece: Piece, own: Bent) -> list[Fold]:
    """Bends between the strips, and the chords of each curve. Those of flaps come last: so their
    strips hang on the chords, along which they are never squeezed."""
    bend: Bend = own.curves[0].bend if own.curves else _bend(piece, own.panel)
    back: Bend = "valley" if bend == "mountain" else "mountain"
    found: list[Fold] = []

    def add(name: str, ends: tuple[Point, Point], kind: Bend, smooth: bool, of: str = "") -> None:
        start, end = ends
        found.append(
            Fold(name, start, end, kind, 0.0, own.panel, own.panel, piece.span, smooth, of)
        )

    flaps: list[tuple[str, tuple[Point, Point]]] = []
    for i, s in enumerate(own.at_mm[1:-1], start=1):
        least, greatest = -_FAR_MM, _FAR_MM
        for curve in own.curves:
            place = curve.level_mm - curve.out * curve.depths_mm[i]
            least, greatest = (place, greatest) if curve.out < 0 else (least, place)
            low, high = sorted((place, curve.out * _FAR_MM))
            flaps.append((bend_name(curve.score, i), (own.point(s, low), own.point(s, high))))
        add(bend_name(own.panel, i), (own.point(s, least), own.point(s, greatest)), bend, True)
    for curve in own.curves:
        for i, ends in enumerate(itertools.pairwise(own.along(curve)), start=1):
            # The panel, as the parent, lies on the right hand of the line; y runs down.
            a, b = ends if curve.out < 0 else ends[::-1]
            add(crease_name(curve.score, i), (a, b), curve.bend, False, curve.score)
    for name, line in flaps:
        add(name, line, back, True)
    return found


def _bend(piece: Piece, panel: str) -> Bend:
    return next((f.bend for f in piece.folds if f.child == panel), "mountain")
