"""The command proof, on a workshop of its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from publisher.cli.commands import publisher
from tests.compiled import ROOT


def test_it_writes_both_forms(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(ROOT)
    result = CliRunner().invoke(
        publisher, ["proof", "envelope", "--out", str(tmp_path), "--paper", "letter"]
    )
    assert result.exit_code == 0, result.output
    assert sorted(p.name for p in tmp_path.iterdir()) == [
        "envelope-proof.html",
        "envelope-proof.pdf",
    ]
    assert (tmp_path / "envelope-proof.pdf").read_bytes().startswith(b"%PDF")
