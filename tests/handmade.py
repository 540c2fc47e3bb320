"""Pieces and patterns built by hand from the shared values, for tests that need real ones.

``from tests.handmade import drawer, sleeve, sleeve_mat, envelope, sliding_box_pattern,
envelope_pattern``. Every coordinate is worked out here on paper, none by the compiler, so the
compiler is tested against these too.

How the steps speak (the compiler gives the same):

- ``fold`` names folds: Target kind "fold", part the fold's name (= its child panel's name).
- ``turn over X``: verb "turn", subjects (X,), relation "over", no objects.
- ``score X``: verb "score", the piece as subject.
- ``glue each tab of X``: panels as subjects, no objects; the glue zone of the tab's name says
  the face and what it meets.
- ``glue A to B``: subjects (A,), relation "to", objects (B,).
- ``wrap A around B``, ``slide A into B``: relation "around", "into".
"""

from __future__ import annotations

from typing import Literal

from publisher.diagnostics import Span
from publisher.geometry.path import Arc, Line, Path, Point, Region, Segment, polygon
from publisher.model.prose import Block, Run
from publisher.model.types import (
    Action,
    BandOf,
    Bend,
    Claim,
    Edge,
    Facet,
    Fold,
    GlueZone,
    Hinge,
    MatOf,
    Meta,
    Opening,
    Panel,
    Pattern,
    Piece,
    Score,
    Size,
    Step,
    Target,
    Term,
)
from publisher.trade import Stock

BOX_FILE = "content/sliding-box/pattern.md"
ENVELOPE_FILE = "content/envelope/pattern.md"

CARD = Stock(
    name="card",
    title="Card",
    caliper_mm=0.4,
    grammage_gsm=300.0,
    front_colour="#e8d9b8",
    back_colour="#f6f0e2",
    grain="long",
    patterned=False,
    sheet="A4",
    source="common practice, no source",
)
PATTERNED = Stock(
    name="patterned paper",
    title="Patterned paper",
    caliper_mm=0.15,
    grammage_gsm=120.0,
    front_colour="#b9cfb4",
    back_colour="#fbfaf5",
    grain="none",
    patterned=True,
    sheet="A4",
    source="common practice, no source",
)
PAPER = Stock(
    name="paper",
    title="Paper",
    caliper_mm=0.15,
    grammage_gsm=120.0,
    front_colour="#e4d3c2",
    back_colour="#f7f2ea",
    grain="long",
    patterned=False,
    sheet="A4",
    source="common practice, no source",
)


def at(file: str, line: int) -> Span:
    """A span that says no more than its line."""
    return Span(file, (line - 1) * 40, (line - 1) * 40 + 10, line, 1)


def box_panel(
    name: str,
    left: float,
    top: float,
    right: float,
    bottom: float,
    span: Span,
    kind: Literal["panel", "tab"] = "panel",
    meets: tuple[str, str] | None = None,
) -> Panel:
    """A rectangular panel, edges named by side, clockwise from the top left."""
    ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    return shaped_panel(name, ring, ("top", "right", "bottom", "left"), span, kind, meets)


def folded(name: str, whole: Panel, panels: tuple[Panel, ...], folds: tuple[Fold, ...]) -> Piece:
    """A piece of card with these panels and the folds between them, and nothing else."""
    return Piece(
        name=name,
        stock=CARD,
        copies=1,
        outline=Region(polygon(whole.ring)),
        panels=panels,
        folds=folds,
        scores=(),
        openings=(),
        glue_zones=(),
        facets=tuple(Facet(p.name, p.name, Region(polygon(p.ring))) for p in panels),
        hinges=tuple(Hinge(f.name, f.parent, f.child, f.start, f.end) for f in folds),
        span=whole.span,
    )


def shaped_panel(
    name: str,
    ring: tuple[Point, ...],
    edge_names: tuple[str, ...],
    span: Span,
    kind: Literal["panel", "tab"] = "panel",
    meets: tuple[str, str] | None = None,
) -> Panel:
    ends = ring[1:] + ring[:1]
    edges = tuple(Edge(n, a, b) for n, a, b in zip(edge_names, ring, ends, strict=True))
    return Panel(name, kind, ring, edges, span, meets)


def _fold(
    name: str, start: Point, end: Point, parent: str, span: Span, closing: float, bend: Bend
) -> Fold:
    return Fold(name, start, end, bend, closing, parent, name, span)


def _score(fold: Fold) -> Score:
    path = Path((Line(fold.start, fold.end),), closed=False)
    return Score(fold.name, path, fold.bend, fold.name, fold.span)


def _hinge(fold: Fold) -> Hinge:
    return Hinge(fold.name, fold.parent, fold.child, fold.start, fold.end)


def _plain_facet(panel: Panel) -> Facet:
    return Facet(panel.name, panel.name, Region(polygon(panel.ring)))


def drawer(depth_mm: float = 22.0) -> Piece:
    """Base 124 x 84, four walls, mountain by 90, and a tab at each end of the long walls.

    Inside crease to crease; outside when closed 124.8 x 84.8 x (depth + 0.4).
    """
    d = depth_mm
    span = at(BOX_FILE, 24)
    x0, x1, y0, y1 = d, d + 124.0, d, d + 84.0
    width, height = 124.0 + 2 * d, 84.0 + 2 * d
    base = box_panel("base", x0, y0, x1, y1, at(BOX_FILE, 25))
    front = box_panel("front wall", x0, y1, x1, height, at(BOX_FILE, 26))
    back = box_panel("back wall", x0, 0.0, x1, y0, at(BOX_FILE, 27))
    left = box_panel("left wall", 0.0, y0, x0, y1, at(BOX_FILE, 28))
    right = box_panel("right wall", x1, y0, width, y1, at(BOX_FILE, 29))

    def tab_left(name: str, top: float, bottom: float, meets: tuple[str, str], line: int) -> Panel:
        ring = ((x0 - 12, top + 2), (x0, top), (x0, bottom), (x0 - 12, bottom - 2))
        sides = ("top", "right", "bottom", "left")
        return shaped_panel(name, ring, sides, at(BOX_FILE, line), "tab", meets)

    def tab_right(name: str, top: float, bottom: float, meets: tuple[str, str], line: int) -> Panel:
        ring = ((x1, top), (x1 + 12, top + 2), (x1 + 12, bottom - 2), (x1, bottom))
        sides = ("top", "right", "bottom", "left")
        return shaped_panel(name, ring, sides, at(BOX_FILE, line), "tab", meets)

    tab_1 = tab_left("tab 1", y1, height, ("left wall", "bottom"), 30)
    tab_2 = tab_right("tab 2", y1, height, ("right wall", "bottom"), 30)
    tab_3 = tab_left("tab 3", 0.0, y0, ("left wall", "top"), 32)
    tab_4 = tab_right("tab 4", 0.0, y0, ("right wall", "top"), 32)
    panels = (base, front, back, left, right, tab_1, tab_2, tab_3, tab_4)

    # A fold is walked as the parent's edge is: clockwise, the parent on the right hand.
    folds = (
        _fold("front wall", (x1, y1), (x0, y1), "base", front.span, 90.0, "mountain"),
        _fold("back wall", (x0, y0), (x1, y0), "base", back.span, 90.0, "mountain"),
        _fold("left wall", (x0, y1), (x0, y0), "base", left.span, 90.0, "mountain"),
        _fold("right wall", (x1, y0), (x1, y1), "base", right.span, 90.0, "mountain"),
        _fold("tab 1", (x0, height), (x0, y1), "front wall", tab_1.span, 90.0, "mountain"),
        _fold("tab 2", (x1, y1), (x1, height), "front wall", tab_2.span, 90.0, "mountain"),
        _fold("tab 3", (x0, y0), (x0, 0.0), "back wall", tab_3.span, 90.0, "mountain"),
        _fold("tab 4", (x1, 0.0), (x1, y0), "back wall", tab_4.span, 90.0, "mountain"),
    )
    outline = polygon(
        (
            (x0 - 12, 2),
            (x0, 0),
            (x1, 0),
            (x1 + 12, 2),
            (x1 + 12, y0 - 2),
            (x1, y0),
            (width, y0),
            (width, y1),
            (x1, y1),
            (x1 + 12, y1 + 2),
            (x1 + 12, height - 2),
            (x1, height),
            (x0, height),
            (x0 - 12, height - 2),
            (x0 - 12, y1 + 2),
            (x0, y1),
            (0, y1),
            (0, y0),
            (x0, y0),
            (x0 - 12, y0 - 2),
        )
    )
    zones = tuple(
        GlueZone(tab.name, tab.name, Region(polygon(tab.ring)), "front", tab.span, ("drawer", wall))
        for tab, wall in (
            (tab_1, "left wall"),
            (tab_2, "right wall"),
            (tab_3, "left wall"),
            (tab_4, "right wall"),
        )
    )
    return Piece(
        name="drawer",
        stock=CARD,
        copies=1,
        outline=Region(outline),
        panels=panels,
        folds=folds,
        scores=tuple(_score(f) for f in folds),
        openings=(),
        glue_zones=zones,
        facets=tuple(_plain_facet(p) for p in panels),
        hinges=tuple(_hinge(f) for f in folds),
        span=span,
    )


def _bite(edge_x: float, middle_y: float, radius: float, upwards: bool) -> tuple[Segment, ...]:
    """A half-round notch as part of a clockwise outline: the paper lies outside the circle."""
    centre = (edge_x, middle_y)
    first = (edge_x, middle_y + radius) if upwards else (edge_x, middle_y - radius)
    last = (edge_x, middle_y - radius) if upwards else (edge_x, middle_y + radius)
    return (Arc(first, last, centre, clockwise=False),)


def sleeve(depth_mm: float = 22.0) -> Piece:
    """A strip 124.8 wide that goes down round the drawer: 85.8 + 23.4 + 85.8 + 23.4 + 12."""
    width, long, short = 124.8, 84.8 + 1.0, depth_mm + 0.4 + 1.0
    span = at(BOX_FILE, 36)
    band_span = at(BOX_FILE, 37)
    ys = [0.0, long, long + short, 2 * long + short, 2 * (long + short)]
    end = ys[-1] + 12.0
    chain = [box_panel(f"panel {i + 1}", 0.0, ys[i], width, ys[i + 1], band_span) for i in range(4)]
    overlap = box_panel("overlap", 0.0, ys[4], width, end, band_span, "tab", ("panel 1", "top"))
    panels = (*chain, overlap)
    folds = tuple(
        _fold(
            panels[i + 1].name,
            (width, y),
            (0.0, y),
            panels[i].name,
            band_span,
            90.0,
            "mountain",
        )
        for i, y in enumerate(ys[1:])
    )
    middles = (long / 2, ys[2] + long / 2)
    notch_span = at(BOX_FILE, 38)

    def notch(name: str, panel: str, x: float, y: float) -> Opening:
        first, last = ((x, y + 12), (x, y - 12)) if x > 0 else ((x, y - 12), (x, y + 12))
        arc = Arc(first, last, (x, y), clockwise=True)
        ring = Path((arc, Line(last, first)), closed=True)
        return Opening(name, "notch", "half round", ring, panel, 24.0, 12.0, notch_span)

    openings = (
        notch("notch 1", "panel 1", 0.0, middles[0]),
        notch("notch 2", "panel 3", 0.0, middles[1]),
        notch("notch 3", "panel 1", width, middles[0]),
        notch("notch 4", "panel 3", width, middles[1]),
    )

    def ring(top: float, bottom: float, bites: tuple[float, ...]) -> Path:
        segments: list[Segment] = [Line((0.0, top), (width, top))]
        here: Point = (width, top)
        for y in bites:
            segments.append(Line(here, (width, y - 12)))
            segments.extend(_bite(width, y, 12.0, upwards=False))
            here = (width, y + 12)
        segments.append(Line(here, (width, bottom)))
        segments.append(Line((width, bottom), (0.0, bottom)))
        here = (0.0, bottom)
        for y in reversed(bites):
            segments.append(Line(here, (0.0, y + 12)))
            segments.extend(_bite(0.0, y, 12.0, upwards=True))
            here = (0.0, y - 12)
        segments.append(Line(here, (0.0, top)))
        return Path(tuple(segments), closed=True)

    bites = {"panel 1": (middles[0],), "panel 3": (middles[1],)}
    facets = tuple(
        Facet(p.name, p.name, Region(ring(p.bounds[1], p.bounds[3], bites.get(p.name, ()))))
        for p in panels
    )
    zone = GlueZone(
        "overlap",
        "overlap",
        Region(polygon(overlap.ring)),
        "front",
        at(BOX_FILE, 39),
        ("sleeve", "panel 1"),
    )
    turn = (
        Term("drawer when closed, down", 84.8),
        Term("ease", 1.0),
        Term("drawer when closed, deep", depth_mm + 0.4),
        Term("ease", 1.0),
    )
    return Piece(
        name="sleeve",
        stock=CARD,
        copies=1,
        outline=Region(ring(0.0, end, middles)),
        panels=panels,
        folds=folds,
        scores=tuple(_score(f) for f in folds),
        openings=openings,
        glue_zones=(zone,),
        facets=facets,
        hinges=tuple(_hinge(f) for f in folds),
        span=span,
        derived=BandOf(
            piece="drawer",
            state=("closed",),
            direction="down",
            body_mm=(124.8, 84.8, depth_mm + 0.4),
            ease_mm=1.0,
            loop_mm=2 * (long + short),
            overlap_mm=12.0,
            sum=(*turn, *turn, Term("overlap", 12.0)),
        ),
    )


def sleeve_mat() -> Piece:
    """Panel 1 of the sleeve drawn in by 4 all round, also round its notches (radius 16)."""
    width, height, border = 124.8 - 8.0, 85.8 - 8.0, 4.0
    reach = (16.0**2 - border**2) ** 0.5  # where the circle of 16 crosses the mat's side
    middle = height / 2
    left_centre, right_centre = (-border, middle), (width + border, middle)
    outline = Path(
        (
            Line((0.0, 0.0), (width, 0.0)),
            Line((width, 0.0), (width, middle - reach)),
            Arc((width, middle - reach), (width, middle + reach), right_centre, False),
            Line((width, middle + reach), (width, height)),
            Line((width, height), (0.0, height)),
            Line((0.0, height), (0.0, middle + reach)),
            Arc((0.0, middle + reach), (0.0, middle - reach), left_centre, False),
            Line((0.0, middle - reach), (0.0, 0.0)),
        ),
        closed=True,
    )
    span = at(BOX_FILE, 42)
    panel = box_panel("sleeve mat", 0.0, 0.0, width, height, span)
    return Piece(
        name="sleeve mat",
        stock=PATTERNED,
        copies=1,
        outline=Region(outline),
        panels=(panel,),
        folds=(),
        scores=(),
        openings=(),
        glue_zones=(),
        facets=(Facet("sleeve mat", "sleeve mat", Region(outline)),),
        hinges=(),
        span=span,
        derived=MatOf("sleeve", "panel 1", border, False, (border, border)),
    )


def envelope() -> Piece:
    """Centre 154 x 111, sides 18, bottom 67, top 55: a blank of 190 x 233.

    All folds mountain by 180. Glue strips 10 wide stand on the back face of the bottom flap,
    along its left and right edges, and meet the front faces of the folded sides.
    """
    span = at(ENVELOPE_FILE, 22)
    x0, x1, y0, y1 = 18.0, 172.0, 55.0, 166.0
    centre = box_panel("centre", x0, y0, x1, y1, at(ENVELOPE_FILE, 23))
    left = box_panel("left side", 0.0, y0, x0, y1, at(ENVELOPE_FILE, 24))
    right = box_panel("right side", x1, y0, 190.0, y1, at(ENVELOPE_FILE, 25))
    bottom = box_panel("bottom flap", x0, y1, x1, 233.0, at(ENVELOPE_FILE, 26))
    top = box_panel("top flap", x0, 0.0, x1, y0, at(ENVELOPE_FILE, 27))
    panels = (centre, left, right, bottom, top)
    folds = (
        _fold("left side", (x0, y1), (x0, y0), "centre", left.span, 180.0, "mountain"),
        _fold("right side", (x1, y0), (x1, y1), "centre", right.span, 180.0, "mountain"),
        _fold("bottom flap", (x1, y1), (x0, y1), "centre", bottom.span, 180.0, "mountain"),
        _fold("top flap", (x0, y0), (x1, y0), "centre", top.span, 180.0, "mountain"),
    )
    outline = polygon(
        (
            (x0, 0.0),
            (x1, 0.0),
            (x1, y0),
            (190.0, y0),
            (190.0, y1),
            (x1, y1),
            (x1, 233.0),
            (x0, 233.0),
            (x0, y1),
            (0.0, y1),
            (0.0, y0),
            (x0, y0),
        )
    )

    def strip(name: str, left_x: float, side: str) -> GlueZone:
        ring = polygon(
            ((left_x, y1), (left_x + 10, y1), (left_x + 10, 233.0), (left_x, 233.0)),
        )
        span_here = at(ENVELOPE_FILE, 28)
        return GlueZone(name, "bottom flap", Region(ring), "back", span_here, ("envelope", side))

    return Piece(
        name="envelope",
        stock=PAPER,
        copies=1,
        outline=Region(outline),
        panels=panels,
        folds=folds,
        scores=tuple(_score(f) for f in folds),
        openings=(),
        glue_zones=(strip("strip 1", x0, "left side"), strip("strip 2", x1 - 10, "right side")),
        facets=tuple(_plain_facet(p) for p in panels),
        hinges=tuple(_hinge(f) for f in folds),
        span=span,
    )


# ---------------------------------------------------------------- steps and documents


def piece_target(name: str, state: tuple[str, ...] = ()) -> Target:
    return Target("piece", name, state=state)


def parts(kind: Literal["panel", "fold", "glue"], piece: str, *names: str) -> tuple[Target, ...]:
    return tuple(Target(kind, piece, part=name) for name in names)


def _action(
    verb: str,
    subjects: tuple[Target, ...],
    span: Span,
    relation: str = "",
    objects: tuple[Target, ...] = (),
) -> Action:
    return Action(verb, subjects, relation, objects, None, "", None, span)


WALLS = ("front wall", "back wall", "left wall", "right wall")
TABS = ("tab 1", "tab 2", "tab 3", "tab 4")


def sliding_box_steps() -> tuple[Step, ...]:
    def line(n: int) -> Span:
        return at(BOX_FILE, n)

    return (
        Step(
            1,
            "Fold the drawer",
            (
                _action("score", (piece_target("drawer"),), line(57)),
                _action("turn", (piece_target("drawer"),), line(58), "over"),
                _action("fold", parts("fold", "drawer", *WALLS), line(59)),
                _action("fold", parts("fold", "drawer", *TABS), line(60)),
            ),
            line(56),
        ),
        Step(
            2,
            "Glue the corners",
            (_action("glue", parts("panel", "drawer", *TABS), line(66)),),
            line(65),
        ),
        Step(
            3,
            "Mat and close the sleeve",
            (
                _action(
                    "glue",
                    (piece_target("sleeve mat"),),
                    line(74),
                    "to",
                    parts("panel", "sleeve", "panel 1"),
                ),
                _action(
                    "wrap", (piece_target("sleeve"),), line(75), "around", (piece_target("drawer"),)
                ),
                _action("glue", parts("panel", "sleeve", "overlap"), line(76)),
            ),
            line(73),
        ),
        Step(
            4,
            "Slide it together",
            (
                _action(
                    "slide", (piece_target("drawer"),), line(82), "into", (piece_target("sleeve"),)
                ),
            ),
            line(81),
        ),
    )


def _paragraph(text: str, span: Span) -> Block:
    return Block("paragraph", span, (Run(text, span),))


def _heading(text: str, level: int, span: Span) -> Block:
    return Block("heading", span, (Run(text, span),), level=level)


def sliding_box_pattern(depth_mm: float = 22.0) -> Pattern:
    """The whole sliding box, with its document."""

    def line(n: int) -> Span:
        return at(BOX_FILE, n)

    sizes = (
        Size(
            "stack",
            (120.0, 80.0, 20.0),
            "mm",
            "120 x 80 x 20 mm",
            "the packets it must hold",
            None,
            line(15),
        ),
        Size("room", (4.0,), "mm", "4 mm", "free beside the stack, each way", None, line(16)),
        Size("depth", (depth_mm,), "mm", "22 mm", "inside of the drawer", (12.0, 40.0), line(17)),
        Size("tab", (12.0,), "mm", "12 mm", "", None, line(18)),
        Size(
            "play", (1.0,), "mm", "1 mm", "between drawer and sleeve, in all", (0.5, 2.0), line(19)
        ),
        Size("thumb", (24.0,), "mm", "24 mm", "", None, line(20)),
        Size("border", (4.0,), "mm", "4 mm", "", None, line(21)),
    )
    claims = (
        Claim(
            "goes into",
            Target("object", "stack", size_mm=(120.0, 80.0, 20.0)),
            piece_target("drawer"),
            2.0,
            6.0,
            None,
            line(46),
        ),
        Claim(
            "slides on",
            piece_target("sleeve"),
            piece_target("drawer", ("closed",)),
            0.5,
            2.0,
            None,
            line(47),
        ),
    )
    spoken = line(54)
    body = (
        _paragraph(
            "Slide the drawer out by the thumb notch and the packets stand in a row.", line(12)
        ),
        Block("sizes", line(14)),
        Block("piece", line(24), name="drawer"),
        Block("piece", line(36), name="sleeve"),
        Block("piece", line(42), name="sleeve mat"),
        Block("fits", line(45)),
        Block(
            "caution",
            line(48),
            children=(_paragraph("Caution: a craft knife cuts skin as well as card.", line(48)),),
        ),
        _heading("Make it", 2, line(50)),
        _heading("Fold the drawer", 3, line(52)),
        Block(
            "paragraph",
            spoken,
            (
                Run("Turn it over. Fold the four walls up, then the tabs, each ", spoken),
                Run("12 mm (1/2 in)", spoken, spoken=True),
                Run(" deep.", spoken),
            ),
        ),
        Block("step", line(56), name="1"),
        _heading("Glue the corners", 3, line(63)),
        Block("step", line(65), name="2"),
        _heading("Mat and close the sleeve", 3, line(69)),
        _paragraph("The mat leaves an even border of card, also round the notches.", line(71)),
        Block("step", line(73), name="3"),
        _heading("Slide it together", 3, line(79)),
        Block("step", line(81), name="4"),
    )
    return Pattern(
        name="sliding-box",
        file=BOX_FILE,
        meta=Meta(
            title="Sliding box",
            summary="A drawer in a sleeve, for a stack of seed packets.",
            version="1.0.0",
            date="2026-11-25",
            edition="free",
            first_unit="mm",
            level="easy",
            time="40 min",
            licence="personal",
            author="Potting Shed Paper",
        ),
        sizes=sizes,
        pieces=(drawer(depth_mm), sleeve(depth_mm), sleeve_mat()),
        steps=sliding_box_steps(),
        claims=claims,
        body=body,
        objects={"stack": (120.0, 80.0, 20.0)},
    )


def envelope_steps() -> tuple[Step, ...]:
    def line(n: int) -> Span:
        return at(ENVELOPE_FILE, n)

    folds = ("left side", "right side")
    return (
        Step(
            1,
            "Score and fold the sides in",
            (
                _action("score", (piece_target("envelope"),), line(40)),
                _action("turn", (piece_target("envelope"),), line(41), "over"),
                _action("fold", parts("fold", "envelope", *folds), line(42)),
            ),
            line(39),
        ),
        Step(
            2,
            "Glue the bottom up",
            (
                _action("glue", parts("glue", "envelope", "strip 1", "strip 2"), line(48)),
                _action("fold", parts("fold", "envelope", "bottom flap"), line(49)),
            ),
            line(47),
        ),
        Step(
            3,
            "Close the flap",
            (_action("fold", parts("fold", "envelope", "top flap"), line(55)),),
            line(54),
        ),
    )


def envelope_pattern() -> Pattern:
    """The whole envelope."""

    def line(n: int) -> Span:
        return at(ENVELOPE_FILE, n)

    card = (148.0, 105.0, 1.0)
    return Pattern(
        name="envelope",
        file=ENVELOPE_FILE,
        meta=Meta(
            title="Envelope",
            summary="A plain envelope for a card.",
            version="1.0.0",
            date="2026-11-25",
            edition="free",
            first_unit="mm",
            level="easy",
            time="15 min",
            licence="personal",
            author="Potting Shed Paper",
        ),
        sizes=(
            Size("card size", card, "mm", "148 x 105 x 1 mm", "what it holds", None, line(14)),
            Size("side", (18.0,), "mm", "18 mm", "", None, line(15)),
            Size("strip", (10.0,), "mm", "10 mm", "glue", None, line(16)),
        ),
        pieces=(envelope(),),
        steps=envelope_steps(),
        claims=(
            Claim(
                "goes into",
                Target("object", "card size", size_mm=card),
                piece_target("envelope"),
                4.0,
                8.0,
                None,
                line(32),
            ),
        ),
        body=(
            _paragraph("One sheet, four folds, two strips of glue.", line(12)),
            Block("piece", line(22), name="envelope"),
            _heading("Make it", 2, line(35)),
            _heading("Score and fold the sides in", 3, line(37)),
            Block("step", line(39), name="1"),
            _heading("Glue the bottom up", 3, line(45)),
            Block("step", line(47), name="2"),
            _heading("Close the flap", 3, line(52)),
            Block("step", line(54), name="3"),
        ),
        objects={"card size": card},
    )
