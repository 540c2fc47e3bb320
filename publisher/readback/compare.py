"""The lines of a file against those that it must hold, copy by copy and role by role."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from publisher.diagnostics import Diagnostic
from publisher.geometry.measure import distance_to_path, is_near
from publisher.layout import Sheet
from publisher.readback.dashes import DashLimits, compared_dashes
from publisher.readback.expected import CLOSE_MM, WantedCopy, WantedPath, single_segments
from publisher.readback.found import FoundPath, FoundSheet, joined
from publisher.readback.once import compared_once
from publisher.readback.told import differs, mm

TOLERANCE_MM = 0.01
ROUGH_MM = 0.035
"""Where nodes too close are taken out: half of the least distance of two, and a hair."""
ROUGH_SHARE = 0.005
WORK = ("glue", "draw", "engrave", "score-valley", "score-mountain", "perforation", "cut")
SIZES = ("x_min_mm", "y_min_mm", "x_max_mm", "y_max_mm")


class Allowed(Struct, frozen=True):
    """What a file may do to the lines on purpose. ``dashes`` gives the limits by role, None
    where lines are whole; ``overcut_mm`` and ``lead_mm`` lengthen closed cuts; ``once`` leaves
    out what another copy has cut."""

    dashes: dict[str, DashLimits] | None = None
    overcut_mm: float = 0.0
    lead_mm: float = 0.0
    once: bool = False


def compared(
    path: str, sheet: Sheet, wanted: tuple[WantedCopy, ...], have: FoundSheet, allowed: Allowed
) -> Iterator[Diagnostic]:
    """Everything in which one file differs from what it must hold."""
    for fault in have.faults:
        yield differs(path, fault)
    yield from _compared_sizes(path, sheet, have)
    for found in have.paths:
        if found.shortest_mm < CLOSE_MM - 1e-4:
            yield differs(
                path,
                f"two nodes of a {_role(found)} line are {mm(found.shortest_mm)} apart",
                (("apart_mm", found.shortest_mm),),
            )
    if have.loose:
        yield from _compared_loose(path, wanted, have, allowed)
        return
    ids = {copy.id for copy in wanted}
    for stray in sorted({p.copy for p in have.paths} - ids):
        yield differs(path, f"lines stand under ‘{stray}’, which is no copy on this sheet")
    if allowed.once:
        more = (allowed.lead_mm, allowed.overcut_mm)
        yield from compared_once(path, wanted, have.paths, TOLERANCE_MM, *more)
    for copy in wanted:
        own = [p for p in have.paths if p.copy == copy.id]
        if not allowed.once:
            yield from _compared_order(path, copy, own)
            yield from _compared_box(path, copy, own, allowed)
        roles = {w.role for w in copy.paths} | {_role(p) for p in own}
        for role in sorted(roles):
            lines = [w for w in copy.paths if w.role == role]
            written = [p for p in own if _role(p) == role]
            if allowed.dashes is not None and role in allowed.dashes:
                limits = allowed.dashes[role]
                yield from compared_dashes(path, copy, lines, written, limits, TOLERANCE_MM)
            elif not (allowed.once and role == "cut"):
                yield from _compared_role(path, copy, role, lines, written, allowed)


def _role(found: FoundPath) -> str:
    """DXF layers and PDF groups are the roles in capitals."""
    return found.role.lower()


def _compared_sizes(path: str, sheet: Sheet, have: FoundSheet) -> Iterator[Diagnostic]:
    size = sheet.size
    for what, width, height in have.sizes:
        if max(abs(width - size.width_mm), abs(height - size.height_mm)) > TOLERANCE_MM:
            yield differs(
                path,
                f"{what} says {mm(width)} x {mm(height)}, "
                f"the sheet is {mm(size.width_mm)} x {mm(size.height_mm)}",
                (
                    ("sheet_width_mm", size.width_mm),
                    ("sheet_height_mm", size.height_mm),
                    ("written_width_mm", width),
                    ("written_height_mm", height),
                ),
            )


def _compared_order(path: str, copy: WantedCopy, have: list[FoundPath]) -> Iterator[Diagnostic]:
    """A copy's lines in the order of work: scored, then cut inside, then cut out."""
    own = [p for p in have if _role(p) in WORK]
    firm = [WORK.index(_role(p)) < WORK.index("perforation") for p in own]
    if firm != sorted(firm, reverse=True):
        yield differs(path, f"{copy.id} is cut before it is scored", copy=copy)
    cuts = [p for p in own if _role(p) == "cut"]
    # The end of the first segment: a line that is led in begins in the waste.
    marks = [q for cut in cuts[-1:] for q in cut.points[cut.each - 1 : cut.each]]
    if not all(is_near(q, copy.paths[-1].path, ROUGH_MM) for q in marks):
        yield differs(path, f"the outline of {copy.id} is not the last that is cut", copy=copy)


def _compared_box(
    path: str, copy: WantedCopy, have: list[FoundPath], allowed: Allowed
) -> Iterator[Diagnostic]:
    cuts = [p.bounds for p in have if _role(p) == "cut"]
    if not cuts or allowed.lead_mm:
        return  # said by the count of paths, or the lead sets in outside
    box = joined(cuts)
    off = max(abs(a - b) for a, b in zip(box, copy.bounds, strict=True))
    if off > (ROUGH_MM if any(w.rough for w in copy.paths) else TOLERANCE_MM):
        yield differs(
            path,
            f"the box of {copy.id} is {mm(off)} out of place",
            (
                *((f"wanted_{s}", v) for s, v in zip(SIZES, copy.bounds, strict=True)),
                *((f"written_{s}", v) for s, v in zip(SIZES, box, strict=True)),
            ),
            copy,
        )


def _compared_role(
    path: str,
    copy: WantedCopy,
    role: str,
    wanted: Sequence[WantedPath],
    written: Sequence[FoundPath],
    allowed: Allowed,
) -> Iterator[Diagnostic]:
    what = f"{role} lines of {copy.id}"
    if len(wanted) != len(written):
        yield differs(
            path,
            f"there are {len(written)} {what}, not {len(wanted)}",
            (("wanted_paths", float(len(wanted))), ("written_paths", float(len(written)))),
            copy,
        )
    exact = not any(w.rough for w in wanted) and not (role == "cut" and _lengthens(allowed))
    lengths = sum(w.length_mm for w in wanted), sum(p.length_mm for p in written)
    arcs = sum(w.curved_mm for w in wanted), sum(p.curved_mm for p in written)
    for title, word, (should, does) in (("are", "length", lengths), ("have arcs", "arcs", arcs)):
        if exact and abs(should - does) > TOLERANCE_MM:
            yield differs(
                path,
                f"the {what} {title} {mm(does)} long, not {mm(should)}",
                ((f"wanted_{word}_mm", should), (f"written_{word}_mm", does)),
                copy,
            )
    yield from _unmatched(path, what, wanted, written, allowed, copy)


def _unmatched(
    path: str,
    what: str,
    wanted: Sequence[WantedPath],
    written: Sequence[FoundPath],
    allowed: Allowed,
    copy: WantedCopy | None,
) -> Iterator[Diagnostic]:
    left = list(written)
    for want in wanted:
        match = next((p for p in left if agrees(want, p, allowed)), None)
        if match is not None:
            left.remove(match)
            continue
        x, y = want.bounds[:2]
        yield differs(
            path,
            f"no line is within {mm(TOLERANCE_MM)} of one of the {what}, "
            f"the one from {mm(x)} across and {mm(y)} down",
            (("x_mm", x), ("y_mm", y), ("length_mm", want.length_mm)),
            copy,
        )


def _lengthens(allowed: Allowed) -> bool:
    return allowed.overcut_mm > 0.0 or allowed.lead_mm > 0.0


def agrees(want: WantedPath, have: FoundPath, allowed: Allowed) -> bool:
    """The same line: open or closed, as long, as large, and every point of it on the other."""
    near = ROUGH_MM if want.rough else TOLERANCE_MM
    if want.role == "cut" and want.path.closed and _lengthens(allowed):
        return _agrees_lengthened(want, have, allowed, near)
    slack = ROUGH_SHARE * want.length_mm + near if want.rough else near
    return (
        want.path.closed == have.closed
        and abs(want.length_mm - have.length_mm) <= slack
        and (want.rough or abs(want.curved_mm - have.curved_mm) <= near)
        and max(abs(a - b) for a, b in zip(want.bounds, have.bounds, strict=True)) <= near
        and all(is_near(p, want.path, near) for p in have.points)
    )


def _agrees_lengthened(want: WantedPath, have: FoundPath, allowed: Allowed, near: float) -> bool:
    """A closed cut as an open one: once round, on past the start, perhaps led in from waste."""
    more = min(allowed.overcut_mm, want.length_mm)
    slack = near + (ROUGH_SHARE * want.length_mm if want.rough else 0.0)
    extra = have.length_mm - want.length_mm - more
    led = allowed.lead_mm > 0.0 and abs(extra - allowed.lead_mm) <= slack
    if have.closed != (more == 0.0 and not led) or not (led or abs(extra) <= slack):
        return False
    # The first segment of a line that is led in is the lead.
    points = have.points[have.each - 1 :] if led else have.points
    if not all(is_near(p, want.path, near) for p in points):
        return False
    sides = zip(want.bounds, have.bounds, strict=True)
    reach = near + (allowed.lead_mm if led else 0.0)
    return max(abs(a - b) for a, b in sides) <= reach


def _compared_loose(
    path: str, wanted: tuple[WantedCopy, ...], have: FoundSheet, allowed: Allowed
) -> Iterator[Diagnostic]:
    """A format of single segments: role by role, over the whole sheet."""
    lines = [line for copy in wanted for line in copy.paths]
    if allowed.once:
        more = (allowed.lead_mm, allowed.overcut_mm)
        yield from compared_once(path, wanted, have.paths, TOLERANCE_MM, *more)
    for role in sorted({w.role for w in lines} | {_role(p) for p in have.paths}):
        written = [p for p in have.paths if _role(p) == role]
        own = [w for w in lines if w.role == role]
        if allowed.dashes is not None and role in allowed.dashes:
            yield from _astray(path, role, own, written, 0.0)
        elif role == "cut" and (allowed.once or _lengthens(allowed)):
            yield from _astray(path, role, own, written, allowed.lead_mm)
        elif any(w.rough for w in own):
            yield from _astray(path, role, own, written, 0.0)
        else:
            single = [part for line in own for part in single_segments(line)]
            if len(single) != len(written):
                yield differs(
                    path,
                    f"there are {len(written)} segments of {role}, not {len(single)}",
                    (
                        ("wanted_segments", float(len(single))),
                        ("written_segments", float(len(written))),
                    ),
                )
            yield from _unmatched(path, f"{role} segments", single, written, allowed, None)


def _astray(
    path: str, role: str, wanted: list[WantedPath], written: list[FoundPath], reach: float
) -> Iterator[Diagnostic]:
    """Lines that lie on none that is wanted; the single lines of a lead may reach off it."""
    for found in written:
        if any(_lies_on(found, line) for line in wanted):
            continue
        off = min(
            (max(distance_to_path(p, w.path) for p in found.points) for w in wanted),
            default=float("inf"),
        )
        led = reach > 0.0 and abs(found.length_mm - reach) <= TOLERANCE_MM
        if not (led and off <= reach + TOLERANCE_MM):
            x, y = found.bounds[:2]
            yield differs(
                path,
                f"a {role} line from {mm(x)} across and {mm(y)} down lies on none that is wanted",
                (("x_mm", x), ("y_mm", y), ("length_mm", found.length_mm)),
            )


def _lies_on(found: FoundPath, line: WantedPath) -> bool:
    box, outer = found.bounds, line.bounds
    return (
        box[0] >= outer[0] - ROUGH_MM
        and box[1] >= outer[1] - ROUGH_MM
        and box[2] <= outer[2] + ROUGH_MM
        and box[3] <= outer[3] + ROUGH_MM
        and all(is_near(p, line.path, ROUGH_MM) for p in found.points)
    )
