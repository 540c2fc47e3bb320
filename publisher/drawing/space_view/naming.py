"""Which parts a picture names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FoldMotion, Frame, Mark, MoveMotion, TurnMotion
from publisher.drawing.space_view import words
from publisher.drawing.space_view.bends import flaps
from publisher.drawing.space_view.by_hand import ByHand
from publisher.drawing.space_view.faces import RIM_MM, Scene
from publisher.drawing.space_view.fold_words import driven, fold_name, only_numbered, turned_panel
from publisher.drawing.space_view.glued import GlueArea
from publisher.drawing.space_view.hands import by_hands
from publisher.drawing.space_view.many import many, united
from publisher.drawing.space_view.place_words import spread
from publisher.drawing.space_view.placing import Request, label_request
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage, named_bodies, turn_is_quarter
from publisher.geometry.measure import area as area_of
from publisher.model.types import Target
from publisher.units import time_words

MOST_LABELS = 6
FEW_LABELS = 4  # what only takes part is named where there are no more
_COUNTED = re.compile(r"(.*) (\d+)(|, .*)")
_LEAST_SEEN_MM2 = 0.5
_STILL_DEG = 0.5
_OFF_FOLD_MM = 0.4
_SLIVER_MM = 2.0  # of a numbered panel that shows no more, the piece is named where it shows most
_LEAST_SHARE = 0.15  # of a part that is covered but for so little, what is glued on it is named
_MUCH_MORE = 3.0
_EDGE_ON_MM = 1.0


def _larger_than(
    motion: FoldMotion, wanted: dict[str, BaseGeometry], stage: Stage, scene: Scene
) -> list[str]:
    """The panel that moves along and shows much more than those that are named, if any: a
    cover behind its narrow spine."""
    piece = stage.of(motion.body)[0].piece
    still = {f.panel for f in piece.facets if f.name not in motion.moving}
    panels = {piece.facet(f).panel for f in motion.moving} - set(wanted) - still
    named = max((area.area for area in wanted.values()), default=0.0)
    seen = {
        name: scene.area(motion.body, [f.name for f in piece.facets if f.panel == name]).area
        for name in sorted(panels)
    }
    best = max(seen, key=lambda name: seen[name], default="")
    return [best] if best and seen[best] > _MUCH_MORE * named else []


def _paper_mm2(scene: Scene, body: str, facets: Sequence[str]) -> float:
    """The area on paper of some facets, seen or not."""
    ids = {(body, facet) for facet in facets}
    return sum(i.area.area for i in scene.items if i.actor.id in ids and not i.ghost)


def _glued_on(
    frame: Frame, stage: Stage, scene: Scene, body: str, facets: Sequence[str]
) -> list[BaseGeometry]:
    """What is seen of the paper that is glued on some facets: it goes where they go."""
    found = {}
    for bond in frame.before.bonds:
        for (host, facet), other in ((bond.first, bond.second), (bond.second, bond.first)):
            if host == body != other[0] and facet in facets and other[0] in stage.bodies:
                found[other] = scene.area(other[0], [other[1]])
    return list(found.values())


def _flat_area(scene: Scene, stage: Stage, body: str) -> BaseGeometry | None:
    """What is seen of a body that lies unfolded, a hair off its folds: no leader need cross one,
    nor end on one. None of one that is folded."""
    if any(abs(angle) > _STILL_DEG for angle in stage.angles[body].values()):
        return None
    own = zip(scene.items, scene.seen, strict=True)
    facets = [area for i, area in own if i.actor.body == body and not (i.ghost or i.clear)]
    parts = shapely.get_parts(shapely.buffer(many(facets), -_OFF_FOLD_MM))  # apart, then
    return MultiPolygon([part for part in parts if not part.is_empty])


def _stands_for_its_panel(scene: Scene, body: str, facet: str) -> bool:
    """Whether a facet is the largest of its panel: then it has the panel's name, not a fold's."""
    own = next(i.actor for i in scene.items if i.actor.id == (body, facet))
    piece = own.piece
    panel = piece.facet(facet).panel
    rest = [f.name for f in piece.facets if f.panel == panel]
    return max(rest, key=lambda name: area_of(piece.facet(name).region)) == facet


def label_requests(
    frame: Frame,
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    scene: Scene,
    glue: Sequence[GlueArea],
    handled: Sequence[ByHand],
) -> list[Request]:
    """What is named in the picture: parts that move, then parts that take glue, then pieces; what
    is held where it is ``handled``.

    The panels of a band are numbered by the program and not by the author. Nobody finds such a
    number on the paper: there the band is named, after what has a name.
    """
    wanted: dict[str, BaseGeometry] = {}
    numbered: set[str] = set()

    def panel(body: str, name: str) -> None:
        piece = stage.of(body)[0].piece
        facets = [f.name for f in piece.facets if f.panel == name]
        area = scene.area(body, facets)
        if area.area < _LEAST_SEEN_MM2:  # hidden: its glue, seen through, stands for it
            own = [g.area for g in glue if g.body == body and g.facet in facets]
            area = united(own)
        elif shapely.buffer(
            area, -RIM_MM, quad_segs=1
        ).is_empty or area.area < _LEAST_SHARE * _paper_mm2(scene, body, facets):
            # only a rim is left of it, or what a window shows: what is glued on it stands for it
            area = united([area, *_glued_on(frame, stage, scene, body, facets)])
        if facets and only_numbered(piece, name):
            if shapely.buffer(area, -_SLIVER_MM / 2.0, quad_segs=1).is_empty:
                area = scene.largest_face(body)
            if piece.name not in numbered or area.area > wanted[piece.name].area:
                wanted[piece.name] = area  # the larger is pointed at
            numbered.add(piece.name)
        elif facets:
            wanted.setdefault(name, area)

    def whole(body: str) -> None:
        if body in stage.bodies:
            name = words.body_name(stage.of(body)[0].piece, body)
            bent = any(fold.smooth for fold in stage.of(body)[0].piece.folds)
            flat = None if bent else _flat_area(scene, stage, body)
            area = scene.area(body) if bent else flat or scene.largest_face(body)
            if bent and area.area <= 2.0 * scene.largest_mm2(body):
                face = scene.largest_face(body)
                # of bent paper one strip is too small to point at
                area = area if area.area > 2.0 * face.area else face
            if area.area < _LEAST_SEEN_MM2:
                area = united(g.area for g in glue if g.body == body)
            wanted.setdefault(name, area)

    def named(targets: Iterable[Target]) -> None:
        for target in targets:
            for body in named_bodies(frame.before, target):
                if target.kind == "panel" and body in stage.bodies:
                    panel(body, target.part)
                elif target.kind in ("piece", "made", "object", "opening"):
                    whole(body)

    if any(isinstance(m, MoveMotion) for m in frame.motions):
        named(frame.action.subjects)
        named(frame.action.objects)
    ours = {t.piece for t in frame.action.subjects}
    turned = [m.body for m in frame.motions if isinstance(m, FoldMotion)]
    told = [b for b in turned if stage.of(b)[0].piece.name in ours]
    made = {m.body: m for m in by_hands(frame, shapes, stage) if isinstance(m, FoldMotion)}
    for motion in () if wanted else frame.motions:
        if isinstance(motion, FoldMotion):
            if told and motion.body not in told:  # it only follows
                continue
            piece = stage.of(motion.body)[0].piece
            if motion.shown:
                for flap, facets in flaps(piece, motion).items():
                    wanted.setdefault(flap, scene.area(motion.body, facets))
                if not flaps(piece, motion):
                    panel(motion.body, piece.fold(motion.shown[0]).child)
                continue
            for name in driven(frame, made.get(motion.body, motion), piece):
                if fold_name(piece, piece.fold(name)) == piece.fold(name).child:
                    panel(motion.body, turned_panel(piece, motion, name))
                else:  # a part of a panel, by the name of the fold that turns it
                    facets = [h.child for h in piece.hinges if h.fold == name]
                    if not any(_stands_for_its_panel(scene, motion.body, f) for f in facets):
                        wanted.setdefault(name, scene.area(motion.body, facets))
            for name in _larger_than(motion, wanted, stage, scene):
                panel(motion.body, name)
            said = frame.action.angle_deg
            if said is not None and said not in (90.0, 180.0):
                wanted = {f"{text}, {said:g}°": area for text, area in wanted.items()}
        elif isinstance(motion, Mark) and motion.what in ("glue", "tape"):
            piece = stage.of(motion.body)[0].piece
            zones = [z for z in piece.glue_zones if z.name in motion.names]
            own = [n for n in motion.names if n in {p.name for p in piece.panels} - {piece.name}]
            if not zones and not own:
                whole(motion.body)
            for name in own:
                panel(motion.body, name)
            for zone in zones:
                panel(motion.body, zone.panel or zone.name)
            for zone in zones:
                if len(wanted) < FEW_LABELS and zone.meets and zone.meets[0] == piece.name:
                    panel(motion.body, zone.meets[1])
        elif isinstance(motion, Mark) and motion.what in ("hold", "colour") and motion.names:
            for name in motion.names:
                panel(motion.body, name)
            if all(area.area <= _LEAST_SEEN_MM2 for area in wanted.values()):
                whole(motion.body)  # what is pressed lies within: the outside is held, over it
                name = words.body_name(stage.of(motion.body)[0].piece, motion.body)
                held = united(one.area for one in handled)
                over = [
                    area
                    for item, area in zip(scene.items, scene.seen, strict=True)
                    if item.actor.body == motion.body and not item.ghost
                    if shapely.intersection(area, held).area > _LEAST_SEEN_MM2
                ]
                wanted[name] = united(over) if over else wanted[name]
        elif isinstance(motion, Mark):
            whole(motion.body)
        else:  # what is glued to it turns with it and needs no name
            named(frame.action.subjects)
            for body in () if wanted else motion.bodies:
                whole(body)
            if isinstance(motion, TurnMotion) and turn_is_quarter(motion):
                for name in _ends_after(frame, motion, stage, scene):
                    panel(motion.bodies[0], name)
    named(t for t in (*frame.action.subjects, *frame.action.objects) if t.kind == "panel")
    if frame.action.seconds is not None:
        wait = time_words(frame.action.seconds)
        large = {text: area for text, area in wanted.items() if area.area > _LEAST_SEEN_MM2}
        several = sum(len(m.names) for m in frame.motions if isinstance(m, Mark)) > 1
        if several and 0 < len(large) < len(
            wanted
        ):  # the time holds for those, too, that have no name here
            wanted = {wait: next(iter(large.values()))}
        else:
            wanted = {f"{text}, {wait}": area for text, area in wanted.items()}
    shown = [
        label_request(text, wanted[text])
        for text in sorted(wanted, key=lambda text: text in numbered)
        if wanted[text].area > _LEAST_SEEN_MM2
    ]
    return _rows(shown, all_of_them=len(shown) > MOST_LABELS)[:MOST_LABELS]


def _ends_after(frame: Frame, turn: TurnMotion, stage: Stage, scene: Scene) -> list[str]:
    """The part that is seen best of those that come to the bottom, and of those at the top, of
    what is tipped: both ends of a tube look alike."""
    body = turn.bodies[0]
    piece = stage.of(body)[0].piece
    ends = spread({body: (piece, frame.after.body(body))}).at_ends(2).values()

    def seen(panel: str) -> float:
        facets = [f.name for f in piece.facets if f.panel == panel]
        return round(scene.area(body, facets).area) if facets else 0.0

    return [max(parts, key=seen) for parts in ends]


def _edge_on(area: BaseGeometry | None) -> bool:
    """Whether what is seen of a part is too narrow to be pointed at."""
    return area is not None and bool(
        shapely.is_empty(shapely.buffer(area, -_EDGE_ON_MM / 2.0, quad_segs=1))
    )


def _rows(requests: Sequence[Request], all_of_them: bool) -> list[Request]:
    """The same, but one name for each row of parts that are counted up, on the middle one of
    them: "side 3 to 9"; if not for all of them, for each of which one could have no name."""
    rows: list[list[tuple[int, Request]]] = []
    stems: list[tuple[str, str]] = []
    for request in requests:
        counted = _COUNTED.fullmatch(request.text)
        stem = (counted[1], counted[3]) if counted else ("", request.text)
        number = int(counted[2]) if counted else 0
        if counted and stems and stems[-1] == stem and rows[-1][-1][0] == number - 1:
            rows[-1].append((number, request))
        else:
            rows.append([(number, request)])
            stems.append(stem)
    found = []
    for row, (name, rest) in zip(rows, stems, strict=True):
        middle = row[len(row) // 2][1]
        one_name = all_of_them or any(_edge_on(request.area) for _, request in row)
        if len(row) > 2 and one_name and middle.area is not None:
            text = f"{name} {row[0][0]} to {row[-1][0]}{rest}"
            found.append(label_request(text, middle.area))
        else:
            found += [request for _, request in row]
    return found
