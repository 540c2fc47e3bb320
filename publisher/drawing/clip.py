"""The motion of a step as plain data, small enough to stand in a page.

A ``Clip`` holds flat facets, the tree of folds by which they hang on each other, and for every
moment the angle of each fold and the place of each body. Who plays it hangs the facets and
projects them; nothing else is needed.
"""

from __future__ import annotations

from msgspec import Struct


class Hang(Struct, frozen=True):
    """A facet hangs on facet ``on`` (its place in the list) by the fold ``fold``: a right-handed
    turn about ``axis`` through ``origin``, body frame in mm."""

    on: int
    fold: int
    origin: tuple[float, float, float]
    axis: tuple[float, float, float]


class ClipFacet(Struct, frozen=True):
    """``rings`` are flat x, y in turn, y down; the first is the outline. ``hang`` is None for
    the facet that carries the others. ``bends`` are edges of the outline along which paper bends
    and has no line: the corner that an edge begins at, and the facet beyond it, by their places."""

    rings: tuple[tuple[float, ...], ...]
    hang: Hang | None
    moving: bool
    bends: tuple[tuple[int, int], ...] = ()


class ClipBody(Struct, frozen=True):
    """``roots`` is where the first facet is at each moment: the rows of its rotation and its
    shift, 12 figures; one entry where it stands still. ``angles`` has for each fold its degrees
    at each moment, or one figure. ``colours`` are front and back, and both of what moves, each
    from full light to full shade."""

    id: str
    facets: tuple[ClipFacet, ...]
    roots: tuple[tuple[float, ...], ...]
    angles: tuple[tuple[float, ...], ...]
    colours: tuple[tuple[str, ...], ...]


class Clip(Struct, frozen=True):
    """One action. ``axes`` are the rows that give paper x, y (down) and nearness of a place in
    the world, mm; ``box`` is left, top, width and height on paper. ``above`` are pairs of facets
    that lie on each other, as (body, facet, body, facet, side), before and after."""

    name: str
    moments: int
    axes: tuple[float, ...]
    box: tuple[float, float, float, float]
    bodies: tuple[ClipBody, ...]
    above: tuple[tuple[tuple[int, int, int, int, int], ...], ...]
