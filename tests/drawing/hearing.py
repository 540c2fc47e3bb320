"""What who only hears an alternative text takes from it: parts, also where they are gathered,
ways and places. Written apart from what makes the texts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from publisher.assembly import Body, Frame
from publisher.drawing.space_view.lists import plural
from publisher.drawing.space_view.shapes import region_polygon
from publisher.geometry.space import Vector, lift
from publisher.model.types import Piece

PLACES = {
    "nearest you": (1, -1),
    "at the far side": (1, 1),
    "at the left": (0, -1),
    "at the right": (0, 1),
    "at the bottom": (2, -1),
    "at the top": (2, 1),
}
"""Axis and sign of a place."""


def hears(name: str, said: str) -> bool:
    """Whether a part is named, by itself or with others: "foot 3" in "feet 1 to 6", "left wall"
    in "the left and right walls"."""
    name, said = name.lower(), said.lower()
    if row := re.fullmatch(r"(.*) (\d+) to (\d+)", name):
        return all(hears(f"{row[1]} {k}", said) for k in range(int(row[2]), int(row[3]) + 1))
    if re.search(rf"\b{re.escape(name)}\b", said):
        return True
    stem, _, last = name.rpartition(" ")
    if last.isdigit():
        if re.search(rf"\beach {re.escape(stem)}\b", said):
            return True
        runs = re.findall(rf"\b{re.escape(plural(stem))} (\d+(?:(?:, | and | to )\d+)*)", said)
        return any(int(last) in numbers(run) for run in runs)
    lists = (
        re.findall(rf"\b(?:the|its) ([a-z0-9 ,]+?) {re.escape(plural(last))}\b", said)
        if stem
        else []
    )
    return any(stem in re.split(r", | and |\b(?:the|its) ", found) for found in lists)


def numbers(run: str) -> set[int]:
    """ "1 to 3" and "1, 3 and 4"."""
    if " to " in run:
        first, last = run.split(" to ")
        return set(range(int(first), int(last) + 1))
    return {int(n) for n in re.findall(r"\d+", run)}


def sentences(said: str) -> list[str]:
    return [s for s in re.split(r"(?<=[.])\s+(?=[A-Z])", said) if s]


def centre(points: Iterable[Vector]) -> Vector:
    every = list(points)
    total = [sum(p[k] for p in every) / len(every) for k in range(3)]
    return total[0], total[1], total[2]


def points_of(piece: Piece, body: Body, facets: Sequence[str] | None = None) -> list[Vector]:
    """The corners of facets where they are, from their outlines."""
    found = []
    for facet, pose in body.facets:
        if facets is None or facet in facets:
            ring = region_polygon(piece.facet(facet).region).exterior.coords
            found += [pose.apply(lift((x, y))) for x, y in ring]
    return found


def parts_of(
    frame: Frame, pieces: Mapping[str, Piece], after: bool
) -> list[tuple[str, str, list[Vector]]]:
    """(body, part, points) of every panel of every body, and of whole pieces."""
    state = frame.after if after else frame.before
    found = []
    for body in state.bodies:
        piece = pieces[body.id]
        for panel in dict.fromkeys(f.panel for f in piece.facets):
            facets = [f.name for f in piece.facets if f.panel == panel]
            found.append((body.id, panel, points_of(piece, body, facets)))
        found.append((body.id, piece.name, points_of(piece, body)))
    return found
