"""In which order, from where and which way round the lines of a sheet are cut.

Piece by piece: a piece's scores come before its cuts and its inner cuts before its outline,
because a piece that is loose can shift. A closed cut starts at a corner where it has one:
there a blade may halt unseen.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from publisher.cutfiles.along import corners, from_segment
from publisher.geometry.path import Path, Point
from publisher.geometry.segments import reversed_path

Groups = tuple[tuple[Path, ...], ...]
"""One copy's lines; every group is finished before the next is begun."""


def in_order(copies: Sequence[Groups], rest: Point = (0.0, 0.0)) -> list[tuple[int, Groups]]:
    """The copies by number in the order of cutting, with their lines ordered and begun where
    the way is short. The tool comes from ``rest`` and goes to what is nearest each time."""
    left = dict(enumerate(copies))
    done: list[tuple[int, Groups]] = []
    here = rest
    while left:
        number = min(left, key=lambda n: (round(_way_to(left[n], here), 6), n))
        groups: list[tuple[Path, ...]] = []
        for group in left.pop(number):
            paths, here = _nearest_first(group, here)
            groups.append(paths)
        done.append((number, tuple(groups)))
    return done


def _nearest_first(paths: Sequence[Path], here: Point) -> tuple[tuple[Path, ...], Point]:
    left = list(paths)
    done: list[Path] = []
    while left:
        begun = [begun_near(path, here) for path in left]
        index = min(range(len(left)), key=lambda i: (round(math.dist(begun[i].start, here), 6), i))
        done.append(begun[index])
        here = begun[index].end
        del left[index]
    return tuple(done), here


def begun_near(path: Path, here: Point) -> Path:
    """The same line from the end, or the corner, that lies nearest."""
    if not path.closed:
        backward = math.dist(path.end, here) < math.dist(path.start, here) - 1e-6
        return reversed_path(path) if backward else path
    starts = corners(path)
    return from_segment(
        path,
        min(starts, key=lambda i: (round(math.dist(path.segments[i].start, here), 6), i)),
    )


def _way_to(groups: Groups, here: Point) -> float:
    first = next((group for group in groups if group), ())
    return min((math.dist(begun_near(p, here).start, here) for p in first), default=math.inf)
