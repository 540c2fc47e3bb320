"""How long the checks of the content patterns take, warm, and a sweep over their ranges, as JSON.

A check is everything from an assembled pattern to its results, the median of several runs after
a first one. The sweep tries 200 combinations of sizes with two processes, on the patterns whose
names are given, on all that have ranges where none is.
"""

from __future__ import annotations

import json
import os
import statistics
import sys
import time
from functools import partial
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from publisher.checks import run_checks  # noqa: E402
from publisher.checks.thorough import COMBINATIONS, begin_ranges  # noqa: E402
from publisher.pipeline import check_pattern  # noqa: E402
from publisher.workshop import Workshop, open_workshop, second_hands  # noqa: E402
from publisher.workshop.workers import shared  # noqa: E402

TARGETS = {"checks_ms": 150.0, "sweep_s": 10.0}
"""On two cores; stated by the project for itself."""


def measured(workshop: Workshop, name: str, runs: int) -> dict[str, float]:
    outcome = check_pattern(workshop, name)
    pattern, story, program = outcome.pattern, outcome.story, outcome.program
    if pattern is None or story is None or program is None:
        raise ValueError(f"{name} does not hold")
    times = []
    for _ in range(runs + 1):
        started = time.perf_counter()
        run_checks(pattern, story, workshop.trade)
        times.append(1000 * (time.perf_counter() - started))
    found = {
        "checks": float(len(outcome.checks)),
        "checks_ms": round(statistics.median(times[1:]), 1),
    }
    started = time.perf_counter()
    with second_hands() as hands:
        share = partial(shared, hands)
        results = begin_ranges(program, pattern, workshop.trade, COMBINATIONS, share)()
    if results:
        found["sweep_s"] = round(time.perf_counter() - started, 2)
        found["combinations"] = dict(results[0].numbers).get("combinations", 0.0)
    return found


def main(names: list[str], runs: int) -> None:
    workshop, _ = open_workshop(ROOT)
    every = names or sorted(p.parent.name for p in (ROOT / "content").glob("*/pattern.md"))
    found = {name: measured(workshop, name, runs) for name in every}
    told = {
        "patterns": found,
        "largest_checks_ms": max(f["checks_ms"] for f in found.values()),
        "largest_sweep_s": max((f["sweep_s"] for f in found.values() if "sweep_s" in f), default=0),
        "targets": TARGETS,
        "cores": os.cpu_count(),
        "python": sys.version.split()[0],
    }
    sys.stdout.write(json.dumps(told, indent=2) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:], int(os.environ.get("BENCH_RUNS", "5")))
