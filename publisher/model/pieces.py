"""One piece from its fence: lines in their phases, then outline, scores, facets, hinges."""

from __future__ import annotations

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.diagnostics.near import nearest
from publisher.language.ast import PieceDesign, Statement, When
from publisher.model.bench import Bench, Shop
from publisher.model.draft import Draft
from publisher.model.findings import Refused, listed, refuse, taken, unknown
from publisher.model.laying import finished, lay_paper
from publisher.model.order import Line, run_in_any_order, told_by
from publisher.model.statements import STATEMENTS, Phase, glue, island, tab
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


def build_piece(design: PieceDesign, shop: Shop, trade: Trade) -> Built:
    """The piece as flat paper. Lines that cannot be built are left out and reported."""
    findings: list[Diagnostic] = []
    try:
        draft = _start(design, trade)
    except Refused as refused:
        if refused.diagnostic is not None:
            findings.append(refused.diagnostic)
        draft = _stand_in(design, trade)
    bench = Bench(draft, shop)
    _set_copies(design, bench, findings)
    lines = _lines(design, bench, findings)
    for kind, line in lines:
        for name in kind.names(line):
            if name.text in bench.coming:
                first = bench.coming[name.text]
                findings.append(told_by(taken(name.text, name.span, first, "a part of this piece")))
            bench.coming[name.text] = name.span
    for phase in (Phase.PAPER, Phase.TABS):
        findings += run_in_any_order(bench, [p for p in lines if p[0].phase == phase])
        draft.lost |= {name for name in bench.coming if name not in draft.panels}
        bench.coming.clear()
    if len(draft.panels) > MOST_PARTS:
        findings.append(_too_many(draft))
        return Built(None, None, tuple(findings))
    tab.finish(bench)
    if not draft.panels:
        if not any(kind.phase == Phase.PAPER for kind, _ in lines):
            findings.append(_no_paper(design))
        return Built(None, None, tuple(findings))
    paper_fault = lay_paper(bench)
    if paper_fault is not None:
        return Built(None, None, (*findings, paper_fault))
    for phase in list(Phase)[Phase.NAMES - 1 :]:
        faults = run_in_any_order(bench, [p for p in lines if p[0].phase == phase])
        findings += faults
        if phase == Phase.BRIDGES:
            island.finish(bench, bridges_stand=not faults)
    glue.finish(bench)
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


# ---------------------------------------------------------------- lines


def _lines(design: PieceDesign, bench: Bench, findings: list[Diagnostic]) -> list[Line]:
    lines: list[Line] = []
    for statement in design.statements:
        kind = STATEMENTS.get(statement.head)
        if kind is None:
            findings.append(_unknown_head(statement))
            continue
        try:
            whens = [j for j in statement.joinings() if isinstance(j, When)]
            if all(bench.holds(w.condition) for w in whens):
                lines.append((kind, statement))
        except Refused as refused:
            if refused.diagnostic is not None:
                findings.append(refused.diagnostic)
    return lines


def _unknown_head(statement: Statement) -> Diagnostic:
    near = nearest(statement.head, STATEMENTS)
    span = statement.head_span
    hint = f". Nearest: ‘{near}’" if near else ""
    ways = (WayOut(f"write ‘{near}’", Edit(span, near)),) if near else ()
    return Diagnostic(
        "unknown-statement",
        "error",
        f"there is no ‘{statement.head}’ line in a piece{hint}",
        (Place(span),),
        notes=() if near else (f"Known: {listed(STATEMENTS, 20)}",),
        ways_out=ways,
    )


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
        notes=("Begin with ‘outline’, ‘panels’, ‘panel’, ‘mat’ or ‘band’",),
    )
