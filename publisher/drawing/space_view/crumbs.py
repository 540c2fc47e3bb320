"""Crumbs of lines: what an arrow's halo leaves of a line between itself and where the line ends."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.lines import Drawn
from publisher.drawing.space_view.many import Geometries, many
from publisher.drawing.space_view.sight import Flags
from publisher.drawing.space_view.spans import joined

_CRUMB_MM = 1.2
_AT_MM = 0.02
_CAP_MM = 0.4  # so far under the halo a line goes, too, whose round end would show
_CORNER_MM = 0.1  # a line that ends so near the end of another makes a corner with it


def without_crumbs(lines: Sequence[Drawn], halo: BaseGeometry) -> list[Drawn]:
    """The lines without their stretches beside a ``halo`` that are too short to be read as lines;
    not those that make a corner with a line that is left."""
    runs, of = shapely.get_parts(many(d.geometry for d in lines), return_index=True)
    shapely.prepare(halo)
    met = np.flatnonzero(shapely.intersects(halo, runs))
    cut = met[~shapely.covers(halo, runs[met])]
    if not len(cut):
        return list(lines)
    pieces, run = shapely.get_parts(shapely.difference(runs[cut], halo), return_index=True)
    short = shapely.length(pieces) < _CRUMB_MM
    kept = [*np.delete(runs, cut), *pieces[~short]]
    crumb = np.flatnonzero(short)[~_at_corners(pieces[short], kept, halo)]
    if not len(crumb):
        return list(lines)
    gone = [run[k] for k in crumb]
    for k in sorted(set(gone)):
        own = pieces[crumb[np.array(gone) == k]]
        around = shapely.buffer(shapely.union_all(own), _CAP_MM)
        runs[cut[k]] = shapely.difference(runs[cut[k]], around)
    found = []
    shorter = set(of[cut].tolist())
    for n, line in enumerate(lines):
        left = line
        if n in shorter:  # its runs are apart already: nothing is to be united
            left = replace(line, geometry=joined(shapely.get_parts(runs[of == n])))
        if not left.geometry.is_empty:
            found.append(left)
    return found


def _at_corners(pieces: Geometries, kept: Sequence[BaseGeometry], halo: BaseGeometry) -> Flags:
    """Which short lines go from a halo to the end of a line that is left."""
    ends = np.concatenate([shapely.get_point(many(kept), k) for k in (0, -1)])
    tree = shapely.STRtree(ends[~shapely.dwithin(halo, ends, _AT_MM)])
    corner = np.zeros(len(pieces), dtype=bool)
    for k in (0, -1):
        own = shapely.get_point(pieces, k)
        near = tree.query(own, predicate="dwithin", distance=_CORNER_MM)[0]
        corner[near] |= ~shapely.dwithin(halo, own[near], _AT_MM)
    return corner
