"""All pictures of a pattern: one view and one scale where they can be shared."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from publisher.assembly.types import Frame, Mark, Story
from publisher.drawing.space_view.clear import clear_facets
from publisher.drawing.space_view.farther import drawn_farther
from publisher.drawing.space_view.frame import Setting, picture
from publisher.drawing.space_view.free_signs import risen_deg
from publisher.drawing.space_view.glued import wet_before
from publisher.drawing.space_view.lying_words import heard
from publisher.drawing.space_view.scales import largest_scale, papers_of, shared_scales
from publisher.drawing.space_view.seated import from_seat, seated
from publisher.drawing.space_view.shapes import PieceShape
from publisher.drawing.space_view.stage import Stage, set_stage
from publisher.drawing.space_view.telling import Telling, shapes_of, tell
from publisher.drawing.space_view.viewpoint import choose_views, spoken_view
from publisher.drawing.space_view.waste import pressed_later
from publisher.drawing.types import Drawing
from publisher.model.types import Pattern, Piece


def settings(telling: Telling) -> list[Setting]:
    """View and scale for each picture."""
    scales = [
        largest_scale(stage, telling.shapes, view)
        for stage, view in zip(telling.stages, telling.views, strict=True)
    ]
    shared = shared_scales(scales, [papers_of(stage, telling.shapes) for stage in telling.stages])
    frames = [seated(f, v) for f, v in zip(telling.frames, telling.views, strict=True)]
    views = [spoken_view(from_seat(view)) for view in telling.views]
    said = heard(frames, [stage.bodies for stage in telling.stages], views)
    risen = risen_deg(telling.stages, telling.views)
    rows = zip(telling.views, shared, said, risen, strict=True)
    return [Setting(*row) for row in rows]


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
    return tuple(drawing for _, drawing in draw_told(pattern, story))


def draw_told(pattern: Pattern, story: Story) -> list[tuple[Frame, Drawing]]:
    """Every picture with the frame that it shows."""
    pieces = {p.name: p for p in pattern.pieces}
    telling = tell(pattern, story)
    stages = [
        replace(stage, unmade=later, in_place=lying, wet=wet)
        for stage, later, lying, wet in zip(
            telling.stages,
            _made_later(telling.frames, pieces),
            pressed_later(telling.frames, pieces),
            wet_before(telling.frames),
            strict=True,
        )
    ]
    return [
        (frame, _drawn(pattern, frame, stage, telling.shapes, setting, name))
        for frame, stage, setting, name in zip(
            telling.frames, stages, settings(telling), frame_names(telling.frames), strict=True
        )
    ]


def _drawn(
    pattern: Pattern,
    frame: Frame,
    stage: Stage,
    shapes: Mapping[str, PieceShape],
    setting: Setting,
    name: str,
) -> Drawing:
    """One picture: walls are clear for what travels on all of its way, and it is drawn where it
    leaves its place to be seen."""
    clear = clear_facets(frame, stage, shapes, setting.view)
    stage = drawn_farther(frame, stage, shapes, setting.view, setting.scale)
    return picture(pattern, frame, stage, shapes, setting, name, clear)


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
        views = choose_views([frame], [stage], shapes)
        setting = settings(Telling((frame,), (stage,), tuple(views), shapes))[0]
    return _drawn(pattern, frame, stage, shapes, setting, name)
