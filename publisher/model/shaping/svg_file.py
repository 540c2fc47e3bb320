"""The lines of an SVG file, made safe: shapes alone, nothing that acts or comes from elsewhere.

The tree is read by the standard library, path data, shapes and transforms by svgelements.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

from msgspec import Struct

from publisher.geometry.measure import bounds_of
from publisher.geometry.path import Point

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

MOST_BYTES = 1_000_000
MOST_NODES = 2000
"""More corners and curves than a cutter should follow in one drawing."""
MOST_DEEP = 40

SHAPES = frozenset({"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"})
GROUPS = frozenset({"svg", "g", "a", "switch"})
PASSED_OVER = frozenset({"title", "desc", "metadata", "defs", "style", "namedview"})
"""Words about the drawing, and what only says how it looks."""
WORDS = frozenset({"text", "tspan", "textPath", "flowRoot"})

_FIGURES = frozenset(
    ("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2")
)
_FIGURE = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?(px|mm|cm|in|pt|pc|%)?")
_DATA = re.compile(r"[-+.,eE\d\sMmLlHhVvCcSsQqTtAaZz]*")

Step: TypeAlias = tuple[Literal["line", "quadratic", "cubic", "arc"], tuple[Point, ...], bool]
"""A line or curve with its points; of an arc start, end and centre, and whether clockwise."""


class SvgError(ValueError):
    """Why a file cannot be used; ``code`` is that of the finding."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code


class SvgLine(Struct, frozen=True):
    """One line of a drawing in the drawing's own units, y down; ``names`` are those of its
    element and of the groups round it."""

    names: frozenset[str]
    steps: tuple[Step, ...]
    closed: bool
    element: int
    even_odd: bool


class SvgDrawing(Struct, frozen=True):
    """All lines in the file's order; ``box`` is x_min, y_min, x_max, y_max of them all."""

    lines: tuple[SvgLine, ...]
    box: tuple[float, float, float, float]
    names: tuple[str, ...]


@lru_cache(maxsize=16)
def read_svg(data: bytes) -> SvgDrawing:
    """Every visible line. Raises ``SvgError``."""
    from xml.etree import ElementTree  # only a pattern with a drawing needs it

    if len(data) > MOST_BYTES:
        raise SvgError("drawing-too-large", f"it has more than {MOST_BYTES // 1000} kB")
    if b"<!ENTITY" in data:
        raise SvgError("drawing-not-allowed", "it has entities, which stand for other text")
    try:
        root = ElementTree.fromstring(data)
    except (ElementTree.ParseError, ValueError, LookupError):
        raise SvgError("drawing-unreadable", "it is no whole SVG file") from None
    if _tag(root) != "svg":
        raise SvgError("drawing-unreadable", f"it begins with ‘{_tag(root)}’, not with ‘svg’")
    walk = _Walk()
    walk.element(root, frozenset(), None, 0)
    if not walk.lines:
        raise SvgError("drawing-empty", "nothing is drawn in it")
    return SvgDrawing(tuple(walk.lines), bounds_of(walk.boxes), tuple(sorted(walk.names)))


def _tag(element: Element) -> str:
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


class _Walk:
    def __init__(self) -> None:
        self.lines: list[SvgLine] = []
        self.boxes: list[tuple[float, float, float, float]] = []
        self.names: set[str] = set()
        self.nodes = 0
        self.count = 0

    def element(self, element: Element, names: frozenset[str], matrix: Any, deep: int) -> None:
        tag = _tag(element)
        _refuse_what_acts(element, tag)
        if tag in PASSED_OVER or not tag:
            for inner in element.iter():
                _refuse_what_acts(inner, _tag(inner))
            return
        if deep > MOST_DEEP:
            raise SvgError("drawing-too-large", "its groups lie too deep in each other")
        if not _is_seen(element):
            return
        own = _names(element)
        self.names |= own
        names |= own
        matrix = _times(element, matrix)
        if tag in GROUPS and not (tag == "svg" and deep):
            for inner in element:
                self.element(inner, names, matrix, deep + 1)
        elif tag in SHAPES:
            self._shape(element, tag, names, matrix)
        else:
            raise SvgError("drawing-not-allowed", f"it has ‘{tag}’, which cannot be cut or drawn")

    def _shape(self, element: Element, tag: str, names: frozenset[str], matrix: Any) -> None:
        self.count += 1
        path = _path_of(element, tag)
        if matrix is not None:
            path *= matrix
            path.reify()
        even_odd = _style(element, "fill-rule") == "evenodd"
        for run in path.as_subpaths():
            steps, closed = _steps(run)
            if not steps:
                continue
            self.nodes += len(steps)
            if self.nodes > MOST_NODES:
                raise SvgError(
                    "drawing-too-large", f"it has more than {MOST_NODES} corners and curves"
                )
            ends_meet = steps[0][1][0] == _end(steps[-1])
            self.lines.append(
                SvgLine(names, tuple(steps), closed or ends_meet, self.count, even_odd)
            )
            self.boxes.append(type(path)(run).bbox())


def _refuse_what_acts(element: Element, tag: str) -> None:
    if tag in ("script", "foreignObject", "image", "use", "symbol", "iframe", "animate", "set"):
        why = {
            "script": "a script",
            "image": "a picture made of dots",
            "use": "lines that are used again (‘use’); draw them out",
            "symbol": "lines that are used again (‘symbol’); draw them out",
        }.get(tag, f"‘{tag}’")
        raise SvgError("drawing-not-allowed", f"it has {why}")
    if tag in WORDS:
        raise SvgError(
            "drawing-has-words", "it has words; turn them into outlines where you drew it"
        )
    for name, value in element.attrib.items():
        plain = name.rpartition("}")[2].lower()
        if plain.startswith("on"):
            raise SvgError("drawing-not-allowed", f"it has a script (‘{plain}’)")
        if plain in ("href", "src") and not value.startswith("#"):
            raise SvgError("drawing-not-allowed", "it speaks of another file or address")
        _refuse_addresses(value)
    if tag == "style":
        text = element.text or ""
        if "@import" in text:
            raise SvgError("drawing-not-allowed", "it speaks of another file or address")
        _refuse_addresses(text)


def _refuse_addresses(text: str) -> None:
    at = text.find("url(")
    while at >= 0:
        if not text[at + 4 :].lstrip(" \"'").startswith("#"):
            raise SvgError("drawing-not-allowed", "it speaks of another file or address")
        at = text.find("url(", at + 4)


def _names(element: Element) -> frozenset[str]:
    """Its id, and the name that a layer was given."""
    found = {"id", "label"}
    named = (v for k, v in element.attrib.items() if k.rpartition("}")[2] in found)
    return frozenset(" ".join(v.lower().split()) for v in named if v.strip())


def _style(element: Element, name: str) -> str:
    for part in element.get("style", "").split(";"):
        key, _, value = part.partition(":")
        if key.strip() == name:
            return value.strip()
    return element.get(name, "").strip()


def _is_seen(element: Element) -> bool:
    return _style(element, "display") != "none" and _style(element, "visibility") != "hidden"


# ---------------------------------------------------------------- svgelements


def _times(element: Element, matrix: Any) -> Any:
    from svgelements import Matrix

    said = element.get("transform")
    if not said:
        return matrix
    try:
        own = Matrix(said)
    except (ValueError, IndexError, TypeError, AttributeError):
        raise SvgError("drawing-unreadable", f"its transform ‘{said[:40]}’ means nothing") from None
    return own if matrix is None else own * matrix


def _path_of(element: Element, tag: str) -> Any:
    import svgelements as svg

    kinds = {
        "rect": svg.Rect,
        "circle": svg.Circle,
        "ellipse": svg.Ellipse,
        "line": svg.SimpleLine,
        "polyline": svg.Polyline,
        "polygon": svg.Polygon,
    }
    if not all(_is_figure(k, v) for k, v in element.attrib.items()):
        raise SvgError("drawing-unreadable", f"its ‘{tag}’ has figures that mean nothing")
    try:
        if tag == "path":
            return svg.Path(element.get("d", ""))
        values = {k: v for k, v in element.attrib.items() if k != "transform" and "}" not in k}
        return svg.Path(kinds[tag](values))
    except Exception:  # the reader was not made for every text
        raise SvgError("drawing-unreadable", f"its ‘{tag}’ has figures that mean nothing") from None


def _is_figure(name: str, value: str) -> bool:
    if name in ("d", "points"):
        return _DATA.fullmatch(value) is not None
    return name not in _FIGURES or _FIGURE.fullmatch(value.strip()) is not None


def _steps(run: Any) -> tuple[list[Step], bool]:
    """What the pen does along one subpath, and whether it is closed."""
    import svgelements as svg

    steps: list[Step] = []
    closed = False
    for segment in run:
        if isinstance(segment, svg.Move):
            continue
        closed = closed or isinstance(segment, svg.Close)
        if segment.start is None or segment.end is None:
            continue
        start, end = _point(segment.start), _point(segment.end)
        if isinstance(segment, (svg.Line, svg.Close)):
            if start != end:
                steps.append(("line", (start, end), False))
        elif isinstance(segment, svg.QuadraticBezier):
            steps.append(("quadratic", (start, _point(segment.control), end), False))
        elif isinstance(segment, svg.CubicBezier):
            controls = (_point(segment.control1), _point(segment.control2))
            steps.append(("cubic", (start, *controls, end), False))
        else:
            steps += _arc(segment)
    return steps, closed


def _arc(arc: Any) -> Iterator[Step]:
    """A circle's arc as it is; an ellipse's as cubic curves of an eighth of a turn at most,
    which lie within 5 millionths of their radius."""
    turn = abs(float(arc.sweep))
    if abs(arc.rx - arc.ry) <= 1e-9 * max(arc.rx, arc.ry) and 1e-9 < turn < 6.28:
        points = (_point(arc.start), _point(arc.end), _point(arc.center))
        yield ("arc", points, float(arc.sweep) > 0.0)
        return
    for curve in arc.as_cubic_curves(max(1, round(turn / 0.785 + 0.499))):
        points4 = (curve.start, curve.control1, curve.control2, curve.end)
        yield ("cubic", tuple(_point(p) for p in points4), False)


def _point(point: Any) -> Point:
    x, y = float(point[0]), float(point[1])
    if not (abs(x) < 1e9 and abs(y) < 1e9):
        raise SvgError("drawing-unreadable", "its figures are no figures, or without end")
    return (x, y)


def _end(step: Step) -> Point:
    return step[1][1] if step[0] == "arc" else step[1][-1]
