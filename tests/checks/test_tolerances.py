"""What the making leaves of a fit: stacks on the real pieces, against makers drawn one by one.

The second way shares nothing with the first: the box is measured by hand, in plain sums.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from publisher.checks.context import Context
from publisher.checks.making import made_lines, reshaped
from publisher.checks.making_verdicts import making_verdicts
from publisher.checks.tolerances import Contributor, Stack, makers, stacks
from tests.checks.test_mending import tray
from tests.compiled import compile_text, workshop

MAKERS = 100_000


def context(body: str) -> Context:
    outcome = compile_text(body)
    assert outcome.pattern is not None
    assert outcome.story is not None
    assert not outcome.failed
    return Context(outcome.pattern, outcome.story, workshop().trade)


def stack(body: str, way: str) -> Stack:
    return next(s for s in stacks(context(body)) if s.key[1] == way)


# ---------------------------------------------------------------- the sums


def contributor(said: str, tolerance: float, key: tuple[str, str]) -> Contributor:
    return Contributor(said, "cut", {"machine": tolerance, "hand": tolerance}, {key: 1.0})


@pytest.mark.parametrize(
    ("tolerances", "worst", "rss"),
    [
        # Worked examples of worst case and root-sum-square stacks: F. Scholz, Tolerance Stack
        # Analysis Methods, 1995 (formulas), figures computed from them.
        ((0.20, 0.10, 0.15), 0.45, 0.2693),
        ((0.1,) * 10, 1.0, 0.3162),
        ((0.25,) * 4, 1.0, 0.5),
    ],
)
def test_worked_stacks(tolerances: tuple[float, ...], worst: float, rss: float) -> None:
    key = ("lid on box", "least wide")
    parts = tuple(contributor(f"cut {i}", t, key) for i, t in enumerate(tolerances))
    found = Stack(key, 0.0, parts)
    assert -found.worst_mm("hand") == pytest.approx(worst)
    assert found.rss_mm("hand") == pytest.approx(rss, abs=5e-5)


def test_three_standard_deviations_leave_27_in_10000_outside() -> None:
    """0.27 % of a normal spread lie outside three standard deviations, half on each side."""
    key = ("lid on box", "least wide")
    found = Stack(key, 0.3, (contributor("cut", 0.3, key),))
    assert 2 * found.share_failing("hand") == pytest.approx(0.0027, abs=5e-6)


# ---------------------------------------------------------------- on real pieces


def test_a_room_follows_its_two_scores_and_nothing_else() -> None:
    found = stack(tray(), "least across")
    assert {c.said: round(c.slopes[found.key], 6) for c in found.contributors} == {
        "the score at left wall of tray": -1.0,
        "the fold at left wall of tray": -1.0,
        "the score at right wall of tray": 1.0,
        "the fold at right wall of tray": 1.0,
    }
    # Two scores of 0.5 and two folds of 0.2 by hand.
    assert found.rss_mm("hand") == pytest.approx(math.sqrt(2 * 0.25 + 2 * 0.04), abs=1e-6)
    # 4 mm to spare; what the claim asks for beyond nothing is reserve.
    assert found.slack_mm == pytest.approx(4.0)
    assert found.worst_mm("hand") == pytest.approx(4.0 - 1.4)


TABBED = (
    tray(room="1.6 mm", margin="at least 0.2 mm")
    .replace(
        "```\n\n```fits",
        "tab      on left and right of front wall, 10 mm deep, 2 mm taper,\n"
        "         mountain by 90 degrees,\n"
        "         meets bottom of left wall and bottom of right wall\n```\n\n```fits",
    )
    .replace(
        "fold     each wall of tray",
        "fold     each wall and each tab of tray\nglue each tab of tray",
    )
)


@pytest.mark.parametrize("by", ["machine", "hand"])
def test_makers_drawn_one_by_one_agree_with_the_stack(by: str) -> None:
    """100,000 makers: the width between the walls is the distance of two creases, each a score
    and a fold off; a tab of unknown thickness is glued inside at each end. 81.6 - 80 - 2 x 0.4
    leaves 0.8 mm."""
    found = stack(TABBED, "least across")
    practice = {k: v.value for k, v in workshop().trade.practice.items()}
    chance = np.random.default_rng(20261125)

    def off(kind: str) -> np.ndarray:
        return chance.normal(0.0, practice[f"{by}_{kind}_tolerance_mm"] / 3, MAKERS)

    left = 0.0 + off("score") + off("fold")
    right = 81.6 + off("score") + off("fold")
    caliper = chance.normal(0.4, 0.4 * practice["caliper_tolerance"] / 3, MAKERS)
    spare = right - left - 2 * caliper - 80.0
    for limit in (0.0, 0.25, 0.5, 0.8):
        share = float((spare < limit).mean())
        moved = Stack(found.key, found.slack_mm - limit, found.contributors)
        expected = moved.share_failing(by)  # type: ignore[arg-type]
        error = math.sqrt(max(expected * (1 - expected), 1 / MAKERS) / MAKERS)
        assert abs(share - expected) <= 3 * error


def test_many_fits_at_once_are_drawn_together() -> None:
    """Two walls of the same tray share no line across and down: the chances multiply."""
    key_a, key_b = ("a", "least wide"), ("b", "least high")
    a = Stack(key_a, 0.1, (contributor("one", 0.3, key_a),))
    b = Stack(key_b, 0.1, (contributor("two", 0.3, key_b),))
    one = a.share_failing("hand")
    both = 1 - (1 - one) ** 2
    error = math.sqrt(both * (1 - both) / MAKERS)
    assert abs(makers((a, b), "hand", MAKERS) - both) <= 3 * error
    # The same contributor in both: they fail together.
    shared = Contributor("one", "cut", {"machine": 0.3, "hand": 0.3}, {key_a: 1.0, key_b: 1.0})
    a, b = Stack(key_a, 0.1, (shared,)), Stack(key_b, 0.1, (shared,))
    assert abs(makers((a, b), "hand", MAKERS) - one) <= 3 * math.sqrt(one * (1 - one) / MAKERS)


@pytest.mark.parametrize(
    ("room", "result", "words"),
    [
        ("4 mm", "pass", "fits by machine; fits by hand"),
        # 0.3 to spare, 0.76 and 0.36 as three standard deviations: 12 in 100 and 5 in 1000.
        ("0.3 mm", "warning", "by machine 5 in 1000 will be too tight; by hand 12 in 100 will be"),
    ],
)
def test_the_verdict_in_words(room: str, result: str, words: str) -> None:
    (found,) = making_verdicts(context(tray(room=room, margin="at least 0.2 mm")))
    assert found.result == result
    assert words in found.sentence


def test_a_slanted_cut_that_is_off_leaves_the_fold_that_it_ends() -> None:
    piece = compile_text(TABBED).pattern.piece("tray")  # type: ignore[union-attr]
    lines = made_lines(piece)
    slanted = [x for x in lines if x.kind == "cut" and min(map(abs, x.normal)) > 0.01]
    assert slanted
    for line in slanted:
        moved = reshaped(piece, line.shift(0.1, lines))
        assert [(f.start, f.end) for f in moved.folds] == [(f.start, f.end) for f in piece.folds]
        assert moved.outline != piece.outline
