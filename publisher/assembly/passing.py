"""Paper that passes through paper: facets that cross deeper than their calipers explain."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, field

from publisher.assembly.change import finding
from publisher.assembly.kit import Kit, landed
from publisher.assembly.layering import Leaf, Papers
from publisher.assembly.types import Body, FacetId, State
from publisher.diagnostics import Diagnostic
from publisher.folding.crossing import Sheet, crossing_depth, sheet
from publisher.model.types import Action
from publisher.units import both

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

TOLERANCE_MM = 0.05
"""Beyond the calipers of both papers; as for glued parts. Our own choice."""

_TOUCH_MM = 1e-6
_MANY = 8
"""So many facets are quicker compared all at once."""


class Crossing(Struct, frozen=True):
    """Two facets that pass through each other, how deep, and how much their calipers explain
    (mm)."""

    first: FacetId
    second: FacetId
    depth_mm: float
    allowed_mm: float


def crossings(pairs: Iterable[tuple[Leaf, Leaf]]) -> Iterator[Crossing]:
    """Those of the pairs that cross too deep."""
    sheets: dict[FacetId, Sheet] = {}

    def of(paper: Leaf) -> Sheet:
        if paper.id not in sheets:
            rings = [landed(paper.pose, ring) for ring in (paper.shape.outer, *paper.shape.holes)]
            sheets[paper.id] = sheet(rings, paper.pose.normal)
        return sheets[paper.id]

    for a, b in pairs:
        allowed = a.caliper_mm + b.caliper_mm + TOLERANCE_MM
        depth = crossing_depth(of(a), of(b))
        if depth > allowed:
            yield Crossing(a.id, b.id, depth, allowed)


def near(a: Leaf, b: Leaf) -> bool:
    """Whether the boxes round two facets share room."""
    (ax, ay, az), (bx, by, bz) = a.least, b.least
    (au, av, aw), (bu, bv, bw) = a.greatest, b.greatest
    return (
        ax < bu - _TOUCH_MM
        and bx < au - _TOUCH_MM
        and ay < bv - _TOUCH_MM
        and by < av - _TOUCH_MM
        and az < bw - _TOUCH_MM
        and bz < aw - _TOUCH_MM
    )


class Passing(Struct):
    """Looks at what came to lie anew in each action; tells each pair of bodies once."""

    kit: Kit
    papers: Papers
    told: set[tuple[str, str]] = field(default_factory=set)

    def found(self, before: State, after: State, action: Action) -> list[Diagnostic]:
        worst: dict[tuple[str, str], Crossing] = {}
        for one in crossings(self._anew(before, after)):
            pair = (one.first[0], one.second[0])
            if pair not in worst or one.depth_mm > worst[pair].depth_mm:
                worst[pair] = one
        said = [self._say(after, one, action) for p, one in worst.items() if p not in self.told]
        self.told.update(worst)
        return said

    def _anew(self, before: State, after: State) -> Iterator[tuple[Leaf, Leaf]]:
        """Pairs of facets near each other of which one moved against the other."""
        old = {body.id: body for body in before.bodies}
        placed = [b for b in after.bodies if b.placed]
        moved = {b.id for b in placed if old[b.id] is not b}
        if not moved:
            return
        leaves = {b.id: self.papers.leaves([b]) for b in placed}
        # Papers that cross in slots, or where one is tucked under the other, are let through.
        tucked = {frozenset((b.first, b.second)) for b in after.bonds if b.by == "tuck"}
        for i, one in enumerate(placed):
            if one.id in moved and one.angles != old[one.id].angles:
                yield from near_within(leaves[one.id])
            for other in placed[i + 1 :]:
                if one.id in moved or other.id in moved:
                    for a, b in _between(leaves[one.id], leaves[other.id]):
                        if not tucked or frozenset((a.id, b.id)) not in tucked:
                            yield a, b

    def _say(self, state: State, one: Crossing, action: Action) -> Diagnostic:
        depth = both(one.depth_mm, kind="thin", first=self.kit.pattern.meta.first_unit)
        names = [self._named(state.body(f[0]), f[1]) for f in (one.first, one.second)]
        numbers = (("depth_mm", one.depth_mm), ("allowed_mm", one.allowed_mm))
        text = f"{names[0]} would go {depth} through {names[1]}"
        return finding("papers-collide", action, text, None, numbers)

    def _named(self, body: Body, facet: str) -> str:
        piece = self.kit.pieces[body.piece]
        panel = piece.facet(facet).panel
        copy = f" {body.copy}" if piece.copies > 1 else ""
        whole = f"{piece.name}{copy}"
        return whole if panel == piece.name else f"{panel} of {whole}"


def near_within(papers: Sequence[Leaf]) -> Iterator[tuple[Leaf, Leaf]]:
    """Each pair of these that are near each other, in their order."""
    if len(papers) < _MANY:
        yield from ((a, b) for a, b in itertools.combinations(papers, 2) if near(a, b))
        return
    import numpy as np

    for i, j in np.argwhere(np.triu(_near_each(papers, papers), 1)).tolist():
        yield papers[i], papers[j]


def _between(ours: Sequence[Leaf], theirs: Sequence[Leaf]) -> Iterator[tuple[Leaf, Leaf]]:
    if len(ours) * len(theirs) < _MANY * _MANY:
        yield from ((a, b) for a in ours for b in theirs if near(a, b))
        return
    import numpy as np

    for i, j in np.argwhere(_near_each(ours, theirs)).tolist():
        yield ours[i], theirs[j]


def _near_each(ours: Sequence[Leaf], theirs: Sequence[Leaf]) -> NDArray[np.bool_]:
    """``near`` of each of ours (rows) and each of theirs (columns)."""
    import numpy as np

    least, most = np.array([a.least for a in ours]), np.array([a.greatest for a in ours])
    low, high = np.array([b.least for b in theirs]), np.array([b.greatest for b in theirs])
    found = np.ones((len(ours), len(theirs)), dtype=np.bool_)
    for axis in range(3):
        found &= least[:, None, axis] < high[:, axis] - _TOUCH_MM
        found &= low[:, axis] < most[:, None, axis] - _TOUCH_MM
    return found
