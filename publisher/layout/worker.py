"""Run in a process of its own: do these shapes fit one sheet?

The packer cannot be stopped and may take its process with it, so it gets one that can be ended.
Nothing of this package is imported here: the process starts in a few hundredths of a second.
"""

from __future__ import annotations

import json
import os
import threading
from datetime import timedelta
from typing import Any

POLL_S = 0.002


def answer(question: dict[str, Any]) -> dict[str, Any]:
    """The first layout no wider than ``reach``, else the narrowest before the last event.

    ``items`` are [ring, copies, turns]; ``strip`` is the strip's height and ``apart`` the
    separation, which also holds at the strip's edges. The packer's events come in the same
    order for the same seed and one worker, and only they decide when to stop: at a layout
    that fits, at the first report that a width was given up (at the ``patience``-th where
    the best is within ``close`` of the width to reach), or after ``events``.
    """
    import spyrrow

    items = [
        spyrrow.Item(str(number), [(x, y) for x, y in ring], copies, turns)
        for number, (ring, copies, turns) in enumerate(question["items"])
    ]
    instance = spyrrow.StripPackingInstance("sheet", question["strip"], items)
    config = spyrrow.StripPackingConfig(
        early_termination=False,
        min_items_separation=question["apart"],
        num_workers=1,
        seed=question["seed"],
    )
    # Never reached: whoever asked ends this process long before.
    config.exploration_time = timedelta(days=1)
    config.compression_time = timedelta(seconds=1)
    queue = spyrrow.ProgressQueue()
    solving = threading.Thread(target=instance.solve, args=(config, queue), daemon=True)
    solving.start()
    best: Any = None
    events = given_up = 0
    while True:
        alive = solving.is_alive()
        for kind, found in queue.drain():
            events += 1
            if kind in (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas):
                if best is None or found.width < best.width:
                    best = found
            elif kind == spyrrow.ReportType.ExplInfeas:
                given_up += 1
            reached = best is not None and best.width <= question["reach"]
            close = best is not None and best.width <= question["close"]
            enough = question["patience"] if close else 1
            if reached or given_up >= enough or events >= question["events"]:
                return _told(best, events)
        if not alive:
            return _told(best, events)
        solving.join(POLL_S)


def _told(best: Any, events: int) -> dict[str, Any]:
    if best is None:
        return {"events": events, "width": None, "placed": []}
    placed = [[int(p.id), p.rotation, *p.translation] for p in best.placed_items]
    return {"events": events, "width": best.width, "placed": placed}


def main() -> None:
    """One question on standard input, one answer on standard output, both JSON."""
    with os.fdopen(0, "rb") as asked, os.fdopen(1, "wb") as told:
        told.write(json.dumps(answer(json.loads(asked.read()))).encode())
        told.flush()
        # The packer's thread is still at work and would keep the process.
        os._exit(0)


if __name__ == "__main__":
    main()
