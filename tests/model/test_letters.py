"""Words cut from a piece and drawn on it."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from publisher.drawing.fonts import face_file
from publisher.geometry.measure import area, path_bounds
from publisher.model.types import Piece
from publisher.pipeline import Outcome
from tests.compiled import codes, compile_text

SIGN = """
```piece sign, in card
outline  rectangle, 160 x 60 mm
{lines}
```

```step
lay      sign
```
"""
FONT = {"fonts/leaf.ttf": face_file("Spectral", 700).read_bytes()}


def sign(*lines: str, beside: Mapping[str, bytes] | None = None) -> Outcome:
    return compile_text(SIGN.replace("{lines}", "\n".join(lines)), beside=beside)


def piece(*lines: str, beside: Mapping[str, bytes] | None = None) -> Piece:
    outcome = sign(*lines, beside=beside)
    assert [d.message for d in outcome.diagnostics if d.severity == "error"] == []
    assert outcome.pattern is not None
    return outcome.pattern.piece("sign")


def bounds(found: Piece) -> tuple[float, float, float, float]:
    boxes = [path_bounds(o.path) for o in found.openings]
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def test_letters_are_cut_away() -> None:
    found = piece('window letters, saying "HIT", 20 mm high, at middle, called title')
    assert [o.name for o in found.openings] == ["title 1", "title 2", "title 3"]
    assert {o.shape for o in found.openings} == {"letters"}
    left, top, right, bottom = bounds(found)
    # Halfway along the ink, halfway up a capital.
    assert ((left + right) / 2.0, top, bottom) == pytest.approx((80.0, 20.0, 40.0), abs=1e-6)
    taken = 160.0 * 60.0 - area(found.outline)
    assert taken == pytest.approx(sum(area_of(found)), rel=1e-9)
    assert len(found.outline.holes) == 3


def test_letters_are_numbered_as_they_are_read() -> None:
    """A C stands a little over its neighbours."""
    found = piece('window letters, saying "HICHT", 20 mm high, at middle, called title')
    lefts = [path_bounds(o.path)[0] for o in found.openings]
    assert [o.name for o in found.openings] == [f"title {n}" for n in range(1, 6)]
    assert lefts == sorted(lefts)


def area_of(found: Piece) -> list[float]:
    from publisher.geometry.path import Region

    return [area(Region(o.path)) for o in found.openings]


def test_counters_fall_out_unless_they_are_held() -> None:
    """The middle of an o is an island, like that of a ring."""
    cut = 'window letters, saying "Bo", 24 mm high, at middle, called title'
    outcome = sign(cut)
    assert set(codes(outcome)) == {"island-falls-out"}
    held = piece(cut, "bridge 2 mm wide, out from top and bottom of each inside")
    assert [i.name for i in held.islands] == ["title inside 1", "title inside 2", "title inside 3"]
    assert len(held.bridges) == 6
    whole = sum(area(i.region) for i in held.islands)
    bare = 160.0 * 60.0 - sum(area_of(held))
    # Paper is what was left, the islands, and the bridges between them.
    assert bare + whole < area(held.outline) < bare + whole + 6 * 2.0 * 6.0


def test_one_counter_can_be_named() -> None:
    held = piece(
        'window letters, saying "Ao", 24 mm high, at middle, called title',
        "bridge 2 mm wide, out from left and right of title inside 1 and title inside 2",
    )
    assert len(held.bridges) == 4


def test_letters_without_a_name_count_on() -> None:
    held = piece(
        'window letters, saying "o", 14 mm high, at 30 mm left of middle',
        'window letters, saying "o", 14 mm high, at 30 mm right of middle',
        "bridge 2 mm wide, out from top and bottom of each island",
    )
    assert [o.name for o in held.openings] == ["window 1", "window 2"]
    assert [i.name for i in held.islands] == ["inside 1", "inside 2"]


def test_letters_are_drawn_as_one() -> None:
    found = piece('draw letters, saying "no. 8", 9 mm high, 6 mm in from left, called line')
    (mark,) = found.marks
    assert (mark.name, mark.kind, mark.shape) == ("line", "draw", "letters")
    assert len(mark.paths) == 7  # n, o and its counter, the point, 8 and its two
    assert min(path_bounds(p)[0] for p in mark.paths) == pytest.approx(6.0, abs=1e-6)
    assert len(found.outline.holes) == 0


def test_engraved_mirrored_and_turned() -> None:
    plain = piece('engrave letters, saying "L", 20 mm high, at middle')
    back = piece('engrave letters, saying "L", 20 mm high, at middle, mirrored')
    down = piece('engrave letters, saying "L", 20 mm high, at middle, turned by 90 degrees')
    x0, y0, x1, y1 = path_bounds(plain.marks[0].paths[0])
    a0, b0, a1, b1 = path_bounds(back.marks[0].paths[0])
    assert (160.0 - a1, b0, 160.0 - a0, b1) == pytest.approx((x0, y0, x1, y1), abs=1e-6)
    c0, d0, c1, d1 = path_bounds(down.marks[0].paths[0])
    assert (c1 - c0, d1 - d0) == pytest.approx((y1 - y0, x1 - x0), abs=1e-6)


def test_as_wide_as_is_said() -> None:
    found = piece('window letters, saying "HIT", 120 mm wide, at middle')
    left, _, right, _ = bounds(found)
    assert right - left == pytest.approx(120.0, abs=1e-6)


def test_set_further_apart() -> None:
    near = piece('window letters, saying "HIT", 20 mm high, at middle')
    far = piece('window letters, saying "HIT", 20 mm high, spaced by 3 mm, at middle')
    a, b = bounds(near), bounds(far)
    assert (b[2] - b[0]) - (a[2] - a[0]) == pytest.approx(6.0, abs=1e-6)
    wide = piece('window letters, saying "HIT", 120 mm wide, spaced by 3 mm, at middle')
    c = bounds(wide)
    assert c[2] - c[0] == pytest.approx(120.0, abs=1e-6)
    assert (c[3] - c[1]) / 20.0 == pytest.approx((120.0 - 6.0) / (a[2] - a[0]), abs=1e-6)


def test_grown_letters_may_run_together() -> None:
    apart = piece('window letters, saying "ll", 20 mm high, at middle')
    merged = piece('window letters, saying "ll", 20 mm high, at middle, grown by 4 mm')
    assert (len(apart.openings), len(merged.openings)) == (2, 1)


def test_in_a_row() -> None:
    found = piece('window letters, saying "HI", 8 mm high, at middle, 3 times, 40 mm apart, across')
    assert len(found.openings) == 6


def test_from_a_font_of_the_pattern() -> None:
    own = piece(
        'window letters, saying "HIT", from file "fonts/leaf.ttf", 20 mm high, at middle',
        beside=FONT,
    )
    house = piece('window letters, saying "HIT", 20 mm high, at middle')
    assert bounds(own)[1::2] == pytest.approx(bounds(house)[1::2])  # capitals as high
    assert abs(bounds(own)[0] - bounds(house)[0]) > 0.5


def test_a_piece_can_be_a_letter() -> None:
    body = """
```piece first, in card
outline letters, saying "T", 60 mm high
```

```step
lay first
```
"""
    outcome = compile_text(body)
    assert [d for d in outcome.diagnostics if d.severity == "error"] == []
    assert outcome.pattern is not None
    x0, y0, _, y1 = outcome.pattern.piece("first").bounds
    assert (x0, y0, y1) == pytest.approx((0.0, 0.0, 60.0), abs=1e-6)


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("window letters, 20 mm high, at middle", "missing-phrase"),
        ('window letters, saying "Go", at middle', "missing-phrase"),
        ('window letters, saying "Go", 20 mm high, 40 mm wide, at middle', "said-twice"),
        ('window letters, saying " ", 20 mm high, at middle', "missing-phrase"),
        (
            'window letters, saying "\N{CJK UNIFIED IDEOGRAPH-798F}", 20 mm high, at middle',
            "letter-not-in-face",
        ),
        ('window letters, saying "Go", 90 mm high, at middle', "window-leaves-paper"),
        ('window letters, saying "Go", from file "leaf.ttf", 9 mm high, at middle', "file-missing"),
        ('window circle, saying "Go", 9 mm across, at middle', "unknown-word"),
        ('window letters, saying "' + "a" * 81 + '", 9 mm high, at middle', "wrong-count"),
        ('trim letters, saying "Go", 20 mm high, at middle', "paper-falls-apart"),
    ],
)
def test_what_is_wrong(line: str, code: str) -> None:
    assert codes(sign(line)) == [code]


def test_a_piece_is_one_shape() -> None:
    body = '```piece go, in card\noutline letters, saying "Go", 60 mm high\n```\n'
    (finding,) = [d for d in compile_text(body).diagnostics if d.code == "paper-falls-apart"]
    assert finding.message == "a piece is one shape, and this is 2"


def test_the_nearest_file() -> None:
    line = 'window letters, saying "Go", from file "font/leaf.ttf", 9 mm high, at middle'
    (finding,) = sign(line, beside=FONT).diagnostics
    assert finding.message.endswith("Nearest: ‘fonts/leaf.ttf’")
    (other,) = sign(line, beside={"readme.txt": b""}).diagnostics
    assert other.notes == ("None ends in .ttf or .otf yet",)


def test_a_file_that_is_no_font() -> None:
    line = 'window letters, saying "Go", from file "leaf.ttf", 9 mm high, at middle'
    (finding,) = sign(line, beside={"leaf.ttf": b"a leaf"}).diagnostics
    assert finding.code == "font-unreadable"
