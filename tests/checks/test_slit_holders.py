"""Tongues on both sides of each of their edges; the figures are from ``practice.toml``."""

from __future__ import annotations

import pytest

from tests.checks.mutations_turned import HOLDER
from tests.compiled import codes, compile_text

CODE = "slit-holds-badly"


def holder(wide: float, off: float, across: float, down: float, under: str = "foot") -> str:
    figures = {"wide": wide, "off": off, "across": across, "down": down}
    text = HOLDER.replace("{under}", under)
    for name, value in figures.items():
        text = text.replace(f"{{{name}}}", f"{value}")
    return text


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        # One tongue: its half circle lies over the token with all its depth, 8 mm at the least.
        ((16, 10, 70, 50), None),
        ((15.9, 10, 70, 50), "foot lies 7.95 mm"),
        # The token is 2 mm wider on either side than the slit.
        ((30, 10, 34, 30), None),
        ((30, 10, 33.9, 30), "foot is 30 mm (1.181 in) wide, and token 33.9 mm"),
        # 5 mm of paper are left below the slit.
        ((20, 5, 70, 50), None),
        ((20, 4.9, 70, 50), "4.9 mm (0.193 in) of paper is left between foot and the edge"),
    ],
)
def test_one_tongue(figures: tuple[float, float, float, float], said: str | None) -> None:
    outcome = compile_text(holder(*figures))
    assert codes(outcome) == ([CODE] if said else [])
    assert all(d.message.startswith(said or "") for d in outcome.diagnostics)
    assert all(d.severity == "warning" and d.ways_out for d in outcome.diagnostics)


@pytest.mark.parametrize(("down", "count"), [(69.5, 0), (69.6, 2)])
def test_two_tongues_leave_room(down: float, count: int) -> None:
    """Their feet are 70 mm apart; 0.5 mm is free at the least."""
    outcome = compile_text(holder(30, 10, 80, down, "head and foot"))
    assert codes(outcome) == [CODE] * count
    assert all("is free between" in d.message for d in outcome.diagnostics)


def test_a_narrow_tongue_is_told_once_for_each_reason() -> None:
    outcome = compile_text(holder(11, 10, 70, 50))
    assert [d.message.split(" (")[0] for d in outcome.diagnostics] == [
        "foot lies 5.5 mm",
        "foot is 11 mm",
    ]


def test_a_slit_that_holds_nothing_is_not_asked() -> None:
    text = holder(10, 3, 70, 50).replace("tuck     token under foot of carrier", "lay token")
    assert CODE not in codes(compile_text(text))
