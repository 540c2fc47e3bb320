"""Lists whose members share what follows ``of``, each given its own.

``left and right of pocket`` is left of pocket, right of pocket; ``middle of left and right of
panel 1 and panel 3`` is four places.
"""

from __future__ import annotations

from itertools import product
from math import prod

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language import ast
from publisher.language.ast import Expr, Ref, Segment
from publisher.language.names import PROPERTIES, Names

MAX_SHARED = 200
"""How many things a list with shared ``of`` may stand for."""

_POINT, _EDGE, _PART, _THING = range(4)
"""Levels of what a place can be: a point lies on an edge, an edge on a part, a part on a thing."""


class Sharing(Struct):
    """Gives shared ``of`` out, seen from ``piece`` (None: from a step)."""

    names: Names
    piece: str | None
    findings: list[Diagnostic]

    def shared(self, items: tuple[Expr, ...]) -> tuple[Expr, ...]:
        """The members of a list, in reading order, each with its own ``of``."""
        found: list[Expr] = []
        run: list[Ref] = []
        for item in (*items, None):
            if isinstance(item, Ref):
                run.append(item)
                continue
            found.extend(self._distributed(run))
            run = []
            if item is not None:
                found.append(item)
        return tuple(found)

    def _distributed(self, refs: list[Ref]) -> list[Ref]:
        if len(refs) < 2:
            return refs
        # "and" joins what stands on one level: sides with sides, panels with panels. Where
        # the levels differ a new chain begins.
        chains: list[list[list[Segment]]] = []
        states: list[tuple[ast.State, ...]] = []
        for ref in refs:
            first, *rest = ref.segments
            if chains and self._goes_on(chains[-1], first):
                chains[-1][-1].append(first)
            else:
                chains.append([[first]])
                states.append(())
            chains[-1].extend([segment] for segment in rest)
            states[-1] = ref.states or states[-1]
        self._take_owners(chains)
        if sum(prod(len(level) for level in chain) for chain in chains) > MAX_SHARED:
            message = f"this list stands for more than {MAX_SHARED} things"
            self.findings.append(
                Diagnostic("list-too-long", "error", message, (Place(refs[0].span),))
            )
            return refs
        return [
            Ref(segments, state, _covering(segments))
            for chain, state in zip(chains, states, strict=True)
            for segments in product(*chain)
        ]

    def _goes_on(self, chain: list[list[Segment]], segment: Segment) -> bool:
        level = self._level(segment)
        if self._level(chain[-1][-1]) != level:
            return False
        if level < _THING or len(chain) == 1:
            return True
        # "wall of tray and lid": only where the lid has a wall too.
        return all(
            part.kind != "name" or self.names.is_part(part.name, segment.name) for part in chain[-2]
        )

    def _take_owners(self, chains: list[list[list[Segment]]]) -> None:
        """``middle and top of flap``: what is no thing by itself takes the last one's owner."""
        tail = chains[-1][1:]
        for chain in chains[:-1]:
            if len(chain) == 1 and tail and all(self._level(s) < _PART for s in chain[0]):
                chain.extend(tail)

    def _level(self, segment: Segment) -> int:
        if segment.kind in ("middle", "corner"):
            return _POINT
        if segment.kind in ("side", "face") or segment.name in PROPERTIES:
            return _EDGE
        if segment.kind == "name" and (
            segment.name in self.names.sizes or self.names.is_thing(segment.name)
        ):
            own = self.piece is not None and self.names.is_part(segment.name, self.piece)
            return _PART if own and segment.name in self.names.sizes else _THING
        return _PART


def _covering(segments: tuple[Segment, ...]) -> Span:
    """From the first to the last of them; they may have stood apart."""
    first, last = segments[0].span, segments[-1].span
    return replace(first, end=max(first.end, last.end))
