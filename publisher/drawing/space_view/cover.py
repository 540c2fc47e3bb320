"""The finished thing, large. What moved last is drawn a third of its way back, so that the
thing explains itself: a drawer pulled out, a flap lifted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.assembly.types import Bond, FoldMotion, Frame, MoveMotion, State, Story
from publisher.drawing.signs import in_legend_order
from publisher.drawing.space_view import words
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.dress import strokes
from publisher.drawing.space_view.faces import face_fills, set_scene
from publisher.drawing.space_view.lines import drawn_once, edge_lines
from publisher.drawing.space_view.lists import gathered
from publisher.drawing.space_view.on_paper import drawn_lines
from publisher.drawing.space_view.opened import Opening, between, opened_state
from publisher.drawing.space_view.scales import extent
from publisher.drawing.space_view.shapes import PieceShape, piece_shape
from publisher.drawing.space_view.stage import set_end
from publisher.drawing.space_view.viewpoint import spoken_view
from publisher.drawing.types import Drawing, Item
from publisher.geometry.measure import area, path_bounds
from publisher.geometry.path import Region
from publisher.geometry.space import Vector, dot, lift, norm, scaled, sub, unit
from publisher.model.types import Pattern, Piece

Shown = tuple[Vector, float]
"""Where a face looks, and how large it is, mm²."""

COVER_VIEWS = (View(-32.0, 34.0), View(32.0, 34.0), View(148.0, 34.0), View(-148.0, 34.0))
COVER_ROOM_MM = (150.0, 105.0)
MARGIN_MM = 5.0
BACK = 1.0 / 3.0
BESIDE = 0.2


def _pulled(frame: Frame, state: State, pieces: Mapping[str, Piece]) -> dict[str, Vector]:
    """What slid in last, a third of its own length out again."""
    for motion in frame.motions:
        if isinstance(motion, MoveMotion) and motion.manner == "slide" and len(motion.path) > 1:
            back = sub(motion.path[-2], motion.path[-1])
            if norm(back) > 1e-6:
                reach = [dot(unit(back), p) for p in _points(state, motion.bodies, pieces)]
                out = (max(reach) - min(reach)) * BACK
                return {body: scaled(unit(back), out) for body in motion.bodies}
    return {}


def _set_aside(
    pulled: Mapping[str, Vector],
    state: State,
    pieces: Mapping[str, Piece],
    shown: Sequence[str],
) -> dict[str, Vector]:
    """What was let down last over more than one other body hides what is inside: it is set down
    on the table beside the rest. Empty where that is not so."""
    if not pulled or not all(v[2] > 0.7 * norm(v) for v in pulled.values()):
        return {}
    rest = [b for b in shown if b not in pulled]
    if len(rest) < 2:
        return {}
    own, others = (_points(state, list(b), pieces) for b in (pulled, rest))
    x0, x1 = min(p[0] for p in own), max(p[0] for p in own)
    y0, y1 = min(p[1] for p in own), max(p[1] for p in own)
    if any(not (x0 <= x <= x1 and y0 <= y <= y1) for x, y, _ in others):
        return {}
    table = min(p[2] for p in (*own, *others))
    aside = x1 - min(p[0] for p in others) + BESIDE * (x1 - x0)
    down = table - min(p[2] for p in own)
    return dict.fromkeys(pulled, (-aside, 0.0, down))


def _points(state: State, bodies: Sequence[str], pieces: Mapping[str, Piece]) -> list[Vector]:
    """Corners of the boxes round the facets, in the world."""
    found = []
    for body in (state.body(b) for b in bodies):
        for facet in pieces[body.piece].facets:
            x0, y0, x1, y1 = path_bounds(facet.region.outer)
            corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
            found += [body.facet_pose(facet.name).apply(lift(p)) for p in corners]
    return found


def _lifted(frame: Frame, state: State, pieces: Mapping[str, Piece]) -> list[Opening]:
    """What was folded last, a third of its way back, unless it is glued down, as to each other
    are walls that were folded up at once."""
    found = []
    for motion in frame.motions:
        if not isinstance(motion, FoldMotion) or motion.shown:
            continue  # what bends as one cannot be shown half way fold by fold
        if any(_tied(motion, bond, pieces[state.body(motion.body).piece]) for bond in state.bonds):
            continue
        side = frozenset(motion.moving)
        found += [
            Opening(motion.body, name, end - (end - start) * BACK, end, side)
            for name, start, end in motion.folds
        ]
    return found


def _tied(motion: FoldMotion, bond: Bond, piece: Piece) -> bool:
    """Whether a bond would tear if the folds of a motion turned back."""
    ends = (bond.first, bond.second)
    moving = [end[0] == motion.body and end[1] in motion.moving for end in ends]
    if not all(moving):
        return any(moving)
    turned = {name for name, _, _ in motion.folds}
    return any(hinge.fold in turned for hinge, _ in between(piece, ends[0][1], ends[1][1]))


def _inner_faces(
    state: State, found: Sequence[Opening], pieces: Mapping[str, Piece]
) -> list[Shown]:
    """The faces that a lifted flap uncovers: twice what else is as large."""
    faces = []
    for o in found:
        body = state.body(o.body)
        piece = pieces[body.piece]
        fold = piece.fold(o.fold)
        facet = next(f for f in piece.facets if f.panel == fold.child)
        side = -1.0 if fold.bend == "mountain" else 1.0
        normal = scaled(body.facet_pose(facet.name).normal, side)
        faces.append((normal, 2.0 * area(facet.region)))
    return faces


def _worth_seeing(state: State, shown: Sequence[str], pieces: Mapping[str, Piece]) -> list[Shown]:
    """The good sides of layers that are glued on, and windows."""
    glued = {f for bond in state.bonds if bond.by != "tuck" for f in (bond.first, bond.second)}
    found = []
    for body in (state.body(b) for b in shown):
        piece = pieces[body.piece]
        layer = len(piece.facets) == 1 and (body.id, piece.facets[0].name) in glued
        for facet in piece.facets:
            cut = (o for o in piece.openings if o.kind == "window" and o.panel == facet.panel)
            worth = area(facet.region) if layer else sum(area(Region(o.path)) for o in cut)
            if worth:
                found.append((body.facet_pose(facet.name).normal, worth))
    return found


def _view(ways: Sequence[Vector], faces: Sequence[Shown]) -> View:
    """Of the views towards which all of these directions look, the one that sees most of these
    faces; the first of several."""

    def looks(view: View, way: Vector) -> bool:
        return dot(way, Camera(view, 1.0).toward) > 0.15 * norm(way)

    def seen(view: View) -> float:
        return round(sum(size for way, size in faces if looks(view, way)), 1)

    fit = [view for view in COVER_VIEWS if all(looks(view, way) for way in ways)]
    return max(fit or COVER_VIEWS[:1], key=seen)


def draw_cover(pattern: Pattern, story: Story) -> Drawing:
    """The thing as it stands at the end of the story, without words or signs.

    Everything that was placed is shown, at the largest scale that fits ``COVER_ROOM_MM``; the
    first piece where nothing was placed; an empty picture where there is no piece.
    """
    pieces = {p.name: p for p in pattern.pieces}
    state = story.end
    pulled: dict[str, Vector] = {}
    lifted: list[Opening] = []
    if story.frames:
        pulled = _pulled(story.frames[-1], state, pieces)
        lifted = (
            []
            if story.frames[-1].action.verb == "open"
            else _lifted(story.frames[-1], state, pieces)
        )
        state, _ = opened_state(state, lifted, pieces)
    shown = [b.id for b in state.bodies if b.placed] or [b.id for b in state.bodies][:1]
    beside = _set_aside(pulled, state, pieces, shown)
    pulled = beside or pulled
    stage = set_end(pattern, state, pulled, shown)
    if not stage.actors:
        return Drawing("cover", 2 * MARGIN_MM, 2 * MARGIN_MM, (), 1.0, (), pattern.meta.title)
    used = {a.piece.name for a in stage.actors}
    shapes: dict[str, PieceShape] = {n: piece_shape(pieces[n]) for n in sorted(used)}
    worth = [*_inner_faces(state, lifted, pieces), *_worth_seeing(state, shown, pieces)]
    view = _view(() if beside else tuple(pulled.values()), worth)
    width, height = extent(stage, shapes, view)
    scale = min(COVER_ROOM_MM[0] / max(width, 1e-9), COVER_ROOM_MM[1] / max(height, 1e-9))
    scene = set_scene(stage, shapes, Camera(view, scale))
    lines = edge_lines(scene.items, scene.seen, shapes, stage, frozenset(), {})
    lines += drawn_lines(shapes, scene.items, scene.seen, stage)
    silhouette = scene.silhouette
    lines = drawn_once(lines, silhouette)
    x0, y0, x1, y1 = silhouette.bounds
    shift = (MARGIN_MM - x0, MARGIN_MM - y0)
    items: list[Item] = list(face_fills(scene, shift))
    items += strokes(lines, shift)
    faces = {i.face for i, a in zip(scene.items, scene.seen, strict=True) if not a.is_empty}
    return Drawing(
        "cover",
        x1 - x0 + 2 * MARGIN_MM,
        y1 - y0 + 2 * MARGIN_MM,
        tuple(items),
        scale,
        in_legend_order(faces),
        _alt(pattern, shown, state, pulled, lifted, view, pieces, bool(beside)),
    )


def _alt(
    pattern: Pattern,
    shown: Sequence[str],
    state: State,
    pulled: Mapping[str, Vector],
    lifted: Sequence[Opening],
    view: View,
    pieces: Mapping[str, Piece],
    beside: bool,
) -> str:
    def name(body: str) -> str:
        return words.body_name(pieces[state.body(body).piece], body)

    how = ""
    if beside:
        how = f", {gathered(name(b) for b in pulled)} set down beside the rest"
    elif pulled:
        upright = all(abs(v[2]) > 0.7 * norm(v) for v in pulled.values())
        third = "raised by a third of its height" if upright else "drawn out a third of its length"
        how = f", {gathered(name(b) for b in pulled)} {third}"
    elif lifted:
        flaps = [pieces[state.body(o.body).piece].fold(o.fold).child for o in lifted]
        how = f", {gathered(flaps)} lifted a little"
    made = gathered(name(b) for b in shown)
    finished = f"The finished {pattern.meta.title.lower()}"
    return (
        f"{finished}: {made}{' put together' if len(shown) > 1 else ''}{how}. {spoken_view(view)}"
    )
