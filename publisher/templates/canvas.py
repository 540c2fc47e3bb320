"""A page in the making: lines, areas and words in mm, each tagged or marked as decoration."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager

from msgspec import Struct, field

from publisher.cutfiles.pdf import cubics
from publisher.cutfiles.pdf_file import pdf_text
from publisher.geometry.measure import Bounds
from publisher.geometry.path import Arc, Path, Point, polygon
from publisher.templates.faces import FaceName, Line, shaped
from publisher.units import MM_PER_POINT

DECIMALS = 4


class Node(Struct):
    """An element of the structure: its type, its words where it is a figure, its box in PDF
    units, and what is in it: numbers of marked content, or elements. ``attributes`` as PDF."""

    kind: str
    alt: str = ""
    attributes: str = ""
    kids: list[Node | int] = field(default_factory=list)


class Image(Struct, frozen=True):
    """A picture as it goes into a PDF: samples or a whole JPEG, ``packing`` its filter, eight
    bits a sample, ``colours`` DeviceRGB or DeviceGray. ``name`` is made from the data."""

    name: str
    width_px: int
    height_px: int
    colours: str
    packing: str
    data: bytes


class Canvas:
    """One page, ``width_mm`` x ``height_mm``. Origin top left, y down."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.width_mm, self.height_mm = width_mm, height_mm
        self.ops: list[str] = []
        self.lines: list[Line] = []
        self.layers: dict[str, None] = {}
        self.images: dict[str, Image] = {}
        self.top = Node("Sect")
        self._open = [self.top]
        self._marked = 0
        self._inside = False

    # -- structure

    @contextmanager
    def element(self, kind: str, attributes: str = "") -> Iterator[None]:
        """An element that holds others."""
        node = Node(kind, attributes=attributes)
        self._open[-1].kids.append(node)
        self._open.append(node)
        try:
            yield
        finally:
            self._open.pop()

    @contextmanager
    def tagged(
        self, kind: str, alt: str = "", box: Bounds | None = None, attributes: str = ""
    ) -> Iterator[None]:
        """An element with what is drawn inside; a figure has words and a box."""
        if box is not None:
            sides = (box[0], self.height_mm - box[3], box[2], self.height_mm - box[1])
            numbers = " ".join(_pt(s) for s in sides)
            attributes = f"<</O /Layout /BBox [{numbers}] /Placement /Block>>"
        node = Node(kind, alt, attributes, [self._marked])
        self._open[-1].kids.append(node)
        self.ops.append(f"/{kind} <</MCID {self._marked}>> BDC")
        self._marked += 1
        yield from self._drawn()

    @contextmanager
    def artifact(self) -> Iterator[None]:
        """Decoration, or what is said elsewhere."""
        self.ops.append("/Artifact BMC")
        yield from self._drawn()

    def _drawn(self) -> Iterator[None]:
        if self._inside:
            raise ValueError("marked content stands side by side")
        self._inside = True
        try:
            yield
        finally:
            self._inside = False
            self.ops.append("EMC")

    @contextmanager
    def marked(self, tag: str, id: str) -> Iterator[None]:
        """Content that a reader finds again by its id."""
        self.ops.append(f"/{tag} <</Id {pdf_text(id)}>> BDC")
        yield
        self.ops.append("EMC")

    @contextmanager
    def layer(self, name: str) -> Iterator[None]:
        """Lines that can be shown or hidden together."""
        self.layers[name] = None
        self.ops.append(f"/OC /{name} BDC")
        yield
        self.ops.append("EMC")

    @contextmanager
    def clipped(self, box: Bounds) -> Iterator[None]:
        """Nothing outside of the box is seen."""
        x, y = box[0], self.height_mm - box[3]
        size = f"{_pt(box[2] - box[0])} {_pt(box[3] - box[1])}"
        self.ops.append(f"q {_pt(x)} {_pt(y)} {size} re W n")
        yield
        self.ops.append("Q")

    @contextmanager
    def within(self, rings: Iterable[Path]) -> Iterator[None]:
        """Nothing is seen but inside the rings, by the even-odd rule."""
        self.ops.append("q")
        for ring in rings:
            self._path(ring)
            self.ops.append("h")
        self.ops.append("W* n")
        yield
        self.ops.append("Q")

    @contextmanager
    def turned(self, about: Point, turn_deg: float) -> Iterator[None]:
        """What is drawn is turned clockwise about a point, by quarter turns."""
        c, s = ((1, 0), (0, 1), (-1, 0), (0, -1))[round(turn_deg / 90.0) % 4]
        x, y = about[0] / MM_PER_POINT, (self.height_mm - about[1]) / MM_PER_POINT
        shift = f"{x - c * x - s * y:.4f} {y + s * x - c * y:.4f}"
        self.ops.append(f"q {c} {-s} {s} {c} {shift} cm")
        yield
        self.ops.append("Q")

    # -- ink

    def colour(self, colour: str) -> None:
        """What ``paint`` and ``dots`` use from here on: a colour such as #e3d2b0."""
        parts = " ".join(_short(int(colour[n : n + 2], 16) / 255) for n in (1, 3, 5))
        self.ops.append(f"{parts} rg {parts} RG")

    def paint(self, box: Bounds) -> None:
        """A box in the colour that was chosen."""
        x, y = box[0], self.height_mm - box[3]
        self.ops.append(f"{_pt(x)} {_pt(y)} {_pt(box[2] - box[0])} {_pt(box[3] - box[1])} re f")

    def dots(self, centres: Iterable[Point], radius_mm: float) -> None:
        """Dots in the colour that was chosen: lines of no length with round ends."""
        self.ops.append(f"{_pt(2 * radius_mm)} w 1 J [] 0 d")
        for centre in centres:
            at = self._point(centre)
            self.ops.append(f"{at} m {at} l")
        self.ops.append("S")

    def image(self, image: Image, box: Bounds) -> None:
        """A picture that fills a box."""
        self.images[image.name] = image
        x, y = box[0], self.height_mm - box[3]
        size = f"{_pt(box[2] - box[0])} 0 0 {_pt(box[3] - box[1])}"
        self.ops.append(f"q {size} {_pt(x)} {_pt(y)} cm /{image.name} Do Q")

    def stroke(
        self,
        paths: Iterable[Path],
        width_mm: float,
        dash_mm: Sequence[float] = (),
        grey: float = 0.0,
        round_ends: bool = False,
    ) -> None:
        """Lines; ``grey`` is 0 for black, 1 for white."""
        dashes = " ".join(_pt(mm) for mm in dash_mm)
        cap = 1 if round_ends else 0
        self.ops.append(f"{_short(grey)} G {_pt(width_mm)} w {cap} J [{dashes}] 0 d")
        for path in paths:
            self._path(path)
            self.ops.append("s" if path.closed else "S")

    def fill(self, paths: Iterable[Path], grey: float = 0.0) -> None:
        """Areas by the even-odd rule."""
        self.ops.append(f"{_short(grey)} g")
        for path in paths:
            self._path(path)
            self.ops.append("h")
        self.ops.append("f*")

    def _path(self, path: Path) -> None:
        self.ops.append(f"{self._point(path.start)} m")
        for index, segment in enumerate(path.segments):
            if isinstance(segment, Arc):
                for cubic in cubics(segment):
                    self.ops.append(" ".join(self._point(p) for p in cubic) + " c")
            elif not (path.closed and index == len(path.segments) - 1):
                self.ops.append(f"{self._point(segment.end)} l")

    def _point(self, point: Point) -> str:
        return f"{_pt(point[0])} {_pt(self.height_mm - point[1])}"

    # -- words

    def line(
        self,
        line: Line,
        at: Point,
        anchor: str = "start",
        turn_deg: float = 0.0,
        grey: float = 0.0,
    ) -> None:
        """A line with its baseline's start, middle or end at a point; turned by 0 or -90."""
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * line.width_mm
        x, y = (at[0], at[1] + share) if turn_deg else (at[0] - share, at[1])
        turn = "0 1 -1 0" if turn_deg else "1 0 0 1"
        self.lines.append(line)
        self.ops.append(
            f"BT {_short(grey)} g /{line.face} {_short(line.size_pt)} Tf "
            f"{turn} {self._point((x, y))} Tm {_shown(line)} TJ ET"
        )

    def words(
        self,
        text: str,
        at: Point,
        face: FaceName = "text",
        size_pt: float = 9.0,
        anchor: str = "start",
        turn_deg: float = 0.0,
        grey: float = 0.0,
    ) -> None:
        """A line of plain words."""
        self.line(shaped(text, face, size_pt), at, anchor, turn_deg, grey)


def rectangle(box: Bounds) -> Path:
    """A closed path round the box, clockwise from its top left."""
    x0, y0, x1, y1 = box
    return polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def _shown(line: Line) -> str:
    parts = ["["]
    run = ""
    for glyph in line.glyphs:
        run += f"{glyph.number:04X}"
        shift = glyph.width - glyph.advance
        if abs(shift) > 0.05:
            parts.append(f"<{run}>{_short(shift)}")
            run = ""
    if run:
        parts.append(f"<{run}>")
    return "".join(parts) + "]"


def _pt(mm: float) -> str:
    return _plain(f"{mm / MM_PER_POINT:.{DECIMALS}f}")


def _short(value: float) -> str:
    return _plain(f"{value:.3f}")


def _plain(text: str) -> str:
    """Without needless zeros; written for thousands of figures, so without more ado."""
    text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
