"""``mat on panel 1 of sleeve, 4 mm border``: a layer drawn in from a panel, or ``behind`` one.

The mat follows the panel's notches and windows at the same border; with ``plain`` it keeps
the panel's straight edges, for a mat that gets notches of its own. Its corners can be rounded,
bevelled or scooped.
"""

from __future__ import annotations

import math

from publisher.diagnostics import Span
from publisher.geometry.corners import corners_of
from publisher.geometry.measure import path_bounds
from publisher.geometry.offset import offset_region
from publisher.geometry.path import Arc, Path, Point, Region
from publisher.geometry.transform import translated
from publisher.language.ast import Place, Ref
from publisher.model.bench import Bench
from publisher.model.draft import Draft
from publisher.model.findings import refuse
from publisher.model.marked import Corner
from publisher.model.places.parts import find
from publisher.model.places.things import AtOpening, AtPanel, Thing, Whole, kind_of
from publisher.model.shaping.panels import SIDES, panel_of, rectangle
from publisher.model.shaping.paper import panel_region
from publisher.model.statements.corners import with_corner_cut
from publisher.model.statements.cut_corners import read_corner_cut
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases, flat_places
from publisher.model.types import MatOf, Panel, Piece

_EXAMPLE = "mat on panel 1 of sleeve, 4 mm border"


def run(bench: Bench, phrases: Phrases) -> None:
    draft = bench.draft
    if draft.panels:
        raise refuse("two-outlines", f"{draft.name} already has paper", phrases.statement.head_span)
    behind = phrases.prep("behind")
    on = behind or phrases.prep("on")
    if on is None:
        raise phrases.missing("what it lies on", _EXAMPLE)
    place = flat_places(on.places)[0]
    piece, home, thing = _base(bench, place)
    phrase = phrases.labelled("border") or phrases.bare()
    if phrase is None:
        raise phrases.missing("how wide the border is", _EXAMPLE)
    border = bench.not_negative(bench.value(phrase), "border")
    plain = phrases.word("plain") is not None
    region, panel = _region_of(piece, home, thing, plain, place.span)
    by = border if behind is not None else -border
    shaped = offset_region(region, by)
    if len(shaped) != 1:
        raise refuse(
            "border-too-wide",
            "with this border nothing is left of the mat"
            if not shaped
            else "with this border the mat falls into several parts",
            phrase.span,
            numbers=(("border_mm", border),),
        )
    x, y, _, _ = path_bounds(shaped[0].outer)
    draft.paper = translated(shaped[0], -x, -y)
    draft.panels[draft.name] = _mat_panel(draft.name, panel, by, (x, y), draft.paper, phrases.span)
    _cut_corners(bench, phrases, border)
    target = panel.name if panel is not None else ""
    draft.derived = MatOf(piece.name, target, border, behind is not None, (x, y))


def _cut_corners(bench: Bench, phrases: Phrases, border: float) -> None:
    """``rounded corners``: the mat's own corners, by the border where no size is said."""
    draft = bench.draft
    cut = read_corner_cut(bench, phrases, border if border > 0.0 else None)
    if cut is None or draft.paper is None:
        return
    how, size, span = cut
    own = set(corners_of(draft.paper.outer))
    for corner in draft.panels[draft.name].ring:
        at = next((p for p in own if math.dist(p, corner) < 1e-6), None)
        if at is not None:
            draft.paper = with_corner_cut(draft.paper, at, how, size, span, span)
            draft.corners.append(Corner(how, size, at, draft.name, phrases.span))


def _base(bench: Bench, place: Place) -> tuple[Piece, Draft, Thing]:
    """The piece that the mat lies on, and which part of it."""
    if not isinstance(place, Ref):
        raise refuse("wrong-place", "a panel of another piece is wanted here", place.span)
    owner = place.segments[-1]
    if owner.name == bench.draft.name:
        raise refuse("goes-in-a-circle", f"{bench.draft.name} cannot lie on itself", owner.span)
    piece, home = bench.shop.finished(owner.name, owner.span)
    things = find(home, place)
    if any(not _alike(things[0], other) for other in things[1:]):
        raise refuse(
            "not-alike",
            f"these {len(things)} are not all of one size; make a mat for each",
            place.span,
        )
    bench.draft.copies *= len(things)
    return piece, home, things[0]


def _alike(one: Thing, other: Thing) -> bool:
    """Whether one mat serves both: panels or openings of one shape and size."""
    if isinstance(one, AtPanel) and isinstance(other, AtPanel):
        a, b = one.panel.ring, other.panel.ring
    elif isinstance(one, AtOpening) and isinstance(other, AtOpening):
        rings = [t.opening.path.segments for t in (one, other)]
        a, b = (tuple(s.start for s in ring) for ring in rings)
    else:
        return False
    (ax, ay), (bx, by) = a[0], b[0]
    return len(a) == len(b) and all(
        math.dist((p[0] - ax, p[1] - ay), (q[0] - bx, q[1] - by)) < 1e-6
        for p, q in zip(a, b, strict=True)
    )


def _region_of(
    piece: Piece, home: Draft, thing: Thing, plain: bool, span: Span
) -> tuple[Region, Panel | None]:
    if isinstance(thing, Whole) and len(home.panels) == 1:
        thing = AtPanel(next(iter(home.panels.values())))
    if isinstance(thing, AtPanel):
        panel = thing.panel
        if plain:
            return panel_region(panel), panel
        if len(home.panels) == 1:
            return piece.outline, panel
        left = home.left_of_panel(panel.name)
        if len(left) != 1:
            raise refuse("wrong-place", f"{panel.name} is cut into several parts", span)
        return left[0], panel
    if isinstance(thing, Whole):
        return piece.outline, None
    if isinstance(thing, AtOpening) and thing.opening.kind == "window":
        name = thing.opening.panel
        return Region(thing.opening.path), home.panels[name] if name else None
    raise refuse("wrong-place", f"a mat lies on a panel, not on {kind_of(thing)}", span)


def _mat_panel(
    name: str, base: Panel | None, by: float, shift: Point, paper: Region, span: Span
) -> Panel:
    """The mat's own panel: the base panel's corners moved by the border, edges named alike."""
    if base is not None:
        moved = offset_region(panel_region(base), by)
        ring = moved[0].outer if len(moved) == 1 else None
        fits = ring is not None and _same_box(translated(ring, -shift[0], -shift[1]), paper.outer)
        if ring is not None and fits and len(ring.segments) == len(base.edges):
            points = [(s.start[0] - shift[0], s.start[1] - shift[1]) for s in ring.segments]
            if not any(isinstance(s, Arc) for s in ring.segments):
                return panel_of(name, "panel", points, _names_like(base), span)
    x0, y0, x1, y1 = path_bounds(paper.outer)
    return rectangle(name, x0, y0, x1 - x0, y1 - y0, span)


def _names_like(base: Panel) -> list[str]:
    """The base's edge names from its topmost, leftmost corner on, as offset rings start."""
    first = min(range(len(base.ring)), key=lambda i: (round(base.ring[i][1], 6), base.ring[i][0]))
    names = [e.name for e in base.edges]
    return names[first:] + names[:first] if names else list(SIDES)


def _same_box(ring: Path, other: Path) -> bool:
    pairs = zip(path_bounds(ring), path_bounds(other), strict=True)
    return all(abs(a - b) < 1e-6 for a, b in pairs)


KIND = StatementKind("mat", Phase.PAPER, run)
