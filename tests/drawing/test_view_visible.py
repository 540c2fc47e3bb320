"""What is seen of each facet, against brute force: a ray through every facet for each point."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache

import pytest
import shapely

from publisher.assembly import State, assemble
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.faces import Scene, set_scene
from publisher.drawing.space_view.shapes import CHORD_MM, piece_shape
from publisher.drawing.space_view.stage import Actor, Stage, set_end, set_stage
from publisher.drawing.space_view.viewpoint import VIEWS
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path, Point
from publisher.geometry.space import Vector, add, dot, scaled
from publisher.model.types import Pattern, Piece
from tests.drawing.view_scenes import body, centred, pattern_of, state
from tests.handmade import drawer, envelope_pattern, sliding_box_pattern

EDGE_MM = 0.05
SAMPLES = 600


def inside(ring: Sequence[Point], at: Point) -> bool:
    """Even-odd rule, by crossings of a line to the right."""
    odd = False
    for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y1 > at[1]) != (y2 > at[1]) and at[0] < x1 + (at[1] - y1) / (y2 - y1) * (x2 - x1):
            odd = not odd
    return odd


@cache
def ring(path: Path) -> list[Point]:
    return flattened(path, CHORD_MM)


def on_paper(actor: Actor, flat: Point) -> bool:
    region = actor.piece.facet(actor.facet).region
    holes = any(inside(ring(hole), flat) for hole in region.holes)
    return inside(ring(region.outer), flat) and not holes


def front_towards(actor: Actor, camera: Camera) -> bool:
    return dot(actor.pose.normal, camera.toward) > 0


def lies_nearer(a: Actor, b: Actor, stage: Stage, camera: Camera) -> bool:
    """Of two facets at one depth, whether the layer order puts ``a`` before ``b``."""
    for lower, upper, side in stage.above:
        if (lower, upper) == (b.id, a.id):
            return (side > 0) == front_towards(b, camera)
        if (lower, upper) == (a.id, b.id):
            return (side > 0) != front_towards(a, camera)
    raise AssertionError(f"{a.id} and {b.id} touch, and nobody says which is above")


def first_hit(stage: Stage, camera: Camera, at: Point) -> Actor | None:
    """The facet that a ray from the viewer through a point on paper meets first."""
    start = add(
        scaled(camera.right, at[0] / camera.scale), scaled(camera.up, -at[1] / camera.scale)
    )
    best: tuple[float, Actor] | None = None
    for actor in stage.actors:
        normal = actor.pose.normal
        speed = dot(normal, camera.toward)
        if abs(speed) < 1e-9:
            continue
        reach = dot(normal, add(actor.pose.shift, scaled(start, -1.0))) / speed
        local: Vector = actor.pose.inverse().apply(add(start, scaled(camera.toward, reach)))
        if not on_paper(actor, (local[0], -local[1])):
            continue
        touching = best is not None and abs(reach - best[0]) < 1e-6
        if best is None or (
            lies_nearer(actor, best[1], stage, camera) if touching else reach > best[0]
        ):
            best = (reach, actor)
    return best[1] if best else None


def agreement(stage: Stage, scene: Scene, camera: Camera, seed: int) -> tuple[int, int]:
    """Points compared and points that agree, over the picture, edges left out."""
    dice = random.Random(seed)
    edges = shapely.union_all([shapely.boundary(i.area) for i in scene.items])
    shapely.prepare(edges)
    x0, y0, x1, y1 = scene.silhouette.bounds
    compared = agreed = 0
    for _ in range(SAMPLES):
        at = (dice.uniform(x0 - 1, x1 + 1), dice.uniform(y0 - 1, y1 + 1))
        spot = shapely.Point(at)
        if shapely.dwithin(edges, spot, EDGE_MM):
            continue
        hit = first_hit(stage, camera, at)
        shown = [
            item.actor.id
            for item, area in zip(scene.items, scene.seen, strict=True)
            if not item.ghost and shapely.contains(area, spot)
        ]
        compared += 1
        agreed += shown == ([hit.id] if hit is not None else [])
    return compared, agreed


def check(stage: Stage, view: View, seed: int, scale: float = 0.4) -> None:
    camera = Camera(view, scale)
    shapes = {a.piece.name: piece_shape(a.piece) for a in stage.actors}
    scene = set_scene(stage, shapes, camera)
    compared, agreed = agreement(stage, scene, camera, seed)
    assert compared > SAMPLES / 2
    assert agreed / compared >= 0.999, f"{agreed} of {compared}"


@pytest.mark.parametrize(
    "pattern", [sliding_box_pattern(), envelope_pattern()], ids=lambda p: p.name
)
def test_every_frame_agrees_with_ray_casting(pattern: Pattern) -> None:
    story, findings = assemble(pattern)
    assert not findings
    for number, frame in enumerate(story.frames):
        check(set_stage(pattern, frame), VIEWS[number % len(VIEWS)], seed=number)


def _half_folded(dice: random.Random) -> tuple[Piece, State]:
    piece = drawer(depth_mm=dice.uniform(10, 40))
    angles = {f.name: dice.uniform(5, 85) for f in piece.folds}
    return piece, state([body(piece, centred(piece, "base"), angles)])


@pytest.mark.parametrize("seed", range(12))
def test_half_folded_drawers_agree_with_ray_casting(seed: int) -> None:
    """Angles below 90 degrees, so that no two papers touch; from any side."""
    dice = random.Random(seed)
    piece, half = _half_folded(dice)
    stage = set_end(pattern_of(piece), half, {}, ["drawer-1"])
    view = View(dice.uniform(-180, 180), dice.uniform(15, 75))
    check(stage, view, seed, scale=dice.uniform(0.2, 0.9))


def test_areas_never_overlap_and_cover_the_silhouette() -> None:
    pattern = sliding_box_pattern()
    story, _ = assemble(pattern)
    for frame in story.frames:
        stage = set_stage(pattern, frame)
        shapes = {a.piece.name: piece_shape(a.piece) for a in stage.actors}
        scene = set_scene(stage, shapes, Camera(VIEWS[0], 0.3))
        shown = [a for i, a in zip(scene.items, scene.seen, strict=True) if not i.ghost]
        total = sum(a.area for a in shown)
        assert total == pytest.approx(scene.silhouette.area, rel=2e-4)
        assert shapely.union_all(shown).area == pytest.approx(total, rel=2e-4)


def test_no_area_is_a_sliver() -> None:
    pattern = sliding_box_pattern()
    story, _ = assemble(pattern)
    for frame in story.frames:
        stage = set_stage(pattern, frame)
        shapes = {a.piece.name: piece_shape(a.piece) for a in stage.actors}
        scene = set_scene(stage, shapes, Camera(VIEWS[0], 0.3))
        for area in scene.seen:
            for part in shapely.get_parts(area):
                assert part.is_empty or 2 * part.area / part.length > 0.02
