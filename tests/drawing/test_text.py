from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from publisher.drawing.fonts import face_file
from publisher.drawing.text import (
    MM_PER_PT,
    NOTDEF,
    cap_height_mm,
    face,
    label_corners,
    text_width_mm,
    typeset,
)
from publisher.drawing.types import Label


def test_width_is_the_sum_of_advances() -> None:
    font = TTFont(face_file("Fira Sans"))
    glyphs = font.getBestCmap()
    units = sum(font["hmtx"][glyphs[ord(c)]][0] for c in "84 mm")
    expected = units / font["head"].unitsPerEm * 8 * MM_PER_PT
    assert text_width_mm("84 mm", 8.0) == pytest.approx(expected)
    assert text_width_mm("84 mm", 16.0) == pytest.approx(2 * expected)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("3 5/16 in", "3 5⁄16 in"),
        ("12 mm (1/2 in)", "12 mm (1⁄2 in)"),
        ("front/back", "front/back"),
        ("1/2/3", "1/2/3"),
        ("1:2.5", "1:2.5"),
    ],
)
def test_fractions_are_set_as_fractions(text: str, shown: str) -> None:
    assert typeset(text) == shown


def test_a_fraction_uses_the_faces_own_small_figures() -> None:
    glyphs = face().run("5/16")
    assert len(glyphs) == 4
    plain = [face().glyphs[ord(c)] for c in "5/16"]
    assert not set(glyphs) & {plain[0], plain[2], plain[3]}
    assert text_width_mm("5/16", 8.0) < text_width_mm("5:16", 8.0)


@pytest.mark.parametrize("character", "×–½⅛°−⁄()0123456789:")
def test_no_figure_is_missing_from_the_face(character: str) -> None:
    assert NOTDEF not in face().run(character)


def test_corners_follow_anchor_and_turn() -> None:
    label = Label("base", (10.0, 20.0), 8.0, "start")
    width = text_width_mm("base", 8.0)
    (x0, y0), (x1, _), (_, y2), _ = label_corners(label)
    assert (x0, x1) == pytest.approx((10.0, 10.0 + width))
    assert y0 < 20.0 - cap_height_mm(8.0) < 20.0 < y2
    end = label_corners(Label("base", (10.0, 20.0), 8.0, "end"))
    assert end[1][0] == pytest.approx(10.0)
    turned = label_corners(Label("base", (10.0, 20.0), 8.0, "start", turn_deg=-90.0))
    assert turned[1] == pytest.approx((turned[0][0], 20.0 - width))
