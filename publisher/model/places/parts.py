"""The parts of one piece by name: panels, edges, corners, middles, ``each wall``."""

from __future__ import annotations

from publisher.diagnostics import Span
from publisher.geometry.corners import corners_of
from publisher.geometry.path import Region
from publisher.language.ast import Ref, Segment
from publisher.model.draft import Draft
from publisher.model.findings import Refused, refuse, unknown
from publisher.model.marked import Mark
from publisher.model.places.sides import corner_of, middle_of, no_edge, side_of
from publisher.model.places.things import (
    AtEdge,
    AtForm,
    AtGlue,
    AtIsland,
    AtLine,
    AtOpening,
    AtPanel,
    AtPoint,
    Thing,
    Whole,
    kind_of,
)
from publisher.model.shaping.tips import tips_of
from publisher.model.types import Edge, Panel

_NEAR_MM = 1e-6


def find(draft: Draft, ref: Ref) -> list[Thing]:
    """Everything that the words speak of, in the order of the piece.

    Raises ``Refused`` at the word that is not known.
    """
    segments = list(ref.segments)
    if len(segments) > 1 and segments[-1].name == draft.name and not _part(draft, draft.name):
        segments.pop()
    things: list[Thing] = [Whole()]
    for segment in reversed(segments):
        things = [inner for outer in things for inner in _within(draft, outer, segment)]
    return things


def _within(draft: Draft, outer: Thing, segment: Segment) -> list[Thing]:
    kind = segment.kind
    if isinstance(outer, AtForm):
        return _in_form(draft, outer, segment)
    if kind == "name":
        return [_named(draft, outer, segment)]
    if kind == "each":
        return _each(draft, outer, segment)
    if kind == "side":
        return [side_of(draft, outer, segment)]
    if kind == "corner":
        return [corner_of(draft, outer, segment)]
    if kind == "middle":
        return [middle_of(draft, outer, segment.span)]
    if kind == "all" and isinstance(outer, Whole):
        return [AtPanel(p) for p in draft.panels.values()]
    raise refuse("wrong-place", f"‘{segment.name}’ is no place here", segment.span)


def _part(draft: Draft, name: str) -> Thing | None:
    if name in draft.panels:
        return AtPanel(draft.panels[name])
    if name in draft.lines:
        line = draft.lines[name]
        return AtLine(line.start, line.end, line.panel)
    if name in draft.points:
        point = draft.points[name]
        return AtPoint(point.at, point.edge, point.panel)
    if name in draft.edges:
        edge = draft.edges[name]
        return AtEdge(edge.edge, edge.panel)
    fold = draft.folds.get(draft.fold_names.get(name, name))
    if fold is not None:
        return AtLine(fold.start, fold.end, fold.parent)
    for opening in draft.openings:
        if opening.name == name:
            return AtOpening(opening)
    for curve in draft.curves:
        if curve.name == name:
            return AtLine(curve.path.start, curve.path.end, None)
    for mark in draft.marks:
        if mark.name == name:
            return _drawn_line(mark)
    for island in draft.islands:
        if island.name == name:
            return AtIsland(island)
    for zone in draft.glue:
        if zone.name == name:
            return AtGlue(zone)
    return AtForm(name) if name in draft.forms else None


def _drawn_line(mark: Mark) -> AtLine:
    if mark.straight is None:
        text = f"{mark.name} is no straight line, and only such a one is a place"
        raise refuse("wrong-place", text, mark.span)
    return AtLine(*mark.straight, mark.panel)


def _in_form(draft: Draft, outer: AtForm, segment: Segment) -> list[Thing]:
    """``foot of step``, ``each wall of step``: among the parts that the form gave."""
    parts = draft.forms[outer.name].parts
    if segment.kind == "each":
        found = [t for t in each_named(draft, segment.name) if _name_of(t) in parts]
        if found:
            return found
    if segment.kind == "name":
        for name in (f"{outer.name} {segment.name}", segment.name):
            part = _part(draft, name) if name in parts or name in draft.forms else None
            if part is not None:
                return [part]
    known: dict[str, Span | None] = {n.removeprefix(f"{outer.name} "): None for n in parts}
    raise unknown(f"in {outer.name}", segment.name, segment.span, known)


def _name_of(thing: Thing) -> str:
    """The part's own name; "" of what has none."""
    match thing:
        case AtPanel():
            return thing.panel.name
        case AtOpening():
            return thing.opening.name
        case AtIsland():
            return thing.island.name
        case AtGlue():
            return thing.zone.name
        case _:
            return ""


def things_of(draft: Draft, thing: Thing) -> list[Thing]:
    """What a form gave one by one, panels before anything else; any other thing by itself."""
    if not isinstance(thing, AtForm):
        return [thing]
    parts = draft.forms[thing.name].parts
    panels: list[Thing] = [AtPanel(draft.panels[n]) for n in parts if n in draft.panels]
    return panels or [t for t in (_part(draft, n) for n in parts) if t is not None]


def _named(draft: Draft, outer: Thing, segment: Segment) -> Thing:
    if isinstance(outer, Whole):
        part = _part(draft, segment.name)
        if part is not None:
            return part
        if segment.name == draft.name:
            return outer
        if segment.name.startswith("tip ") and len(draft.panels) == 1:
            return _named(draft, AtPanel(next(iter(draft.panels.values()))), segment)
        if not draft.lost.isdisjoint((segment.name, segment.name.rstrip("0123456789 "))):
            raise Refused()
        raise unknown(f"in {draft.name}", segment.name, segment.span, draft.named())
    if isinstance(outer, AtPanel) and not segment.name.startswith("tip "):
        for edge in outer.panel.edges:
            if edge.name == segment.name:
                return AtEdge(edge, outer.panel.name)
        raise no_edge(outer.panel, segment)
    tips = tips_at(draft, outer)
    word, _, number = segment.name.rpartition(" ")
    if word == "tip" and tips and number.isdigit():
        if 1 <= int(number) <= len(tips):
            return tips[int(number) - 1]
        raise refuse(
            "wrong-place", f"there are {len(tips)} tips, numbered from the top", segment.span
        )
    raise refuse("wrong-place", f"‘{segment.name}’ is no part of {kind_of(outer)}", segment.span)


def tips_at(draft: Draft, thing: Thing) -> list[AtPoint]:
    """The corners of an island or a panel that point outwards, clockwise from the top."""
    if isinstance(thing, AtIsland):
        island = thing.island
        return [AtPoint(p, None, island.panel, out, island.name) for p, out in island.tips]
    if isinstance(thing, AtOpening) and thing.opening.path.closed:
        tips = tips_of(Region(thing.opening.path))
        return [AtPoint(p, None, thing.opening.panel) for p, _ in tips]
    if isinstance(thing, AtPanel):
        tips = tips_of(draft.region_of(thing.panel.name))
        return [AtPoint(p, None, thing.panel.name) for p, _ in tips]
    return []


def corners_at(draft: Draft, thing: Thing) -> list[AtPoint]:
    """Where two straight sides of a panel, a window or the whole paper meet, clockwise."""
    if isinstance(thing, AtPanel):
        return [AtPoint(p, None, thing.panel.name) for p in thing.panel.ring]
    if isinstance(thing, AtOpening) and thing.opening.path.closed:
        corners = corners_of(thing.opening.path)
        return [AtPoint(p, None, thing.opening.panel) for p in corners]
    if isinstance(thing, Whole) and draft.paper is not None:
        return [AtPoint(p, None, None) for p in corners_of(draft.paper.outer)]
    return []


def _each(draft: Draft, outer: Thing, segment: Segment) -> list[Thing]:
    if segment.name == "edge":
        if isinstance(outer, AtPanel):
            return [AtEdge(e, outer.panel.name) for e in outer.panel.edges]
        if isinstance(outer, Whole):
            return [AtEdge(e, p.name) for p in draft.panels.values() for e in free_edges(draft, p)]
    if segment.name == "corner":
        corners = corners_at(draft, outer)
        if corners:
            return list(corners)
    if segment.name == "tip":
        things: list[Thing] = (
            [AtPanel(p) for p in draft.panels.values()] if isinstance(outer, Whole) else [outer]
        )
        points: list[Thing] = [tip for thing in things for tip in tips_at(draft, thing)]
        if points:
            return points
    if isinstance(outer, Whole):
        found = each_named(draft, segment.name)
        if found:
            return found
        if any(ends_so(name, segment.name) for name in draft.lost):
            raise Refused()
        raise unknown(f"in {draft.name}", segment.name, segment.span, kinds(draft))
    raise refuse("wrong-place", f"there is no ‘each {segment.name}’ here", segment.span)


def each_named(draft: Draft, word: str) -> list[Thing]:
    """What ``each wall`` takes: panels of that kind or with names that end so; else openings,
    points, folds and glue zones likewise. A number after the name does not count (``side 1``)."""
    panels = [
        AtPanel(p)
        for p in draft.panels.values()
        if p.kind == word or ends_so(p.name, word) or (word == "panel" and p.kind == "panel")
    ]
    if panels:
        return list(panels)
    openings = [AtOpening(o) for o in draft.openings if o.kind == word or ends_so(o.name, word)]
    if openings:
        return list(openings)
    islands = [AtIsland(i) for i in draft.islands if word == "island" or ends_so(i.name, word)]
    if islands:
        return list(islands)
    curves = [c.path for c in draft.curves if ends_so(c.name, word)]
    if curves:
        return [AtLine(path.start, path.end, None) for path in curves]
    points = [AtPoint(p.at, p.edge, p.panel) for n, p in draft.points.items() if ends_so(n, word)]
    if points:
        return list(points)
    if word == "fold":
        return [AtLine(f.start, f.end, f.parent) for f in draft.folds.values()]
    return [AtGlue(z) for z in draft.glue if ends_so(z.name, word)]


def ends_so(name: str, word: str) -> bool:
    words, wanted = name.split(" "), word.split(" ")
    if len(words) > 1 and words[-1].isdigit():
        words = words[:-1]
    return words[-len(wanted) :] == wanted


def kinds(draft: Draft) -> dict[str, Span | None]:
    """Words that ``each`` would find something for."""
    found: dict[str, Span | None] = {}
    for name, span in draft.named().items():
        words = name.split(" ")
        if len(words) > 1 and words[-1].isdigit():
            words = words[:-1]
        found.setdefault(words[-1], span)
        found.setdefault(" ".join(words), span)
    if any(p.kind == "tab" for p in draft.panels.values()):
        found.setdefault("tab", None)
    return found


def free_edges(draft: Draft, panel: Panel) -> list[Edge]:
    """The panel's edges on which nothing else of the piece hangs."""
    folds = [{f.start, f.end} for f in draft.folds.values() if panel.name in (f.parent, f.child)]
    return [e for e in panel.edges if {e.start, e.end} not in folds]
