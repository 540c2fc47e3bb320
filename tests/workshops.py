"""A copy of this project's workshop in a folder of a test's own, and bundles built there."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from publisher.pipeline import Outcome, build_bundle
from publisher.workshop import open_workshop

ROOT = Path(__file__).resolve().parents[1]


def copied(folder: Path, **changes: tuple[str, str]) -> Path:
    """The workshop in ``folder``; ``changes`` replace text in a pattern, by its name with
    underscores: ``sliding_box=("22 mm", "30 mm")``."""
    for name in ("content", "shared", "site", "themes"):
        shutil.copytree(ROOT / name, folder / name)
    for name, (old, new) in changes.items():
        file = folder / "content" / name.replace("_", "-") / "pattern.md"
        text = file.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file.name}"
        file.write_text(text.replace(old, new), encoding="utf-8")
    return folder


@dataclass(frozen=True)
class Bundle:
    """A bundle built and opened: every file by its path inside the bundle's folder."""

    outcome: Outcome
    files: dict[str, bytes]

    @property
    def manifest(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self.files["manifest.json"])
        return found


def built(root: Path, name: str) -> Bundle:
    """Build one pattern of the workshop at ``root``; fails where findings stop it."""
    workshop, wrong = open_workshop(root)
    assert not wrong, wrong
    outcome = build_bundle(workshop, name)
    assert not outcome.failed, outcome.diagnostics
    with zipfile.ZipFile(io.BytesIO(outcome.zip_bytes)) as archive:
        files = {n.partition("/")[2]: archive.read(n) for n in archive.namelist()}
    return Bundle(outcome, files)
