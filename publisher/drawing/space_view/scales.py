"""At what scale to draw: the room of a picture, and one scale for pictures that show the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely

from publisher.drawing.space_view.camera import Camera, View
from publisher.drawing.space_view.projected import carried
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage

PICTURE_WIDTH_MM = 85.0
WHITE_MM = 6.0
PICTURE_HEIGHT_MM = 62.0  # so that three steps find room on a page
ROOM_MM = (PICTURE_WIDTH_MM - 2 * WHITE_MM, PICTURE_HEIGHT_MM - 2 * WHITE_MM)  # without words

# Renard's R20 (ISO 3), downwards from 1:1, so that scales are few and nearly even in ratio.
_HALF = (1.0, 0.9, 0.8, 0.71, 0.63, 0.56, 0.5, 0.45, 0.4, 0.355, 0.315, 0.28, 0.25, 0.224)
_R20 = (*_HALF, 0.2, 0.18, 0.16, 0.14, 0.125, 0.112)
SCALES: tuple[float, ...] = tuple(k / 10.0**decade for decade in (0, 1, 2) for k in _R20)

_NEAR_SCALE = 0.85  # pieces whose scales differ by less share one
_OWN_SCALE = 0.72  # of the middle frame's scale; frames below it keep their own


def extent(stage: Stage, shapes: Mapping[str, PieceShape], view: View) -> tuple[float, float]:
    """Width and height on paper at 1:1 of all facets."""
    if not stage.actors:
        return 0.0, 0.0
    papers = [shapes[a.piece.name].facets[a.facet].paper for a in stage.actors]
    matrices, shifts = Camera(view, 1.0).flat_maps([a.pose for a in stage.actors])
    x0, y0, x1, y1 = shapely.total_bounds(carried(papers, matrices, shifts)).tolist()
    return x1 - x0, y1 - y0


def fitting_scale(size: tuple[float, float], room: tuple[float, float] = ROOM_MM) -> float:
    """The largest of ``SCALES`` at which a size fits into the room."""
    most = min(r / max(s, 1e-9) for r, s in zip(room, size, strict=True))
    return next((s for s in SCALES if s <= most + 1e-9), most)


def shared_scales(
    wanted: Sequence[float], shown: Sequence[Sequence[str]] | None = None
) -> list[float]:
    """One scale for all frames that show the same pieces (``shown``; all alike without it);
    frames that need a much smaller one than the middle frame (a thing drawn apart, a long
    blank) keep one of their own. Pieces that come out nearly alike share the smaller scale."""
    kinds = [tuple(sorted(set(names))) for names in shown or [()] * len(wanted)]
    alone: dict[int, float] = {}
    common: dict[tuple[str, ...], float] = {}
    for kind in sorted(set(kinds)):
        own = [k for k, of in enumerate(kinds) if of == kind]
        middle = sorted(wanted[k] for k in own)[len(own) // 2]
        alone |= {k: wanted[k] for k in own if wanted[k] < middle * _OWN_SCALE}
        common[kind] = min(wanted[k] for k in own if k not in alone)
    for kind in common:
        near = [s for s in common.values() if common[kind] * _NEAR_SCALE <= s <= common[kind]]
        common[kind] = min(near)
    return [alone.get(k, common[kind]) for k, kind in enumerate(kinds)]
