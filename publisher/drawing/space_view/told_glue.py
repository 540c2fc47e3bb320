"""Glue and tape in words: on which face of what, along which edges, how wide, what it meets."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from publisher.assembly.types import Body, Frame, Mark
from publisher.drawing.space_view.layers import called, face_met
from publisher.drawing.space_view.lists import gathered, listed, sentence, the
from publisher.drawing.space_view.place_words import body_name, edge_side, length, side
from publisher.geometry.measure import area, path_bounds
from publisher.model.types import GlueZone, Piece, Target
from publisher.units import Ruler

_ALL_OVER, _ALONG, _NARROW = 0.7, 0.5, 0.4
_AT_EDGE_MM = 2.0
_LEVEL, _MIDDLE = 0.9, 0.05


def glue_sentences(
    frame: Frame,
    marks: Sequence[Mark],
    pieces: Mapping[str, Piece],
    ruler: Ruler,
) -> Iterator[str]:
    """What takes glue, copies that take the same in one sentence."""
    alike: dict[tuple[str, str, tuple[str, ...], str], list[Mark]] = {}
    for mark in marks:
        alike.setdefault((pieces[mark.body].name, mark.what, mark.names, mark.face), []).append(
            mark
        )
    for own in alike.values():
        yield _put(frame, own, pieces, ruler)
        yield from _meets(frame, own[0], pieces[own[0].body], pieces)


def _put(frame: Frame, own: Sequence[Mark], pieces: Mapping[str, Piece], ruler: Ruler) -> str:
    mark = own[0]
    piece, body = pieces[mark.body], frame.before.body(mark.body)
    sticky = "double-sided tape" if mark.what == "tape" else "glue"
    zones = [z for z in piece.glue_zones if z.name in mark.names]
    alone = len({f.panel for f in piece.facets}) == 1
    if len(own) > 1 and len(own) == piece.copies:
        whole = f"each {piece.name}"
    else:
        whole = gathered(body_name(piece, m.body) for m in own)
    panels = list(dict.fromkeys([z.panel or piece.name for z in zones]))
    if not zones:
        panels = [name for name in mark.names if name != piece.name]
    all_over = all(_covered(name, zones, piece) for name in panels) if zones else True
    part = whole if alone or not panels else f"{gathered(panels)} of {whole}"
    where = _looks(body, piece, mark, panels)
    if all_over:
        return f"Put {sticky} all over the {mark.face} face of {part}{where}."
    along = _along(zones, piece, body, ruler)
    return f"Put {sticky} on the {mark.face} face of {part}{where}, {along}."


def _covered(panel: str, zones: Sequence[GlueZone], piece: Piece) -> bool:
    """Whether zones take (nearly) all of a panel."""
    own = [z for z in zones if (z.panel or piece.name) == panel]
    paper = sum(area(f.region) for f in piece.facets if own[0].panel in (None, f.panel))
    return sum(area(z.region) for z in own) > _ALL_OVER * paper


def _looks(body: Body, piece: Piece, mark: Mark, panels: Sequence[str]) -> str:
    """Where the face with the glue looks, where that is one way for all of it."""
    sign = 1.0 if mark.face == "front" else -1.0
    levels = [
        pose.normal[2] * sign
        for facet, pose in body.facets
        if not panels or piece.facet(facet).panel in panels or panels == [piece.name]
    ]
    if levels and max(levels) < -_LEVEL:
        return ", which is underneath now"
    return ", which is up" if levels and min(levels) > _LEVEL else ""


def _along(zones: Sequence[GlueZone], piece: Piece, body: Body, ruler: Ruler) -> str:
    """The edges along which zones run, as they lie, and how wide they are."""
    edges: list[str] = []
    rest: list[str] = []
    wide: set[str] = set()
    crowded = len({z.panel for z in zones}) > 1
    for zone in zones:
        found, deep = _edge(zone, piece)
        if not found:
            rest.append(_patch(zone, piece, body, ruler))
            continue
        facet = next(f.name for f in piece.facets if zone.panel in (None, f.panel))
        edge = edge_side(found, body.facet_pose(facet))
        edges.append(f"{edge} edge of {the([zone.panel or piece.name])}" if crowded else edge)
        wide.add(length(deep, ruler))
    broad = f", {wide.pop()} wide" if len(wide) == 1 else ""
    said = []
    if crowded:
        said += [f"along {listed(f'the {edge}' for edge in edges)}{broad}"] if edges else []
    elif len(set(edges)) == 4:
        said.append(f"along all four edges{broad}")
    elif edges:
        plural = "s" if len(set(edges)) > 1 else ""
        said.append(f"along the {listed(edges)} edge{plural}{broad}")
    if rest:
        said += rest
    return listed(said)


def _patch(zone: GlueZone, piece: Piece, body: Body, ruler: Ruler) -> str:
    """How large a zone is that runs along no edge, and where."""
    facet = next(f for f in piece.facets if zone.panel in (None, f.panel))
    pose = body.facet_pose(facet.name)
    x0, y0, x1, y1 = path_bounds(zone.region.outer)
    left, top, right, bottom = path_bounds(facet.region.outer)
    wide, high = length(x1 - x0, ruler), length(y1 - y0, ruler)
    off = ((x0 + x1 - left - right) / 2.0, (top + bottom - y0 - y1) / 2.0, 0.0)
    near = max(abs(off[0]) / (right - left), abs(off[1]) / (bottom - top)) < _MIDDLE
    where = "in its middle" if near else f"towards its {side(pose.turn(off))} edge"
    if abs(pose.turn((1.0, 0.0, 0.0))[0]) > _LEVEL:
        return f"in a patch {where}, {wide} from left to right and {high} the other way"
    return f"in a patch {where}, {wide} by {high}"


def _edge(zone: GlueZone, piece: Piece) -> tuple[str, float]:
    """The side of its panel along which a zone runs as a strip, as the flat piece names it, and
    how wide the strip is; "" where it does not."""
    ring = next((p.bounds for p in piece.panels if p.name == zone.panel), None) or piece.bounds
    x0, y0, x1, y1 = path_bounds(zone.region.outer)
    left, top, right, bottom = ring
    spans = {
        "left": (x0 - left, x1 - x0, y1 - y0),
        "right": (right - x1, x1 - x0, y1 - y0),
        "top": (y0 - top, y1 - y0, x1 - x0),
        "bottom": (bottom - y1, y1 - y0, x1 - x0),
    }
    sizes = {"left": (right - left, bottom - top), "top": (bottom - top, right - left)}
    sizes |= {"right": sizes["left"], "bottom": sizes["top"]}
    strips = [
        (deep / max(long, 1e-9), name, deep)
        for name, (off, deep, long) in spans.items()
        if off < _AT_EDGE_MM and long > _ALONG * sizes[name][1] and deep < _NARROW * sizes[name][0]
    ]
    if not strips:
        return "", 0.0
    _, name, deep = min(strips)
    return name, deep


def _meets(frame: Frame, mark: Mark, piece: Piece, pieces: Mapping[str, Piece]) -> Iterator[str]:
    """What the zones come to lie on, where no sentence on the way there tells it."""
    if len(frame.motions) > sum(isinstance(m, Mark) for m in frame.motions):
        return
    partners: dict[str, list[str]] = {}
    zones = [z for z in piece.glue_zones if z.name in mark.names]
    for zone in zones:
        met = ""
        if zone.meets is not None:
            met = the([zone.meets[1] or zone.meets[0]])
            face = ""
            if zone.meets[0] == piece.name:
                face = face_met(frame.after.body(mark.body), piece, zone)
            met = f"the {face} face of {met}" if face else met
            met += (
                "" if zone.meets[0] in (piece.name, zone.meets[1]) else f" of the {zone.meets[0]}"
            )
        else:
            met = _bonded(frame, mark.body, zone.name, pieces)
        if met:
            panel = zone.panel or piece.name
            alone = sum(z.panel == zone.panel for z in zones) == 1
            partners.setdefault(met, []).append(
                panel if alone else _strip_name(zone, piece, frame, mark)
            )
    if not partners and not zones and frame.action.objects:
        partners[listed(_target(t) for t in frame.action.objects)] = ["glue"]
    if len(partners) == 1:
        ((met, names),) = partners.items()
        yield f"It meets {met}." if len(names) == 1 else f"All of it meets {met}."
        return
    clauses = [
        f"{gathered(names)} {'meets' if len(names) == 1 else 'meet'} {other}"
        for other, names in partners.items()
    ]
    if clauses:
        yield sentence(listed(clauses))


def _strip_name(zone: GlueZone, piece: Piece, frame: Frame, mark: Mark) -> str:
    found, _ = _edge(zone, piece)
    if not found:
        return zone.name
    facet = next(f.name for f in piece.facets if zone.panel in (None, f.panel))
    return f"{edge_side(found, frame.before.body(mark.body).facet_pose(facet))} strip"


def _bonded(frame: Frame, body: str, zone: str, pieces: Mapping[str, Piece]) -> str:
    for bond in frame.after.bonds:
        if bond.zone == zone and not any(bond.same(b) for b in frame.before.bonds):
            for one, other in ((bond.first, bond.second), (bond.second, bond.first)):
                if one[0] == body:
                    return the([called(other, pieces)])
    return ""


def _target(target: Target) -> str:
    return the([target.said or target.part or target.piece])
