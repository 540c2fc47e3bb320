"""``python -m tests.fuzz.guided --seconds 600``: texts that are led by what code they reach.

Atheris (libFuzzer for Python) begins with the project's patterns and examples, changes them byte
by byte, and goes on with those that reach code that none reached before. It ends at the first
text that ends in an exception, and keeps it in ``build/fuzz/``. Atheris is no dependency of the
project, as few machines have a wheel of it: ``pip install atheris`` before.

The code is instrumented and several times slower than it is: times are looked at by
``python -m tests.fuzz``, here only what hangs for ``HANGS_S`` is told.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

HANGS_S = 25
MOST_BYTES = 6_000


def main() -> None:
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz.guided")
    asked.add_argument("--seconds", type=int, default=600)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--out", type=Path, default=Path("build/fuzz"))
    said = asked.parse_args()

    import atheris

    with atheris.instrument_imports(include=["publisher"]):
        from tests.fuzz.__main__ import answer
        from tests.fuzz.mutate import sources

    def one(data: bytes) -> None:
        answer(data[:MOST_BYTES].decode("utf-8", "replace"))

    said.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for number, text in enumerate(sources()):
            seed = text.encode()
            if len(seed) <= MOST_BYTES:
                (Path(folder) / f"{number}.md").write_bytes(seed)
        options = [
            f"-max_total_time={said.seconds}",
            f"-seed={said.seed}",
            f"-timeout={HANGS_S}",
            f"-max_len={MOST_BYTES}",
            f"-artifact_prefix={said.out}/",
            "-rss_limit_mb=1500",
            "-print_final_stats=1",
        ]
        atheris.Setup([sys.argv[0], *options, folder], one)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
