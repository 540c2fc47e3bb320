"""One piece from its fence: lines in their phases, then outline, scores, facets, hinges."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.diagnostics.near import nearest
from publisher.geometry.booleans import region_union
from publisher.geometry.canonical import canonical_region
from publisher.geometry.measure import path_bounds
from publisher.geometry.transform import translated
from publisher.language.ast import PieceDesign, Statement, When
from publisher.model.bench import Bench, NotYet, Shop
from publisher.model.draft import Draft
from publisher.model.findings import Refused, circle, listed, refuse, taken, unknown
from publisher.model.shaping.facets import facets_of, hinges_of, scores_of
from publisher.model.shaping.panels import moved_panel
from publisher.model.shaping.paper import overlaps
from publisher.model.statements import STATEMENTS, Phase, glue, island, tab
from publisher.model.statements.kinds import StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.types import Fold, Piece
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
                findings.append(_told(taken(name.text, name.span, first, "a part of this piece")))
            bench.coming[name.text] = name.span
    for phase in (Phase.PAPER, Phase.TABS):
        findings += _run_in_any_order(bench, [p for p in lines if p[0].phase == phase])
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
    paper_fault = _lay_paper(bench)
    if paper_fault is not None:
        return Built(None, None, (*findings, paper_fault))
    for phase in list(Phase)[Phase.NAMES - 1 :]:
        faults = _run_in_any_order(bench, [p for p in lines if p[0].phase == phase])
        findings += faults
        if phase == Phase.BRIDGES:
            island.finish(bench, bridges_stand=not faults)
    glue.finish(bench)
    return Built(_finished(draft), draft, (*findings, *bench.reports))


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


Line = tuple[StatementKind, Statement]


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


def _run_in_any_order(bench: Bench, lines: Sequence[Line]) -> list[Diagnostic]:
    """Runs each line as soon as what it stands on is there.

    A line that fails while others still wait is tried again, as it may speak of a panel that
    comes later. What is left when nothing moves any more is reported.
    """
    pending = list(lines)
    while pending:
        stuck: list[Line] = []
        refusals: list[Refused] = []
        waits: list[NotYet] = []
        for line in pending:
            kind, statement = line
            phrases = Phrases(statement)
            try:
                kind.run(bench, phrases)
            except NotYet as wait:
                waits.append(wait)
                stuck.append(line)
            except Refused as refused:
                refusals.append(refused)
                stuck.append(line)
            else:
                leftover = _leftover(phrases)
                if leftover is not None:
                    bench.reports.append(leftover)
        if len(stuck) == len(pending):
            for _, statement in stuck:
                if statement.name is not None:
                    bench.draft.lost.add(statement.name.text)
            told = [r.diagnostic for r in refusals if r.diagnostic is not None]
            if waits and not refusals:
                # Every line left waits for another one of them.
                told.append(_told(circle([*(w.name for w in waits), waits[0].name], waits[0].span)))
            return told
        pending = stuck
    return []


def _leftover(phrases: Phrases) -> Diagnostic | None:
    try:
        phrases.finish()
    except Refused as refused:
        return refused.diagnostic
    return None


def _told(refused: Refused) -> Diagnostic:
    assert refused.diagnostic is not None
    return refused.diagnostic


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


# ---------------------------------------------------------------- paper


def _lay_paper(bench: Bench) -> Diagnostic | None:
    """Joins the panels to one outline with its top left at (0, 0)."""
    draft = bench.draft
    if draft.paper is not None:
        return None
    panels = list(draft.panels.values())
    for first, second, shared in overlaps(panels):
        a, b = draft.panels[first], draft.panels[second]
        return Diagnostic(
            "panels-collide",
            "error",
            f"{first} and {second} would need the same paper",
            (Place(b.span, second), Place(a.span, first)),
            numbers=(("shared_mm2", shared),),
        )
    regions = region_union([draft.region_of(p.name) for p in panels])
    if len(regions) != 1:
        return Diagnostic(
            "paper-falls-apart",
            "error",
            f"the panels of {draft.name} do not hang together",
            (Place(draft.span),),
        )
    x, y, _, _ = path_bounds(regions[0].outer)
    draft.panels = {n: moved_panel(p, -x, -y) for n, p in draft.panels.items()}
    draft.folds = {n: _moved_fold(f, -x, -y) for n, f in draft.folds.items()}
    draft.shaped = {n: translated(r, -x, -y) for n, r in draft.shaped.items()}
    draft.paper = translated(regions[0], -x, -y)
    return None


def _moved_fold(fold: Fold, dx: float, dy: float) -> Fold:
    (x1, y1), (x2, y2) = fold.start, fold.end
    return replace(fold, start=(x1 + dx, y1 + dy), end=(x2 + dx, y2 + dy))


def _finished(draft: Draft) -> Piece:
    assert draft.paper is not None
    outline = canonical_region(draft.paper)
    panels = tuple(draft.panels.values())
    folds = tuple(draft.folds.values())
    scores = scores_of(folds, outline, list(draft.cut_rings()))
    slits = [o.path for o in draft.openings if o.kind == "slit"]
    facets = facets_of(outline, panels, [*(s.path for s in scores), *slits])
    return Piece(
        name=draft.name,
        stock=draft.stock,
        copies=draft.copies,
        outline=outline,
        panels=panels,
        folds=folds,
        scores=scores,
        openings=tuple(draft.openings),
        glue_zones=tuple(draft.glue),
        facets=facets,
        hinges=hinges_of(folds, facets),
        span=draft.span,
        back_up=draft.back_up,
        derived=draft.derived,
        islands=tuple(draft.islands),
        bridges=tuple(draft.bridges),
    )
