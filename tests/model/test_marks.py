"""Lines to tear along, to draw, to engrave; crosses."""

from __future__ import annotations

import math

import pytest

from publisher.cutfiles import CutOptions, write_cut_files
from publisher.layout import lay_out
from publisher.readback import measure_written
from tests.model.making import faults_of, made, piece, trade, word
from tests.model.sources import FRONT

CARD = "outline rectangle, 140 x 60 mm\n"
ALL = (
    CARD
    + "perforate along 30 mm left of right, from top to bottom, called stub\n"
    + "draw circle, 20 mm across, at middle, called ring\n"
    + "draw along 10 mm below top, from left to 20 mm right of left\n"
    + "engrave from (20 mm, 50 mm) to (60 mm, 50 mm) by 10 mm\n"
    + "mark cross, 6 mm across, at 8 mm below 8 mm right of top left"
)


def test_what_is_torn_drawn_engraved_and_marked() -> None:
    ticket = piece(ALL)
    (stub,) = ticket.openings
    assert (stub.kind, stub.name, stub.width_mm) == ("perforation", "stub", 60.0)
    kinds = [(m.kind, m.name, m.shape) for m in ticket.marks]
    assert kinds == [
        ("draw", "ring", "circle"),
        ("draw", "drawing 1", "line"),
        ("engrave", "engraving 1", "path"),
        ("register", "cross 1", "cross"),
    ]
    lengths = [sum(p.length_mm for p in m.paths) for m in ticket.marks]
    # Chord 40, rise 10: r = 25, arc 2 r asin(20 / 25).
    assert lengths == pytest.approx([20.0 * math.pi, 20.0, 50.0 * math.asin(0.8), 12.0])
    assert [(m.width_mm, m.height_mm) for m in ticket.marks[2:]] == [
        pytest.approx((40.0, 10.0)),
        (6.0, 6.0),
    ]
    assert len(ticket.facets) == 1
    assert ticket.outline.holes == ()


def test_what_is_drawn_beyond_the_paper_is_left_out() -> None:
    ticket = piece(CARD + "draw circle, 40 mm across, at top left")
    (mark,) = ticket.marks
    assert sum(p.length_mm for p in mark.paths) == pytest.approx(10.0 * math.pi)


def test_every_line_is_read_back_in_its_own_group() -> None:
    pattern = made(f"{FRONT}```piece ticket, in card\n{ALL}\n```\n\n```step\nlay ticket\n```\n")
    sheets, found = lay_out(pattern, trade(), None)
    assert found == []
    for options in (
        CutOptions(formats=("svg", "svg-72", "dxf", "dxf-r12", "pdf")),
        CutOptions(score_as="dashes"),
    ):
        files = write_cut_files(pattern, sheets, options, trade())
        assert measure_written(files, pattern, sheets, options, trade()) == []
        svg = next(data for path, data in files.items() if path.endswith("card-1.svg"))
        for group in ("draw", "engrave", "perforation"):
            assert f'id="ticket-1-{group}"'.encode() in svg
        dxf = next(data for path, data in files.items() if path.endswith("card-1.dxf"))
        for layer in (b"DRAW", b"ENGRAVE", b"PERFORATION"):
            assert layer in dxf


@pytest.mark.parametrize(
    ("lines", "code", "said"),
    [
        (CARD + "draw circle, 9 mm across, at 30 mm above top left", "line-off-paper", "30 mm"),
        (CARD + "draw circle, at middle", "missing-phrase", "draw"),
        (CARD + "engrave", "syntax", ""),
        (CARD + "perforate 200 mm long, across, at middle", "slit-leaves-paper", "middle"),
        (CARD + "mark 6 mm across, at middle", "missing-phrase", "mark"),
        (CARD + "mark cross, at middle", "missing-phrase", "mark"),
    ],
)
def test_mistakes_are_told_at_their_word(lines: str, code: str, said: str) -> None:
    found = faults_of(lines)
    assert [f.code for f in found] == [code]
    text = f"{FRONT}```piece trial, in card\n{lines}\n```\n"
    assert word(text, found[0]).startswith(said)
