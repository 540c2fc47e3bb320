"""A card opened and closed all the way: what follows, what meets on the way, what sticks out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly.closed import one_line, sticking_out
from publisher.assembly.kit import Kit, kit_of
from publisher.assembly.layering import leaf
from publisher.assembly.linked import Joined, holding, too_many
from publisher.assembly.passing import Crossing, crossings, near_within
from publisher.assembly.types import Body, FacetId, State
from publisher.folding.follow import Followed, follow
from publisher.folding.linkage import Angles, Key
from publisher.model.types import Fold, Pattern, Piece

STRIDE_DEG = 5.0
"""Between two looks on the way: a pop-up 100 mm long moves 9 mm in it. Our own choice."""

_HALF_DEG = 90.0
_FLAT_DEG = 180.0


class Opening(Struct, frozen=True):
    """How a folded piece opens, from closed (0) as far as asked; angles are between its halves.

    ``from_deg`` to ``to_deg`` is how far all folds close. ``stuck`` are folds that cannot go
    on. ``crossing`` is the deepest place where paper goes through paper, ``at_deg`` where that
    is. ``out`` is what sticks out when closed, with how far (mm); ``inside_mm`` how far in all
    the rest stays (infinite where nothing hangs between the halves).
    """

    from_deg: float
    to_deg: float
    looks: int
    gap_mm: float
    stuck: tuple[Key, ...] = ()
    against: tuple[Key, ...] = ()
    crossing: Crossing | None = None
    at_deg: float = 0.0
    out: tuple[tuple[FacetId, float], ...] = ()
    inside_mm: float = math.inf


def opening(pattern: Pattern, state: State, name: str, to_deg: float) -> Opening | None:
    """The first copy of a piece, with all that holds to it, opened from 0 to ``to_deg``; None
    where it has no fold to open, or more hang together than can be followed."""
    kit = kit_of(pattern)
    piece = kit.pieces[name]
    folds = hinge_folds(piece)
    body = next(b for b in state.bodies if b.piece == name)
    if not folds:
        return None
    if not body.placed:
        state = replace(state, bodies=tuple(_up(b) if b is body else b for b in state.bodies))
    together = holding(kit, state, body.id, _parent(piece, folds[0]))
    driver = {(body.id, f.name): f.closing_deg for f in folds}
    if too_many(together, driver):
        return None
    senses = dict.fromkeys(together.now, 1)
    half = _half_open(together, driver, senses)
    if not half.closes:
        return Opening(_HALF_DEG, _HALF_DEG, 1, half.gap_mm, half.stuck)
    return _swept(kit, together, driver, senses, half, to_deg)


def _up(body: Body) -> Body:
    return replace(body, placed=True)


def _half_open(together: Joined, driver: Angles, senses: Mapping[Key, int]) -> Followed:
    """All folds with the halves upright: from how they stand, else from flat."""
    goal = _at(driver, _HALF_DEG)
    found = follow(together.whole, together.now, goal, senses)
    if not found.closes or found.against:
        linked = together.whole.joined_to(driver).folds()
        flat = {**together.now, **dict.fromkeys(linked, 0.0)}
        other = follow(together.whole, flat, goal, senses)
        if other.closes and (not found.closes or len(other.against) < len(found.against)):
            return other
    return found


def _swept(
    kit: Kit,
    together: Joined,
    driver: Angles,
    senses: Mapping[Key, int],
    half: Followed,
    to_deg: float,
) -> Opening:
    reached: list[float] = []
    gap, looks = half.gap_mm, 1
    stuck: tuple[Key, ...] = ()
    against = half.against
    deepest, at = _deepest(kit, together, half), _HALF_DEG
    closed = None
    for end in (_FLAT_DEG, _FLAT_DEG - to_deg):
        now, far = half, _HALF_DEG
        before = None
        for angle in _strides(_HALF_DEG, end):
            goal = _at(driver, angle)
            found = follow(together.whole, now.angles, goal, senses, before=before)
            looks += 1
            gap = max(gap, found.gap_mm if found.closes else 0.0)
            if not found.closes:
                stuck = stuck or found.stuck
                break
            far = angle
            against = against or found.against
            crossing = _deepest(kit, together, found)
            if crossing and (deepest is None or crossing.depth_mm > deepest.depth_mm):
                deepest, at = crossing, _FLAT_DEG - angle
            before, now = now.angles, found
        else:
            closed = now if end == _FLAT_DEG else closed
        reached.append(_FLAT_DEG - far)
    out: tuple[tuple[FacetId, float], ...] = ()
    inside = math.inf
    if closed is not None:
        bodies = together.pose(kit, closed.angles)
        out, inside = sticking_out(kit, together.state, bodies, list(driver))
    return Opening(reached[0], reached[1], looks, gap, stuck, against, deepest, at, out, inside)


def _at(driver: Angles, folded_deg: float) -> dict[Key, float]:
    """The driving folds, each its share of the way to where it closes."""
    return {key: closing * folded_deg / _FLAT_DEG for key, closing in driver.items()}


def _strides(start: float, end: float) -> Iterator[float]:
    count = math.ceil(abs(end - start) / STRIDE_DEG)
    for i in range(1, count + 1):
        yield start + (end - start) * i / count


def _deepest(kit: Kit, together: Joined, found: Followed) -> Crossing | None:
    papers = [
        leaf(kit, body, name, pose)
        for body in together.pose(kit, found.angles)
        for name, pose in body.facets
    ]
    return max(crossings(near_within(papers)), key=lambda c: round(c.depth_mm, 9), default=None)


# ---------------------------------------------------------------- what opens it


def hinge_folds(piece: Piece) -> tuple[Fold, ...]:
    """The folds about which a piece opens: those between its panels; where it has one panel,
    the scores of the line that is scored longest."""
    tabs = {p.name for p in piece.panels if p.kind == "tab"}
    panels = tuple(f for f in piece.folds if f.parent != f.child and f.child not in tabs)
    if panels:
        return panels
    lines: list[list[Fold]] = []
    for fold in piece.folds:
        line = next((found for found in lines if one_line([found[0], fold])), None)
        if line is None:
            lines.append([fold])
        else:
            line.append(fold)
    return tuple(max(lines, key=_length)) if lines else ()


def _length(folds: Iterable[Fold]) -> float:
    return round(sum(math.dist(f.start, f.end) for f in folds), 6)


def _parent(piece: Piece, fold: Fold) -> str:
    return next((h.parent for h in piece.hinges if h.fold == fold.name), piece.facets[0].name)
