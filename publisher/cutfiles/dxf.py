"""A sheet as DXF R2010 in millimetres: polylines with bulges, one layer for each role.

The frame around the lines is ``r2010.txt``, made once with ezdxf; a sheet's own entities are
written into it here, because to load the whole of ezdxf would take longer than everything
else that a cut file needs. The y axis of DXF points up, so y is taken from the sheet's lower
edge; a copy is a group of its id. The same lines give the same handles.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path as FilePath

from publisher.cutfiles.lines import SheetLines
from publisher.cutfiles.roles import Role, dash_mm, named, width_mm
from publisher.geometry.path import Arc, Path
from publisher.units import number

BLACK = 7
"""The colour number that readers show as black on white or white on black."""
DECIMALS = 6
MODEL_SPACE, LINE_TYPES, LAYERS, GROUPS, PLOT_STYLE = "17", "2", "1", "C", "13"
"""Handles in the frame: whose an entity is, and how a layer is plotted."""
FIRST_HANDLE = 0x100
FRAME = "r2010.txt"
WEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25)
"""Line weights that DXF knows, in hundredths of a millimetre, as far as they are needed."""

Vertex = tuple[float, float, float]
"""x, y, bulge of the segment that starts there."""


def to_dxf(lines: SheetLines) -> bytes:
    """The sheet as a DXF file in UTF-8."""
    return _Writer(lines).document().encode("utf-8")


@cache
def _frame() -> str:
    return FilePath(__file__).with_name(FRAME).read_text(encoding="ascii")


def weight(role: Role, lines: SheetLines) -> int:
    """The line weight of a role's layer."""
    wanted = width_mm(role, lines.score_as) * 100.0
    return min(WEIGHTS, key=lambda w: abs(w - wanted))


class _Writer:
    """Counts handles while it writes."""

    def __init__(self, lines: SheetLines) -> None:
        self.lines = lines
        self.last = FIRST_HANDLE

    def handle(self) -> str:
        self.last += 1
        return f"{self.last:X}"

    def document(self) -> str:
        roles = named(self.lines.used)
        dashed = [role for role in roles if dash_mm(role, self.lines.score_as)]
        entities, names, groups = self._copies()
        parts = {
            "XMIN": "0",
            "YMIN": "0",
            "WIDTH": _number(self.lines.width_mm),
            "HEIGHT": _number(self.lines.height_mm),
            "LTYPES": _text(tag for role in dashed for tag in self._line_type(role)),
            "LAYERS": _text(tag for role in roles for tag in self._layer(role)),
            "ENTITIES": _text(entities),
            "GROUP-NAMES": _text(names),
            "GROUPS": _text(groups),
            # By layer, by block and continuous; layer 0 and the one for dimension points.
            "LTYPE-COUNT": str(3 + len(dashed)),
            "LAYER-COUNT": str(2 + len(roles)),
        }
        parts["HANDSEED"] = self.handle()
        return re.sub(
            r"@([A-Z-]+)@(\n?)",
            lambda mark: parts[mark[1]] + (mark[2] if parts[mark[1]] else ""),
            _frame(),
        )

    def _line_type(self, role: Role) -> Iterator[tuple[int, object]]:
        dashes = dash_mm(role, self.lines.score_as)
        yield from self._record("LTYPE", LINE_TYPES, "AcDbLinetypeTableRecord")
        yield from ((2, role.layer), (70, 0), (3, role.title), (72, 65), (73, len(dashes)))
        yield 40, _number(sum(dashes))
        for index, mm in enumerate(dashes):
            # Drawn stretches are positive, gaps negative.
            yield from ((49, _number(mm if index % 2 == 0 else -mm)), (74, 0))

    def _layer(self, role: Role) -> Iterator[tuple[int, object]]:
        line_type = role.layer if dash_mm(role, self.lines.score_as) else "CONTINUOUS"
        yield from self._record("LAYER", LAYERS, "AcDbLayerTableRecord")
        yield from ((2, role.layer), (70, 0), (62, BLACK), (6, line_type))
        yield from ((370, weight(role, self.lines)), (390, PLOT_STYLE))

    def _record(self, kind: str, owner: str, subclass: str) -> Iterator[tuple[int, object]]:
        yield from ((0, kind), (5, self.handle()), (330, owner))
        yield from ((100, "AcDbSymbolTableRecord"), (100, subclass))

    def _copies(self) -> tuple[list[tuple[int, object]], ...]:
        entities: list[tuple[int, object]] = []
        members: dict[str, list[str]] = {}
        handles: dict[str, str] = {}
        for run in self.lines.runs:
            if run.copy not in handles:
                handles[run.copy] = self.handle()
            for path in run.paths:
                own = self.handle()
                members.setdefault(run.copy, []).append(own)
                entities += [(0, "LWPOLYLINE"), (5, own), (102, "{ACAD_REACTORS")]
                entities += [(330, handles[run.copy]), (102, "}"), (330, MODEL_SPACE)]
                entities += [(100, "AcDbEntity"), (8, run.role.layer), (100, "AcDbPolyline")]
                entities += self._polyline(path)
        names: list[tuple[int, object]] = []
        groups: list[tuple[int, object]] = []
        for copy in sorted(handles):
            names += [(3, copy), (350, handles[copy])]
            groups += [(0, "GROUP"), (5, handles[copy]), (330, GROUPS), (100, "AcDbGroup")]
            groups += [(300, ""), (70, 0), (71, 1), *((340, own) for own in members[copy])]
        return entities, names, groups

    def _polyline(self, path: Path) -> Iterator[tuple[int, object]]:
        found = vertices(path, self.lines.height_mm)
        yield from ((90, len(found)), (70, int(path.closed)))
        for x, y, bulge in found:
            yield from ((10, _number(x)), (20, _number(y)))
            if bulge:
                yield 42, number(bulge, 12)


def vertices(path: Path, height_mm: float) -> list[Vertex]:
    """A bulge is the tangent of a quarter of the angle, positive counter-clockwise."""
    found: list[Vertex] = []
    for segment in path.segments:
        bulge = 0.0
        if isinstance(segment, Arc):
            # Turning y over turns the axis and the sense: clockwise as seen stays clockwise.
            bulge = -math.tan(math.radians(segment.sweep_deg) / 4.0)
        found.append((segment.start[0], height_mm - segment.start[1], bulge))
    if not path.closed:
        found.append((path.end[0], height_mm - path.end[1], 0.0))
    return found


def _number(value: float) -> str:
    text = number(value, DECIMALS)
    return text if "." in text else f"{text}.0"


def _text(tags: Iterable[tuple[int, object]]) -> str:
    """Code and value on a line each, without the last line's end."""
    return "\n".join(f"{code}\n{value}" for code, value in tags)
