"""A sheet as PDF at true scale: the page is the sheet, each role an optional-content group.

A PDF unit is 1/72 in (ISO 32000-2, 8.3.2.3) and y points up. Every copy is marked content of
the tag ``Piece`` with its id. A group says which processing step its lines are (ISO
19593-1:2018, group Structural), and they are drawn in a spot colour of the group's own name
that overprints; all of them show as black. Arcs are cubics within ``ARC_MM``: a cubic of
handle 4/3 tan(t/4) strays outwards from an arc of t by at most 2.7253e-4 of the radius at 90
degrees, with the sixth power of t below that.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterator

from publisher.cutfiles.lines import Run, SheetLines
from publisher.cutfiles.pdf_file import pdf_file, pdf_text
from publisher.cutfiles.roles import (
    LINE_WIDTH_MM,
    Role,
    dash_mm,
    group_metadata,
    named,
    structural_step,
    width_mm,
)
from publisher.geometry.path import Arc, Path, Point
from publisher.units import MM_PER_POINT, number

ARC_MM = 0.0005
DECIMALS = 5
# The root, the page tree, the page, its content, what is said of the file, how it overprints,
# how a tint shows; then for each role its group and its colour.
_ROOT, _TREE, _PAGE, _CONTENT, _INFO, _OVER, _TINT, _FIRST = range(1, 9)


def to_pdf(lines: SheetLines) -> bytes:
    """The sheet as a PDF file."""
    content = "\n".join(_content(lines)).encode("ascii")
    roles = named(lines.used)
    box = f"[0 0 {_pt(lines.width_mm)} {_pt(lines.height_mm)}]"
    groups = {role: _FIRST + 2 * number_of for number_of, role in enumerate(roles)}
    inks = {role: number_of + 1 for role, number_of in groups.items()}
    order = " ".join(f"{ref} 0 R" for ref in groups.values())
    properties = " ".join(f"/{role.layer} {ref} 0 R" for role, ref in groups.items())
    colours = " ".join(f"/{role.layer} {ref} 0 R" for role, ref in inks.items())
    objects = {
        # No scaling: asks the print dialogue for true size, or nothing would fit.
        _ROOT: f"<</Type /Catalog /Pages {_TREE} 0 R "
        f"/OCProperties <</OCGs [{order}] "
        f"/D <</Name (lines) /BaseState /ON /ON [{order}] /Order [{order}]>>>> "
        "/ViewerPreferences <</PrintScaling /None>>>>",
        _TREE: f"<</Type /Pages /Kids [{_PAGE} 0 R] /Count 1>>",
        _PAGE: f"<</Type /Page /Parent {_TREE} 0 R /MediaBox {box} /Contents {_CONTENT} 0 R "
        f"/Resources <</Properties <<{properties}>> /ColorSpace <<{colours}>> "
        f"/ExtGState <</Over {_OVER} 0 R>>>>>>",
        _INFO: f"<</Title {pdf_text(lines.title)} /Producer (Pattern Publisher)>>",
        _OVER: "<</Type /ExtGState /OP true /op true /OPM 1>>",
        _TINT: "<</FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1>>",
    }
    for role in roles:
        objects[groups[role]] = _group(role, lines)
        objects[inks[role]] = f"[/Separation /{role.layer} /DeviceGray {_TINT} 0 R]"
    identity = hashlib.sha256(content + box.encode() + lines.title.encode()).digest()[:16]
    return pdf_file(objects, _ROOT, _INFO, {_CONTENT: content}, identity)


def _group(role: Role, lines: SheetLines) -> str:
    step = structural_step(role, lines.score_as, lines.machine)
    return f"<</Type /OCG /Name ({role.layer}){group_metadata(step)}>>"


# ---------------------------------------------------------------- content


def _content(lines: SheetLines) -> Iterator[str]:
    # Round ends and corners: a sharp point drawn square would reach far past the line itself.
    yield f"/Over gs {_pt(LINE_WIDTH_MM)} w 1 J 1 j"
    for run in lines.runs:
        yield from _run(run, lines)


def _run(run: Run, lines: SheetLines) -> Iterator[str]:
    layer, score_as = run.role.layer, lines.score_as
    dashes = " ".join(_pt(mm) for mm in dash_mm(run.role, score_as))
    yield f"/Piece <</Id {pdf_text(run.copy)}>> BDC"
    yield f"/OC /{layer} BDC"
    yield f"/{layer} CS 1 SCN {_pt(width_mm(run.role, score_as))} w [{dashes}] 0 d"
    for path in run.paths:
        yield from _path(path, lines.height_mm)
    yield "EMC"
    yield "EMC"


def _path(path: Path, height_mm: float) -> Iterator[str]:
    yield f"{_point(path.start, height_mm)} m"
    for index, segment in enumerate(path.segments):
        if isinstance(segment, Arc):
            for cubic in cubics(segment):
                yield " ".join(_point(p, height_mm) for p in cubic) + " c"
        elif not (path.closed and index == len(path.segments) - 1):
            yield f"{_point(segment.end, height_mm)} l"
    yield "s" if path.closed else "S"


def cubics(arc: Arc) -> Iterator[tuple[Point, Point, Point]]:
    """Both handles and the end of each cubic of an arc, within ``ARC_MM`` of it."""
    sweep = math.radians(arc.sweep_deg)
    radius, (cx, cy) = arc.radius_mm, arc.centre
    widest = math.pi / 2 * min(1.0, (ARC_MM / (2.7253e-4 * radius)) ** (1 / 6))
    count = math.ceil(abs(sweep) / widest - 1e-9)
    step = sweep / count
    reach = 4.0 / 3.0 * math.tan(step / 4.0)
    start = math.radians(arc.start_deg)
    for number_of in range(count):
        a, b = start + step * number_of, start + step * (number_of + 1)
        last = number_of == count - 1
        end = arc.end if last else (cx + radius * math.cos(b), cy + radius * math.sin(b))
        yield (
            (
                cx + radius * (math.cos(a) - reach * math.sin(a)),
                cy + radius * (math.sin(a) + reach * math.cos(a)),
            ),
            (
                cx + radius * (math.cos(b) + reach * math.sin(b)),
                cy + radius * (math.sin(b) - reach * math.cos(b)),
            ),
            end,
        )


def _pt(mm: float) -> str:
    return number(mm / MM_PER_POINT, DECIMALS)


def _point(point: Point, height_mm: float) -> str:
    return f"{_pt(point[0])} {_pt(height_mm - point[1])}"
