"""The whole making of a pattern as one moving picture without end, for posts.

Every motion of every step, drawn by what draws the step pictures, with exact hidden faces and
lines at each moment; no words and no signs. An animated WebP (RFC 9649): the same bytes for the
same pattern.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace
from PIL import Image

from publisher.assembly.types import Frame, Mark, Story
from publisher.drawing.motion import Moment, moments_of
from publisher.drawing.png import to_png
from publisher.drawing.space_view.camera import Camera
from publisher.drawing.space_view.dress import strokes
from publisher.drawing.space_view.faces import Scene, face_fills, set_scene
from publisher.drawing.space_view.lines import drawn_once, edge_lines
from publisher.drawing.space_view.on_paper import drawn_lines
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage
from publisher.drawing.space_view.story import settings
from publisher.drawing.space_view.telling import tell
from publisher.drawing.svg import to_svg
from publisher.drawing.theme import Theme
from publisher.drawing.types import Drawing, Item
from publisher.drawing.underway import Layer, underway
from publisher.geometry.path import Point
from publisher.model.types import Pattern

WIDTH_MM, HEIGHT_MM = 80.0, 64.0
"""The picture, in mm of a step picture."""
PX = 540
EVERY = 4
"""So many moments of a motion are passed over for one that is drawn."""
MOMENT_MS, FIRST_MS, LAST_MS, END_MS = 110, 600, 450, 1800
MOST_BYTES = 1_500_000
_WHITE_MM = 3.0


class Shot(Struct, frozen=True):
    """One picture of the film, as SVG, and how long it stands."""

    svg: str
    ms: int


def shots(pattern: Pattern, story: Story, theme: Theme) -> Iterator[Shot]:
    """The pictures in order. ``pattern`` is the one that the bodies are made of
    (``Story.handled``)."""
    stocks = {p.stock.name: p.stock for p in pattern.pieces}
    telling = tell(pattern, story)
    frames, stages, shapes = telling.frames, telling.stages, telling.shapes
    chosen = settings(telling)
    ways = {k: moments_of(frames[k], s) for k, s in enumerate(stages) if s.actors}
    moving = [k for k, moments in ways.items() if len(moments) > 1]
    for k in moving:
        moments = ways[k]
        last = len(moments) - 1
        looks = sorted({*range(0, last, EVERY), last})
        camera = Camera(chosen[k].view, chosen[k].scale)
        way = underway(frames[k], stages[k])
        above = [stages[k].above_after if n == last else way for n in looks]
        now = [moments[n] for n in looks]
        scenes = _scenes(stages[k], now, above, shapes, camera)
        middle, share = _fit([scene for _, scene in scenes])
        if share < 1.0:
            camera = Camera(chosen[k].view, chosen[k].scale * share)
            scenes = _scenes(stages[k], now, above, shapes, camera)
            middle, _ = _fit([scene for _, scene in scenes])
        shift = (WIDTH_MM / 2.0 - middle[0], HEIGHT_MM / 2.0 - middle[1])
        drawn = [
            to_svg(_drawn(*one, shapes, shift, chosen[k].scale * share), theme, stocks)
            for one in scenes
        ]
        if _opened(frames[k], stages[k]):
            yield from (Shot(svg, MOMENT_MS) for svg in drawn[:0:-1])
        held = END_MS if k == moving[-1] else LAST_MS
        for n, svg in zip(looks, drawn, strict=True):
            yield Shot(svg, held if n == last else FIRST_MS if n == 0 else MOMENT_MS)


def _opened(frame: Frame, stage: Stage) -> bool:
    """Whether all that moves is closed already, and opened for its picture only, as for glue:
    so it is seen to open first."""
    return bool(stage.closing) and all(isinstance(m, Mark) for m in frame.motions)


def _scenes(
    stage: Stage,
    moments: Sequence[Moment],
    above: Sequence[tuple[Layer, ...]],
    shapes: Mapping[str, PieceShape],
    camera: Camera,
) -> list[tuple[Stage, Scene]]:
    found = []
    for moment, layers in zip(moments, above, strict=True):
        actors = tuple(replace(a, pose=moment.poses[a.body][a.facet]) for a in stage.actors)
        shown = replace(stage, actors=actors, ghosts=(), above=layers, angles=moment.angles)
        found.append((shown, set_scene(shown, shapes, camera)))
    return found


def _fit(scenes: Sequence[Scene]) -> tuple[Point, float]:
    """The middle of all that is seen, and by how much it must shrink to find room."""
    boxes = [scene.silhouette.bounds for scene in scenes]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
    room = ((WIDTH_MM - 2 * _WHITE_MM) / (x1 - x0), (HEIGHT_MM - 2 * _WHITE_MM) / (y1 - y0))
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0), min(1.0, *room)


def _drawn(
    stage: Stage, scene: Scene, shapes: Mapping[str, PieceShape], shift: Point, scale: float
) -> Drawing:
    lines = edge_lines(scene.items, scene.seen, shapes, stage, frozenset(), {})
    lines += drawn_lines(shapes, scene.items, scene.seen, stage)
    lines = drawn_once(lines, scene.silhouette)
    items: tuple[Item, ...] = (*face_fills(scene, shift), *strokes(lines, shift))
    return Drawing("making", WIDTH_MM, HEIGHT_MM, items, scale, (), "")


def moving_picture(pattern: Pattern, story: Story, theme: Theme, px: int = PX) -> bytes:
    """The film as an animated WebP, ``px`` wide and without end; b"" where nothing moves.

    Flat colours are kept without loss; where that comes to more than ``MOST_BYTES``, the
    picture is made smaller until it does not.
    """
    film = list(shots(pattern, story, theme))
    while film:
        data = _packed(film, px)
        if len(data) <= MOST_BYTES:
            return data
        px = round(px * 0.75)
    return b""


def _packed(film: Sequence[Shot], px: int) -> bytes:
    pictures = []
    for shot in film:
        picture = Image.open(io.BytesIO(to_png(shot.svg, px))).convert("RGBA")
        ground = Image.new("RGBA", picture.size, "white")
        pictures.append(Image.alpha_composite(ground, picture).convert("RGB"))
    out = io.BytesIO()
    pictures[0].save(
        out,
        "WEBP",
        save_all=True,
        append_images=pictures[1:],
        duration=[shot.ms for shot in film],
        loop=0,
        lossless=True,
        quality=30,
        method=2,
    )
    return out.getvalue()
