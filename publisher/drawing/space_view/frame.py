"""One action as one picture: the state before with the action on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import MultiLineString
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, FoldMotion, Frame, Mark, MoveMotion, TurnMotion
from publisher.drawing.signs import in_legend_order
from publisher.drawing.space_view import words
from publisher.drawing.space_view.arrows import round_sign, turn_sign
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.faces import Scene, face_fills, set_scene
from publisher.drawing.space_view.ink import area_paths, line_paths, moved_item
from publisher.drawing.space_view.lines import Drawn, drawn_once, edge_lines
from publisher.drawing.space_view.marks import GlueArea, fold_roles, glue_areas, marked_lines
from publisher.drawing.space_view.motions import PlacedArrow, all_arrows
from publisher.drawing.space_view.placing import (
    BASELINE_MM,
    LABEL_PT,
    Placement,
    Request,
    dot,
    label_request,
    place,
)
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage, named_bodies, turn_is_over
from publisher.drawing.space_view.viewpoint import (
    PICTURE_WIDTH_MM,
    WHITE_MM,
    spoken_view,
)
from publisher.drawing.types import Drawing, Fill, FillRole, Item, Label, Stroke
from publisher.geometry.path import Line, Path
from publisher.model.types import Pattern, Target

MOST_LABELS = 4
_SAME_SIDE_DEG = 50.0  # going round less than this needs no sign
WORDS_ABOVE_MM = 5.0  # how far words may stand out above and below the drawing
SIGN_ROOM_MM = 12.0
_GHOST_SHARE = 0.3  # a ghost that shows less of its outline than this is left out
_LEAST_SEEN_MM2 = 0.5
_FOLD_GHOSTS = 2  # with more folds than this, landing places would crowd the picture


@dataclass(frozen=True, slots=True)
class Setting:
    """From where and how large a picture is drawn. ``turned_deg``: how far the viewer has gone
    round since the last picture, which a sign then tells."""

    view: View
    scale: float
    turned_deg: float = 0.0


def _ghosts_wanted(frame: Frame) -> bool:
    for motion in frame.motions:
        if isinstance(motion, MoveMotion):
            return motion.manner != "wrap"
        if isinstance(motion, FoldMotion) and len(motion.folds) <= _FOLD_GHOSTS:
            return True
    return False


def _show_hidden(frame: Frame, stage: Stage, glue: Sequence[GlueArea]) -> frozenset[FacetId]:
    """Facets whose hidden edges are dotted: those that fold now, and those that take glue."""
    folding = {m.body for m in frame.motions if isinstance(m, FoldMotion)}
    wanted = {a.id for a in stage.actors if a.moving and a.body in folding}
    return frozenset(wanted | {(g.body, g.facet) for g in glue})


def _ghost_lines(scene: Scene) -> BaseGeometry:
    """Outlines of where parts will lie, body by body, as far as they are seen."""
    bodies = dict.fromkeys(i.actor.body for i in scene.items if i.ghost)
    found: list[BaseGeometry] = []
    for body in bodies:
        own = [k for k, i in enumerate(scene.items) if i.ghost and i.actor.body == body]
        whole = shapely.union_all([scene.items[k].area for k in own])
        seen = shapely.union_all([scene.seen[k] for k in own])
        if whole.is_empty:
            continue
        outline = shapely.simplify(shapely.boundary(whole), 0.01)
        shown = shapely.intersection(outline, shapely.buffer(seen, 0.01))
        if shown.length >= _GHOST_SHARE * outline.length:
            found += [p for p in shapely.get_parts(shown) if p.geom_type == "LineString"]
    return shapely.union_all(found)


def label_requests(
    frame: Frame, stage: Stage, scene: Scene, glue: Sequence[GlueArea]
) -> list[Request]:
    """What is named in the picture: parts that move, then parts that take glue, then pieces."""
    wanted: dict[str, BaseGeometry] = {}

    def panel(body: str, name: str) -> None:
        piece = stage.of(body)[0].piece
        facets = [f.name for f in piece.facets if f.panel == name]
        area = scene.area(body, facets)
        if area.area < _LEAST_SEEN_MM2:  # hidden: its glue, seen through, stands for it
            own = [g.area for g in glue if g.body == body and g.facet in facets]
            area = shapely.union_all(own)
        if facets:
            wanted.setdefault(name, area)

    def whole(body: str) -> None:
        if body in stage.bodies:
            name = words.body_name(stage.of(body)[0].piece, body)
            wanted.setdefault(name, scene.largest_face(body))

    def named(targets: Iterable[Target]) -> None:
        for target in targets:
            for body in named_bodies(frame.before, target):
                if target.kind == "panel" and body in stage.bodies:
                    panel(body, target.part)
                elif target.kind in ("piece", "made"):
                    whole(body)

    if any(isinstance(m, MoveMotion) for m in frame.motions):
        named(frame.action.subjects)
        named(frame.action.objects)
    for motion in () if wanted else frame.motions:
        if isinstance(motion, FoldMotion):
            piece = stage.of(motion.body)[0].piece
            for name, _, _ in motion.folds:
                panel(motion.body, piece.fold(name).child)
        elif isinstance(motion, Mark) and motion.what == "glue":
            piece = stage.of(motion.body)[0].piece
            zones = [z for z in piece.glue_zones if z.name in motion.names]
            for zone in zones:
                panel(motion.body, zone.panel or zone.name)
            for zone in zones:
                if zone.meets is not None and zone.meets[0] == piece.name:
                    panel(motion.body, zone.meets[1])
        else:
            for body in [motion.body] if isinstance(motion, Mark) else motion.bodies:
                whole(body)
    named(t for t in (*frame.action.subjects, *frame.action.objects) if t.kind == "panel")
    shown = [
        label_request(text, area) for text, area in wanted.items() if area.area > _LEAST_SEEN_MM2
    ]
    return shown[:MOST_LABELS]


def _spoken(setting: Setting) -> str:
    view = spoken_view(setting.view)
    if abs(setting.turned_deg) > _SAME_SIDE_DEG:
        return f"{view} Since the last picture the view has gone round."
    return view


def _turn_motion(frame: Frame, setting: Setting) -> TurnMotion | None:
    """The turn that the picture must tell: the action's, or that of the whole view."""
    motion = next((m for m in frame.motions if isinstance(m, TurnMotion)), None)
    if motion is None and abs(setting.turned_deg) > _SAME_SIDE_DEG:
        # the viewer goes round one way: for the maker the thing turns the other way
        return TurnMotion((), (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -setting.turned_deg)
    return motion


def _turn_request(motion: TurnMotion) -> Request:
    if turn_is_over(motion):
        sign = turn_sign(_upright(motion))
        return Request("", None, sign.width_mm, sign.height_mm)
    x0, y0, x1, y1 = round_sign(_signed(motion)).halo.bounds
    return Request("", None, x1 - x0, y1 - y0)


def _upright(motion: TurnMotion) -> bool:
    return abs(motion.axis[1]) > abs(motion.axis[0])


def _signed(motion: TurnMotion) -> float:
    return motion.angle_deg if motion.axis[2] > 0 else -motion.angle_deg


def _sign_items(motion: TurnMotion, box: tuple[float, float, float, float]) -> list[Item]:
    over = turn_is_over(motion)
    sign = turn_sign(_upright(motion)) if over else None
    shape = sign.loop if sign is not None else round_sign(_signed(motion))
    middle = (box[0] + box[2] / 2.0, box[1] + box[3] / 2.0)
    items: list[Item] = []
    if sign is not None:
        axis = tuple(Path((Line(a, b),), closed=False) for a, b in sign.axis)
        items.append(Stroke("leader", axis, "turn-axis"))
        dx, dy = middle
    else:
        x0, y0, x1, y1 = shape.halo.bounds
        dx, dy = middle[0] - (x0 + x1) / 2.0, middle[1] - (y0 + y1) / 2.0
    items.append(Fill("arrow-turn", area_paths(shape.ink), id="turn"))
    return [moved_item(item, dx, dy) for item in items]


def _glue_items(glue: Sequence[GlueArea]) -> list[Item]:
    items: list[Item] = []
    for g in glue:
        role: FillRole = "glue-through" if g.through else "glue"
        name = f"{role}-{g.body}-{g.facet}-{g.zone}".replace(" ", "-")
        items.append(Fill(role, area_paths(g.area), id=name, hatch_deg=g.hatch_deg))
    return items


def _glue_borders(glue: Sequence[GlueArea]) -> list[Drawn]:
    return [
        Drawn("hidden" if g.through else "glue-border", g.body, shapely.boundary(g.area))
        for g in glue
    ]


def _arrow_items(arrows: Sequence[PlacedArrow]) -> list[Item]:
    items: list[Item] = []
    for a in arrows:
        name = f"{a.body}-{a.name}".replace(" ", "-")
        items.append(Fill("halo", area_paths(a.shape.halo), id=f"halo-{name}"))
    for a in arrows:
        name = f"{a.body}-{a.name}".replace(" ", "-")
        role: FillRole = "arrow-move" if a.kind == "move" else "arrow-fold"
        items.append(Fill(role, area_paths(a.shape.ink), id=f"arrow-{name}"))
    return items


def _label_items(placements: Sequence[Placement]) -> list[Item]:
    items: list[Item] = []
    for p in placements:
        name = p.request.text.replace(" ", "-")
        if p.leader is not None:
            start, end = p.leader
            line = Path((Line(start, end),), closed=False)
            items.append(Stroke("leader", (line,), f"leader-{name}"))
            items.append(Fill("sign", area_paths(dot(end)), id=f"dot-{name}"))
    for p in placements:
        name = p.request.text.replace(" ", "-")
        x, y, _, _ = p.box
        items.append(
            Label(p.request.text, (x, y + BASELINE_MM), LABEL_PT, "start", id=f"label-{name}")
        )
    return items


def _signs(
    turn: TurnMotion | None,
    scene: Scene,
    lines: Sequence[Drawn],
    glue: Sequence[GlueArea],
    arrows: Sequence[PlacedArrow],
) -> tuple[str, ...]:
    keys: set[str] = set()
    for item, area in zip(scene.items, scene.seen, strict=True):
        if not item.ghost and not area.is_empty:
            keys.add(item.face)
            if item.actor.moving:
                keys.add("moving")
    roles = {line.role for line in lines}
    keys |= roles & {"valley", "mountain", "fold-made", "cut", "hidden", "ghost"}
    for a in arrows:
        keys.add("move-arrow" if a.kind == "move" else f"fold-arrow-{a.kind}")
    for g in glue:
        keys.add("glue-through" if g.through else "glue")
    if turn is not None:
        keys.add("turn-over" if turn_is_over(turn) else "turn-round")
    return in_legend_order(keys)


def picture(
    pattern: Pattern,
    frame: Frame,
    stage: Stage,
    shapes: dict[str, PieceShape],
    setting: Setting,
    name: str,
) -> Drawing:
    """The drawing of one frame, ``PICTURE_WIDTH_MM`` wide (wider only where the scale of the
    setting is too large for that) and as high as it needs."""
    camera = Camera(setting.view, setting.scale)
    if not _ghosts_wanted(frame):
        stage = replace(stage, ghosts=())
    scene = set_scene(stage, shapes, camera)
    glue = glue_areas(frame, shapes, scene.items, scene.seen)
    arrows = all_arrows(frame, stage, shapes, camera, scene.items, scene.seen)

    shown = len(stage.actors)
    lines = edge_lines(
        scene.items[:shown],
        scene.seen[:shown],
        shapes,
        stage,
        _show_hidden(frame, stage, glue),
        fold_roles(frame, stage),
    )
    lines += marked_lines(frame, shapes, scene.items, scene.seen)
    lines += _glue_borders(glue)
    if stage.ghosts:
        lines.append(Drawn("ghost", "", _ghost_lines(scene)))
    lines = drawn_once(lines)

    items: list[Item] = list(face_fills(scene, frozenset((g.body, g.facet) for g in glue)))
    items += _glue_items(glue)
    for line in sorted(lines, key=lambda d: d.role in ("valley", "mountain", "cut")):
        ident = "-".join(w for w in (line.role, line.body) if w)
        items.append(Stroke(line.role, line_paths(line.geometry), ident))
    items += _arrow_items(arrows)

    ink = shapely.union_all([a.shape.halo for a in arrows]) if arrows else MultiLineString()
    landing = [shapely.buffer(d.geometry, 0.2) for d in lines if d.role == "ghost"]
    drawn = shapely.simplify(shapely.union_all([scene.silhouette, ink, *landing]), 0.02)
    x0, y0, x1, y1 = drawn.bounds
    width = max(PICTURE_WIDTH_MM, x1 - x0 + 2 * WHITE_MM)
    middle = (x0 + x1) / 2.0
    half = width / 2.0 - WHITE_MM
    turn = _turn_motion(frame, setting)
    requests = [_turn_request(turn)] if turn is not None else []
    requests += label_requests(frame, stage, scene, glue)
    below = SIGN_ROOM_MM if turn is not None else WORDS_ABOVE_MM
    room = (middle - half, y0 - WORDS_ABOVE_MM, middle + half, y1 + below)
    placements = place(requests, room, drawn, ink)
    for p in placements:
        if p.request.area is None and turn is not None:
            items += _sign_items(turn, p.box)
    items += _label_items([p for p in placements if p.request.area is not None])

    tops = [y0, *(p.box[1] for p in placements)]
    bottoms = [y1, *(p.box[1] + p.box[3] for p in placements)]
    dx, dy = width / 2.0 - middle, WHITE_MM - min(tops)
    height = max(bottoms) - min(tops) + 2 * WHITE_MM
    return Drawing(
        name,
        width,
        height,
        tuple(moved_item(item, dx, dy) for item in items),
        setting.scale,
        _signs(turn, scene, lines, glue, arrows),
        words.alt_text(pattern, frame, stage, glue, _spoken(setting)),
    )
