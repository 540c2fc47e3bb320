"""Scales: few, kept from picture to picture, and no smaller than need be."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from publisher.drawing.space_view.scales import (
    fitting_scale,
    largest_scale,
    papers_of,
    shared_scales,
)
from publisher.drawing.space_view.story import settings
from publisher.drawing.space_view.telling import tell
from publisher.pipeline import Outcome, check_pattern, check_text
from publisher.workshop import open_workshop
from tests.drawing.test_view_content import NAMES, changed

ROOT = Path(__file__).parents[2]
WORKSHOP = open_workshop(ROOT)[0]

Told = tuple[list[float], list[float], list[dict[str, float]]]
"""Of each picture: its scale, the largest that fits, and how much it shows of each piece."""


def of(outcome: Outcome) -> Told:
    assert outcome.story is not None, [d.message for d in outcome.diagnostics]
    assert outcome.pattern is not None
    pattern = outcome.story.handled or outcome.pattern
    telling = tell(pattern, outcome.story)
    stages, shapes, chosen = telling.stages, telling.shapes, settings(telling)
    largest = [largest_scale(s, shapes, c.view) for s, c in zip(stages, chosen, strict=True)]
    return [c.scale for c in chosen], largest, [papers_of(stage, shapes) for stage in stages]


LID, TRAY = {"lid": 90.0}, {"tray": 100.0}
LINED = {"lid": 90.0, "lining": 30.0}


def test_a_scale_fits_and_is_one_of_few() -> None:
    assert fitting_scale((73.0, 50.0)) == 1.0
    assert fitting_scale((146.1, 10.0)) == pytest.approx(0.45)
    assert shared_scales([], []) == []


def test_a_thing_keeps_its_scale_when_something_small_joins_it() -> None:
    assert shared_scales([0.5, 0.5, 0.63, 0.56], [LID, LID, LINED, LINED]) == [0.5] * 4


def test_what_is_put_to_a_large_thing_later_is_drawn_at_most_twice_as_large_before() -> None:
    label, both = {"label": 30.0}, {"label": 30.0, "body": 400.0}
    assert shared_scales([0.9, 0.25], [label, both]) == [0.5, 0.25]
    assert shared_scales([0.9, 0.9, 0.25], [{"mat": 9.0}, label, both]) == [0.9, 0.5, 0.25]


def test_what_is_tiny_in_the_later_picture_still_fills_half_of_its_own() -> None:
    label, both = {"label": 3.0}, {"label": 3.0, "body": 400.0}
    assert shared_scales([1.0, 0.125], [label, both]) == [0.5, 0.125]


def test_what_would_not_fit_is_drawn_smaller_and_what_comes_before_it_too() -> None:
    assert shared_scales([0.355, 0.28, 0.315], [LID] * 3) == [0.28] * 3


def test_one_step_larger_is_not_worth_a_change() -> None:
    assert shared_scales([0.25] + [0.28] * 20, [LID] * 21) == [0.25] * 21


def test_a_thing_that_has_become_small_for_long_is_drawn_larger() -> None:
    assert shared_scales([0.25] * 3 + [0.5] * 3, [LID] * 6) == [0.25] * 3 + [0.5] * 3
    assert shared_scales([0.25] * 5 + [0.5], [LID] * 6) == [0.25] * 6  # not for one picture


def test_a_thing_grows_where_it_changes_and_not_a_picture_later() -> None:
    # a strip closed to a ring, which could be larger at once
    scales = shared_scales([0.28] * 3 + [0.5] + [0.56] * 3 + [0.63] * 4, [LID] * 11)
    assert scales == [0.28] * 3 + [0.5] * 8


def test_another_thing_has_its_own_scale_and_the_first_is_found_again() -> None:
    scales = shared_scales([0.28, 0.9, 0.28], [LID, TRAY, LID])
    assert scales == [0.28, 0.9, 0.28]
    assert shared_scales([0.28, 0.315, 0.28], [LID, TRAY, LID]) == [0.28] * 3


def at_odds(told: Told) -> list[int]:
    """Pictures whose scale is another than in the last that showed much of the same, though
    they would fit at that, and are not drawn much larger either."""
    scales, largest, papers = told
    found = []
    for k in range(1, len(scales)):
        same = papers[k].keys() & papers[k - 1].keys()
        if sum(papers[k][name] for name in same) < sum(papers[k].values()) / 3.0:
            continue
        before, now = scales[k - 1], scales[k]
        if now != before and before <= largest[k] and now < before * 1.25:
            found.append(k)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_same_things_keep_their_scale_through_a_booklet(name: str) -> None:
    told = of(check_pattern(WORKSHOP, name))
    assert at_odds(told) == []
    scales, largest, _ = told
    assert all(scale <= most for scale, most in zip(scales, largest, strict=True))
    changes = sum(a != b for a, b in pairwise(scales))
    assert changes <= len(scales) / 2.0


def test_the_rule_sees_a_jump() -> None:
    assert at_odds(([0.5, 0.45], [0.5, 0.5], [LID, LID])) == [1]
    assert at_odds(([0.5, 0.56], [0.56, 0.56], [LID, LID])) == [1]
    assert at_odds(([0.5, 0.45], [0.5, 0.45], [LID, LID])) == []


SWEEPS = (
    ("sliding-box", "depth", "{} mm", range(19, 26)),
    ("sliding-box", "tab", "{} mm", range(9, 16)),
    ("sliding-box", "play", "{} mm", (1.0, 1.5, 2.0)),
)


@pytest.mark.parametrize(("name", "size", "unit", "values"), SWEEPS)
def test_a_size_that_grows_changes_a_scale_once_at_most_and_never_to_a_larger(
    name: str, size: str, unit: str, values: range
) -> None:
    """Only where a blank grows past its room, and then by one step for all its pictures."""
    text = (ROOT / "content" / name / "pattern.md").read_text(encoding="utf-8")
    given = (WORKSHOP.trade, WORKSHOP.settings.cutting, WORKSHOP.forms)
    rows = []
    for value in values:
        data = changed(text, size, unit.format(value)).encode()
        rows.append(of(check_text(data, f"{name}.md", name, *given))[0])
    for scales in zip(*rows, strict=True):
        assert list(scales) == sorted(scales, reverse=True), scales
        assert len(set(scales)) <= 2, scales
    assert len({tuple(row) for row in rows}) <= 3, rows
