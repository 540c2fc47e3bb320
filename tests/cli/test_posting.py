"""The command posts, on the project's own workshop."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from publisher.cli.commands import publisher
from tests.compiled import ROOT


def test_it_writes_a_cover_and_a_moving_picture(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(ROOT)
    result = CliRunner().invoke(publisher, ["posts", "envelope", "--out", str(tmp_path)])
    assert result.exit_code == 0, result.output
    found = {p.name: p.read_bytes()[:12] for p in sorted(tmp_path.iterdir())}
    assert list(found) == ["envelope-cover.png", "envelope-making.webp"]
    assert found["envelope-making.webp"][8:] == b"WEBP"
