"""Hidden faces against a depth buffer that Pillow fills.

Random scenes: the pieces of two patterns with random fold angles, thrown together at random,
so that paper also runs through paper, and stacks of layers a fiftieth of a millimetre apart.
Each facet is filled as a polygon by Pillow's scan conversion; of the facets that cover a pixel
the one nearest the viewer wins. The projection is written anew from the two angles of a view.
Nothing of this is shared with ``space_view.visible`` but the scene.
"""

from __future__ import annotations

import math
import random
from collections.abc import Set
from functools import cache

import numpy as np
import numpy.typing as npt
import shapely
from PIL import Image, ImageDraw

from publisher.assembly import FacetId
from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.faces import Scene, set_scene
from publisher.drawing.space_view.shapes import CHORD_MM, PieceShape, piece_shape
from publisher.drawing.space_view.stage import Actor, Stage
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path
from publisher.geometry.space import Pose, moved, turned
from publisher.model.folding import facet_poses
from publisher.model.types import Piece
from tests.handmade import drawer, envelope, sleeve, sleeve_mat

Grid = npt.NDArray[np.float64]

SCENES = 200
AGREE = 0.999
PX = 120  # pixels along the longer side of a picture
EDGE_PX = 1.5  # Pillow fills the pixels of an outline too; beside an edge either side may win


@cache
def pieces() -> tuple[PieceShape, ...]:
    return tuple(piece_shape(p) for p in (drawer(), envelope(), sleeve(), sleeve_mat()))


def thrown(piece: Piece, copy: int, dice: random.Random) -> list[Actor]:
    """A piece folded and turned anyhow."""
    # never quite closed: of papers in one plane no depth tells which is in front
    share = {f.name: dice.choice((0.0, 0.96, 0.96 * dice.random())) for f in piece.folds}
    angles = {f.name: share[f.name] * f.closing_deg for f in piece.folds}
    axis = (dice.gauss(0, 1), dice.gauss(0, 1), dice.gauss(0, 1))
    spot = (dice.uniform(-70, 70), dice.uniform(-70, 70), dice.uniform(0, 80))
    pose = moved(spot).after(turned((0.0, 0.0, 0.0), axis, dice.uniform(0, 360)))
    poses = facet_poses(piece, angles)
    name = f"{piece.name}-{copy}"
    return [Actor(name, piece, f, pose.after(own), False) for f, own in poses.items()]


def stacked(dice: random.Random) -> list[Actor]:
    """Flat pieces on each other, either face up, as near as thin paper lies."""
    found = []
    for layer in range(dice.randint(2, 5)):
        piece = dice.choice(pieces()).piece
        spin = turned((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), dice.uniform(0, 360))
        face = turned((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), dice.choice((0.0, 180.0)))
        spot = moved((dice.uniform(-30, 30), dice.uniform(-30, 30), 0.02 * layer))
        pose: Pose = spot.after(spin).after(face)
        flat = facet_poses(piece, {})
        name = f"{piece.name}-{layer}"
        found += [Actor(name, piece, f, pose.after(own), False) for f, own in flat.items()]
    return found


def random_scene(seed: int) -> tuple[Stage, Camera]:
    dice = random.Random(seed)
    actors = stacked(dice) if seed % 4 == 0 else []
    for copy in range(dice.randint(0 if actors else 1, 3)):
        actors += thrown(dice.choice(pieces()).piece, copy + 10, dice)
    angles: dict[str, dict[str, float]] = {a.body: {} for a in actors}
    view = View(dice.uniform(-180, 180), dice.uniform(15, 75))
    return Stage(tuple(actors), (), (), (), angles), Camera(view, 0.3)


def picture_rows(view: View, scale: float) -> Grid:
    """World mm to picture x (right), y (down), nearness. Seen from an azimuth counted from the
    front, round to the right, and an elevation above the table."""
    a, e = math.radians(view.azimuth_deg), math.radians(view.elevation_deg)
    right = (math.cos(a), math.sin(a), 0.0)
    down = (math.sin(a) * math.sin(e), -math.cos(a) * math.sin(e), -math.cos(e))
    near = (math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e))
    return np.array((right, down, near)) * scale


def outline(path: Path) -> Grid:
    return np.array(flattened(path, CHORD_MM))


def depth_buffer(
    stage: Stage,
    camera: Camera,
    box: tuple[float, float, float, float],
    left_out: Set[FacetId] = frozenset(),
) -> tuple[npt.NDArray[np.int_], Grid, Grid]:
    """For each pixel the nearest facet (-1 for none) but those left out, and the pixels' places
    on paper."""
    x0, y0, x1, y1 = box
    size = PX / max(x1 - x0, y1 - y0)
    shape = (math.ceil((y1 - y0) * size), math.ceil((x1 - x0) * size))
    xs = x0 + (np.arange(shape[1]) + 0.5) / size
    ys = y0 + (np.arange(shape[0]) + 0.5) / size
    nearest = np.full(shape, -np.inf)
    winner = np.full(shape, -1)
    rows = picture_rows(camera.view, camera.scale)
    for number, actor in enumerate(stage.actors):
        turn, shift = np.array(actor.pose.rotation), np.array(actor.pose.shift)
        if actor.id in left_out or abs(rows[2] @ turn[:, 2]) < 1e-3 * camera.scale:
            continue  # edge-on
        mask = Image.new("1", (shape[1], shape[0]))
        pen = ImageDraw.Draw(mask)
        region = actor.piece.facet(actor.facet).region
        for ring, ink in ((region.outer, 1), *((hole, 0) for hole in region.holes)):
            flat = outline(ring)
            space = np.column_stack((flat[:, 0], -flat[:, 1], np.zeros(len(flat))))
            placed = (space @ turn.T + shift) @ rows.T
            pen.polygon([((x - x0) * size - 0.5, (y - y0) * size - 0.5) for x, y, _ in placed], ink)
        # nearness from three points of the plane
        corners = np.array([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)])
        seen = (corners @ turn.T + shift) @ rows.T
        known = np.column_stack((seen[:, :2], np.ones(3)))
        a, b, c = np.linalg.solve(known, seen[:, 2])
        depth = a * xs[None, :] + b * ys[:, None] + c
        closer = np.asarray(mask) & (depth > nearest)
        nearest[closer], winner[closer] = depth[closer], number
    return winner, xs, ys


def compared(
    stage: Stage, camera: Camera, scene: Scene, clear: Set[FacetId] = frozenset()
) -> tuple[int, int]:
    """Pixels compared, and how many of them agree. Of solid paper the nearest is seen, as if
    there were no ``clear`` paper; of clear paper that which is nearest of all."""
    x0, y0, x1, y1 = shapely.total_bounds([i.area for i in scene.items]).tolist()
    box = (x0 - 1, y0 - 1, x1 + 1, y1 + 1)
    winner, xs, ys = depth_buffer(stage, camera, box, clear)
    x, y = (axis.ravel() for axis in np.meshgrid(xs, ys))
    edges = shapely.union_all([shapely.boundary(i.area) for i in scene.items])
    shapely.prepare(edges)
    inner = ~shapely.dwithin(edges, shapely.points(x, y), EDGE_PX * float(xs[1] - xs[0]))
    glass = np.array([item.actor.id in clear for item in scene.items])
    agree = np.ones(len(x), dtype=bool)
    for kind in (False, True) if clear else (False,):
        ours = np.full(len(x), -1)
        shown = np.zeros(len(x), dtype=int)
        for number in np.flatnonzero(glass == kind).tolist():
            inside = shapely.contains_xy(scene.seen[number], x, y)
            ours[inside] = number
            shown += inside
        if kind:
            nearest = depth_buffer(stage, camera, box)[0]
            winner = np.where(glass[nearest] & (nearest >= 0), nearest, -1)
        agree &= (ours == winner.ravel()) & (shown <= 1)
    return int(inner.sum()), int((agree & inner).sum())


def test_what_is_seen_agrees_with_a_depth_buffer() -> None:
    shapes = {s.piece.name: s for s in pieces()}
    total = same = 0
    worst = (1.0, -1)
    for seed in range(SCENES):
        stage, camera = random_scene(seed)
        scene = set_scene(stage, shapes, camera)
        pixels, agreed = compared(stage, camera, scene)
        total, same = total + pixels, same + agreed
        worst = min(worst, (agreed / pixels, seed))
    assert total > 1_000_000
    assert same / total >= AGREE, f"{same / total:.5%}; worst scene {worst[1]} with {worst[0]:.3%}"


def test_clear_paper_hides_nothing_but_clear_paper() -> None:
    shapes = {s.piece.name: s for s in pieces()}
    total = same = glass = 0
    for seed in range(SCENES // 2):
        stage, camera = random_scene(seed)
        dice = random.Random(seed)
        clear = frozenset(a.id for a in stage.actors if dice.random() < 0.3)
        scene = set_scene(stage, shapes, camera, clear)
        glass += sum(
            not a.is_empty for i, a in zip(scene.items, scene.seen, strict=True) if i.clear
        )
        pixels, agreed = compared(stage, camera, scene, clear)
        total, same = total + pixels, same + agreed
    assert glass > SCENES
    assert same / total >= AGREE, f"{same / total:.5%}"


def test_a_hidden_face_that_is_missed_is_noticed() -> None:
    """The measure can fail: with nothing hidden it falls far below the threshold."""
    shapes = {s.piece.name: s for s in pieces()}
    total = same = 0
    for seed in range(8):
        stage, camera = random_scene(seed)
        items = set_scene(stage, shapes, camera).items
        pixels, agreed = compared(stage, camera, Scene(items, tuple(i.area for i in items)))
        total, same = total + pixels, same + agreed
    assert same / total < 0.95
