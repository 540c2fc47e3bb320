"""One action as one picture: the state before with the action on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.assembly.types import FacetId, FoldMotion, Frame, TurnMotion
from publisher.drawing.signs import in_legend_order
from publisher.drawing.space_view import circles, closeup, words
from publisher.drawing.space_view.by_hand import (
    AROUND_MM,
    HELD_MM,
    ByHand,
    by_hand,
    hand_items,
    held_at,
)
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.clear import clear_words
from publisher.drawing.space_view.crosses import crosses_beside
from publisher.drawing.space_view.crumbs import without_crumbs
from publisher.drawing.space_view.details import find_details
from publisher.drawing.space_view.dress import (
    arrow_items,
    glue_items,
    label_items,
    strokes,
    turn_items,
    turn_request,
)
from publisher.drawing.space_view.faces import Scene, face_fills, set_scene
from publisher.drawing.space_view.free_signs import FREE_SIGNS, free_requests
from publisher.drawing.space_view.ghosts import ghost_lines, ghosts_wanted
from publisher.drawing.space_view.glued import GlueArea, glue_areas, wet_areas
from publisher.drawing.space_view.ground import Ground
from publisher.drawing.space_view.hands import all_arrows, hides
from publisher.drawing.space_view.lines import Drawn, drawn_once, edge_lines
from publisher.drawing.space_view.lying_words import Heard
from publisher.drawing.space_view.many import united
from publisher.drawing.space_view.marks import fold_roles, marked_lines
from publisher.drawing.space_view.motions import PlacedArrow
from publisher.drawing.space_view.naming import label_requests
from publisher.drawing.space_view.on_paper import drawn_lines
from publisher.drawing.space_view.scales import PICTURE_WIDTH_MM, WHITE_MM
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.sides import Backs, seen_backs
from publisher.drawing.space_view.slots import open_slots
from publisher.drawing.space_view.spared import spared, spared_areas
from publisher.drawing.space_view.stage import Stage, turn_is_over, turn_is_quarter
from publisher.drawing.space_view.tools import tool_items, with_tool
from publisher.drawing.space_view.turned_corner import corner_items, turned_corners
from publisher.drawing.space_view.waste import (
    filled,
    leaving,
    leaving_items,
    left_items,
    pressed,
    pressed_out,
)
from publisher.drawing.types import Drawing, Item
from publisher.model.types import Pattern

WORDS_ABOVE_MM = 5.0  # how far words may stand out above and below the drawing
SIGN_ROOM_MM = 12.0
_HIGH_MM = 72.0  # in a picture that is as high, words stand beside the drawing
_ACTING = ("valley", "mountain", "cut")
_TOLD = ("no-glue", "no-glue-through", "glue-wet", "pattern-through")  # roles that are signs
_OVER = (*_ACTING, "ghost")
_REACH_MM = (-0.2, -0.2, 0.2, 0.2)  # how far lines reach out beyond what they bound


class Setting(Struct, frozen=True):
    """From where and how large a picture is drawn. ``heard``: what earlier words leave to be
    said. ``rise_deg``: how much higher one looks from than in the picture before."""

    view: View
    scale: float
    heard: Heard = Heard()
    rise_deg: float = 0.0


def _show_hidden(frame: Frame, stage: Stage, glue: Sequence[GlueArea]) -> frozenset[FacetId]:
    """Facets whose hidden edges are dotted: those that take glue, and those that fold now; not
    round a thing that is set on them, whose own paper would be full of dots."""
    folds = [m for m in frame.motions if isinstance(m, FoldMotion)]
    folding = set() if stage.away else {m.body for m in folds}
    wanted = {a.id for a in stage.actors if a.moving and a.body in folding}
    return frozenset(wanted | {(g.body, g.facet) for g in glue})


def _turning(turn: TurnMotion, stage: Stage, scene: Scene) -> BaseGeometry | None:
    """What a turn turns where other things stand beside it that stay as they are."""
    if not turn.bodies or set(turn.bodies) >= set(stage.bodies):
        return None
    return united(scene.area(body) for body in turn.bodies)


def _pushed(scene: Scene) -> BaseGeometry:
    """What is seen of that which moves."""
    return united(
        area
        for item, area in zip(scene.items, scene.seen, strict=True)
        if item.actor.moving and not item.ghost
    )


def _glue_borders(glue: Sequence[GlueArea]) -> list[Drawn]:
    return [
        Drawn(
            "inner" if g.what != "glue" else "hidden" if g.through else "glue-border",
            g.body,
            shapely.boundary(g.area),
        )
        for g in glue
    ]


def _signs(
    turn: TurnMotion | None,
    scene: Scene,
    lines: Sequence[Drawn],
    glue: Sequence[GlueArea],
    arrows: Sequence[PlacedArrow],
    handled: Sequence[ByHand],
) -> tuple[str, ...]:
    keys: set[str] = {one.what for one in handled}
    for item, area in zip(scene.items, scene.seen, strict=True):
        if not (item.ghost or item.clear or area.is_empty):
            keys.add(item.face)
            if item.actor.moving:
                keys.add("moving")
    roles = {line.role for line in lines}
    keys |= roles & {"valley", "mountain", "fold-made", "cut", "hidden", "ghost", "clear"}
    for a in arrows:
        made = "curl-arrow" if a.curl else f"fold-arrow-{a.kind}"
        keys |= {key for key, n in (("repeat", a.again), ("repeat-behind", a.far_side)) if n}
        moved = "push-arrow" if a.behind > 0.0 else "move-arrow"
        keys.add(moved if a.kind == "move" else made)
    for g in glue:
        keys.add(g.what if g.what == "pads" or not g.through else f"{g.what}-through")
    if turn is not None:
        over = "turn-quarter" if turn_is_quarter(turn) else "turn-over"
        keys.add(over if turn_is_over(turn) else "turn-round")
    return in_legend_order(keys)


def picture(
    pattern: Pattern,
    frame: Frame,
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    setting: Setting,
    name: str,
    clear: frozenset[FacetId] = frozenset(),
) -> Drawing:
    """The drawing of one frame, ``PICTURE_WIDTH_MM`` wide (wider only where the scale of the
    setting is too large for that) and as high as it needs; ``clear`` facets hide nothing. With
    nothing on the table it is empty and has its words."""
    if not stage.actors:
        words_only = words.alt_text(pattern, frame, stage, setting.view, "", setting.heard)
        return Drawing(name, PICTURE_WIDTH_MM, 2 * WHITE_MM, (), setting.scale, (), words_only)
    camera = Camera(setting.view, setting.scale)
    if not ghosts_wanted(frame, shapes, stage):
        stage = replace(stage, ghosts=())
    elif stage.away:  # the landing place of what travels, not also of what folds round it
        stage = replace(stage, ghosts=tuple(g for g in stage.ghosts if g.body in stage.away))
    out = pressed(frame, {piece.name: piece for piece in pattern.pieces})
    going = leaving(stage, shapes, out, camera)
    stage, shapes = filled(stage, shapes, out, going)
    shapes = open_slots(frame, shapes, setting.scale)
    scene = set_scene(stage, shapes, camera, clear)
    backs = seen_backs(frame, stage, scene.items)
    lines, glue = _lined(frame, stage, shapes, scene, backs)
    silhouette = scene.silhouette
    lines = drawn_once(lines, silhouette)
    arrows = all_arrows(frame, stage, shapes, camera, scene.items, scene.seen, backs)
    wastes = pressed_out(scene, going, camera)
    arrows = [*arrows, *(one.arrow for one in wastes)]
    sticky = [g for g in glue if g.what != "pads"]
    details = find_details(frame, shapes, scene, lines, sticky)
    inset: list[PlacedArrow] = []
    if details and frame.action.verb == "push":  # what is pushed is seen whole, with its way
        pushed = _pushed(scene)
        details = [closeup.of_whole(pushed)]
        if hides(arrows, pushed):
            inset, arrows = arrows, []

    handled = by_hand(frame, shapes, scene.items, scene.seen)
    signed = [shapely.buffer(shapely.Point(at), HELD_MM + AROUND_MM) for at in held_at(handled)]
    shown = [*(a.shape.halo for a in arrows), *signed]
    held, lines = with_tool(frame, lines, scene, shapes, details)
    shown += [*(one.area for one in wastes), *([held.area] if held is not None else [])]
    corners, details = turned_corners(stage, scene, shown, details)
    ink = united([*shown, *(c.area for c in corners)])
    lines = without_crumbs(lines, ink)
    landing = [shapely.buffer(d.geometry, 0.2) for d in lines if d.role == "ghost"]
    drawn = shapely.simplify(united([silhouette, ink, *landing]), 0.02)
    x0, y0, x1, y1 = (b + d for b, d in zip(drawn.bounds, _REACH_MM, strict=True))
    width, middle = max(PICTURE_WIDTH_MM, x1 - x0 + 2 * WHITE_MM), (x0 + x1) / 2.0
    half = width / 2.0 - WHITE_MM
    turn = next((m for m in frame.motions if isinstance(m, TurnMotion)), None)
    turning = None if turn is None else _turning(turn, stage, scene)
    requests = [] if turn is None else [turn_request(turn, setting.view, turning)]
    requests += (free_signs := free_requests(frame, setting.rise_deg))
    above = min(WORDS_ABOVE_MM, max(0.5, (_HIGH_MM - 2 * WHITE_MM - (y1 - y0)) / 2.0))
    below = SIGN_ROOM_MM if requests else above
    white = 2 * WHITE_MM + above
    if details:
        below = max(below, circles.HEIGHTS_MM[-1] - white - (y1 - y0))
    room = (middle - half, y0 - above, middle + half, y1 + below)
    ground = Ground.of(room, drawn, ink)
    marks = shapely.GeometryCollection([d.geometry for d in lines if d.role in _ACTING])
    ground = replace(ground, shy=marks)
    requests += label_requests(frame, stage, shapes, scene, glue, handled)
    shown_larger, placements = circles.with_words(details, requests, ground, white)
    rings = [one.placement for one in shown_larger]
    tops = [y0, *(p.box[1] for p in (*placements, *rings))]
    bottoms = [y1, *(p.box[1] + p.box[3] for p in (*placements, *rings))]
    shift = (width / 2.0 - middle, WHITE_MM - min(tops))
    height = max(bottoms) - min(tops) + 2 * WHITE_MM

    wet = wet_areas(stage.wet, shapes, scene.items, scene.seen)
    dressed = frozenset((g.body, g.facet) for g in (*glue, *wet) if not g.through)
    items: list[Item] = [*face_fills(scene, shift, dressed), *glue_items([*wet, *glue], shift)]
    items += left_items(wastes, shift)
    items += strokes(sorted(lines, key=lambda d: d.role in _OVER), shift)
    free = spared(frame, shapes, {b: stage.of(b)[0].piece for b in stage.bodies})
    kept = spared_areas(free, scene.items, scene.seen)
    items += crosses_beside(kept, shift, lines, glue, ink, placements, shown_larger)
    items += [*corner_items(corners, shift), *hand_items(handled, shift)]
    items += tool_items(held, shift) if held is not None else []
    items += [*leaving_items(wastes, shift), *arrow_items(arrows, shift)]
    for p in placements:
        if p.request.area is None and p.request.text:
            x, y, w, h = p.box
            items += FREE_SIGNS[p.request.text]((x + w / 2 + shift[0], y + h / 2 + shift[1]))
        elif p.request.area is None and turn is not None:
            items += turn_items(turn, setting.view, p.box, shift)
    items += label_items([p for p in placements if p.request.area is not None], shift)
    also = [held.sign] if held is not None else []
    also += ["moving"] * bool(wastes) + [i.role for i in items if i.role in _TOLD]
    also += [one.text for one in free_signs] + ["close-up"] * bool(shown_larger)
    signs = in_legend_order([*_signs(turn, scene, lines, glue, [*arrows, *inset], handled), *also])
    for k, one in enumerate(shown_larger, start=1):
        near = closeup.magnified(scene, one)
        near_lines, near_glue = _lined(frame, stage, shapes, near, backs)
        near_lines = drawn_once(near_lines, near.silhouette)
        near_glue += wet_areas(stage.wet, shapes, near.items, near.seen)
        called = "close-up" if k == 1 else f"close-up-{k}"
        items += closeup.ring_items(one, shift, ink, called)
        items += closeup.items(one, shift, near, near_lines, near_glue, inset, wastes, called)
        near_free = closeup.free_in(one, spared_areas(free, near.items, near.seen), shift)
        items += crosses_beside(*near_free, near_lines, near_glue, name=f"{called}-")
    return Drawing(
        name,
        width,
        height,
        tuple(items),
        setting.scale,
        signs,
        words.of_picture(
            pattern,
            frame,
            stage,
            shapes,
            setting.view,
            setting.heard,
            len(rings),
            free,
            clear_words(clear),
        ),
    )


def _lined(
    frame: Frame, stage: Stage, shapes: Mapping[str, PieceShape], scene: Scene, backs: Backs
) -> tuple[list[Drawn], list[GlueArea]]:
    """The lines of a scene and its glue."""
    glue = glue_areas(frame.motions, shapes, scene.items, scene.seen)
    shown = sum(not item.ghost for item in scene.items)
    lines = edge_lines(
        scene.items[:shown],
        scene.seen[:shown],
        shapes,
        stage,
        _show_hidden(frame, stage, glue),
        fold_roles(frame, stage, backs),
    )
    lines += marked_lines(frame, shapes, scene.items, scene.seen, scene.groups)
    lines += drawn_lines(shapes, scene.items, scene.seen, stage)
    lines += _glue_borders(glue)
    if stage.ghosts:
        lines += ghost_lines(scene, stage)
    return lines, glue
