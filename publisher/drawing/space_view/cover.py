"""The finished thing, large."""

from __future__ import annotations

from publisher.assembly.types import MoveMotion, State, Story
from publisher.drawing.signs import in_legend_order
from publisher.drawing.space_view import words
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.faces import face_fills, set_scene
from publisher.drawing.space_view.ink import line_paths, moved_item
from publisher.drawing.space_view.lines import drawn_once, edge_lines
from publisher.drawing.space_view.shapes import PieceShape, piece_shape
from publisher.drawing.space_view.stage import Stage, set_end
from publisher.drawing.space_view.viewpoint import extent, spoken_view
from publisher.drawing.types import Drawing, Item, Stroke
from publisher.geometry.space import Vector, dot, norm, scaled, sub, unit
from publisher.model.types import Pattern

COVER_VIEW = View(-32.0, 34.0)
COVER_ROOM_MM = (150.0, 105.0)
MARGIN_MM = 5.0
PULLED_OUT = 1.0 / 3.0


def _pulled(pattern: Pattern, story: Story) -> dict[str, Vector]:
    """What slid in last is drawn a third of its own length out again, so that the thing
    explains itself."""
    slides = [
        (frame, motion)
        for frame in story.frames[-1:]
        for motion in frame.motions
        if isinstance(motion, MoveMotion) and motion.manner == "slide" and len(motion.path) > 1
    ]
    if not slides:
        return {}
    _, motion = slides[-1]
    back = sub(motion.path[-2], motion.path[-1])
    if norm(back) < 1e-6:
        return {}
    way = unit(back)
    stage = set_end(pattern, story.end, {}, motion.bodies)
    reach = [dot(way, p) for p in _points(stage)]
    out = (max(reach) - min(reach)) * PULLED_OUT
    return {body: scaled(way, out) for body in motion.bodies}


def _points(stage: Stage) -> list[Vector]:
    found = []
    for actor in stage.actors:
        shape = piece_shape(actor.piece).facets[actor.facet].paper
        found += [actor.pose.apply((x, -y, 0.0)) for x, y in shape.exterior.coords]
    return found


def _finished(state: State) -> list[str]:
    placed = [b.id for b in state.bodies if b.placed]
    return placed or [b.id for b in state.bodies]


def draw_cover(pattern: Pattern, story: Story) -> Drawing:
    """The finished thing as it stands at the end of the story, without words or signs."""
    pulled = _pulled(pattern, story)
    stage = set_end(pattern, story.end, pulled, _finished(story.end))
    used = {a.piece.name for a in stage.actors}
    shapes: dict[str, PieceShape] = {
        p.name: piece_shape(p) for p in pattern.pieces if p.name in used
    }
    width, height = extent(stage, shapes, COVER_VIEW)
    scale = min(COVER_ROOM_MM[0] / width, COVER_ROOM_MM[1] / height)
    camera = Camera(COVER_VIEW, scale)
    scene = set_scene(stage, shapes, camera)
    lines = drawn_once(edge_lines(scene.items, scene.seen, shapes, stage, frozenset(), {}))
    items: list[Item] = list(face_fills(scene))
    items += [Stroke(d.role, line_paths(d.geometry), f"{d.role}-{d.body}") for d in lines]
    x0, y0, x1, y1 = scene.silhouette.bounds
    dx, dy = MARGIN_MM - x0, MARGIN_MM - y0
    faces = {i.face for i, a in zip(scene.items, scene.seen, strict=True) if not a.is_empty}
    pulled_names = [words.body_name(stage.of(b)[0].piece, b) for b in pulled]
    out = f", {words.the(pulled_names)} drawn out a third of its length" if pulled else ""
    names = words.listed(words.body_name(stage.of(b)[0].piece, b) for b in stage.bodies)
    return Drawing(
        "cover",
        x1 - x0 + 2 * MARGIN_MM,
        y1 - y0 + 2 * MARGIN_MM,
        tuple(moved_item(item, dx, dy) for item in items),
        scale,
        in_legend_order(faces),
        f"The finished {pattern.meta.title.lower()}: {names}, put together{out}. "
        f"{spoken_view(COVER_VIEW)}",
    )
