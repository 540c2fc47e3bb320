"""Edges of panels side by side that come together when the panels are folded up."""

from __future__ import annotations

import math
from collections.abc import Sequence

from publisher.model.draft import Draft
from publisher.model.places.things import AtEdge
from publisher.model.types import Panel

_NEAR_MM = 1e-6


def mated(draft: Draft, panels: Sequence[Panel]) -> list[tuple[AtEdge, AtEdge]]:
    """Pairs of free edges that begin at one point and are of one length, of two of the panels.

    The first of each pair ends where the second begins, walking clockwise; in the order of the
    panels.
    """
    folds = [{f.start, f.end} for f in draft.folds.values()]
    free = [
        (panel, edge)
        for panel in panels
        for edge in panel.edges
        if {edge.start, edge.end} not in folds
    ]
    return [
        (AtEdge(one, first.name), AtEdge(other, second.name))
        for first, one in free
        for second, other in free
        if first.name != second.name
        and math.dist(one.end, other.start) < _NEAR_MM
        and abs(math.dist(one.start, one.end) - math.dist(other.start, other.end)) < _NEAR_MM
    ]
