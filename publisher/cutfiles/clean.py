"""Lines that a blade can follow: no needless nodes, none too close, curves as arcs.

Straight runs and runs on one circle are merged by the canonical form. Beyond that a step
shorter than a blade can turn in is taken out, and a curve that came as many short lines
becomes arcs again.
"""

from __future__ import annotations

import math

from publisher.geometry.canonical import canonical_path
from publisher.geometry.path import Arc, Line, Path, Point, Segment
from publisher.geometry.segments import nearest_on

NODE_MM = 0.05
"""No two nodes are closer. Finer than a dragged blade's own play: common practice, no source."""

FIT_MM = 0.01
"""How far an arc may lie from the points of the lines that it stands for."""
CHORD_MM = 0.02
"""How far it may bulge from the lines between them."""
FEWEST = 5
"""As many lines at least become one arc: fewer could be a polygon that is meant."""
MOST_TURN_DEG = 20.0
HALF_TURN_DEG = 180.001


def cleaned(path: Path) -> Path:
    """The path as it is cut. Ends of an open path and true corners stay where they are."""
    return canonical_path(_spaced(_arcs_first(canonical_path(path))))


# ---------------------------------------------------------------- nodes too close


def _spaced(path: Path) -> Path:
    parts = list(path.segments)
    least = 2 if path.closed else 1
    while len(parts) > least:
        index = min(range(len(parts)), key=lambda i: parts[i].length_mm)
        if parts[index].length_mm >= NODE_MM:
            break
        parts = _without(parts, index, path.closed)
    return path if len(parts) == len(path.segments) else Path(tuple(parts), path.closed)


def _without(parts: list[Segment], index: int, closed: bool) -> list[Segment]:
    """The segments with one left out and its neighbours drawn together to its middle."""
    gone = parts[index]
    (x1, y1), (x2, y2) = gone.start, gone.end
    middle = ((x1 + x2) / 2.0, (y1 + y2) / 2.0)
    before, after = index - 1, (index + 1) % len(parts)
    if not closed and index == 0:
        middle = gone.start
    elif not closed and index == len(parts) - 1:
        middle = gone.end
    kept = list(parts)
    if closed or index > 0:
        kept[before] = _moved(kept[before], kept[before].start, middle)
    if closed or index < len(parts) - 1:
        kept[after] = _moved(kept[after], middle, kept[after].end)
    del kept[index]
    return kept


def _moved(segment: Segment, start: Point, end: Point) -> Segment:
    """The segment with an end moved a little; an arc still goes through its own middle."""
    if isinstance(segment, Arc):
        sweep = math.radians(segment.start_deg + segment.sweep_deg / 2.0)
        (cx, cy), radius = segment.centre, segment.radius_mm
        through = (cx + radius * math.cos(sweep), cy + radius * math.sin(sweep))
        centre = _centre(start, through, end)
        if centre is not None:
            return Arc(start, end, centre, segment.clockwise)
    return Line(start, end)


def _centre(a: Point, b: Point, c: Point) -> Point | None:
    """The middle of the circle through three points; None where they lie in line."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2.0 * (bx * cy - by * cx)
    if abs(twice) < 1e-9:
        return None
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    return (a[0] + (cy * b2 - by * c2) / twice, a[1] + (bx * c2 - cx * b2) / twice)


# ---------------------------------------------------------------- arcs first


def _arcs_first(path: Path) -> Path:
    parts = path.segments
    if len(parts) < FEWEST:
        return path
    found: list[Segment] = []
    at = 0
    while at < len(parts):
        arc, count = _longest_arc(parts, at)
        if arc is None:
            found.append(parts[at])
            at += 1
        else:
            found.append(arc)
            at += count
    return path if len(found) == len(parts) else Path(tuple(found), path.closed)


def _longest_arc(parts: tuple[Segment, ...], at: int) -> tuple[Arc | None, int]:
    """The arc that stands for the most lines from here on, and how many they are.

    What fits many lines fits fewer, so the number is doubled while it fits and then halved in.
    """
    run = _run(parts, at)
    best: Arc | None = None
    fits, fails, count = 0, run + 1, FEWEST
    while count < fails:
        arc = _arc_over(parts[at : at + count])
        if arc is None:
            fails = count
        else:
            best, fits = arc, count
        count = min(2 * fits, run) if fails > run and fits < run else (fits + fails) // 2
        if count in (fits, 0):
            break
    return best, fits


def _run(parts: tuple[Segment, ...], at: int) -> int:
    """How many lines follow each other from here, all turning the same way and a little."""
    count, sense = 0, 0.0
    for index in range(at, len(parts)):
        part = parts[index]
        if isinstance(part, Arc):
            break
        if count:
            turn = _turn(parts[index - 1], part)
            if abs(turn) > math.radians(MOST_TURN_DEG) or (sense and turn * sense <= 0.0):
                break
            sense = sense or turn
        count += 1
    return count


def _turn(before: Segment, after: Segment) -> float:
    ax, ay = before.end[0] - before.start[0], before.end[1] - before.start[1]
    bx, by = after.end[0] - after.start[0], after.end[1] - after.start[1]
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _arc_over(lines: tuple[Segment, ...]) -> Arc | None:
    """The arc for these lines, if it stays within both limits and under half a turn."""
    points = [lines[0].start, *(line.end for line in lines)]
    centre = _centre(points[0], points[len(points) // 2], points[-1])
    if centre is None:
        return None
    arc = Arc(points[0], points[-1], centre, _turn(lines[0], lines[1]) > 0.0)
    radius = arc.radius_mm
    if abs(arc.sweep_deg) > HALF_TURN_DEG:
        return None
    if any(abs(math.dist(p, centre) - radius) > FIT_MM for p in points):
        return None
    for line in lines:
        middle = ((line.start[0] + line.end[0]) / 2.0, (line.start[1] + line.end[1]) / 2.0)
        if math.dist(nearest_on(arc, middle), middle) > CHORD_MM:
            return None
    return arc
