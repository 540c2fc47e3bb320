"""What a maker lays ready: paper from the sheets, tools and glue from the steps.

Nothing here is typed by the author. A tool is called for by a verb of the steps or by
something that the pieces have; which tool serves which verb is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from publisher.booklet.types import Supply
from publisher.layout.types import Sheet
from publisher.model.types import Pattern
from publisher.supplies import glue_area_mm2, glued_mats, substitutes
from publisher.supplies.told import area_words, substitute_words
from publisher.trade import Stock, Trade
from publisher.units import FirstUnit, both, number

_TOOLS = {
    "knife": Supply(
        "knife",
        "tool",
        "Craft knife and cutting mat",
        "",
        "or a cutting machine, which takes the cut files as they are",
    ),
    "ruler": Supply("ruler", "tool", "Metal ruler", "", "to cut and to score along"),
    "scoring": Supply("scoring", "tool", "Scoring tool", "", "or a ballpoint pen that has run dry"),
    "folder": Supply(
        "folder", "tool", "Bone folder", "", "or the back of a spoon, to press folds sharp"
    ),
    "weight": Supply(
        "weight", "tool", "Heavy book", "", "to lie on flat glued parts while they dry"
    ),
    "clip": Supply("clip", "tool", "Small clips or pegs", "", "or your fingers, to hold a joint"),
    "stick": Supply("stick", "tool", "Round pencil", "", "to curl the paper over"),
}

_VERB_NEEDS = {
    "cut": ("knife", "ruler"),
    "score": ("scoring", "ruler"),
    "crease": ("folder",),
    "fold": ("folder",),
    "press": ("weight",),
    "curl": ("stick",),
    "hold": ("clip",),
}


def supplies_for(
    pattern: Pattern, sheets: Iterable[Sheet], trade: Trade | None = None
) -> tuple[Supply, ...]:
    """Paper first, then tools in the order they are used, then what holds it together.

    With the trade, the papers that do in place of others are named.
    """
    return (
        *_papers(tuple(sheets), pattern.meta.first_unit, trade),
        *_tools(pattern),
        *_glues(pattern),
    )


def _papers(sheets: tuple[Sheet, ...], first: FirstUnit, trade: Trade | None) -> Iterator[Supply]:
    counts: dict[tuple[str, str], list[Sheet]] = {}
    for sheet in sheets:
        counts.setdefault((sheet.stock.name, sheet.size.name), []).append(sheet)
    for same in counts.values():
        stock, size = same[0].stock, same[0].size
        amount = f"{len(same)} {'sheet' if len(same) == 1 else 'sheets'} {size.title}"
        others = substitute_words(substitutes(stock, trade)) if trade else ""
        note = "; ".join(text for text in (_about(stock, first), others) if text)
        yield Supply("paper", "paper", stock.title, amount, note)


def _about(stock: Stock, first: FirstUnit) -> str:
    thick = both(stock.caliper_mm, kind="thin", first=first)
    return f"about {number(stock.grammage_gsm, 0)} g/m², {thick} thick"


def _tools(pattern: Pattern) -> Iterator[Supply]:
    wanted = {"knife", "ruler"}  # every piece is cut from its sheet
    if any(piece.scores for piece in pattern.pieces):
        wanted |= {"scoring", "folder"}
    for step in pattern.steps:
        for action in step.actions:
            wanted |= set(_VERB_NEEDS.get(action.verb, ()))
    if glued_mats(pattern):
        wanted.add("weight")
    yield from (tool for name, tool in _TOOLS.items() if name in wanted)
    notes = (a.note for step in pattern.steps for a in step.actions if a.note)
    for note in dict.fromkeys(notes):  # what is coloured and stamped with, in its author's words
        yield Supply("colour", "tool", f"{note[:1].upper()}{note[1:]}", "", "")


def _glues(pattern: Pattern) -> Iterator[Supply]:
    verbs = {action.verb for step in pattern.steps for action in step.actions}
    square_mm = glue_area_mm2(pattern)
    if "glue" in verbs or (square_mm > 0.0 and "tape" not in verbs):
        yield Supply(
            "glue",
            "glue",
            "Paper glue",
            f"for {area_words(square_mm, pattern.meta.first_unit)}" if square_mm > 0.0 else "",
            "one that dries clear and leaves the paper flat",
        )
    for pad in _pads(pattern):
        thick = both(pad[1][2], kind="thin", first=pattern.meta.first_unit)
        yield Supply("pads", "glue", f"{pad[0][:1].upper()}{pad[0][1:]}", "", f"{thick} thick")
    if "tape" in verbs:
        yield Supply("tape", "glue", "Double-sided tape", "", "thin, made for paper")


def _pads(pattern: Pattern) -> Iterable[tuple[str, tuple[float, float, float]]]:
    """What things are mounted on: names and sizes."""
    pads = (a.pad for step in pattern.steps for a in step.actions if a.pad is not None)
    return dict.fromkeys((pad.piece, pad.size_mm) for pad in pads if pad.size_mm)
