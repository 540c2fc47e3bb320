"""What can be measured by name, spoken in prose."""

from __future__ import annotations

import pytest

from tests.model.making import compiled, made
from tests.model.sources import DRAWER, FRONT, MAT, SIZES, SLEEVE

PIECES = "\n".join([SIZES, DRAWER, SLEEVE, MAT])


def said(expression: str, front: str = FRONT) -> str:
    pattern = made(f"{front}{PIECES}\nIt is {{{expression}}}.\n")
    (run,) = [r for r in pattern.body[-1].runs if r.spoken]
    return run.text


@pytest.mark.parametrize(
    ("expression", "text"),
    [
        ("tab", "12 mm (1/2 in)"),
        ("width of drawer", "168 mm (6 5/8 in)"),
        ("height of drawer", "128 mm (5 1/16 in)"),
        ("width of drawer when closed", "125 mm (4 15/16 in)"),
        ("height of drawer when closed", "85 mm (3 5/16 in)"),
        ("depth of drawer when closed", "22.5 mm (7/8 in)"),
        ("depth of drawer when flat", "0.4 mm (0.016 in)"),
        ("width of base of drawer", "124 mm (4 7/8 in)"),
        ("height of panel 2 of sleeve", "23.5 mm (15/16 in)"),
        ("length of left of base of drawer", "84 mm (3 5/16 in)"),
        ("length of bottom of tab 1 of drawer", "12 mm (1/2 in)"),
        ("width of stack", "120 mm (4 3/4 in)"),
        ("stack", "120 × 80 × 20 mm (4 3/4 × 3 1/8 × 13/16 in)"),
        ("caliper of card", "0.4 mm (0.016 in)"),
        ("caliper of drawer", "0.4 mm (0.016 in)"),
        ("play", "1 mm (0.039 in)"),
        ("width of id-1 card", "85.6 mm (3.37 in)"),
        ("border of sleeve mat", "4 mm (3/16 in)"),
        ("width of notch 1 of sleeve", "24 mm (15/16 in)"),
        ("depth of notch 1 of sleeve", "12 mm (1/2 in)"),
        ("(width of stack + room) / 2", "62 mm (2 7/16 in)"),
        ("width of stack / height of stack", "1.5"),
        ("max(tab, border)", "12 mm (1/2 in)"),
    ],
)
def test_spoken_measures(expression: str, text: str) -> None:
    assert said(expression) == text


def test_inches_first_where_the_author_says_so() -> None:
    assert said("tab", FRONT.replace("units: mm", "units: in")) == "1/2 in (12 mm)"


def test_spoken_in_headings_quotes_lists_and_tables() -> None:
    text = (
        FRONT
        + PIECES
        + "\n## Tabs of {tab}\n\n> Tip: cut {tab} tabs.\n\n- one of {border}\n\n"
        + "| what | how much |\n|---|---|\n| tab | {tab} |\n\n"
        + "> Warning: mind the {thumb} notch.\n\n> Just so.\n"
    )
    pattern = made(text)
    heading, tip, bullets, table, caution, quote = pattern.body[-6:]
    assert "".join(r.text for r in heading.runs) == "Tabs of 12 mm (1/2 in)"
    assert (tip.kind, caution.kind, quote.kind) == ("tip", "caution", "quote")
    assert bullets.children[0].children[0].runs[1].text == "4 mm (3/16 in)"
    assert table.children[1].children[1].runs[0].spoken


def test_a_step_takes_the_heading_with_its_figures() -> None:
    pattern = made(FRONT + PIECES + "\n### Fold {tab} in\n\n```step\nscore drawer\n```\n")
    assert pattern.steps[0].title == "Fold 12 mm (1/2 in) in"


@pytest.mark.parametrize(
    ("expression", "code"),
    [
        ("drawer", "wrong-measure"),
        ("length of drawer", "wrong-measure"),
        ("depth of base of drawer", "wrong-measure"),
        ("width of left of base of drawer", "wrong-measure"),
        ("width of lid", "unknown-name"),
        ("width of bse of drawer", "unknown-name"),
        ("width of panel 9 of sleeve", "unknown-name"),
        ("width of tab", "wrong-unit"),
        ("stack + tab", "wrong-unit"),
    ],
)
def test_wrong_measures(expression: str, code: str) -> None:
    text = f"{FRONT}{PIECES}\nIt is {{{expression}}}.\n"
    findings = compiled(text)[1]
    assert [f.code for f in findings] == [code], [f.message for f in findings]
    assert findings[0].places[0].span.line == len(text.split("\n")) - 1
