"""Dashes that fit their line: it begins and ends with a dash, and a short line keeps two.

Drawn blindly, a pattern breaks off anywhere, and a fold shorter than its long dash looks like
an unbroken line.
"""

from __future__ import annotations

from collections.abc import Sequence

_SHORTEST = 0.3
"""The long dash is shortened to this part of itself; on shorter lines all is."""
_FEWER = 0.4
"""Before a dash is shorter than this part of itself one of several dots is left out: two dots and
two dashes hardly longer look like four dots."""
_CLOSEST = 0.5
"""Before that, what lies between two dashes is shortened to this part of itself."""


def fitted(dash_mm: Sequence[float], length_mm: float, closed: bool = False) -> tuple[float, ...]:
    """The pattern (on, off, on, off, ...) for a line of a length, in mm.

    Only its first dash grows or shrinks, so that dots stay dots; a short line has one dot less.
    Empty (unbroken) stays empty; so does a line with no length keep the pattern.
    """
    if not dash_mm or length_mm <= 0.0 or dash_mm[0] <= 0.0:
        return tuple(dash_mm)
    first, rest = dash_mm[0], sum(dash_mm[1:])
    if closed:
        count = max(1, round(length_mm / (first + rest)))
        dash = length_mm / count - rest
    else:
        count = max(2, round((length_mm + rest) / (first + rest)))
        dash = (length_mm - (count - 1) * rest) / count
    if len(dash_mm) > 4 and dash < _FEWER * first:
        return fitted(dash_mm[:-2], length_mm, closed)
    if dash >= _SHORTEST * first:
        return (dash, *dash_mm[1:])
    # No room for the pattern as it is: the dashes keep their least length while the gaps and
    # dots between them shrink to a half; then all becomes smaller.
    ends = 1.0 if closed else 2.0
    least = first * _SHORTEST
    between = max(length_mm - ends * least, _CLOSEST * rest) / rest
    whole = ends * least + rest * between
    share = length_mm / whole
    return (least * share, *(part * between * share for part in dash_mm[1:]))
