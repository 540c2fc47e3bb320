"""The size of a shape: ``60 x 40 mm``, or ``60 mm wide, 40 mm high``."""

from __future__ import annotations

from publisher.model.bench import Bench
from publisher.model.statements.phrases import Phrases


def read_size(bench: Bench, phrases: Phrases, what: str, example: str) -> tuple[float, float]:
    """Width and height in mm, both above nothing."""
    wide, high = phrases.labelled("wide"), phrases.labelled("high")
    if wide is not None and high is not None:
        width = bench.positive(bench.value(wide), "width")
        return width, bench.positive(bench.value(high), "height")
    size = phrases.bare()
    if size is None or wide is not None or high is not None:
        raise phrases.missing("its size", example)
    width, height = bench.size(bench.value(size), 2, what)
    return width, height
