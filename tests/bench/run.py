"""How long the commands take from cold and how much memory they need, as JSON.

Each figure is the median of several runs, every run a new process. Memory is the largest
resident set of any of them.
"""

from __future__ import annotations

import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
COMMAND = (str(Path(sys.executable).with_name("publisher")),)
PATTERN = "sliding-box"
TARGETS = {"help_s": 0.15, "check_s": 0.5, "bundle_s": 2.0, "memory_mb": 250.0}
"""On two cores; stated by the project for itself."""


def cold(arguments: tuple[str, ...], runs: int) -> tuple[float, float]:
    """Medians of wall-clock and of processor seconds of one cold run.

    The second tells more where other work goes on. Raises CalledProcessError where one fails.
    """
    wall, processor = [], []
    for _ in range(runs):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        started = time.perf_counter()
        subprocess.run(
            (*COMMAND, *arguments),
            cwd=ROOT,
            check=True,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        wall.append(time.perf_counter() - started)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        processor.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return round(statistics.median(wall), 3), round(statistics.median(processor), 3)


def measure(runs: int) -> dict[str, object]:
    cold(("--help",), 1)  # compiles what was never imported here before
    cold(("check", PATTERN), 1)
    with tempfile.TemporaryDirectory() as folder:
        timed = {
            "help": cold(("--help",), 2 * runs + 1),
            "check": cold(("check", PATTERN), runs),
            "bundle": cold(("bundle", PATTERN, "--out", folder), runs),
        }
    # ru_maxrss counts KiB on Linux and bytes on macOS (getrusage(2)).
    unit = 1024 * 1024 if sys.platform == "darwin" else 1024
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / unit
    return {
        **{f"{name}_s": wall for name, (wall, _) in timed.items()},
        "memory_mb": round(peak, 1),
        **{f"{name}_cpu_s": processor for name, (_, processor) in timed.items()},
        "targets": TARGETS,
        "pattern": PATTERN,
        "runs": runs,
        "cores": os.cpu_count(),
        "python": sys.version.split()[0],
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(measure(int(os.environ.get("BENCH_RUNS", "5"))), indent=2) + "\n")
