"""The command supplies, on this workshop's own patterns."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from publisher.cli.commands import publisher
from tests.compiled import ROOT
from tests.workshops import copied


def run(*arguments: str) -> str:
    result = CliRunner().invoke(publisher, ["supplies", *arguments])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_it_says_sheets_glue_and_cost(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    said = run("envelope")
    assert "for 10:\n    Paper, A4: 10 sheets, 63 % of them used" in said
    assert "In all: " in said
    assert "seed coins" in said


def test_without_a_price_list_nothing_costs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = copied(tmp_path / "shop")
    (root / "site" / "prices.toml").unlink()
    monkeypatch.chdir(root)
    said = run("envelope", "--times", "3")
    assert "for 3:" in said
    assert "In all" not in said
    assert "site/prices.toml" in said
    data = json.loads(run("envelope", "--times", "3", "--format", "json"))
    assert data["findings"] == []
    (entry,) = data["supplies"]
    (batch,) = entry["batches"]
    assert (batch["times"], batch["sheets"][0]["count"]) == (3, 3)
    assert "cost" not in batch


def test_a_wrong_price_list_stops_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = copied(tmp_path / "shop")
    (root / "site" / "prices.toml").write_text('[card]\nprice = "much"\n', encoding="utf-8")
    monkeypatch.chdir(root)
    result = CliRunner().invoke(publisher, ["supplies", "envelope"])
    assert result.exit_code == 1
    assert "site/prices.toml" in result.stdout


def test_prices_go_into_no_bundle() -> None:
    text = (ROOT / "site" / "prices.toml").read_text(encoding="utf-8")
    assert "seed coins" in text
    from tests.workshops import built

    bundle = built(ROOT, "envelope")
    assert "supplies" in bundle.manifest
    assert all(b"seed coins" not in data for data in bundle.files.values())
