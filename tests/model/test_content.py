"""The workshop's own patterns compile, and measure what was planned for them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from publisher.model.folding import closed_size
from publisher.model.types import Pattern
from tests.model.making import ROOT, made

CONTENT = sorted((ROOT / "content").glob("*/pattern.md"))


@pytest.mark.parametrize("path", CONTENT, ids=lambda p: p.parent.name)
def test_compiles_without_findings(path: Path) -> None:
    pattern = made(path.read_text(encoding="utf-8"), path.parent.name)
    assert pattern.steps
    assert all(s.actions for s in pattern.steps)


@pytest.mark.parametrize("path", CONTENT, ids=lambda p: p.parent.name)
def test_no_figure_is_typed_where_a_size_could_speak(path: Path) -> None:
    text = re.sub(r"^```.*?^```$", "", path.read_text(encoding="utf-8"), flags=re.M | re.S)
    body = text.split("---", 2)[2]
    assert re.findall(r"\d", body) == []


def content(name: str) -> Pattern:
    return made((ROOT / "content" / name / "pattern.md").read_text(encoding="utf-8"))


def test_sliding_box_measures() -> None:
    box = content("sliding-box")
    drawer = box.piece("drawer")
    assert (drawer.panel("base").width_mm, drawer.panel("base").height_mm) == (124.0, 84.0)
    assert closed_size(drawer) == pytest.approx((124.8, 84.8, 22.4))
    assert len(drawer.folds) == 8
    assert box.piece("sleeve").bounds[2:] == pytest.approx((124.8, 230.4))
    assert box.piece("sleeve mat").bounds[2:] == pytest.approx((116.8, 77.8))


def test_envelope_measures() -> None:
    pattern = content("envelope")
    envelope = pattern.piece("envelope")
    assert envelope.bounds[2:] == pytest.approx((190.0, 233.0))
    assert len(envelope.folds) == 4
    assert len(envelope.glue_zones) == 2
    overlap = next(s for s in pattern.sizes if s.name == "overlap")
    assert overlap.values == pytest.approx((11.0,))
