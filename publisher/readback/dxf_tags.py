"""A DXF file as what it is made of: pairs of a group code and a value, in sections.

Knows nothing of how these files are written. What must hold in any DXF is held here: sections
and tables that close, handles used once and under the seed, pointers that lead somewhere.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

Tag = tuple[int, str]
# Codes of soft and hard owners and pointers (DXF reference, group code value types).
_POINTERS = (*range(320, 330), *range(330, 370), *range(390, 400))


class Record(Struct, frozen=True):
    """What begins with a group code 0: a table entry, an entity or an object."""

    kind: str
    tags: tuple[Tag, ...]

    def first(self, code: int, default: str = "") -> str:
        return next((value for c, value in self.tags if c == code), default)

    def number(self, code: int, default: float = 0.0) -> float:
        text = self.first(code)
        return float(text) if text else default

    def every(self, code: int) -> tuple[str, ...]:
        return tuple(value for c, value in self.tags if c == code)


class DxfFile(Struct, frozen=True):
    """Header variables with all their values, and the records of each section."""

    header: dict[str, tuple[Tag, ...]]
    sections: dict[str, tuple[Record, ...]]

    def variable(self, name: str) -> tuple[float, ...]:
        return tuple(float(value) for _, value in self.header.get(name, ()))

    def records(self, section: str, kind: str) -> tuple[Record, ...]:
        return tuple(r for r in self.sections.get(section, ()) if r.kind == kind)


def read_tags(data: bytes) -> DxfFile:
    """Raises ValueError where the bytes are no whole DXF."""
    records = list(_records(_tags(data.decode("utf-8"))))
    if not records or records[-1].kind != "EOF":
        raise ValueError("the file does not end with EOF")
    header: dict[str, tuple[Tag, ...]] = {}
    sections: dict[str, tuple[Record, ...]] = {}
    name = ""
    inside: list[Record] = []
    for record in records[:-1]:
        if record.kind == "SECTION":
            if name:
                raise ValueError(f"section {name} does not end")
            name = record.first(2)
            if name == "HEADER":
                header = _variables(record.tags[1:])
        elif record.kind == "ENDSEC":
            sections[name], name, inside = tuple(inside), "", []
        elif not name:
            raise ValueError(f"a {record.kind} stands outside of every section")
        else:
            inside.append(record)
    if name:
        raise ValueError(f"section {name} does not end")
    return DxfFile(header, sections)


def _tags(text: str) -> Iterator[Tag]:
    lines = text.splitlines()
    if len(lines) % 2:
        raise ValueError("a group code has no value")
    for code, value in zip(lines[::2], lines[1::2], strict=True):
        if int(code) != 999:  # a comment
            yield int(code), value


def _records(tags: Iterator[Tag]) -> Iterator[Record]:
    kind = ""
    own: list[Tag] = []
    for code, value in tags:
        if code == 0:
            if kind:
                yield Record(kind, tuple(own))
            kind, own = value, []
        elif not kind:
            raise ValueError("the file does not begin with a group code 0")
        else:
            own.append((code, value))
    if kind:
        yield Record(kind, tuple(own))


def _variables(tags: tuple[Tag, ...]) -> dict[str, tuple[Tag, ...]]:
    found: dict[str, list[Tag]] = {}
    name = ""
    for code, value in tags:
        if code == 9:
            name = value
            found[name] = []
        else:
            found[name].append((code, value))
    return {name: tuple(values) for name, values in found.items()}


def audit(file: DxfFile) -> list[str]:
    """Sentences on handles that are used twice, lie over the seed, or lead nowhere."""
    faults = []
    handles: set[str] = set()
    pointers: list[tuple[str, str]] = []
    for records in file.sections.values():
        for record in records:
            # The handle of a dimension style has a code of its own.
            own = record.first(105) if record.kind == "DIMSTYLE" else record.first(5)
            if own and own in handles:
                faults.append(f"the handle {own} is used twice")
            handles |= {own} - {""}
            pointers += [(record.kind, v) for c, v in record.tags if c in _POINTERS]
    lost = sorted({v for _, v in pointers if v != "0"} - handles)
    faults += [f"something points to {handle}, which is not there" for handle in lost]
    seed = file.header.get("$HANDSEED", ())
    if seed and int(seed[0][1], 16) <= max((int(h, 16) for h in handles), default=0):
        faults.append("the seed of handles is not over all handles")
    return faults
