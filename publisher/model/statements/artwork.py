"""``artwork, from file "fern.svg#leaf", 60 mm wide``: lines from a drawing in the pattern's folder.

All of one drawing is scaled and placed as a whole, whichever of its lines are meant, so that what
is cut, scored and drawn of it lies as it was drawn.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from publisher.diagnostics import Edit, WayOut
from publisher.diagnostics.near import nearest
from publisher.geometry.booleans import region_union
from publisher.geometry.curves import cubic_arcs, quadratic_arcs
from publisher.geometry.filled import filled
from publisher.geometry.path import Arc, Line, Path, Point, Region, Segment
from publisher.geometry.transform import mirrored, rotated, translated
from publisher.language.ast import Quoted
from publisher.model.bench import Bench
from publisher.model.findings import Refused, listed, refuse
from publisher.model.shaping.svg_file import SvgDrawing, SvgError, SvgLine, read_svg
from publisher.model.statements.files import read_file
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.spots import spots

_EXAMPLE = 'artwork, from file "fern.svg", 60 mm wide'
_NEAR_MM = 1e-6


class Artwork(Struct, frozen=True):
    """Lines about the middle of the whole drawing, in mm."""

    lines: tuple[tuple[SvgLine, Path], ...]
    width_mm: float
    height_mm: float
    said: Quoted


def read_artwork(bench: Bench, phrases: Phrases) -> Artwork:
    """The lines that the line means: all, or those of the part named after ``#``."""
    said = phrases.quoted("from file")
    if said is None:
        raise phrases.missing("from which file it comes", f"{phrases.head} {_EXAMPLE}")
    name, _, part = said.text.partition("#")
    data = read_file(bench, said, name, (".svg",))
    try:
        drawing = read_svg(data)
    except SvgError as fault:
        raise _refused(fault, name, said) from None
    wide, high = phrases.labelled("wide"), phrases.labelled("high")
    if wide is not None and high is not None:
        raise refuse(
            "said-twice", "how wide it is and how high; one follows from the other", high.span
        )
    size = wide or high or phrases.bare()
    if size is None:
        raise phrases.missing("how wide the whole drawing is", f"{phrases.head} {_EXAMPLE}")
    mm = bench.positive(bench.value(size), "size of the drawing")
    x0, y0, x1, y1 = drawing.box
    across = (y1 - y0) if high is not None else (x1 - x0)
    if across <= 0.0:
        raise refuse("drawing-empty", f"‘{name}’ cannot be used: it has no size", said.span)
    scale = mm / across
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    meant = _meant(drawing, part, said)
    lines = tuple((line, path) for line in meant if (path := _path(line, scale, middle)).segments)
    return Artwork(lines, (x1 - x0) * scale, (y1 - y0) * scale, said)


def _refused(fault: SvgError, name: str, said: Quoted) -> Refused:
    for code in (
        "drawing-empty",
        "drawing-has-words",
        "drawing-not-allowed",
        "drawing-too-large",
        "drawing-unreadable",
    ):
        if code == fault.code:
            return refuse(code, f"‘{name}’ cannot be used: {fault}", said.span)
    raise fault


def _meant(drawing: SvgDrawing, part: str, said: Quoted) -> tuple[SvgLine, ...]:
    wanted = " ".join(part.lower().split())
    if not wanted:
        return drawing.lines
    found = tuple(line for line in drawing.lines if wanted in line.names)
    if found:
        return found
    near = nearest(wanted, drawing.names)
    hint = f". Nearest: ‘{near}’" if near else ""
    file = said.text.partition("#")[0]
    ways = (
        (WayOut(f"write ‘{near}’", Edit(said.span, f'from file "{file}#{near}"')),) if near else ()
    )
    notes = (f"It has {listed(drawing.names)}",) if drawing.names and not near else ()
    raise refuse(
        "drawing-part-missing",
        f"nothing in ‘{file}’ is called ‘{part}’{hint}",
        said.span,
        notes=notes,
        ways_out=ways,
    )


def regions_of(artwork: Artwork) -> tuple[Region, ...]:
    """What closed lines enclose, each element by its own rule, all elements together."""
    for line, _ in artwork.lines:
        if not line.closed:
            raise refuse(
                "drawing-open-line",
                "a line of this drawing is not closed, so nothing lies within it",
                artwork.said.span,
                notes=(
                    "Close it where you drew it, give the closed lines a group of their own, or "
                    "use ‘slit’, ‘score’ or ‘draw’",
                ),
            )
    elements: dict[int, list[tuple[SvgLine, Path]]] = {}
    for line, path in artwork.lines:
        elements.setdefault(line.element, []).append((line, path))
    parts = [
        region
        for pairs in elements.values()
        for region in filled([path for _, path in pairs], pairs[0][0].even_odd)
    ]
    return region_union(parts) if len(elements) > 1 else tuple(parts)


def placed_lines(bench: Bench, phrases: Phrases) -> Iterator[tuple[Path, str | None]]:
    """Every line where it is placed, and the panel that the drawing's middle lies in."""
    artwork = read_artwork(bench, phrases)
    flips = phrases.word("mirrored") is not None
    turn = phrases.turned()
    by = 0.0 if turn is None else bench.degrees(turn)
    where = spots(
        bench, phrases, artwork.width_mm, artwork.height_mm, f"{phrases.head} {_EXAMPLE}, at middle"
    )
    for centre, panel in where.centres:
        for _, path in artwork.lines:
            laid = mirrored(path) if flips else path
            laid = rotated(laid, by) if by else laid
            yield translated(laid, *centre), panel


# ---------------------------------------------------------------- to mm


def _path(line: SvgLine, scale: float, middle: Point) -> Path:
    def place(p: Point) -> Point:
        return ((p[0] - middle[0]) * scale, (p[1] - middle[1]) * scale)

    segments: list[Segment] = []
    for kind, raw, clockwise in line.steps:
        points = [place(p) for p in raw]
        if kind == "line":
            segments.append(Line(points[0], points[1]))
        elif kind == "arc":
            segments.append(Arc(points[0], points[1], points[2], clockwise))
        elif kind == "quadratic":
            segments += quadratic_arcs(points[0], points[1], points[2])
        else:
            segments += cubic_arcs((points[0], points[1], points[2], points[3]))
    segments = [s for s in segments if s.length_mm > _NEAR_MM]
    if line.closed and segments and segments[0].start != segments[-1].end:
        segments.append(Line(segments[-1].end, segments[0].start))
    closed = line.closed and len(segments) > 1
    return Path(tuple(s for s in segments if s.length_mm > 1e-12), closed)
