"""Whether pieces fit one sheet, asked of spyrrow in worker processes."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path as FilePath

from msgspec import Struct

from publisher.geometry.transform import rotated_point
from publisher.layout.kinds import Kind, Put, Ring, extent, turned

WORKER = FilePath(__file__).with_name("worker.py")
SLACK_MM = 0.002
"""What the packer's single-precision figures may be off, and more."""
EVENTS = 400
CLOSE = 1.02
"""Times the sheet: what nearly fits."""
HANG_S = 300.0
"""A worker from which nothing came for so long has died: a guard, not a way to stop."""
PROCESSES = 2


class Question(Struct, frozen=True):
    """``members`` are numbers of kinds, one for each copy. Sheet sizes are of its usable part.

    ``upended`` lays the strip across the sheet. ``patience`` is how often a width may be given
    up that nearly fits, before the answer is no.
    """

    members: tuple[int, ...]
    width_mm: float
    height_mm: float
    gap_mm: float
    seed: int = 1
    upended: bool = False
    patience: int = 3
    events: int = EVENTS


class Answer(Struct, frozen=True):
    """The layout found, in mm from the top left of the usable part. Where not ``fits`` it
    reaches beyond the sheet's right or lower edge, or is empty."""

    fits: bool
    puts: tuple[Put, ...]
    events: int = 0
    over_mm: float = 0.0


NO = Answer(False, ())


def ask(kinds: Sequence[Kind], questions: Sequence[Question]) -> list[Answer]:
    """Answers in the order of the questions; two are worked on at a time."""
    if len(questions) == 1:
        return [_ask_one(kinds, questions[0])]
    with ThreadPoolExecutor(PROCESSES) as pool:
        return list(pool.map(lambda question: _ask_one(kinds, question), questions))


def _ask_one(kinds: Sequence[Kind], question: Question) -> Answer:
    if not question.members:
        return Answer(True, ())
    gap = question.gap_mm + SLACK_MM if question.gap_mm > 0.0 else 0.0
    edge = 2.0 * gap + SLACK_MM if gap > 0.0 else 0.0
    width, height = question.width_mm, question.height_mm
    quarter = 0.0
    if question.upended:
        width, height, quarter = height, width, 90.0
    counts = Counter(question.members)
    numbers = sorted(counts)
    items: list[tuple[Ring, int, list[float]]] = []
    for number in numbers:
        ring = turned(kinds[number].outer, quarter)
        turns = [t for t in kinds[number].turns if _fits(turned(ring, t), width, height)]
        if not turns:
            # The packer panics at a shape that is higher than its strip.
            return NO
        items.append((ring, counts[number], turns))
    asked = {
        "items": items,
        "strip": height + edge,
        "reach": width + edge,
        "close": CLOSE * width + edge,
        "apart": gap or None,
        "seed": question.seed,
        "patience": question.patience,
        "events": question.events,
    }
    try:
        done = subprocess.run(
            # -P: this folder's modules must not stand in for the standard library's.
            (sys.executable, "-P", str(WORKER)),
            input=json.dumps(asked).encode(),
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            timeout=HANG_S,
            check=True,
        )
        told = json.loads(done.stdout)
    except (subprocess.SubprocessError, ValueError):
        return NO
    if told["width"] is None:
        return Answer(False, (), told["events"])
    puts = []
    for item, turn, x, y in told["placed"]:
        place = (x - gap, y - gap)
        if question.upended:
            back_x, back_y = rotated_point(place, -90.0)
            place = (back_x, back_y + width)
        puts.append(Put(numbers[item], turn % 360.0, *place))
    over = max(0.0, told["width"] - width - edge)
    return Answer(over == 0.0, tuple(puts), told["events"], over)


def _fits(ring: Ring, width: float, height: float) -> bool:
    x_min, y_min, x_max, y_max = extent(ring)
    return x_max - x_min <= width + SLACK_MM and y_max - y_min <= height + SLACK_MM
