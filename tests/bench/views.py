"""How long step views take, warm, as JSON: zigzag strips of many facets, and every picture of
the content patterns.

Each figure is the least of several runs in one process that has drawn already, in processor
time, which work beside it disturbs least. Rubbish is looked for as seldom as
in the command.
"""

from __future__ import annotations

import gc
import json
import math
import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

from publisher.assembly import FoldMotion, Frame
from publisher.drawing.space_view import draw_frame, draw_story
from publisher.model.types import Fold, Pattern
from publisher.pipeline import check_pattern
from publisher.workshop import open_workshop
from tests.drawing.view_scenes import body, centred, frame_of, pattern_of, state
from tests.handmade import at, box_panel, folded

ROOT = Path(__file__).parents[2]
COUNTS = (15, 30, 60, 120, 300, 600)
TARGETS = {"facets_60_ms": 30.0, "facets_600_ms": 500.0, "content_ms_a_view": 30.0}
"""On one core, warm; stated by the project for itself."""

WIDTH_MM = 60.0
PANEL_MM = 12.0
STANDING_DEG = 70.0


def zigzag(count: int) -> tuple[Pattern, Frame]:
    """A strip of so many panels, folded turn by turn and standing open; its last fold closes
    now."""
    span = at("content/try/pattern.md", 1)
    panels = tuple(
        box_panel(f"panel {i}", 0.0, i * PANEL_MM, WIDTH_MM, (i + 1) * PANEL_MM, span)
        for i in range(count)
    )
    folds = tuple(
        Fold(
            f"panel {i}",
            (0.0, i * PANEL_MM),
            (WIDTH_MM, i * PANEL_MM),
            "valley" if i % 2 else "mountain",
            180.0,
            f"panel {i}",
            f"panel {i - 1}",
            span,
        )
        for i in range(1, count)
    )
    whole = box_panel("whole", 0.0, 0.0, WIDTH_MM, count * PANEL_MM, span)
    piece = folded("strip", whole, panels, folds)
    angles = {fold.name: STANDING_DEG for fold in folds}
    first = folds[0].name
    before = state([body(piece, centred(piece, f"panel {count // 2}"), angles)])
    motion = FoldMotion("strip-1", ((first, STANDING_DEG, 180.0),), ("panel 0",))
    return pattern_of(piece), frame_of("fold", piece, before, [motion])


def least_ms(work: Callable[[], object], runs: int) -> float:
    work()
    times = []
    for _ in range(runs):
        started = time.process_time()
        work()
        times.append(time.process_time() - started)
    return round(min(times) * 1000.0, 1)


def measure(runs: int) -> dict[str, object]:
    strips = {}
    for count in COUNTS:
        pattern, frame = zigzag(count)
        strips[count] = least_ms(lambda p=pattern, f=frame: draw_frame(p, f, "try"), runs)  # type: ignore[misc]
    workshop = open_workshop(ROOT)[0]
    content = {}
    for file in sorted((ROOT / "content").glob("*/pattern.md")):
        outcome = check_pattern(workshop, file.parent.name)
        if outcome.pattern is None or outcome.story is None:
            continue
        told, story = outcome.story.handled or outcome.pattern, outcome.story
        whole = least_ms(lambda p=told, s=story: draw_story(p, s), runs)  # type: ignore[misc]
        content[file.parent.name] = round(whole / max(1, len(draw_story(told, story))), 1)
    few, most = COUNTS[2], COUNTS[-1]
    return {
        "facets_ms": strips,
        "growth": round(math.log(strips[most] / strips[few]) / math.log(most / few), 2),
        "content_ms_a_view": content,
        "targets": TARGETS,
        "runs": runs,
        "cores": os.cpu_count(),
        "python": sys.version.split()[0],
    }


if __name__ == "__main__":
    gc.set_threshold(100_000, 50, 100)
    runs = int(os.environ.get("BENCH_RUNS", "3"))
    sys.stdout.write(json.dumps(measure(runs), indent=2) + "\n")
