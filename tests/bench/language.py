"""How long it takes to read a pattern and to work it out, as JSON: the largest of content/ in a
warm process, and made-up ones of 500, 1,000 and 2,000 lines.

Times are processor seconds, the best of several runs. What geometry remembers of one run is
forgotten before the next: a designer's next check begins without it too. ``growth`` is how many
times as long 2,000 lines take as 1,000: 2 where it grows linearly.
"""

from __future__ import annotations

import gc
import json
import sys
import time
from pathlib import Path as FilePath

ROOT = FilePath(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from publisher.language import Library, Outside, parse  # noqa: E402
from publisher.model import build_pattern  # noqa: E402
from publisher.source import read_document  # noqa: E402
from tests.compiled import HEAD, workshop  # noqa: E402

LINES = (500, 1000, 2000)
RUNS = 5
PER_PIECE = 40
TARGETS = {"largest_s": 0.05, "lines_2000_s": 1.0, "growth": 2.4}


def made_up(lines: int) -> str:
    """A pattern of so many lines: sizes that are made of each other, pieces with windows, steps."""
    sizes = [f"size {_letters(n)} = {5 + n % 7} mm" for n in range(lines // 8)]
    sums = [f"sum {_letters(n)} = 2 * size {_letters(n)} + 1/2 in" for n in range(lines // 8)]
    text = ["```sizes", *sizes, *sums, "```"]
    names: list[str] = []
    while len(text) < lines - 10:
        name = f"card {_letters(len(names))}"
        names.append(name)
        text.append(f"```piece {name}, in card")
        text.append("panels down, 300 mm wide, mountain: upper = 110 mm, lower = 110 mm")
        for n in range(min(PER_PIECE, lines - 10 - len(text))):
            where = f"{12 + 13 * (n % 20)} mm right of {14 + 20 * (n // 20)} mm below top left"
            text.append(f"window circle, size {_letters(n % 20)} across, at {where} of upper")
        text.append("```")
    text += ["```step", *(f"score {name}" for name in names[: lines - len(text) - 2]), "```"]
    return HEAD.replace("{units}", "mm") + "\n".join(text) + "\n"


def _letters(number: int) -> str:
    return chr(97 + number // 676) + chr(97 + number // 26 % 26) + chr(97 + number % 26)


def worked_out(text: str, name: str) -> float:
    """Processor seconds for one text, from its characters to its pieces."""
    opened = workshop()
    trade = opened.trade
    known = Outside(frozenset(trade.stocks), frozenset(trade.objects))
    _forget()
    gc.collect()
    start = time.process_time()
    document, found = read_document(text, f"content/{name}/pattern.md")
    assert document is not None
    library = Library(opened.forms, known)
    outside = Outside(known.stocks, known.objects, library)
    program, more = parse(document, outside)
    pattern, last = build_pattern(program, trade, name, [*found, *more])
    spent = time.process_time() - start
    assert pattern is not None
    stops = [f.message for f in (*found, *more, *last) if f.severity == "error"]
    assert not stops, stops[:3]
    return spent


def _forget() -> None:
    """What geometry and model have remembered."""
    for name, module in list(sys.modules.items()):
        if name.startswith(("publisher.geometry", "publisher.model")):
            for value in vars(module).values():
                if hasattr(value, "cache_clear"):
                    value.cache_clear()


def main() -> None:
    gc.set_threshold(100_000, 50, 100)  # as the command does
    gc.freeze()
    patterns = {
        p.parent.name: p.read_text("utf-8") for p in (ROOT / "content").glob("*/pattern.md")
    }
    largest = max(sorted(patterns), key=lambda name: patterns[name].count("\n"))
    whole = [worked_out(patterns[largest], largest) for _ in range(RUNS + 1)]
    times = {
        f"lines_{n}_s": min(worked_out(made_up(n), "made-up") for _ in range(3)) for n in LINES
    }
    figures = {
        "largest": largest,
        "largest_lines": patterns[largest].count("\n"),
        "largest_s": round(min(whole[1:]), 4),
        **{name: round(seconds, 4) for name, seconds in times.items()},
        "growth": round(times["lines_2000_s"] / times["lines_1000_s"], 2),
        "targets": TARGETS,
    }
    figures["met"] = all(figures[name] <= limit for name, limit in TARGETS.items())
    print(json.dumps(figures, indent=1))  # noqa: T201 - this is what the bench is for


if __name__ == "__main__":
    main()
