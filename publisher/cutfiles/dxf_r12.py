"""A sheet as DXF R12 (AC1009) for old readers: nothing but lines and arcs, in millimetres.

R12 knows no units, groups or light polylines: a unit is a millimetre, the layer says what a
line is for, and the entities stand in the order of work. An arc runs counter-clockwise, y up.
"""

from __future__ import annotations

from collections.abc import Iterator

from publisher.cutfiles.dxf import BLACK, DECIMALS
from publisher.cutfiles.lines import SheetLines
from publisher.cutfiles.roles import Role, dash_mm, named
from publisher.geometry.path import Arc, Segment
from publisher.units import number

Tag = tuple[int, str]


def to_dxf_r12(lines: SheetLines) -> bytes:
    """The sheet as a DXF file in ASCII."""
    tags = (*_header(lines), *_tables(lines), *_entities(lines), (0, "EOF"))
    return "".join(f"{code:>3}\n{value}\n" for code, value in tags).encode("ascii")


def _section(name: str) -> Iterator[Tag]:
    yield from ((0, "SECTION"), (2, name))


def _header(lines: SheetLines) -> Iterator[Tag]:
    low, high = ("0.0", "0.0"), (_number(lines.width_mm), _number(lines.height_mm))
    yield from _section("HEADER")
    yield from ((9, "$ACADVER"), (1, "AC1009"))
    for name, (x, y) in (
        ("$EXTMIN", low),
        ("$EXTMAX", high),
        ("$LIMMIN", low),
        ("$LIMMAX", high),
    ):
        yield from ((9, name), (10, x), (20, y))
        if name.startswith("$EXT"):
            yield 30, "0.0"
    # Decimal units, to four places.
    yield from ((9, "$LUNITS"), (70, "2"), (9, "$LUPREC"), (70, "4"), (0, "ENDSEC"))


def _tables(lines: SheetLines) -> Iterator[Tag]:
    roles = named(lines.used)
    dashed = [role for role in roles if dash_mm(role, lines.score_as)]
    yield from _section("TABLES")
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, str(1 + len(dashed))))
    yield from _line_type("CONTINUOUS", "whole", ())
    for role in dashed:
        yield from _line_type(role.layer, role.title, dash_mm(role, lines.score_as))
    yield from ((0, "ENDTAB"), (0, "TABLE"), (2, "LAYER"), (70, str(1 + len(roles))))
    yield from _layer("0", "CONTINUOUS")
    for role in roles:
        yield from _layer(role.layer, role.layer if role in dashed else "CONTINUOUS")
    yield from ((0, "ENDTAB"), (0, "ENDSEC"))


def _line_type(name: str, title: str, dashes: tuple[float, ...]) -> Iterator[Tag]:
    yield from ((0, "LTYPE"), (2, name), (70, "0"), (3, title), (72, "65"))
    yield from ((73, str(len(dashes))), (40, _number(sum(dashes))))
    for index, mm in enumerate(dashes):
        yield 49, _number(mm if index % 2 == 0 else -mm)


def _layer(name: str, line_type: str) -> Iterator[Tag]:
    yield from ((0, "LAYER"), (2, name), (70, "0"), (62, str(BLACK)), (6, line_type))


def _entities(lines: SheetLines) -> Iterator[Tag]:
    yield from _section("ENTITIES")
    for run in lines.runs:
        for path in run.paths:
            for segment in path.segments:
                yield from _entity(segment, run.role, lines.height_mm)
    yield 0, "ENDSEC"


def _entity(segment: Segment, role: Role, height_mm: float) -> Iterator[Tag]:
    def point(at: tuple[float, float], x: int, y: int) -> Iterator[Tag]:
        yield from ((x, _number(at[0])), (y, _number(height_mm - at[1])))

    if not isinstance(segment, Arc):
        yield from ((0, "LINE"), (8, role.layer))
        yield from point(segment.start, 10, 20)
        yield from point(segment.end, 11, 21)
        return
    # With y turned over an angle changes its sign; clockwise as seen runs from its end.
    first, last = -segment.start_deg, -(segment.start_deg + segment.sweep_deg)
    if segment.clockwise:
        first, last = last, first
    yield from ((0, "ARC"), (8, role.layer))
    yield from point(segment.centre, 10, 20)
    yield 40, _number(segment.radius_mm)
    yield from ((50, number(first % 360.0, 8)), (51, number(last % 360.0, 8)))


def _number(value: float) -> str:
    text = number(value, DECIMALS)
    return text if "." in text else f"{text}.0"
