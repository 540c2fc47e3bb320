"""The line that opens a piece: its name, its paper, how many, which face up."""

from __future__ import annotations

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, WayOut
from publisher.language import ast
from publisher.language.phrases import plain_word

_COUNTS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10}


class Opening(Struct, frozen=True):
    """What the line says. ``faults`` are phrases that it does not take."""

    name: ast.Name
    stock: ast.Name | None
    copies: ast.Expr | None
    back_up: bool
    faults: tuple[Diagnostic, ...]


def read_opening(name: ast.Name, phrases: tuple[ast.Phrase, ...]) -> Opening:
    """The opening from its name and its phrases."""
    stock: ast.Name | None = None
    copies: ast.Expr | None = None
    back_up = False
    faults: list[Diagnostic] = []
    for phrase in phrases:
        value = phrase.value
        paper = _stock_of(phrase)
        if paper is not None:
            stock = paper
        elif phrase.label in ("copies", "copy") and not isinstance(value, ast.Offset):
            copies = value
        elif phrase.label == "up" and isinstance(value, ast.Ref) and _is_face(value):
            back_up = value.segments[0].name.startswith("back")
        else:
            faults.append(_strange(phrase))
    return Opening(name, stock, copies, back_up, tuple(faults))


def _strange(phrase: ast.Phrase) -> Diagnostic:
    value = phrase.value
    if isinstance(value, ast.Literal) and value.unit == "in" and phrase.label:
        number = value.written.removesuffix("in").strip()
        said = f"{number} copies, in {phrase.label}"
        return Diagnostic(
            "syntax",
            "error",
            f"‘{value.written}’ is {number} inches. For {number} of them write ‘{said}’",
            (Place(value.span),),
            ways_out=(WayOut(f"write ‘{said}’", Edit(phrase.span, said)),),
        )
    ways: tuple[WayOut, ...] = ()
    paper = None if value is None or phrase.label or phrase.joinings else plain_word(value)
    if paper is not None:
        count, _, of = paper.partition(" ")
        better = (
            f"{_COUNTS[count]} copies" if of == "copies" and count in _COUNTS else f"in {paper}"
        )
        ways = (WayOut(f"write ‘{better}’", Edit(phrase.span, better)),)
    return Diagnostic(
        "unknown-word",
        "error",
        "the line that opens a piece takes its name, ‘in’ a paper, ‘copies’ and ‘back face up’",
        (Place(phrase.span),),
        ways_out=ways,
    )


def _stock_of(phrase: ast.Phrase) -> ast.Name | None:
    """The paper of ``in card``."""
    if phrase.value is not None or len(phrase.joinings) != 1:
        return None
    (joining,) = phrase.joinings
    if not isinstance(joining, ast.Prep) or joining.word != "in" or len(joining.places) != 1:
        return None
    (place,) = joining.places
    if isinstance(place, ast.Ref) and len(place.segments) == 1 and not place.states:
        segment = place.segments[0]
        if segment.kind == "name":
            return ast.Name(segment.name, segment.span)
    return None


def _is_face(ref: ast.Ref) -> bool:
    return len(ref.segments) == 1 and ref.segments[0].kind == "face"
