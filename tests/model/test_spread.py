"""Lists that share their ``of`` and their ``middle of``."""

from __future__ import annotations

import pytest

from publisher.diagnostics import Span
from publisher.language.ast import Place, Ref, Segment, SegmentKind
from publisher.model.places.resolve import spread

HERE = Span("pattern.md", 0, 1, 1, 1)
SIDES = {"top", "bottom", "left", "right"}


def ref(text: str) -> Ref:
    segments = []
    for name in text.split(" of "):
        kind: SegmentKind = "name"
        if name in SIDES:
            kind = "side"
        elif name == "middle":
            kind = "middle"
        elif name.startswith("each "):
            kind, name = "each", name[5:]
        segments.append(Segment(kind, name, HERE))
    return Ref(tuple(segments), (), HERE)


def said(places: list[Place]) -> list[str]:
    return [p.text for p in places if isinstance(p, Ref)]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        (
            ["middle of left", "right of panel 1", "panel 3"],
            [
                "middle of left of panel 1",
                "middle of right of panel 1",
                "middle of left of panel 3",
                "middle of right of panel 3",
            ],
        ),
        (["left of a", "right of a"], ["left of a", "right of a"]),
        (["left", "right of a"], ["left of a", "right of a"]),
        (
            ["left of a", "right of a", "b"],
            ["left of a", "right of a", "left of b", "right of b"],
        ),
        (["bottom of a", "bottom of b"], ["bottom of a", "bottom of b"]),
        (["middle of top", "bottom"], ["middle of top", "middle of bottom"]),
        (["a", "b"], ["a", "b"]),
        (["middle of a", "middle of b"], ["middle of a", "middle of b"]),
        (
            ["left of each side", "top of each side"],
            ["left of each side", "top of each side"],
        ),
        (
            ["left of a", "right of b", "c"],
            ["left of a", "right of b", "right of c"],
        ),
    ],
)
def test_members_of_a_list(written: list[str], meant: list[str]) -> None:
    assert said(spread([ref(w) for w in written])) == meant
