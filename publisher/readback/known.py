"""What the booklet of a pattern may say: lengths, angles and amounts that the model has."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from publisher.checks.types import CheckResult
from publisher.cutfiles.work import Work
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Arc, Point, Region
from publisher.layout import Sheet
from publisher.model.prose import Block
from publisher.model.types import BandOf, MatOf, Panel, Pattern, Piece
from publisher.readback.figures import figures_on
from publisher.readback.lie import places
from publisher.supplies import glue_area_mm2
from publisher.trade import Stock, Trade

SAME_MM = 1e-6


class Known(Struct, frozen=True):
    """Lengths in mm, those that a piece's drawing may show (``drawn``) again, ``long`` ones that
    nobody measures apart; angles in degrees, areas in mm²,
    papers in g/m². ``chosen`` as in ``Ruler``. ``said`` are figures that stand in a text of the
    author's or the trade's, number and unit. ``sizes`` are those that the table must tell."""

    lengths: tuple[float, ...]
    drawn: tuple[float, ...]
    long: tuple[float, ...]
    angles: tuple[float, ...]
    areas: tuple[float, ...]
    papers: tuple[float, ...]
    chosen: tuple[tuple[str, float, float], ...]
    said: frozenset[tuple[float, str]]
    sizes: tuple[tuple[str, tuple[float, ...], str], ...]
    first: str


def known(
    pattern: Pattern,
    sheets: Iterable[Sheet],
    results: Iterable[CheckResult],
    work: Iterable[Work],
    texts: Iterable[str],
    parts: Pattern | None = None,
    trade: Trade | None = None,
    margins: bool = False,
) -> Known:
    """``texts`` are what the booklet carries of the workshop's own words, a theme's among them;
    ``parts`` the pattern as it lies on the sheets; titles of the ``trade`` may name sizes. With
    ``margins`` how far each check is from failing may be said too."""
    whole = {piece.name for piece in pattern.pieces}
    pieces = [*pattern.pieces, *(p for p in (parts.pieces if parts else ()) if p.name not in whole)]
    listed = list(sheets)
    drawn = {round(mm, 6) for piece in pieces for mm in _drawn(pattern, piece)}
    lengths = drawn | {round(mm, 6) for mm in _lengths(pattern, pieces)}
    lengths |= {round(v, 6) for s in listed for v in (s.size.width_mm, s.size.height_mm)}
    angles = {v for s in pattern.sizes if s.unit == "deg" for v in s.values}
    angles |= {f.closing_deg for p in pieces for f in p.folds}
    for result in results:
        lengths |= {abs(v) for name, v in result.numbers if name.endswith("_mm")}
        angles |= {v for name, v in result.numbers if name.endswith("_deg")}
        lengths |= {abs(mm) for _, mm in result.slack} if margins else set()
    for action in (a for step in pattern.steps for a in step.actions):
        angles |= {action.angle_deg} if action.angle_deg is not None else set()
        lengths |= {action.length_mm} if action.length_mm is not None else set()
        lengths |= set(action.pad.size_mm or ()) if action.pad is not None else set()
    spoken = list(_spoken(pattern.body))
    stocks: Mapping[str, Stock] = {p.stock.name: p.stock for p in pieces}
    said = {
        (number.value, one.unit)
        for text in (*texts, *_texts(pattern, stocks.values(), listed), *_titles(trade))
        for figure in figures_on(text)
        for one in (figure, *((figure.again,) if figure.again else ()))
        for number in one.numbers
    }
    return Known(
        lengths=tuple(sorted({*lengths, *(v for v, unit in spoken if unit == "mm")})),
        drawn=tuple(sorted(drawn)),
        long=tuple(sorted({v for w in work for v in (w.cut_mm, w.score_mm)})),
        angles=tuple(sorted({*angles, *(v for v, unit in spoken if unit == "deg")})),
        areas=(glue_area_mm2(pattern),),
        papers=tuple(sorted({s.grammage_gsm for s in stocks.values()})),
        chosen=pattern.meta.chosen,
        said=frozenset(said),
        sizes=tuple((s.name, s.values, s.unit) for s in pattern.sizes),
        first=pattern.meta.first_unit,
    )


def joined(several: Sequence[Known]) -> Known:
    """What any of these may say, without a table of sizes."""
    first = several[0]
    return Known(
        lengths=tuple(sorted({v for k in several for v in k.lengths})),
        drawn=tuple(sorted({v for k in several for v in k.drawn})),
        long=tuple(sorted({v for k in several for v in k.long})),
        angles=tuple(sorted({v for k in several for v in k.angles})),
        areas=tuple(v for k in several for v in k.areas),
        papers=tuple(sorted({v for k in several for v in k.papers})),
        chosen=tuple(v for k in several for v in k.chosen),
        said=frozenset(v for k in several for v in k.said),
        sizes=(),
        first=first.first,
    )


def _lengths(pattern: Pattern, pieces: Iterable[Piece]) -> Iterator[float]:
    for size in pattern.sizes:
        yield from size.values if size.unit == "mm" else ()
    for values in pattern.objects.values():
        yield from values
    for claim in pattern.claims:
        yield from claim.size_mm or ()
        for target in (claim.subject, claim.object):
            yield from (target.size_mm or ()) if target else ()
    for piece in pieces:
        yield piece.stock.caliper_mm
        if isinstance(piece.derived, BandOf):
            band = piece.derived
            yield from (band.ease_mm, band.loop_mm, band.overlap_mm, *band.body_mm)
            yield from (term.mm for term in band.sum)


def _drawn(pattern: Pattern, piece: Piece) -> Iterator[float]:
    yield from _box(piece.bounds)
    folds = {fold.child: fold for fold in piece.folds}
    for panel in piece.panels:
        yield from (panel.width_mm, panel.height_mm)
        yield from (math.dist(edge.start, edge.end) for edge in panel.edges)
        if panel.name in folds:
            yield _off_line(folds[panel.name].start, folds[panel.name].end, panel)
    for opening in piece.openings:
        yield from (opening.width_mm, opening.depth_mm, opening.path.length_mm)
        yield from _box(path_bounds(opening.path))
    yield from (mm for mm in places(piece) if mm > 0.0)
    for island in piece.islands:
        yield from (island.width_mm, island.height_mm)
    for bridge in piece.bridges:
        yield from (bridge.width_mm, bridge.length_mm)
    for zone in piece.glue_zones:
        yield from _box(path_bounds(zone.region.outer))
        yield _least_width(zone.region)
    for corner in piece.corners:
        yield corner.size_mm
    for mark in piece.marks:
        yield from (mark.width_mm, mark.height_mm)
    rings = (piece.outline.outer, *piece.outline.holes, *(s.path for s in piece.scores))
    for path in rings:
        yield from (s.radius_mm for s in path.segments if isinstance(s, Arc))
    if isinstance(piece.derived, MatOf):
        yield from _borders(pattern, piece, piece.derived)


def _box(box: tuple[float, float, float, float]) -> tuple[float, float]:
    return (box[2] - box[0], box[3] - box[1])


def _off_line(start: Point, end: Point, panel: Panel) -> float:
    """How deep a part is that hangs on a line."""
    length = math.dist(start, end) or 1.0
    across = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    return max(abs((x - start[0]) * across[1] - (y - start[1]) * across[0]) for x, y in panel.ring)


def _least_width(region: Region) -> float:
    """The least width of a zone, along one of its straight sides."""
    corners = [s.start for s in region.outer.segments]
    widths = []
    for segment in region.outer.segments:
        (x1, y1), (x2, y2) = segment.start, segment.end
        length = math.dist(segment.start, segment.end)
        if length > SAME_MM:
            off = [((x - x1) * (y2 - y1) - (y - y1) * (x2 - x1)) / length for x, y in corners]
            widths.append(max(off) - min(off))
    return min(widths, default=0.0)


def _borders(pattern: Pattern, piece: Piece, mat: MatOf) -> Iterator[float]:
    yield mat.border_mm
    beneath = next((p for p in pattern.pieces if p.name == mat.piece), None)
    panel = next((p for p in beneath.panels if p.name == mat.panel), None) if beneath else None
    if panel is not None:
        for k in (0, 1, 2, 3):
            yield abs(panel.bounds[k] - mat.offset[k % 2] - piece.bounds[k])


def _blocks(blocks: Iterable[Block]) -> Iterator[Block]:
    for block in blocks:
        yield block
        yield from _blocks(block.children)


def _spoken(body: Iterable[Block]) -> Iterator[tuple[float, str]]:
    for block in _blocks(body):
        for run in block.runs:
            yield from ((value, run.unit) for value in run.amounts)


def _titles(trade: Trade | None) -> Iterator[str]:
    """Papers, sheets, machines and things by their titles."""
    if trade is not None:
        for table in (trade.stocks, trade.sheets, trade.machines, trade.objects):
            yield from (entry.title for entry in table.values())


def _texts(pattern: Pattern, stocks: Iterable[Stock], sheets: Iterable[Sheet]) -> Iterator[str]:
    """Words that are printed as they stand."""
    yield from (pattern.meta.title, pattern.meta.summary, pattern.meta.time, pattern.meta.author)
    for block in _blocks(pattern.body):
        # What is spoken is worth what it is worth: its text is the writer's. To a plain number
        # the author may have written a unit.
        yield "".join("§" if run.spoken and run.unit else run.text for run in block.runs)
    yield from (size.note for size in pattern.sizes)
    yield from (action.note for step in pattern.steps for action in step.actions)
    yield from (stock.title for stock in stocks)
    yield from (sheet.size.title for sheet in sheets)
