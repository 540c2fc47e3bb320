"""Two builds in different folders, time zones and hash seeds give the same zip."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.workshops import copied


def test_folder_zone_and_hash_seed_leave_no_trace(tmp_path: Path) -> None:
    zips = []
    for number, (zone, seed) in enumerate((("Pacific/Auckland", "1"), ("America/Lima", "977"))):
        root = tmp_path / ("a" if number == 0 else "another place") / "workshop"
        root.mkdir(parents=True)
        copied(root)
        environment = dict(os.environ, TZ=zone, PYTHONHASHSEED=seed, SOURCE_DATE_EPOCH=str(seed))
        environment["LC_ALL"] = "C" if number else "C.UTF-8"
        command = [sys.executable, "-c", "from publisher.cli import main; main()"]
        environment["PYTHONPATH"] = str(Path(__file__).resolve().parents[2])
        subprocess.run(
            [*command, "bundle", "--out", "out"],
            cwd=root / "content",
            env=environment,
            check=True,
            capture_output=True,
        )
        folder = root / "content" / "out"
        zips.append({p.name: p.read_bytes() for p in sorted(folder.glob("*.zip"))})
    patterns = {p.parent.name for p in (root / "content").glob("*/pattern.md")}
    assert {name.rsplit("-", 1)[0] for name in zips[0]} == patterns >= {"lantern", "sliding-box"}
    assert zips[0] == zips[1]
