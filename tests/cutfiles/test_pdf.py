"""A sheet as PDF."""

from __future__ import annotations

import io
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from publisher.cutfiles.pdf import cubics
from publisher.geometry.path import Arc, Point
from tests.handmade import envelope_pattern, sliding_box_pattern
from tests.sheets import laid, window_pattern, written


def test_groups_by_name_all_shown() -> None:
    pattern, sheets = laid(window_pattern())
    root = PdfReader(io.BytesIO(written(pattern, sheets[0], "pdf"))).trailer["/Root"]
    layers = root["/OCProperties"]
    names = [g.get_object()["/Name"] for g in layers["/OCGs"]]
    assert names == ["SCORE-VALLEY", "SCORE-MOUNTAIN", "CUT"]
    assert len(layers["/D"]["/ON"]) == 3
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_only_black_lines() -> None:
    pattern, sheets = laid(window_pattern())
    page = PdfReader(io.BytesIO(written(pattern, sheets[0], "pdf"))).pages[0]
    words = page["/Contents"].get_object().get_data().decode().split()
    assert not {"rg", "RG", "k", "K", "g", "G", "f", "B", "cm", "cs"} & set(words)
    inks = page["/Resources"]["/ColorSpace"]
    assert {words[i - 1] for i, word in enumerate(words) if word == "CS"} == set(inks)
    assert {words[i - 1] for i, word in enumerate(words) if word == "SCN"} == {"1"}
    for name, ink in inks.items():
        kind, colourant, shown, tint = (part.get_object() for part in ink)
        # A full tint of each spot colour shows as black: from C0 to C1 with exponent 1
        # (ISO 32000-2, 7.10.3), in grey.
        assert (kind, colourant, shown) == ("/Separation", name, "/DeviceGray")
        assert (tint["/FunctionType"], tint["/C1"], tint["/N"]) == (2, [0], 1)


def test_same_bytes_with_an_id_of_the_content() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    first = written(pattern, sheets[0], "pdf")
    assert first == written(pattern, sheets[0], "pdf")
    assert b"CreationDate" not in first
    ids = [PdfReader(io.BytesIO(written(pattern, s, "pdf"))).trailer["/ID"][0] for s in sheets]
    assert len(set(ids)) == len(sheets)
    assert all(len(i.original_bytes) == 16 for i in ids)


def test_a_title_in_any_language() -> None:
    from msgspec.structs import replace

    pattern, sheets = laid(envelope_pattern())
    odd = replace(pattern, meta=replace(pattern.meta, title="Umschläge (groß) Öl"))
    reader = PdfReader(io.BytesIO(written(odd, sheets[0], "pdf")))
    assert reader.metadata is not None
    assert reader.metadata.title == "Umschläge (groß) Öl, paper-1"


def on_cubic(points: tuple[Point, ...], t: float) -> Point:
    w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return (
        sum(k * p[0] for k, p in zip(w, points, strict=True)),
        sum(k * p[1] for k, p in zip(w, points, strict=True)),
    )


@given(st.floats(0.5, 600), st.floats(0, 360), st.floats(1, 350), st.booleans())
def test_cubics_stay_within_a_thousandth(
    radius: float, start: float, sweep: float, clockwise: bool
) -> None:
    turn = sweep if clockwise else -sweep
    ends = [
        (10 + radius * math.cos(math.radians(a)), 20 + radius * math.sin(math.radians(a)))
        for a in (start, start + turn)
    ]
    arc = Arc(ends[0], ends[1], (10.0, 20.0), clockwise)
    here = arc.start
    for first, second, end in cubics(arc):
        for step in range(21):
            p = on_cubic((here, first, second, end), step / 20)
            assert abs(math.dist(p, arc.centre) - radius) <= 0.001
        here = end
    assert here == arc.end


@pytest.mark.parametrize("radius", [12.0, 16.0])
def test_few_cubics_for_a_thumb_notch(radius: float) -> None:
    half = Arc((0, -radius), (0, radius), (0, 0), True)
    assert len(list(cubics(half))) <= 4
