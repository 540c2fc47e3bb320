"""Every written file against what it must hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from publisher.diagnostics import Diagnostic, Place
from publisher.geometry.measure import distance_to_path
from publisher.layout import Sheet
from publisher.model.types import Pattern
from publisher.readback.dxf import read_dxf
from publisher.readback.expected import WantedCopy, WantedPath, wanted_copies
from publisher.readback.found import FoundPath, FoundSheet, joined
from publisher.readback.pdf import read_pdf
from publisher.readback.svg import read_svg
from publisher.units import number

TOLERANCE_MM = 0.01
READERS: dict[str, Callable[[bytes], FoundSheet]] = {
    "svg": read_svg,
    "dxf": read_dxf,
    "pdf": read_pdf,
}
Numbers = tuple[tuple[str, float], ...]


def measure_written(
    files: Mapping[str, bytes], pattern: Pattern, sheets: tuple[Sheet, ...]
) -> list[Diagnostic]:
    """Findings on the cut files of the sheets; ``files`` by path, other files are left alone.

    A sheet's file is known by its name, ``PATTERN-SHEET.FORMAT``, in whatever folder.
    """
    found: list[Diagnostic] = []
    by_name = {path.rpartition("/")[2]: path for path in sorted(files)}
    for sheet in sheets:
        wanted = wanted_copies(pattern, sheet)
        for file_format, read in READERS.items():
            name = f"{pattern.name}-{sheet.name}.{file_format}"
            if name not in by_name:
                found.append(_finding("written-file-missing", f"{name} was not written"))
                continue
            path = by_name[name]
            try:
                have = read(files[path])
            except Exception as error:
                # Whatever is wrong with the bytes, the answer is one: they are not a sheet.
                message = f"{path} cannot be read back: {error}".rstrip(" :")
                found.append(_finding("written-file-differs", " ".join(message.split())))
                continue
            found += _compared(path, sheet, wanted, have)
    return found


def _finding(
    code: str, message: str, numbers: Numbers = (), copy: WantedCopy | None = None
) -> Diagnostic:
    places = (Place(copy.piece.span),) if copy else ()
    return Diagnostic(code, "error", message, places, numbers)


def _differs(path: str, what: str, numbers: Numbers, copy: WantedCopy | None = None) -> Diagnostic:
    return _finding("written-file-differs", f"{path}: {what}", numbers, copy)


def _compared(
    path: str, sheet: Sheet, wanted: tuple[WantedCopy, ...], have: FoundSheet
) -> Iterator[Diagnostic]:
    for fault in have.faults:
        yield _differs(path, fault, ())
    size = sheet.size
    for what, width, height in have.sizes:
        if max(abs(width - size.width_mm), abs(height - size.height_mm)) > TOLERANCE_MM:
            yield _differs(
                path,
                f"{what} says {_mm(width)} x {_mm(height)}, "
                f"the sheet is {_mm(size.width_mm)} x {_mm(size.height_mm)}",
                (
                    ("sheet_width_mm", size.width_mm),
                    ("sheet_height_mm", size.height_mm),
                    ("written_width_mm", width),
                    ("written_height_mm", height),
                ),
            )
    ids = {copy.id for copy in wanted}
    for stray in sorted({p.copy for p in have.paths} - ids):
        yield _differs(path, f"lines stand under ‘{stray}’, which is no copy on this sheet", ())
    for copy in wanted:
        yield from _compared_copy(path, copy, [p for p in have.paths if p.copy == copy.id])


def _compared_copy(path: str, copy: WantedCopy, have: list[FoundPath]) -> Iterator[Diagnostic]:
    yield from _compared_box(path, copy, have)
    roles = {w.role for w in copy.paths} | {_role(p) for p in have}
    for role in sorted(roles):
        wanted = [w for w in copy.paths if w.role == role]
        written = [p for p in have if _role(p) == role]
        yield from _compared_role(path, copy, role, wanted, written)


def _role(found: FoundPath) -> str:
    """DXF layers and PDF groups are the roles in capitals."""
    return found.role.lower()


def _compared_box(path: str, copy: WantedCopy, have: list[FoundPath]) -> Iterator[Diagnostic]:
    cuts = [p.bounds for p in have if _role(p) == "cut"]
    if not cuts:
        return  # said by the count of paths
    box = joined(cuts)
    off = max(abs(a - b) for a, b in zip(box, copy.bounds, strict=True))
    if off > TOLERANCE_MM:
        sides = ("x_min_mm", "y_min_mm", "x_max_mm", "y_max_mm")
        yield _differs(
            path,
            f"the box of {copy.id} is {_mm(off)} out of place",
            (
                *((f"wanted_{s}", v) for s, v in zip(sides, copy.bounds, strict=True)),
                *((f"written_{s}", v) for s, v in zip(sides, box, strict=True)),
            ),
            copy,
        )


def _compared_role(
    path: str, copy: WantedCopy, role: str, wanted: list[WantedPath], written: list[FoundPath]
) -> Iterator[Diagnostic]:
    what = f"{role} lines of {copy.id}"
    if len(wanted) != len(written):
        yield _differs(
            path,
            f"there are {len(written)} {what}, not {len(wanted)}",
            (("wanted_paths", float(len(wanted))), ("written_paths", float(len(written)))),
            copy,
        )
    lengths = sum(w.length_mm for w in wanted), sum(p.length_mm for p in written)
    arcs = sum(w.curved_mm for w in wanted), sum(p.curved_mm for p in written)
    for title, word, (should, does) in (("are", "length", lengths), ("have arcs", "arcs", arcs)):
        if abs(should - does) > TOLERANCE_MM:
            yield _differs(
                path,
                f"the {what} {title} {_mm(does)} long, not {_mm(should)}",
                ((f"wanted_{word}_mm", should), (f"written_{word}_mm", does)),
                copy,
            )
    left = list(written)
    for want in wanted:
        match = next((p for p in left if _agrees(want, p)), None)
        if match is not None:
            left.remove(match)
            continue
        x, y = want.bounds[:2]
        yield _differs(
            path,
            f"no line is within {_mm(TOLERANCE_MM)} of one of the {what}, "
            f"the one from {_mm(x)} across and {_mm(y)} down",
            (("x_mm", x), ("y_mm", y), ("length_mm", want.length_mm)),
            copy,
        )


def _agrees(want: WantedPath, have: FoundPath) -> bool:
    """The same line: open or closed, as long, as large, and every point of it on the other."""
    return (
        want.path.closed == have.closed
        and abs(want.length_mm - have.length_mm) <= TOLERANCE_MM
        and abs(want.curved_mm - have.curved_mm) <= TOLERANCE_MM
        and max(abs(a - b) for a, b in zip(want.bounds, have.bounds, strict=True)) <= TOLERANCE_MM
        and all(distance_to_path(p, want.path) <= TOLERANCE_MM for p in have.points)
    )


def _mm(value: float) -> str:
    return f"{number(value, 3)} mm"
