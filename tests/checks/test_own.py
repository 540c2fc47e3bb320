"""Waivers, and thresholds of a pattern's own: each with a reason that is printed."""

from __future__ import annotations

import pytest

from publisher.pipeline import Outcome
from publisher.workshop.thorough import thoroughly
from tests.compiled import HEAD, codes, compile_text, workshop

TRAY = """
```piece tray, in card
panel    base, 90 x 64 mm
panel    front wall, on bottom of base, 8 mm deep, mountain by 90 degrees
tab      on left of front wall, {tab} deep, mountain by 90 degrees
```

```fits
tray closes to {size}
```

```step
lay      tray
```
"""


def compiled(front: str = "", tab: str = "8 mm", size: str = "90.4 x 64.4 mm") -> Outcome:
    head = HEAD.replace(
        "licence: personal\n", f"licence: personal\n{front}\n" if front else "licence: personal\n"
    )
    return compile_text(TRAY.replace("{tab}", tab).replace("{size}", size), head=head)


def sentence(outcome: Outcome, code: str) -> str:
    return next(r.sentence for r in outcome.checks if r.code == code)


WAIVED = "waive: tab-too-narrow in tray, 2026-11-25, because clips hold it"


def test_a_warning_that_is_waived_is_said_with_its_reason() -> None:
    assert codes(compiled(tab="6 mm")) == ["tab-too-narrow"]
    outcome = compiled(WAIVED, tab="6 mm")
    assert codes(outcome) == []
    said = sentence(outcome, "tab-too-narrow")
    assert said.endswith("; waived on 2026-11-25, because clips hold it")


def test_what_stops_a_build_only_warns_when_it_is_waived() -> None:
    wrong = compiled(size="90.4 x 65 mm")
    assert codes(wrong) == ["closed-size-differs"]
    assert wrong.failed
    line = "waive: closed-size-differs, 2026-11-25, because the lid is cut to measure"
    outcome = compiled(line, size="90.4 x 65 mm")
    assert codes(outcome) == ["closed-size-differs"]
    assert not outcome.failed
    (finding,) = outcome.diagnostics
    assert finding.notes[-1] == "Waived on 2026-11-25, because the lid is cut to measure."


@pytest.mark.parametrize(
    "line",
    [
        WAIVED,
        "waive: tab-too-narrow in lid, 2026-11-25, because clips hold it",
        "waive: no-such-finding, 2026-11-25, because of nothing",
    ],
)
def test_a_waiver_that_meets_nothing_is_a_finding(line: str) -> None:
    assert "waiver-not-needed" in codes(compiled(line))


def test_several_waivers_stand_between_semicolons() -> None:
    line = f"{WAIVED}; closed-size-differs, 2026-11-24, because the lid is cut to measure"
    outcome = compiled(line, tab="6 mm", size="90.4 x 65 mm")
    assert [(d.code, d.severity) for d in outcome.diagnostics] == [
        ("closed-size-differs", "warning")
    ]


def test_what_only_a_thorough_check_looks_for_is_not_missed_before() -> None:
    line = "waive: folds-across-grain in tray, 2026-11-25, because it is sold one way only"
    outcome = compiled(line)
    assert codes(outcome) == []
    assert codes(thoroughly(outcome, workshop().trade))[-1] == "waiver-not-needed"


def test_a_promise_cannot_be_waived() -> None:
    line = "waive: claim-not-proven, 2026-11-25, because I say so"
    head = HEAD.replace("licence: personal\n", f"licence: personal\n{line}\n")
    body = TRAY.replace("tray closes to {size}", "seed packet goes into front wall of tray")
    outcome = compile_text(body.replace("{tab}", "8 mm"), head=head)
    assert "claim-not-proven" in codes(outcome)
    assert outcome.failed


@pytest.mark.parametrize(
    "line",
    [
        "waive: tab-too-narrow in tray, because clips hold it",
        "waive: tab-too-narrow in tray, 2026-02-30, because clips hold it",
        "waive: tab-too-narrow in tray, 2026-11-25",
        "practice: tab depth least is 6 mm",
        "practice: tab depth least, because clips hold it",
    ],
)
def test_without_a_day_or_a_reason_it_is_refused(line: str) -> None:
    assert codes(compiled(line)) == ["front-matter-value"]


@pytest.mark.parametrize(
    ("tab", "figure", "expected"),
    [
        ("6 mm", "6 mm", []),
        ("5.9 mm", "6 mm", ["tab-too-narrow"]),
        ("6.3 mm", "1/4 in", ["front-matter-value"]),
        ("6.4 mm", "0.25 in", []),
        ("6.3 mm", "0.25 in", ["tab-too-narrow"]),
    ],
)
def test_a_threshold_of_the_patterns_own(tab: str, figure: str, expected: list[str]) -> None:
    outcome = compiled(f"practice: tab depth least is {figure}, because the box is small", tab=tab)
    assert codes(outcome) == expected
    if not expected and figure == "6 mm":
        assert sentence(outcome, "own-practice") == (
            "tab depth least is 6 mm here, usually 8, because the box is small"
        )


@pytest.mark.parametrize("line", ["tab depht least is 6 mm", "tab depth least is 6 calipers"])
def test_a_threshold_that_nobody_knows(line: str) -> None:
    assert codes(compiled(f"practice: {line}, because it is")) == ["unknown-practice"]
