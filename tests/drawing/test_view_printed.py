"""Paper printed on one face: as it is laid, the picture shows which face goes down."""

from __future__ import annotations

import pytest

from tests.drawing.test_view_content import told
from tests.drawing.view_scenes import fills, named

LAID = [
    ("leaf-card", "step-02b", "pattern-through"),
    ("table-sign", "step-02b", "pattern-through"),
    ("sliding-box", "step-03b", "pattern"),
]


@pytest.mark.parametrize(("name", "step", "role"), LAID)
def test_it_is_seen_which_face_of_patterned_paper_goes_down(
    name: str, step: str, role: str
) -> None:
    drawing = named(told(name)[2], step)
    assert fills(drawing, "glue-through")
    printed = fills(drawing, "pattern", "pattern-through")
    assert {f.role for f in printed if not f.id.endswith("-corner")} == {role}
    assert ("pattern-through" in drawing.signs) == (role == "pattern-through")


def test_glue_on_the_face_that_is_seen_still_takes_its_pattern_away() -> None:
    for name in ("leaf-card", "table-sign", "sliding-box", "plan-wallet"):
        for drawing in told(name)[2]:
            near = {f.id.split("-", 1)[1] for f in fills(drawing, "glue", "glue-wet")}
            for face in fills(drawing, "pattern", "pattern-through"):
                own = face.id.removeprefix("pattern-")
                assert not [g for g in near if g.startswith(f"{own}-")], (drawing.name, own)
