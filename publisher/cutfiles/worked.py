"""A line as the tool goes over it: as dashes, without what is cut already, with overcut."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.cutfiles.blade import lead, overcut
from publisher.cutfiles.dashes import DashRule, dash_rule, dashed
from publisher.cutfiles.once import CutOnce
from publisher.cutfiles.options import CutOptions
from publisher.cutfiles.roles import CUT, Role, is_dashed
from publisher.geometry.measure import Bounds, is_inside, path_bounds
from publisher.geometry.path import Path, Point, Region
from publisher.trade import Machine, Stock, Trade

Lines = Sequence[tuple[Role, Path]]


class Worked:
    """Asked line by line, in the order of work: what is cut once is not cut again.

    ``copies`` are all lines of all copies on the sheet, each copy's outline the last of its.
    """

    def __init__(
        self,
        copies: Sequence[Lines],
        stock: Stock,
        options: CutOptions,
        machine: Machine | None,
        trade: Trade | None,
    ) -> None:
        self._copies = copies
        self._cut = CutOnce() if options.once else None
        self._machine = machine if options.blade else None
        self._paper = [_paper(lines) for lines in copies] if self._machine else []
        self._rules: dict[str, DashRule] = {}
        if options.score_as == "dashes":
            practice = trade.practice if trade else {}
            for kind in sorted({r.kind for lines in copies for r, _ in lines if is_dashed(r)}):
                self._rules[kind] = dash_rule(kind, stock, practice)

    def paths(self, copy: int, role: Role, path: Path) -> tuple[Path, ...]:
        """What the tool does for one line; nothing where it is done or cannot be dashed."""
        if role.kind in self._rules:
            return self._dashes(copy, role, path)
        if role is not CUT:
            return (path,)
        parts = self._cut.left(path) if self._cut else (path,)
        return tuple(self._for_blade(part) for part in parts)

    def _dashes(self, copy: int, role: Role, path: Path) -> tuple[Path, ...]:
        lines = self._copies[copy]
        edges = [other for r, other in lines if r is CUT]
        others = [other for r, other in lines if is_dashed(r) and not _same(other, path)]
        return dashed(path, self._rules[role.kind], edges, others)

    def _for_blade(self, path: Path) -> Path:
        """A closed cut with what the machine adds at its start."""
        machine = self._machine
        if machine is None or not path.closed:
            return path
        first = lead(path, machine.lead_mm, self._is_waste)
        path = overcut(path, machine.overcut_mm)
        return path if first is None else Path((first, *path.segments), closed=False)

    def _is_waste(self, p: Point) -> bool:
        return not any(
            box[0] <= p[0] <= box[2] and box[1] <= p[1] <= box[3] and is_inside(region, p)
            for box, region in self._paper
        )


def _same(a: Path, b: Path) -> bool:
    """Whether these are one line, perhaps walked the other way or begun elsewhere."""
    ends = {frozenset((s.start, s.end)) for s in a.segments}
    return ends == {frozenset((s.start, s.end)) for s in b.segments}


def _paper(lines: Lines) -> tuple[Bounds, Region]:
    rings = [path for role, path in lines if role is CUT and path.closed]
    return path_bounds(rings[-1]), Region(rings[-1], tuple(rings[:-1]))
