"""The values of the model: flat pieces, steps, claims, and the document they stand in.

Flat coordinates: mm, origin at the top left of the piece's bounding box seen on its front
face, x right, y down. Names are as the author wrote them, lower case, single spaces.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Literal, TypeAlias

from msgspec import Struct, field

from publisher.diagnostics import Span
from publisher.geometry.measure import outline_bounds
from publisher.geometry.path import Path, Point, Region
from publisher.model.division import Division
from publisher.model.marked import Corner, Mark
from publisher.model.prose import Block
from publisher.trade import Cutting, Own, Stock
from publisher.units import Ruler

Face: TypeAlias = Literal["front", "back"]
Bend: TypeAlias = Literal["mountain", "valley"]


# ---------------------------------------------------------------- flat pieces


class Edge(Struct, frozen=True):
    """A straight edge of a panel, walked clockwise round the panel."""

    name: str
    start: Point
    end: Point


class Panel(Struct, frozen=True):
    """A named part of a piece, as designed: before notches were cut from it.

    ``ring`` is clockwise. ``edges`` are named ("top", "right", "bottom", "left" for a
    rectangle). ``meets`` is the edge that a tab glues to, as ("panel", "edge"), or None.
    """

    name: str
    kind: Literal["panel", "tab"]
    ring: tuple[Point, ...]
    edges: tuple[Edge, ...]
    span: Span
    meets: tuple[str, str] | None = None

    def edge(self, name: str) -> Edge:
        return next(e for e in self.edges if e.name == name)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x_min, y_min, x_max, y_max."""
        xs = [p[0] for p in self.ring]
        ys = [p[1] for p in self.ring]
        return (min(xs), min(ys), max(xs), max(ys))

    @property
    def width_mm(self) -> float:
        b = self.bounds
        return b[2] - b[0]

    @property
    def height_mm(self) -> float:
        b = self.bounds
        return b[3] - b[1]


class Fold(Struct, frozen=True):
    """Where two panels turn about each other.

    From ``start`` to ``end`` the ``parent`` lies on the right-hand side as seen (clockwise
    walk of the parent). ``closing_deg`` is how far the child travels when the piece closes:
    180 lies flat on the parent, 90 stands up. A mountain fold turns the back faces towards
    each other, a valley fold the front faces. ``smooth``: no line on the paper, which bends
    there. ``part_of``: the curved score of which it is a short straight part.
    """

    name: str
    start: Point
    end: Point
    bend: Bend
    closing_deg: float
    parent: str
    child: str
    span: Span
    smooth: bool = False
    part_of: str = ""


class Score(Struct, frozen=True):
    """A line to be scored, clipped to the paper. ``fold`` is the fold it serves, or None; where
    an opening interrupts a fold its later scores are named "FOLD part 2" and so on. A curved
    score serves no fold: paper bends along it and stays in one stretch. ``short_mm`` is how far
    from the paper's edge it stops on purpose."""

    name: str
    path: Path
    bend: Bend
    fold: str | None
    span: Span
    short_mm: float = 0.0


class Opening(Struct, frozen=True):
    """A window, notch, slit or line to tear along, as placed; ``path`` in piece coordinates.

    ``width_mm`` is along the edge (notch), across (window) or along the slit; ``depth_mm`` into
    the paper (notch), down (window) or 0 (slit). ``shape`` is
    the author's word: "rectangle", "circle", "half round", "square", "vee", "line".
    """

    name: str
    kind: Literal["window", "notch", "slit", "perforation"]
    shape: str
    path: Path
    panel: str | None
    width_mm: float
    depth_mm: float
    span: Span


class Island(Struct, frozen=True):
    """Paper that stays in a window, held by bridges; ``opening`` is the window's name.

    ``tips`` are its corners that point outwards, clockwise, each with its direction.
    """

    name: str
    shape: str
    region: Region
    opening: str
    panel: str | None
    tips: tuple[tuple[Point, Point], ...]
    width_mm: float
    height_mm: float
    span: Span


class Bridge(Struct, frozen=True):
    """A strip that holds an island: from paper to paper, as long as it takes for all its width
    to be paper at both ends. ``region`` is the strip within the window."""

    name: str
    island: str
    width_mm: float
    length_mm: float
    region: Region
    span: Span


class GlueZone(Struct, frozen=True):
    """Where adhesive goes. ``panel`` is the panel it lies in, None on an unpanelled piece.

    ``meets`` names what it sticks to where the design says so: (piece, panel).
    """

    name: str
    panel: str | None
    region: Region
    face: Face
    span: Span
    meets: tuple[str, str] | None = None


class Facet(Struct, frozen=True):
    """A rigid stretch of paper between scores, with its share of the outline, arcs kept.

    ``panel`` is the panel it belongs to. Where a panel is whole the facet has its name; the
    parts of a divided one are "PANEL part 1" and so on.
    """

    name: str
    panel: str
    region: Region


class Hinge(Struct, frozen=True):
    """Two facets that share a stretch of a fold; ``start``/``end`` oriented as the fold."""

    fold: str
    parent: str
    child: str
    start: Point
    end: Point


class Term(Struct, frozen=True):
    """One line of a sum: what, and how much (mm)."""

    what: str
    mm: float


class MatOf(Struct, frozen=True):
    """This piece is a layer on (or behind) a panel; borders by edge name of that panel, mm.

    ``offset`` is where the mat's own origin lies in the coordinates of the piece it sits on.
    """

    piece: str
    panel: str
    border_mm: float
    behind: bool
    offset: Point


class BandOf(Struct, frozen=True):
    """This piece goes round another one. ``loop_mm`` is the inside girth when closed."""

    piece: str
    state: tuple[str, ...]
    direction: Literal["across", "down"]
    body_mm: tuple[float, float, float]
    ease_mm: float
    loop_mm: float
    overlap_mm: float
    sum: tuple[Term, ...]


class Piece(Struct, frozen=True, dict=True):
    """One flat piece of paper and everything that is done to it before folding. What follows
    from it is kept beside its fields (see ``kept``)."""

    name: str
    stock: Stock
    copies: int
    outline: Region
    panels: tuple[Panel, ...]
    folds: tuple[Fold, ...]
    scores: tuple[Score, ...]
    openings: tuple[Opening, ...]
    glue_zones: tuple[GlueZone, ...]
    facets: tuple[Facet, ...]
    hinges: tuple[Hinge, ...]
    span: Span
    back_up: bool = False
    derived: MatOf | BandOf | None = None
    islands: tuple[Island, ...] = ()
    bridges: tuple[Bridge, ...] = ()
    corners: tuple[Corner, ...] = ()
    marks: tuple[Mark, ...] = ()
    divisions: tuple[Division, ...] = ()

    def panel(self, name: str) -> Panel:
        return next(p for p in self.panels if p.name == name)

    @cached_property
    def _folds(self) -> Mapping[str, Fold]:
        return {f.name: f for f in reversed(self.folds)}

    @cached_property
    def _facets(self) -> Mapping[str, Facet]:
        return {f.name: f for f in reversed(self.facets)}

    def fold(self, name: str) -> Fold:
        return self._folds[name]

    def facet(self, name: str) -> Facet:
        return self._facets[name]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x_min, y_min, x_max, y_max of the outline, arcs taken exactly."""
        return outline_bounds(self.outline.outer)


# ---------------------------------------------------------------- sizes


class Size(Struct, frozen=True):
    """A named size. ``values`` has one part, or two or three (width, height, depth).

    ``unit`` is "mm", "deg" or "" (a plain number). ``first_unit`` is the unit the author
    wrote first ("mm" or "in"), which prints first. ``range`` holds the stated limits.
    """

    name: str
    values: tuple[float, ...]
    unit: Literal["mm", "deg", ""]
    written: str
    note: str
    range: tuple[float, float] | None
    span: Span


# ---------------------------------------------------------------- steps


class Target(Struct, frozen=True):
    """What an action or a claim speaks of.

    ``kind`` "piece": the whole piece. "object": something from shared/objects.toml or a
    three-part size (``size_mm`` set). "made": something assembled and ``called``.
    ``copy`` counts from 1; 0 means every copy. ``part`` is the name of the part; an edge of a
    panel is "bottom of left wall". What is folded is a "fold", by its child panel's name.
    ``said`` is the part by the name that the author used where that is another one. A drawn
    or named line is an "edge" with its ends, ``line_mm``, in the piece's flat coordinates.
    """

    kind: Literal["piece", "panel", "fold", "edge", "opening", "island", "glue", "object", "made"]
    piece: str
    part: str = ""
    copy: int = 0
    state: tuple[str, ...] = ()
    size_mm: tuple[float, float, float] | None = None
    span: Span | None = None
    said: str = ""
    line_mm: tuple[Point, Point] | None = None


class Action(Struct, frozen=True):
    """One line of a step fence. ``relation`` joins subjects to objects: "to", "into", "on",
    "around", "over", "under", "through", "behind", or "" where there is no object.

    ``verb`` is the head ("fold", "glue", "turn", ...). ``angle_deg`` overrides a fold's own
    closing angle. ``called`` names the result. ``length_mm`` is how far something is pulled or
    with which radius it is curled; ``words`` are plain words of the line ("across", "valley").
    ``seconds`` is how long something is held or dries; ``note`` says with what it is coloured
    or stamped; ``pad`` is on what something is mounted.
    """

    verb: str
    subjects: tuple[Target, ...]
    relation: str
    objects: tuple[Target, ...]
    angle_deg: float | None
    called: str
    face: Face | None
    span: Span
    length_mm: float | None = None
    words: tuple[str, ...] = ()
    seconds: float | None = None
    note: str = ""
    pad: Target | None = None


class Step(Struct, frozen=True):
    """One step fence. ``title`` is the heading it stands under; numbers count from 1."""

    number: int
    title: str
    actions: tuple[Action, ...]
    span: Span


class Claim(Struct, frozen=True):
    """One line of a fits fence. ``verb`` as written ("goes into", "slides on", ...).

    ``least_mm`` and ``most_mm`` bound what is to spare; None where not stated. ``size_mm``
    is what "closes to" compares with. ``word`` is the kind of post of "mails as".
    """

    verb: str
    subject: Target
    object: Target | None
    least_mm: float | None
    most_mm: float | None
    size_mm: tuple[float, ...] | None
    span: Span
    word: str = ""


# ---------------------------------------------------------------- the document


class Meta(Struct, frozen=True):
    """Validated front matter. ``date`` is ISO 8601; ``first_unit`` prints first. ``sheet`` is
    the sheet size that pieces are laid on, "" for the one their stock is sold as; ``cutting``
    what is chosen about it and the cut files; ``own`` about the checks, at ``own_places``.
    ``chosen`` are lengths that are printed otherwise than by rounding, as in ``Ruler``."""

    title: str
    summary: str
    version: str
    date: str
    edition: Literal["free", "patrons"]
    first_unit: Literal["mm", "in"]
    level: Literal["easy", "medium", "hard"]
    time: str
    licence: str
    author: str = ""
    sheet: str = ""
    cutting: Cutting = Cutting()
    own: Own = Own()
    own_places: tuple[Span, ...] = ()
    chosen: tuple[tuple[Literal["mm", "in"], float, float], ...] = ()

    @property
    def ruler(self) -> Ruler:
        """How lengths that a maker measures are printed."""
        return Ruler(self.first_unit, self.chosen)


class Pattern(Struct, frozen=True):
    """A whole pattern, evaluated. ``name`` is the folder's name, ``file`` the shown path.
    ``variant`` is the one that it is built as, "" for the sizes as they are written."""

    name: str
    file: str
    meta: Meta
    sizes: tuple[Size, ...]
    pieces: tuple[Piece, ...]
    steps: tuple[Step, ...]
    claims: tuple[Claim, ...]
    body: tuple[Block, ...]
    objects: Mapping[str, tuple[float, float, float]] = field(default_factory=dict)
    variant: str = ""

    def piece(self, name: str) -> Piece:
        return next(p for p in self.pieces if p.name == name)
