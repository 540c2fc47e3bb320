"""Alternative text of flat drawings, from the model."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.drawing.flat.places import SIDES, Place, places_of
from publisher.drawing.flat.scaling import Scale
from publisher.geometry.path import Arc
from publisher.model.marked import WHOLE, Mark
from publisher.model.types import GlueZone, Island, MatOf, Opening, Panel, Pattern, Piece, Score
from publisher.units import Ruler, angle, both, both_sizes, kind_for


def listed(words: Iterable[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    all_words = list(words)
    if len(all_words) < 2:
        return "".join(all_words)
    return f"{', '.join(all_words[:-1])} and {all_words[-1]}"


def part_of(part: str, piece: str) -> str:
    """A part with its piece, which is not told twice where it is all one part."""
    return part if part == piece else f"{part} of {piece}"


def piece_alt(pattern: Pattern, piece: Piece, scale: Scale) -> str:
    """What a maker who cannot see the flat drawing has to know of the piece."""
    first = pattern.meta.ruler
    box = piece.bounds
    size = both_sizes((box[2] - box[0], box[3] - box[1]), first=first)
    copies = f", {piece.copies} copies" if piece.copies > 1 else ""
    stock = piece.stock.title.lower()
    parts = [
        f"{piece.name.capitalize()}, flat, seen on its front face at {scale.spoken}",
        f"Cut from {stock}{copies}, {size} overall",
        *_panels(piece, first),
        *_folds(piece, first),
        *_openings(piece, first),
        *_marks(piece, first),
        *_corners(piece, first),
        *_places(piece, first),
        *_islands(piece, first),
        *_glue(piece),
        *_mat(piece, first),
    ]
    return ". ".join(parts) + "."


def _size(panel: Panel, first: Ruler) -> str:
    return f"{panel.name} {both_sizes((panel.width_mm, panel.height_mm), first=first)}"


def _panels(piece: Piece, first: Ruler) -> list[str]:
    panels = [_size(p, first) for p in piece.panels if p.kind == "panel"]
    tabs = [_size(p, first) for p in piece.panels if p.kind == "tab"]
    said = []
    if len(panels) > 1:
        said.append(f"Panels, width by height: {listed(panels)}")
    if tabs:
        said.append(f"{'Tabs' if len(tabs) > 1 else 'Tab'}: {listed(tabs)}")
    return said


def _folds(piece: Piece, first: Ruler) -> list[str]:
    groups: dict[tuple[str, float], list[str]] = {}
    for fold in piece.folds:
        where = f"between {fold.parent} and {fold.child}"
        if fold.parent == fold.child:
            where = f"{fold.name}, across {fold.parent}"
        groups.setdefault((fold.bend, round(fold.closing_deg, 3)), []).append(where)
    said = []
    for (bend, closing), between in groups.items():
        word = "folds" if len(between) > 1 else "fold"
        turn = "lying flat" if closing == 180.0 else f"by {angle(closing)}"
        if all(where.startswith("between ") for where in between):
            between = [between[0], *(b.removeprefix("between ") for b in between[1:])]
        said.append(f"{bend.capitalize()} {word}, {turn}, {'; '.join(between)}")
    for score in piece.scores:
        if score.fold is None:
            said.append(f"Curved {score.bend} score {score.name}{_radius(score, first)}")
    return said


def _radius(score: Score, first: Ruler) -> str:
    arcs = [s.radius_mm for s in score.path.segments if isinstance(s, Arc)]
    if len(arcs) != 1:
        return ""
    return f", radius {both(arcs[0], kind=kind_for(arcs[0]), first=first)}"


def _openings(piece: Piece, first: Ruler) -> list[str]:
    groups: dict[tuple[str, str, float, float], list[Opening]] = {}
    for opening in piece.openings:
        key = (opening.kind, opening.shape, opening.width_mm, opening.depth_mm)
        groups.setdefault(key, []).append(opening)
    said = []
    for (kind, shape, width, depth), found in groups.items():
        word = {"notch": "notches"}.get(kind, f"{kind}s") if len(found) > 1 else kind
        count = f"{len(found)} " if len(found) > 1 else ""
        round_ = shape in ("circle", "ring", "polygon", "star")
        line = kind in ("slit", "perforation") and shape in ("line", "path")
        along = "long" if line else "across" if round_ else "wide"
        size = f"{both(width, kind=kind_for(width), first=first)} {along}"
        if not line and not round_:
            reach = "high" if kind == "window" else "deep"
            size += f" and {both(depth, kind=kind_for(depth), first=first)} {reach}"
        where = listed(dict.fromkeys(o.panel for o in found if o.panel))
        if shape in WHOLE:
            words = (
                f"{shape.capitalize()} cut away, {both_sizes((width, depth), first=first)} in all"
            )
            said.append(words + (f", in {where}" if where else ""))
            continue
        named = "" if line else f"{shape} "
        said.append(
            f"{count}{named}{word}".capitalize() + f", {size}{f', in {where}' if where else ''}"
        )
    return said


def _places(piece: Piece, first: Ruler) -> list[str]:
    """Where cuts, windows, drawn lines and scores lie; those that lie alike are told together."""
    by_name: dict[str, list[Place]] = {}
    for place in places_of(piece):
        by_name.setdefault(place.name, []).append(place)
    alike: dict[tuple[str, ...], list[tuple[str, list[Place]]]] = {}
    for name, found in by_name.items():
        words = tuple(
            f"{both(p.mm, kind=kind_for(p.mm), first=first)} from "
            + (f"the {p.whence}" if p.whence in SIDES else p.whence)
            for p in found
        )
        alike.setdefault(words, []).append((name, found))
    said = []
    for words, those in alike.items():
        names = listed(name for name, _ in those)
        on = dict.fromkeys(p.panel for _, found in those for p in found if p.panel)
        edge = f" edge of {listed(on)}" if len(on) == len(those) == 1 else " edge"
        edge = " edge of their panels" if len(on) > 1 else edge
        verb = "lies" if len(those) == 1 else "lie"
        said.append(f"{names.capitalize()} {verb} {listed(words)}{edge}")
    return said


def _marks(piece: Piece, first: Ruler) -> list[str]:
    groups: dict[tuple[str, str, float, float], list[Mark]] = {}
    for mark in piece.marks:
        key = (mark.kind, mark.shape, mark.width_mm, mark.height_mm)
        groups.setdefault(key, []).append(mark)
    said = []
    for (kind, shape, width, height), found in groups.items():
        way = {"draw": "drawn", "engrave": "engraved", "register": "to lay sheets by"}[kind]
        if shape == "line":
            size = f"{both(width, kind=kind_for(width), first=first)} long"
        elif abs(width - height) < 1e-6:
            size = f"{both(width, kind=kind_for(width), first=first)} across"
        else:
            size = both_sizes((width, height), first=first)
        count = f"{len(found)} " if len(found) > 1 else ""
        words = (
            shape
            if len(found) == 1
            else "crosses"
            if shape == "cross"
            else shape
            if shape in WHOLE
            else f"{shape}s"
        )
        where = listed(dict.fromkeys(m.panel for m in found if m.panel))
        place = f", on {where}" if where else ""
        said.append(f"{count}{words} {way}".capitalize() + f", {size}{place}")
    return said


def _corners(piece: Piece, first: Ruler) -> list[str]:
    groups: dict[tuple[str, float], int] = {}
    for corner in piece.corners:
        key = (corner.cut, corner.size_mm)
        groups[key] = groups.get(key, 0) + 1
    said = []
    for (cut, size), count in groups.items():
        what = "deep" if cut == "bevelled" else "radius"
        corners = "1 corner" if count == 1 else f"{count} corners"
        said.append(f"{corners} {cut}, {both(size, kind=kind_for(size), first=first)} {what}")
    return said


def _islands(piece: Piece, first: Ruler) -> list[str]:
    groups: dict[tuple[str, float, tuple[float, ...]], list[Island]] = {}
    for island in piece.islands:
        widths = tuple(b.width_mm for b in piece.bridges if b.island == island.name)
        groups.setdefault((island.shape, island.width_mm, widths), []).append(island)
    said = []
    for (shape, width, widths), found in groups.items():
        what = f"{len(found)} {shape}s that stay" if len(found) > 1 else f"{shape} that stays"
        size = both(width, kind=kind_for(width), first=first)
        where = listed(i.opening for i in found)
        held = ""
        if widths:
            mm = both(widths[0], kind=kind_for(widths[0]), first=first)
            each = " each" if len(found) > 1 else ""
            count = "1 bridge" if len(widths) == 1 else f"{len(widths)} bridges"
            held = f", held by {count}{each}, {mm} wide"
        said.append(f"{what.capitalize()} in {where}, {size} across{held}")
    return said


def _glue(piece: Piece) -> list[str]:
    groups: dict[str, list[GlueZone]] = {}
    for zone in piece.glue_zones:
        groups.setdefault(zone.face, []).append(zone)
    return [
        f"Glue on the {face} face: {listed(_zone(piece, z) for z in zones)}"
        for face, zones in groups.items()
    ]


def _zone(piece: Piece, zone: GlueZone) -> str:
    said = zone.name
    if zone.panel and zone.panel != zone.name:
        said += f" on {zone.panel}"
    if zone.meets:
        other, panel = zone.meets
        said += f", which meets {panel or other}"
        if panel and other != piece.name:
            said += f" of {other}"
    return said


def _mat(piece: Piece, first: Ruler) -> list[str]:
    derived = piece.derived
    if not isinstance(derived, MatOf):
        return []
    border = both(derived.border_mm, kind=kind_for(derived.border_mm), first=first)
    where = "behind" if derived.behind else "on"
    whose = "it" if derived.behind else "the panel"
    return [
        f"It goes {where} {part_of(derived.panel, derived.piece)}, "
        f"{'standing out' if derived.behind else 'leaving'} {border} "
        f"{f'round {whose}' if derived.behind else f'of {whose} all round'}; "
        "a broken line shows that panel"
    ]
