"""Drawings from SVG files: cut, slit, scored and drawn, and what is refused of them."""

from __future__ import annotations

import math

import pytest

from publisher.geometry.measure import area, path_bounds
from publisher.geometry.path import Arc
from publisher.model.types import Piece
from publisher.pipeline import Outcome
from tests.compiled import codes, compile_text

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:my="urn:my" viewBox="0 0 200 200">'
LEAF = (
    HEAD
    + """
<title>A leaf</title>
<g id="outline"><path d="M 50 0 L 100 50 L 50 100 L 0 50 Z"/></g>
<g my:label="Holes">
  <circle cx="50" cy="30" r="10"/><rect x="40" y="60" width="20" height="10"/>
</g>
<g id="veins" transform="translate(50 50)"><path d="M 0 -40 V 40"/>
  <path id="bow" d="M -20 0 C -10 -10 10 -10 20 0"/></g>
<path display="none" d="M 0 0 H 900"/>
</svg>"""
)

CARD = """
```piece card, in card
outline  rectangle, 120 x 100 mm
{lines}
```

```step
lay      card
```
"""


def card(*lines: str, svg: str = LEAF) -> Outcome:
    body = CARD.replace("{lines}", "\n".join(lines))
    return compile_text(body, beside={"art/leaf.svg": svg.encode()})


def piece(*lines: str, svg: str = LEAF) -> Piece:
    outcome = card(*lines, svg=svg)
    assert [d.message for d in outcome.diagnostics if d.severity == "error"] == []
    assert outcome.pattern is not None
    return outcome.pattern.piece("card")


SAID = 'from file "art/leaf.svg{part}", 50 mm wide, at middle'


def said(part: str = "") -> str:
    return SAID.replace("{part}", part)


def test_a_part_is_cut_where_it_lies_in_the_drawing() -> None:
    """The drawing is 100 units wide and 50 mm on paper, its middle at (60, 50)."""
    found = piece(f"window artwork, {said('#Holes')}, called hole")
    first, second = sorted(found.openings, key=lambda o: path_bounds(o.path)[1])
    assert [o.name for o in (first, second)] == ["hole 1", "hole 2"]
    assert path_bounds(first.path) == pytest.approx((55.0, 35.0, 65.0, 45.0), abs=1e-9)
    assert path_bounds(second.path) == pytest.approx((55.0, 55.0, 65.0, 60.0), abs=1e-9)
    assert all(isinstance(s, Arc) for s in first.path.segments)
    radii = [s.radius_mm for s in first.path.segments if isinstance(s, Arc)]
    assert radii == pytest.approx([5.0] * len(radii))


def test_its_lines_are_sorted_by_the_names_in_the_drawing() -> None:
    found = piece(
        f"window artwork, {said('#holes')}",
        f"score artwork, {said('#veins')}, valley, called vein",
        f"draw artwork, {said('#outline')}",
    )
    assert len(found.openings) == 2
    (mark,) = found.marks
    assert path_bounds(mark.paths[0]) == pytest.approx((35.0, 25.0, 85.0, 75.0), abs=1e-9)
    straight = [s for s in found.scores if s.fold is not None]
    curved = [s for s in found.scores if s.fold is None]
    assert [s.bend for s in found.scores] == ["valley"] * len(found.scores)
    # The vein runs through both holes, so that three stretches are left of it.
    assert sum(s.path.length_mm for s in straight) == pytest.approx(40.0 - 10.0 - 5.0)
    assert len(curved) == 1
    assert path_bounds(curved[0].path)[:3:2] == pytest.approx((50.0, 70.0), abs=1e-9)


def test_open_lines_are_slit_and_torn() -> None:
    found = piece(f"slit artwork, {said('#bow')}", f"perforate artwork, {said('#bow')}, mirrored")
    assert [(o.kind, o.shape) for o in found.openings] == [
        ("slit", "path"),
        ("perforation", "path"),
    ]
    # Halfway along, the curve is 7.5 units above its ends (three quarters of its handles).
    assert path_bounds(found.openings[0].path)[1] == pytest.approx(50.0 - 3.75, abs=0.01)


def test_all_of_it_can_be_drawn() -> None:
    (mark,) = piece(f"engrave artwork, {said()}, called leaf").marks
    assert (mark.name, mark.shape, len(mark.paths)) == ("leaf", "artwork", 5)
    assert (mark.width_mm, mark.height_mm) == pytest.approx((50.0, 50.0), abs=1e-6)


def test_turned_and_by_its_height() -> None:
    line = 'draw artwork, from file "art/leaf.svg#outline", 30 mm high, 6 mm in from left'
    plain = piece(line).marks[0]
    assert path_bounds(plain.paths[0]) == pytest.approx((6.0, 35.0, 36.0, 65.0), abs=1e-9)
    turned = piece(line + ", turned by 45 degrees").marks[0]
    x0, y0, x1, y1 = path_bounds(turned.paths[0])
    assert (x1 - x0, y1 - y0) == pytest.approx((30.0 / math.sqrt(2.0),) * 2, abs=1e-6)


def test_a_piece_can_be_a_drawing() -> None:
    body = """
```piece leaf, in card
outline artwork, from file "art/leaf.svg#outline", 80 mm wide
```

```step
lay leaf
```
"""
    outcome = compile_text(body, beside={"art/leaf.svg": LEAF.encode()})
    assert outcome.pattern is not None
    leaf = outcome.pattern.piece("leaf")
    assert leaf.bounds == pytest.approx((0.0, 0.0, 80.0, 80.0))
    assert area(leaf.outline) == pytest.approx(80.0 * 80.0 / 2.0)


def test_a_hole_in_a_shape_is_an_island() -> None:
    ring = HEAD + '<path d="M0 0H40V40H0Z M10 10V30H30V10Z"/></svg>'
    cut = 'window artwork, from file "art/leaf.svg", 40 mm wide, at middle, called frame'
    assert codes(card(cut, svg=ring)) == ["island-falls-out"]
    held = piece(cut, "bridge 3 mm wide, out from left and right of frame inside 1", svg=ring)
    assert [i.name for i in held.islands] == ["frame inside 1"]
    rule = 'fill-rule="evenodd" d="M0 0H40V40H0Z M10 10H30V30H10Z"'
    odd = HEAD + f"<path {rule}/></svg>"
    assert codes(card(cut, svg=odd)) == ["island-falls-out"]
    whole = piece(cut, svg=odd.replace('fill-rule="evenodd" ', ""))
    assert len(whole.openings) == 1


def shape(inner: str) -> str:
    return HEAD + inner + "</svg>"


GOOD = '<path d="M0 0H40V40H0Z"/>'


@pytest.mark.parametrize(
    ("svg", "code", "says"),
    [
        ("no drawing", "drawing-unreadable", "no whole SVG"),
        ("<html/>", "drawing-unreadable", "begins with ‘html’"),
        (HEAD + GOOD, "drawing-unreadable", "no whole SVG"),
        (shape('<rect width="wide" height="3"/>' + GOOD), "drawing-unreadable", "figures"),
        (shape('<g transform="matrix(1 2)">' + GOOD + "</g>"), "drawing-unreadable", ""),
        (shape('<path d="M0 0H1e400V3Z"/>'), "drawing-unreadable", ""),
        (shape(""), "drawing-empty", "nothing is drawn"),
        (shape("<script>go()</script>" + GOOD), "drawing-not-allowed", "a script"),
        (shape('<path onclick="go()" d="M0 0H9V9Z"/>'), "drawing-not-allowed", "‘onclick’"),
        (shape('<image href="a.png"/>'), "drawing-not-allowed", "picture made of dots"),
        (shape('<a href="https://x.example">' + GOOD + "</a>"), "drawing-not-allowed", "address"),
        (
            shape('<path style="fill:url(https://x.example/a)" d="M0 0H9V9Z"/>'),
            "drawing-not-allowed",
            "address",
        ),
        (shape("<style>@import 'a.css'</style>" + GOOD), "drawing-not-allowed", "another file"),
        (shape("<defs><script>go()</script></defs>" + GOOD), "drawing-not-allowed", "a script"),
        (shape('<use href="#a"/>'), "drawing-not-allowed", "used again"),
        (shape("<foreignObject/>"), "drawing-not-allowed", "foreignObject"),
        (shape("<filter/>" + GOOD), "drawing-not-allowed", "‘filter’"),
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + shape(GOOD), "drawing-not-allowed", "entities"),
        (shape("<text>Leaf</text>"), "drawing-has-words", "outlines"),
        (shape("<g>" * 60 + GOOD + "</g>" * 60), "drawing-too-large", "too deep"),
        (shape('<path d="M0 0' + "L1 1L0 1" * 1500 + 'Z"/>'), "drawing-too-large", "2000 corners"),
        (shape(GOOD + " " * 1_000_001), "drawing-too-large", "1000 kB"),
        (shape('<path d="M0 0H40"/>'), "drawing-open-line", "not closed"),
    ],
    ids=str,
)
def test_what_is_refused(svg: str, code: str, says: str) -> None:
    (finding,) = card(f"window artwork, {said()}", svg=svg).diagnostics
    assert (finding.code, says in finding.message) == (code, True), finding.message


def test_a_safe_doctype_is_passed_over() -> None:
    doctype = (
        '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
        '"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    )
    assert len(piece(f"window artwork, {said()}", svg=doctype + shape(GOOD)).openings) == 1


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("window artwork, 50 mm wide, at middle", "missing-phrase"),
        ('window artwork, from file "art/leaf.svg#holes", at middle', "missing-phrase"),
        ('draw artwork, from file "art/leaf.svg", 50 mm wide', "missing-phrase"),
        ('window artwork, from file "leaf.svg", 50 mm wide, at middle', "file-missing"),
        (
            'draw artwork, from file "art/leaf.svg#vains", 9 mm wide, at middle',
            "drawing-part-missing",
        ),
        ('draw artwork, from file "art/leaf.svg", 9 mm wide, 9 mm high, at middle', "said-twice"),
        (
            'window artwork, from file "art/leaf.svg#veins", 9 mm wide, at middle',
            "drawing-open-line",
        ),
        (
            'slit artwork, from file "art/leaf.svg#veins", 400 mm wide, at middle',
            "slit-leaves-paper",
        ),
    ],
)
def test_what_is_wrong(line: str, code: str) -> None:
    assert codes(card(line)) == [code]


def test_the_nearest_part() -> None:
    line = 'draw artwork, from file "art/leaf.svg#vains", 9 mm wide, at middle'
    (finding,) = card(line).diagnostics
    assert finding.message == "nothing in ‘art/leaf.svg’ is called ‘vains’. Nearest: ‘veins’"
    assert finding.ways_out[0].edit is not None
    assert finding.ways_out[0].edit.text == 'from file "art/leaf.svg#veins"'
