"""All pictures of a pattern: one view and one scale where they can be shared."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from publisher.assembly.types import Frame, Mark, Story
from publisher.drawing.space_view.frame import Setting, picture
from publisher.drawing.space_view.scales import largest_scale, papers_of, shared_scales
from publisher.drawing.space_view.shapes import PieceShape, piece_shape
from publisher.drawing.space_view.stage import Stage, set_stage
from publisher.drawing.space_view.viewpoint import choose_views
from publisher.drawing.space_view.wrapping import told_frames
from publisher.drawing.types import Drawing
from publisher.model.types import Pattern, Piece


def shapes_of(pattern: Pattern, stages: Sequence[Stage]) -> dict[str, PieceShape]:
    used = {a.piece.name for stage in stages for a in stage.actors}
    return {p.name: piece_shape(p) for p in pattern.pieces if p.name in used}


def settings(
    frames: Sequence[Frame], stages: Sequence[Stage], shapes: dict[str, PieceShape]
) -> list[Setting]:
    """View and scale for each frame."""
    views = choose_views(frames, stages, shapes)
    scales = [largest_scale(s, shapes, v) for s, v in zip(stages, views, strict=True)]
    papers = [papers_of(stage, shapes) for stage in stages]
    shared = shared_scales(scales, papers)
    turns = _turns([v.azimuth_deg for v in views], [set(s.bodies) for s in stages])
    return [Setting(v, s, t) for v, s, t in zip(views, shared, turns, strict=True)]


def _turns(azimuths: Sequence[float], shown: Sequence[set[str]]) -> list[float]:
    """How far round each picture looks from where the last one did that showed some of the
    same; 0 where all of it is new, for then there is nothing to turn."""
    turns = []
    for i, (azimuth, bodies) in enumerate(zip(azimuths, shown, strict=True)):
        before = next((j for j in range(i - 1, -1, -1) if shown[j] & bodies), None)
        turns.append(0.0 if before is None else _turned(azimuths[before], azimuth))
    return turns


def _turned(before_deg: float, now_deg: float) -> float:
    """How far round from one azimuth to another, in [-180, 180)."""
    return (now_deg - before_deg + 180.0) % 360.0 - 180.0


def frame_names(frames: Sequence[Frame]) -> list[str]:
    """ "step-01", or "step-01a", "step-01b" where a step has several frames."""
    totals: dict[int, int] = {}
    for frame in frames:
        totals[frame.step] = totals.get(frame.step, 0) + 1
    met: dict[int, int] = {}
    names = []
    for frame in frames:
        place = met.get(frame.step, 0)
        met[frame.step] = place + 1
        letter = _letters(place) if totals[frame.step] > 1 else ""
        names.append(f"step-{frame.step:02d}{letter}")
    return names


def _letters(place: int) -> str:
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


def draw_story(pattern: Pattern, story: Story) -> tuple[Drawing, ...]:
    """One drawing for each of ``told_frames``, in order, named ``step-01`` or ``step-01a``."""
    pieces = {p.name: p for p in pattern.pieces}
    frames = told_frames(pattern, story)
    stages = [
        replace(set_stage(pattern, frame), unmade=later)
        for frame, later in zip(frames, _made_later(frames, pieces), strict=True)
    ]
    shapes = shapes_of(pattern, stages)
    chosen = settings(frames, stages, shapes)
    return tuple(
        picture(pattern, frame, stage, shapes, setting, name)
        for frame, stage, setting, name in zip(
            frames, stages, chosen, frame_names(frames), strict=True
        )
    )


def _made_later(
    frames: Sequence[Frame], pieces: Mapping[str, Piece]
) -> list[frozenset[tuple[str, str]]]:
    """For each frame the folds and slits that it or a later one scores or cuts."""
    found: list[frozenset[tuple[str, str]]] = []
    later: frozenset[tuple[str, str]] = frozenset()
    for frame in reversed(frames):
        names = {body.id: body.piece for body in frame.after.bodies}
        for mark in frame.motions:
            if isinstance(mark, Mark) and mark.what == "score":
                scores = pieces[names[mark.body]].scores
                later |= {(mark.body, s.fold) for s in scores if s.fold and s.name in mark.names}
            if isinstance(mark, Mark) and mark.what == "cut":
                later |= {(mark.body, name) for name in mark.names}
        found.append(later)
    return found[::-1]


def draw_frame(
    pattern: Pattern, frame: Frame, name: str, setting: Setting | None = None
) -> Drawing:
    """The drawing of one frame. Without a ``setting`` the view and the scale are chosen for
    this frame alone; ``draw_story`` chooses them for all frames together."""
    stage = set_stage(pattern, frame)
    shapes = shapes_of(pattern, [stage])
    if setting is None:
        setting = settings([frame], [stage], shapes)[0]
    return picture(pattern, frame, stage, shapes, setting, name)
