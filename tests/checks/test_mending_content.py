"""Content patterns with a size gone wrong: what is offered is taken, and the pattern is green."""

from __future__ import annotations

import pytest

from publisher.pipeline import Outcome, check_text
from tests.checks.mutations import design, size
from tests.compiled import workshop

WRONG = [
    ("sliding-box", "stack", "120 x 80 x 24 mm"),
    ("sliding-box", "room", "1.3 mm"),
    ("envelope", "greeting", "148 x 105 x 4 mm"),
]


def checked(text: str) -> Outcome:
    return check_text(text.encode(), "content/trial/pattern.md", "trial", workshop().trade)


@pytest.mark.parametrize(("name", "which", "value"), WRONG)
def test_every_way_out_leads_out(name: str, which: str, value: str) -> None:
    text = size(design(name)[0], which, value)
    outcome = checked(text)
    assert outcome.failed
    wrong = [d for d in outcome.diagnostics if d.severity == "error"]
    for finding in wrong:
        edits = [w.edit for w in finding.ways_out if w.edit is not None]
        assert edits
        for edit in edits:
            mended = text[: edit.span.start] + edit.text + text[edit.span.end :]
            left = [d.code for d in checked(mended).diagnostics if d.severity == "error"]
            assert finding.code not in left
            assert set(left) <= {d.code for d in wrong}
            assert len(wrong) > 1 or not left
