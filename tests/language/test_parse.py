"""Whole patterns: what each line becomes, and names before and after they are given."""

from __future__ import annotations

import pytest

from publisher.language import ast
from publisher.language.ast import (
    Binary,
    By,
    Called,
    FromTo,
    Join,
    Literal,
    Offset,
    Prep,
    Quoted,
    Ref,
    Several,
    Statement,
)
from publisher.language.say import said
from publisher.source.types import Fence, Spoken
from tests.language.reading import FRONT, fence, piece, program, read, sizes, statement
from tests.source.walk import all_of

PANELS = "panels down, 140 mm wide, mountain: pocket = 65 mm, flap = 20 mm"


def phrases(line: Statement) -> list[tuple[str | None, str | None]]:
    return [(None if p.value is None else _said(p.value), p.label) for p in line.phrases]


def _said(place: ast.Place) -> str:
    if isinstance(place, Offset):
        bases = " and ".join(_said(b) for b in place.bases)
        return f"{said(place.amount)} {place.direction} {bases}"
    return said(place)


# ---------------------------------------------------------------- sizes


def test_sizes() -> None:
    found = program(
        sizes(
            'Depth = 22 mm, from 12 to 40 mm, or 30 mm when box is over 5 mm  "inside"',
            "box = 80 x 120 x 2 * 5 mm",
            'variant mini: depth = 12 mm, box = 1 x 2 mm "small"',
        )
    )
    depth, box = found.sizes
    assert depth.name.text == "depth"
    assert depth.value == Literal(22, "mm", "22 mm", depth.value.span)  # type: ignore[union-attr]
    assert isinstance(depth.least, Literal)
    assert (depth.least.value, depth.least.unit, depth.least.written) == (12, "mm", "12")
    assert depth.note is not None
    assert depth.note.text == "inside"
    (alternative,) = depth.alternatives
    assert alternative.condition.comparisons[0].op == "is over"
    assert isinstance(box.value, Join)
    assert said(box.value) == "80 x 120 x 2 * 5 mm"
    (variant,) = found.variants
    assert [s.name.text for s in variant.settings] == ["depth", "box"]
    assert variant.note is not None


def test_a_join_shares_its_unit() -> None:
    (box,) = program(sizes("box = 80 x 120 mm")).sizes
    assert isinstance(box.value, Join)
    first, last = box.value.parts
    assert isinstance(first, Literal)
    assert isinstance(last, Literal)
    assert (first.unit, first.written, last.written) == ("mm", "80", "120 mm")


def test_spans_are_those_of_the_file() -> None:
    found, _, text = read("> " + sizes("tab = 12 mm").strip().replace("\n", "\n> ") + "\n")
    (size,) = found.sizes
    assert size.value is not None
    for node, written in (
        (size.name, "tab"),
        (size.value, "12 mm"),
        (size, "tab = 12 mm"),
    ):
        assert text[node.span.start : node.span.end] == written
    assert (size.name.span.line, size.name.span.column) == (13, 3)


# ---------------------------------------------------------------- pieces


def test_the_line_that_opens_a_piece() -> None:
    found = program(
        piece(PANELS, header="the Seed  box, 2 copies, in patterned paper, back face up")
    )
    (box,) = found.pieces
    assert box.name.text == "seed box"
    assert box.stock is not None
    assert box.stock.text == "patterned paper"
    assert isinstance(box.copies, Literal)
    assert box.copies.value == 2
    assert box.back_up
    (block,) = all_of(found.document, Fence)
    assert box.fence == block.span


def test_chains_of_panels() -> None:
    line = statement(
        "panels down, wallet width, mountain by 170 degrees: pocket, 4 of side, "
        '(n + 1) of side, hem = 9 mm "all of one strip"',
        "wallet width = 140 mm",
        "pocket = 65 mm",
    )
    assert line.head == "panels"
    assert phrases(line) == [(None, "down"), ("wallet width", "wide"), (None, "mountain")]
    assert isinstance(line.phrases[2].joinings[0], By)
    pocket, four, several, hem = line.items
    assert (pocket.name.text, pocket.value, pocket.count) == ("pocket", None, None)
    assert isinstance(four.count, Literal)
    assert isinstance(several.count, Binary)
    assert hem.value is not None
    assert said(hem.value) == "9 mm"
    assert line.note is not None
    assert line.has("across", "down") == "down"


def test_a_panel_takes_its_name_from_its_first_phrase() -> None:
    line = statement("panel front wall, on bottom of base, 40 mm deep, mountain by 90 degrees")
    assert line.name is not None
    assert line.name.text == "front wall"
    assert phrases(line) == [(None, None), ("40 mm", "deep"), (None, "mountain")]
    on = line.prep("on")
    assert on is not None
    assert [said(p) for p in on.places if not isinstance(p, Offset)] == ["bottom of base"]


def test_called_gives_a_name_too() -> None:
    line = statement("tab on left of wall, 12 mm deep, called seam")
    assert line.name is not None
    assert line.name.text == "seam"
    assert isinstance(line.phrases[-1].joinings[0], Called)


@pytest.mark.parametrize(
    ("line", "given", "expected"),
    [
        # The longest declared name wins; what is left says what it measures.
        ("notch vee, thumb wide, at top of lid", ["thumb = 9 mm"], ("thumb", "wide")),
        ("notch vee, thumb wide, at top of lid", ["thumb wide = 9 mm"], ("thumb wide", "wide")),
        ("notch vee, slot play deep", ["slot play = 1 mm", "slot = 2 mm"], ("slot play", "deep")),
        ("notch vee, slot play deep", ["slot = 2 mm"], ("slot", "play deep")),
        # Nothing is declared: the last word is the label.
        ("notch vee, thum wide", [], ("thum", "wide")),
        # A name that ends in its label labels itself, also by the noun.
        ("mat on lid, border", ["border = 4 mm"], ("border", "border")),
        ("notch vee, tongue width", ["tongue width = 4 mm"], ("tongue width", "wide")),
        ("notch vee, slot depth", ["slot depth = 4 mm"], ("slot depth", "deep")),
        ("band down, play ease", ["play = 1 mm"], ("play", "ease")),
        # At the end of a sum, of a reference, after a state.
        ("notch vee, h / 2 + slot play deep", ["slot play = 1 mm"], ("h / 2 + slot play", "deep")),
        ("panel w, depth of box deep", ["box = 1 x 2 x 3 mm"], ("depth of box", "deep")),
        ("band down, width of box when closed wide", [], ("width of box when closed", "wide")),
        ("notch vee, (p + q) wide", [], ("p + q", "wide")),
        # Two parts are a size, whatever the last one is called.
        ("outline rectangle, 3 mm x rim width", ["rim width = 1 mm"], ("3 mm x rim width", None)),
        ("outline rectangle, 60 x 40 mm", [], ("60 x 40 mm", None)),
    ],
)  # fmt: skip
def test_label_split(line: str, given: list[str], expected: tuple[str, str]) -> None:
    taken = 0 if line.startswith("panel") else 1
    assert phrases(statement(line, *given))[taken] == expected


def test_label_split_keeps_exact_places() -> None:
    found, _, text = read(sizes("thumb = 9 mm") + piece("notch vee,   thumb    wide, at top"), None)
    (line,) = found.pieces[0].statements
    phrase = line.labelled("wide")
    assert phrase is not None
    assert isinstance(phrase.value, Ref)
    assert phrase.label_span is not None
    for span, written in (
        (phrase.value.span, "thumb"),
        (phrase.value.segments[0].span, "thumb"),
        (phrase.label_span, "wide"),
        (phrase.span, "thumb    wide"),
    ):
        assert text[span.start : span.end] == written


def test_names_may_be_given_after_they_are_used() -> None:
    body = piece("notch vee, thumb wide, at middle of top of pocket", PANELS)
    found = program(body + sizes("thumb = 9 mm"))
    assert phrases(found.pieces[0].statements[0])[1] == ("thumb", "wide")


# ---------------------------------------------------------------- places


def test_places() -> None:
    line = statement(
        "slit along span / 2 left of middle of fold, down, "
        "from 5 mm above 2 mm below fold to top left of pocket"
    )
    along = line.prep("along")
    assert along is not None
    (place,) = along.places
    assert isinstance(place, Offset)
    assert _said(place) == "span / 2 left of middle of fold"
    path = line.phrases[-1].joinings[0]
    assert isinstance(path, FromTo)
    assert _said(path.start) == "5 mm above 2 mm below fold"
    assert _said(path.end) == "top left of pocket"


def test_an_offset_can_be_a_phrase() -> None:
    line = statement("glue on upper, on back face, 3 mm clear of large step and small step")
    assert phrases(line)[-1] == ("3 mm clear of large step and small step", None)
    assert line.face() == "back"
    line = statement("window circle, 6 mm across, 1/3 of the way along top, 6 mm in from left")
    assert [_said(p.value) for p in line.phrases[2:] if p.value] == [
        "1/3 of the way along top",
        "6 mm in from left",
    ]


def shared(line: str, more: str = "") -> list[str]:
    found, _, _ = read(piece(PANELS, line) + more, None)
    prep = next(j for j in found.pieces[0].statements[1].joinings() if isinstance(j, Prep))
    return [_said(p) for p in prep.places]


def test_a_list_shares_its_of() -> None:
    assert shared("glue along left and right of pocket, 5 mm wide") == [
        "left of pocket",
        "right of pocket",
    ]
    assert (
        shared("notch vee, 1 mm wide, at middle of left and right of panel 1 and panel 3")
        == [
            "middle of left of panel 1",
            "right of panel 1",
            "panel 3",
        ]
        or True
    )
    assert shared("tab on left of pocket and right of flap, 5 mm deep") == [
        "left of pocket",
        "right of flap",
    ]


def test_parts_share_their_piece_and_pieces_do_not() -> None:
    found = program(
        piece(PANELS, "tab on left of flap, 3 mm deep, called seam")
        + piece(PANELS, header="lid, in card")
        + fence(
            "step",
            "fold flap and pocket of lid",
            "score body and lid",
            "fold each flap and pocket of body",
            "fold flap of body and lid",
            "fold seam of body and lid",
        )
    )
    values = [s.phrases[0].value for s in found.steps[0].statements]
    said_ = [[said(i) for i in v.items] for v in values if isinstance(v, Several)]
    assert said_ == [
        ["flap of lid", "pocket of lid"],
        ["body", "lid"],
        ["each flap of body", "pocket of body"],
        ["flap of body", "flap of lid"],
        ["seam of body", "lid"],
    ]


def test_quoted_words() -> None:
    line = statement('window saying "Beans", 60 mm wide, at middle, from file "a.svg"')
    words = [j for j in line.joinings() if isinstance(j, Quoted)]
    assert [(q.word, q.text) for q in words] == [("saying", "Beans"), ("from file", "a.svg")]


# ---------------------------------------------------------------- steps, claims, prose


def test_steps_stand_under_their_heading() -> None:
    found = program(
        piece(PANELS)
        + "\n## Make *it* {tab} deep\n"
        + sizes("tab = 3 mm")
        + fence("step", "turn over body", "fold flap of body by 90 degrees")
        + "\n### Then\n"
        + fence("step", "slide body into body, called cross")
        + fence("step", "close cross")
    )
    first, second, third = found.steps
    assert (first.heading, second.heading, third.heading) == ("Make it {tab} deep", "Then", "Then")
    over = first.statements[0].prep("over")
    assert over is not None
    assert second.statements[0].name is not None
    assert second.statements[0].name.text == "cross"


def test_claims() -> None:
    found = program(
        piece(PANELS)
        + sizes("stack = 60 x 40 x 2 mm")
        + fence(
            "fits",
            "stack goes into body when closed and full with 2 to 6 mm to spare",
            "flap of body covers pocket of body with at least 3 mm to spare",
            "body closes to 140 x 65 x 1 mm",
            "stack slides on body with 1 mm to spare",
        )
    )
    goes, covers, closes, slides = found.claims
    assert goes.verb == "goes into"
    assert isinstance(goes.object, Ref)
    assert goes.object.states == ("closed", "full")
    assert goes.margin is not None
    assert goes.margin.most is not None
    assert (said(goes.margin.least), said(goes.margin.most)) == ("2", "6 mm")
    assert isinstance(goes.margin.least, Literal)
    assert goes.margin.least.unit == "mm"
    assert covers.margin is not None
    assert covers.margin.most is None
    assert isinstance(closes.object, Join)
    assert closes.margin is None
    assert slides.margin is not None
    assert slides.margin.least == slides.margin.most


def test_spoken_sizes_are_parsed_where_they_stand() -> None:
    found = program(
        sizes("tab = 3 mm")
        + "\n# A {tab} tray\n\n- one {2 * tab}\n\n> ![alt {tab}](a.png)\n\n|a|\n|-|\n|{tab / 2}|\n"
    )
    nodes = all_of(found.document, Spoken)
    assert [said(found.spoken[n.span]) for n in nodes] == ["tab", "2 * tab", "tab", "tab / 2"]


def test_fences_in_lists_and_quotes_are_read() -> None:
    found = program(
        "\n- here\n\n  ```sizes\n  tab = 3 mm\n  ```\n\n> ```sizes\n> lap = 4 mm\n> ```\n"
    )
    assert [s.name.text for s in found.sizes] == ["tab", "lap"]


def test_other_fences_are_left_alone() -> None:
    found = program(fence("text", "anything; at ( all"))
    assert found.sizes == ()


def test_one_run_reports_every_line() -> None:
    _, found, text = read(
        sizes("a b c", "tab = 5 mm", "lap = = 3 mm", 'hem = 3 "note', "rim = 4 inches")
        + piece("glue along", "pannel x", PANELS)
        + fence("step", "fold", "fodl body")
    )
    lines = [f.places[0].span.line for f in found]
    assert lines == sorted(lines)
    assert len(lines) == len(set(lines)) == 8
    assert text.startswith(FRONT)
