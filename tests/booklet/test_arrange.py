"""The author's document in a maker's order."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.booklet.arrange import CHAPTER, arrange
from publisher.booklet.types import Node
from publisher.model.prose import Block, Run
from publisher.model.types import Pattern
from tests.handmade import at, envelope_pattern, sliding_box_pattern

SPAN = at("content/x/pattern.md", 1)


def paragraph(text: str) -> Block:
    return Block("paragraph", SPAN, (Run(text, SPAN),))


def heading(text: str, level: int) -> Block:
    return Block("heading", SPAN, (Run(text, SPAN),), level=level)


def step(number: int) -> Block:
    return Block("step", SPAN, name=str(number))


def piece(name: str) -> Block:
    return Block("piece", SPAN, name=name)


def caution(text: str) -> Block:
    return Block("caution", SPAN, children=(paragraph(text),))


def of(*body: Block) -> Pattern:
    return replace(envelope_pattern(), body=body)


def said(nodes: tuple[Node, ...]) -> list[str]:
    out = []
    for node in nodes:
        text = "".join(text for text, _, _ in node.runs)
        out.append(f"{node.kind}: {text}" if node.kind != "paragraph" else text)
    return out


def test_words_stay_with_their_step() -> None:
    chapters = arrange(sliding_box_pattern()).chapters
    assert [c.title for c in chapters] == ["Make it"]
    steps = chapters[0].steps
    assert [s.step.number for s in steps] == [1, 2, 3, 4]
    assert said(steps[0].words)[0].startswith("Turn it over. Fold the four walls up")
    assert said(steps[1].words) == []
    assert said(steps[2].words) == [
        "The mat leaves an even border of card, also round the notches."
    ]


def test_opening_and_the_authors_cautions() -> None:
    found = arrange(sliding_box_pattern())
    assert said(found.opening) == [
        "Slide the drawer out by the thumb notch and the packets stand in a row."
    ]
    assert [node.name for node in found.cautions] == ["caution"]
    assert said(found.cautions[0].children) == ["A craft knife cuts skin as well as card."]


def test_several_fences_under_one_heading_share_its_prose_in_order() -> None:
    pattern = of(
        heading("Fold", 2), paragraph("one"), step(1), paragraph("two"), step(2), paragraph("end")
    )
    (chapter,) = arrange(pattern).chapters
    assert chapter.title == CHAPTER
    assert [said(s.words) for s in chapter.steps] == [["one"], ["two", "end"]]


def test_headings_above_steps_are_chapters() -> None:
    pattern = of(
        heading("Tray", 2),
        paragraph("the tray first"),
        heading("Score", 3),
        step(1),
        heading("Lid", 2),
        heading("Score", 3),
        step(2),
        heading("Use it", 2),
        paragraph("fill it"),
    )
    found = arrange(pattern)
    assert [(c.title, said(c.words)) for c in found.chapters] == [
        ("Tray", ["the tray first"]),
        ("Lid", []),
    ]
    assert [[s.step.number for s in c.steps] for c in found.chapters] == [[1], [2]]
    assert said(found.closing) == ["heading: Use it", "fill it"]


def test_prose_of_the_pieces_goes_with_the_pieces() -> None:
    pattern = of(
        paragraph("hello"),
        heading("The tray", 2),
        piece("tray"),
        paragraph("Eight scores."),
        heading("Fold", 2),
        step(1),
    )
    found = arrange(pattern)
    assert said(found.opening) == ["hello"]
    assert said(found.pieces) == ["heading: The tray", "Eight scores."]


def sizes() -> Block:
    return Block("sizes", SPAN)


def test_the_authors_sections_flow_into_the_booklets_own() -> None:
    """A heading that says the same is not repeated; another one stands below it."""
    pattern = of(
        paragraph("hello"),
        heading("Sizes", 2),
        paragraph("measure first"),
        sizes(),
        heading("pieces ", 2),
        paragraph("one of card"),
        piece("tray"),
        paragraph("one of paper"),
        piece("mat"),
        paragraph("that is all"),
        heading("Fold", 2),
        step(1),
    )
    found = arrange(pattern)
    assert said(found.opening) == ["hello"]
    assert said(found.sizes) == ["measure first"]
    assert said(found.pieces) == ["one of card", "one of paper", "that is all"]
    assert [(name, said(words)) for name, words in found.by_piece] == [
        ("tray", ["one of card"]),
        ("mat", ["one of paper", "that is all"]),
    ]
    other = arrange(of(heading("How large", 2), paragraph("so"), sizes(), heading("F", 2), step(1)))
    assert said(other.sizes) == ["heading: How large", "so"]
    assert other.opening == ()


def test_without_headings_words_between_fences_lead_up_to_the_next() -> None:
    pattern = of(
        paragraph("hello"),
        sizes(),
        paragraph("the tray"),
        piece("tray"),
        heading("Fold", 2),
        step(1),
    )
    found = arrange(pattern)
    assert said(found.opening) == ["hello"]
    assert found.sizes == ()
    assert [(name, said(words)) for name, words in found.by_piece] == [("tray", ["the tray"])]


def test_a_caution_in_a_step_stays_there() -> None:
    pattern = of(heading("Cut", 2), caution("Warning: hot glue burns."), step(1))
    found = arrange(pattern)
    assert found.cautions == ()
    (node,) = found.chapters[0].steps[0].words
    assert (node.kind, node.name) == ("caution", "warning")
    assert said(node.children) == ["Hot glue burns."]


def test_a_document_without_steps_is_all_opening() -> None:
    found = arrange(of(paragraph("one"), heading("More", 2), paragraph("two")))
    assert said(found.opening) == ["one", "heading: More", "two"]
    assert found.chapters == ()
    assert found.closing == ()


def test_nothing_of_the_prose_is_lost() -> None:
    body = (
        paragraph("p0"),
        heading("A", 2),
        paragraph("p1"),
        heading("B", 2),
        paragraph("p2"),
        heading("C", 3),
        paragraph("p3"),
        step(1),
        heading("D", 3),
        paragraph("p4"),
        heading("E", 3),
        paragraph("p5"),
        step(2),
        paragraph("p6"),
        heading("F", 2),
        paragraph("p7"),
    )
    found = arrange(of(*body))
    everything = [*said(found.opening), *said(found.sizes), *said(found.pieces)]
    everything += said(found.closing)
    for chapter in found.chapters:
        everything += said(chapter.words)
        for words in chapter.steps:
            everything += said(words.words)
    assert {f"p{n}" for n in range(8)} <= set(everything)
