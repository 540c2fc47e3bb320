"""``python -m tests.fuzz --seconds 600 --seed 1``: spoilt patterns without end.

Tells every text that ends in an exception, takes longer than two seconds, or brings the process
over 500 MB, and puts it into a file to be looked at. The exit code is 1 where there was one.
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import time
import traceback
from pathlib import Path

from publisher.diagnostics.render import render
from publisher.language.tidy import tidied
from publisher.pipeline import check_text
from publisher.source import read_document
from tests.compiled import workshop
from tests.fuzz.mutate import sources, spoilt

MOST_S = 2.0
MOST_MB = 500.0


def answer(text: str) -> None:
    """Everything that a check and a tidy do with a text; findings are written out too."""
    opened = workshop()
    outcome = check_text(
        text.encode("utf-8", "surrogatepass"), "p.md", "p", opened.trade, forms=opened.forms
    )
    render(outcome.diagnostics, outcome.sources, "full")
    document, _ = read_document(text, "p.md")
    if document is not None:
        once = tidied(document)
        again, _ = read_document(once, "p.md")
        assert again is None or tidied(again) == once, "tidy is no fixed point"


def memory_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def trial(text: str, most_s: float = MOST_S) -> str:
    """What is wrong with the answer to a text; "" where nothing is."""
    began, before = time.process_time(), memory_mb()
    try:
        answer(text)
    except Exception:
        return traceback.format_exc()
    took = time.process_time() - began
    if took > most_s:
        return f"took {took:.1f} s"
    # The most that this process ever had: what others took before is not this text's.
    return f"{memory_mb():.0f} MB" if memory_mb() > max(MOST_MB, before) else ""


def run(seconds: float, seed: int, folder: Path) -> int:
    chance = random.Random(seed)
    texts = sources()
    until = time.monotonic() + seconds
    tried, failed, slowest = 0, 0, 0.0
    while time.monotonic() < until:
        text = spoilt(texts, chance)
        began = time.process_time()
        wrong = trial(text)
        slowest = max(slowest, time.process_time() - began)
        tried += 1
        if wrong:
            failed += 1
            folder.mkdir(parents=True, exist_ok=True)
            file = folder / f"{seed}-{tried}.md"
            file.write_text(text, encoding="utf-8", errors="surrogatepass", newline="")
            sys.stdout.write(f"{file}: {wrong.strip().splitlines()[-1]}\n")
            file.with_suffix(".txt").write_text(wrong, encoding="utf-8")
    sys.stdout.write(
        f"{tried} texts, {failed} wrong, slowest {slowest:.2f} s, {memory_mb():.0f} MB\n"
    )
    return 1 if failed else 0


def main() -> int:
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz")
    asked.add_argument("--seconds", type=float, default=600.0)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--out", type=Path, default=Path("build/fuzz"))
    said = asked.parse_args()
    return run(said.seconds, said.seed, said.out)


if __name__ == "__main__":
    raise SystemExit(main())
