"""One piece from its fence: lines in their phases, then outline, scores, facets, hinges."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language.ast import PieceDesign
from publisher.model.bench import Bench, Shop
from publisher.model.draft import Draft
from publisher.model.findings import Refused, listed, refuse, taken, unknown
from publisher.model.laying import finished, lay_paper, to_top_left
from publisher.model.lines import Lines
from publisher.model.order import run_in_any_order, told_by
from publisher.model.statements import Phase, glue, island, tab
from publisher.model.types import Piece
from publisher.trade import Trade

MOST_COPIES = 500
MOST_PARTS = 400
"""More panels and tabs than any piece of paper needs; it keeps a slip from taking all day."""


class Built(Struct, frozen=True):
    """What came of a fence: a piece and its parts by name, or findings, or both."""

    piece: Piece | None
    draft: Draft | None
    findings: tuple[Diagnostic, ...]


def build_piece(design: PieceDesign, shop: Shop, trade: Trade, lost: Iterable[str] = ()) -> Built:
    """The piece as flat paper. Lines that cannot be built are left out and reported.

    ``lost`` are names that lines refused earlier would have given: nobody is told of them.
    """
    findings: list[Diagnostic] = []
    try:
        draft = _start(design, trade)
    except Refused as refused:
        if refused.diagnostic is not None:
            findings.append(refused.diagnostic)
        draft = _stand_in(design, trade)
    draft.lost.update(lost)
    bench = Bench(draft, shop)
    _set_copies(design, bench, findings)
    gathered = Lines(bench, findings)
    lines = gathered.gather(design)
    for line in lines:
        for name in line.kind.names(line.statement):
            if name.text in bench.coming:
                first = bench.coming[name.text]
                findings.append(told_by(taken(name.text, name.span, first, "a part of this piece")))
            bench.coming[name.text] = name.span
    for phase in (Phase.PAPER, Phase.TABS):
        findings += run_in_any_order([p for p in lines if p.kind.phase == phase])
        draft.lost |= {name for name in bench.coming if name not in draft.panels}
        bench.coming.clear()
    if len(draft.panels) > MOST_PARTS:
        findings.append(_too_many(draft))
        return Built(None, None, tuple(findings))
    tab.finish(bench)
    if not draft.panels:
        if not (gathered.refused or any(line.kind.phase == Phase.PAPER for line in lines)):
            findings.append(_no_paper(design))
        return Built(None, None, tuple(findings))
    paper_fault = lay_paper(bench)
    if paper_fault is not None:
        return Built(None, None, (*findings, paper_fault))
    for phase in list(Phase)[Phase.NAMES - 1 :]:
        faults = run_in_any_order([p for p in lines if p.kind.phase == phase])
        findings += faults
        if phase == Phase.TRIMMING:
            to_top_left(draft)
        if phase == Phase.BRIDGES:
            island.finish(bench, bridges_stand=not faults)
    glue.finish(bench)
    gathered.finish()
    return Built(finished(draft), draft, (*findings, *bench.reports))


# ---------------------------------------------------------------- header


def _start(design: PieceDesign, trade: Trade) -> Draft:
    if design.stock is None:
        raise refuse(
            "missing-stock",
            f"of what paper is {design.name.text}? Add for example ‘in card’",
            design.header_span,
            notes=(f"Known: {listed(trade.stocks)}",),
        )
    stock = trade.stocks.get(design.stock.text)
    if stock is None:
        known: dict[str, Span | None] = dict.fromkeys(trade.stocks)
        raise unknown(
            "among the stocks", design.stock.text, design.stock.span, known, code="unknown-stock"
        )
    return Draft(design.name.text, design.header_span, stock, 1, design.back_up)


def _set_copies(design: PieceDesign, bench: Bench, findings: list[Diagnostic]) -> None:
    if design.copies is None:
        return
    try:
        count = bench.share(design.copies)
        if count != int(count) or not 1 <= count <= MOST_COPIES:
            raise refuse(
                "wrong-count",
                f"copies are a whole number from 1 to {MOST_COPIES}",
                design.copies.span,
                numbers=(("copies", count),),
            )
        bench.draft.copies = int(count)
    except Refused as refused:
        if refused.diagnostic is not None:
            findings.append(refused.diagnostic)


def _stand_in(design: PieceDesign, trade: Trade) -> Draft:
    """Where the header is wrong the lines are read all the same, on the first stock there is."""
    stock = next(iter(trade.stocks.values()))
    return Draft(design.name.text, design.header_span, stock, 1, design.back_up)


# ---------------------------------------------------------------- findings


def _too_many(draft: Draft) -> Diagnostic:
    count = len(draft.panels)
    return Diagnostic(
        "too-many-parts",
        "error",
        f"{draft.name} has {count} panels and tabs; more than {MOST_PARTS} are not built",
        (Place(draft.span),),
        numbers=(("parts", float(count)), ("most", float(MOST_PARTS))),
    )


def _no_paper(design: PieceDesign) -> Diagnostic:
    return Diagnostic(
        "no-paper",
        "error",
        f"{design.name.text} has no paper yet",
        (Place(design.header_span), Place(design.fence)),
        notes=("Begin with ‘outline’, ‘panels’, ‘panel’, ‘mat’, ‘band’ or ‘form’",),
    )
