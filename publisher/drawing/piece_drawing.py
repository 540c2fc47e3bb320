"""A piece as it lies flat on its front face, to a stated scale, with its sizes in both units."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from publisher.drawing.flat.alt import part_of, piece_alt
from publisher.drawing.flat.blocks import LEADING_MM, SIZE_PT, figure_blocks
from publisher.drawing.flat.board import Board, Box, Span, grown
from publisher.drawing.flat.dimensioning import Placed, Wish, place, tick_box
from publisher.drawing.flat.leaders import Led, lead
from publisher.drawing.flat.lengths import Across, Measure, Pointed
from publisher.drawing.flat.measures import in_turn, measures_of
from publisher.drawing.flat.naming import place_name
from publisher.drawing.flat.part_measures import panel_beneath
from publisher.drawing.flat.scaling import DENOMINATORS, Scale, mapped
from publisher.drawing.flat.scene import (
    area_box,
    moved,
    points_box,
    rings_of,
    span_box,
    span_path,
)
from publisher.drawing.signs import in_legend_order
from publisher.drawing.text import cap_height_mm, label_corners
from publisher.drawing.types import Drawing, Fill, Item, Label, LineRole, Stroke
from publisher.geometry.flatten import flattened
from publisher.geometry.measure import bounds_of
from publisher.geometry.path import Path, Point, Region, circle
from publisher.geometry.shapely_bridge import path_to_shapely, to_shapely
from publisher.model.types import Pattern, Piece

ROOM_MM = (165.0, 122.0)
"""The largest drawing, white space included; at the smallest scale it may grow beyond."""

PAD_MM = 6.0
_GLUE_INSET_MM = 0.55
_LEAST_MM = (12.0, 11.0)  # what the overall sizes and the note take at least
_MOST_SPOTS = 4  # of one measure, among which a place is looked for

# What a leader says of a length that no line shows.
WORDS = {
    "tab": {"x": "deep", "y": "deep"},
    "edge": {"x": "long", "y": "long"},
    "glue": {"x": "wide", "y": "wide"},
    "window": {"x": "wide", "y": "high"},
    "border": {"x": "border", "y": "border"},
}


def draw_piece(pattern: Pattern, piece: Piece, largest: float = 1.0) -> Drawing:
    """The flat piece with scores, openings, glue zones, names and dimensions.

    The scale is the largest of 1:1, 1:2, 1:2.5, 1:3, 1:4, 1:5, 1:7.5, 1:10 at which the whole
    drawing stays within ``ROOM_MM``, and no larger than ``largest`` (paper mm per model mm, for
    pieces that are to be drawn alike). Every measure of the piece is there once.
    """
    bounds = piece.bounds
    drawing = None
    for denominator in DENOMINATORS:
        scale = Scale(denominator, (bounds[0], bounds[1]))
        width, height = scale.point((bounds[2], bounds[3]))
        last = denominator == DENOMINATORS[-1]
        least = (width + 2 * PAD_MM + _LEAST_MM[0], height + 2 * PAD_MM + _LEAST_MM[1])
        if not last and 1.0 / denominator > largest + 1e-9:
            continue
        if not last and (least[0] > ROOM_MM[0] or least[1] > ROOM_MM[1]):
            continue
        drawing = _Sheet(pattern, piece, scale).drawing()
        if drawing.width_mm <= ROOM_MM[0] and drawing.height_mm <= ROOM_MM[1]:
            break
    assert drawing is not None
    return drawing


class _Sheet:
    """One try at one scale. Coordinates are mm on paper with the piece's top left at (0, 0)."""

    def __init__(self, pattern: Pattern, piece: Piece, scale: Scale) -> None:
        self.pattern, self.piece, self.scale = pattern, piece, scale
        outline = piece.outline
        self.rings = tuple(scale.path(p) for p in (outline.outer, *outline.holes))
        self.paper = to_shapely(outline)
        self.paper = shapely.affinity.affine_transform(self.paper, self._matrix())
        self.ghost = self._ghost()
        self.scores = [(s, scale.path(s.path)) for s in piece.scores]
        self.zones = [(z, self._inset(z.region)) for z in piece.glue_zones]
        slits = [scale.path(o.path) for o in piece.openings if o.kind == "slit"]
        self.tears = [scale.path(o.path) for o in piece.openings if o.kind == "perforation"]
        self.marks = [(m, tuple(scale.path(p) for p in m.paths)) for m in piece.marks]
        marked = [p for _, paths in self.marks for p in paths]
        drawn = (*self.rings, *slits, *self.tears, *marked, *self.ghost)
        lines: list[BaseGeometry] = [path_to_shapely(p) for p in drawn]
        lines += [path_to_shapely(p) for _, p in self.scores]
        covered: BaseGeometry = self.paper
        for ring in self.ghost:
            covered = covered.union(shapely.make_valid(shapely.Polygon(flattened(ring))))
        self.slits = slits
        borders = shapely.union_all([area.boundary for _, area in self.zones])
        self.board = Board(self.paper, covered, shapely.union_all(lines), borders)
        self.names: list[Label] = []
        self.found: list[tuple[Measure, Placed | Led]] = []
        self.left: list[Measure] = []

    def _matrix(self) -> list[float]:
        k, (x, y) = self.scale.factor, self.scale.origin
        return [k, 0.0, 0.0, k, -x * k, -y * k]

    def _ghost(self) -> tuple[Path, ...]:
        """The outline of the panel that a mat lies on or behind."""
        beneath = panel_beneath(self.pattern, self.piece)
        if beneath is None:
            return ()
        other, panel, (dx, dy) = beneath
        facets = [f for f in other.facets if f.panel == panel]
        return tuple(
            mapped(f.region.outer, lambda p: self.scale.point((p[0] - dx, p[1] - dy)))
            for f in facets
        )

    # -- finding places

    def drawing(self) -> Drawing:
        self._name_panels()
        for measure in in_turn(measures_of(self.pattern, self.piece)):
            self._place(measure)
        boxes = [*self.board.labels, area_box(self.board.covered)]
        boxes += [span_box(s) for s in (*self.board.dimensions, *self.board.extensions)]
        return self._assembled(bounds_of(boxes))

    def _name_panels(self) -> None:
        for panel in sorted(self.piece.panels, key=lambda p: p.kind == "tab"):
            parts = [to_shapely(f.region) for f in self.piece.facets if f.panel == panel.name]
            if not parts:
                continue
            largest = max(parts, key=lambda g: g.area)
            area = shapely.affinity.affine_transform(largest, self._matrix())
            label = place_name(self.board, area, panel.name, f"name-{panel.name}")
            if label is not None:
                self.names.append(label)

    def _box(self, box: Box) -> Box:
        return (*self.scale.point((box[0], box[1])), *self.scale.point((box[2], box[3])))

    def _place(self, measure: Measure) -> None:
        ruler = self.pattern.meta.ruler
        placed: Placed | Led | None
        if isinstance(measure, Pointed):
            anchors = [(self.scale.point(a.at), a.towards) for a in measure.anchors]
            anchors = anchors[: 2 * _MOST_SPOTS]
            placed = lead(self.board, anchors, figure_blocks(measure.lengths, ruler))
        else:
            blocks = figure_blocks(((measure.mm, ""),), ruler)
            spots = [self._box(s) for s in measure.spots[:_MOST_SPOTS]]
            placed = place(self.board, measure.axis, spots, blocks, self._wish(measure))
            if placed is None and measure.what == "place":  # past what stands in its way
                placed = place(self.board, measure.axis, spots, blocks, Wish(1))
            placed = placed or self._led(measure, spots)
        if placed is None:
            self.left.append(measure)
        else:
            self.found.append((measure, placed))

    def _led(self, measure: Across, spots: list[Box]) -> Led | None:
        """A small part that has no room for a line across it: a leader to its edge."""
        word = WORDS.get(measure.what, {}).get(measure.axis)
        if word is None:
            return None
        anchors: list[tuple[Point, Point]] = []
        for x0, y0, x1, y1 in spots:
            x, y = (x0 + x1) / 2, (y0 + y1) / 2
            anchors += [((x1, y), (1.0, 0.0)), ((x0, y), (-1.0, 0.0))]
            anchors += [((x, y1), (0.0, 1.0)), ((x, y0), (0.0, -1.0))]
        blocks = figure_blocks(((measure.mm, word),), self.pattern.meta.ruler)
        return lead(self.board, anchors[: 2 * _MOST_SPOTS], blocks)

    def _wish(self, measure: Across) -> Wish:
        chain = -1 if measure.axis == "y" else 1
        if measure.what == "overall":
            has_chain = any(
                isinstance(m, Across) and m.what == "panel" and m.axis == measure.axis
                for m, _ in self.found
            )
            return Wish(-chain if has_chain else chain)
        if measure.what == "panel":
            return Wish(chain)
        if measure.what in ("tab", "edge"):
            return Wish(chain, near=True)
        return Wish(-chain, inside=True)

    # -- drawing

    def _notes(self, left: float, bottom: float) -> list[Label]:
        """Lines under the drawing: face and scale, and measures that found no place in it."""
        lines = [f"front face, {self.scale.spoken}"]
        beneath = panel_beneath(self.pattern, self.piece)
        if beneath is not None:
            lines[0] += f"; broken line: {part_of(beneath[1], beneath[0].name)}"
        ruler = self.pattern.meta.ruler
        for measure in self.left:
            lengths = ((measure.mm, ""),) if isinstance(measure, Across) else measure.lengths
            lines.append(f"{measure.name}: {', '.join(figure_blocks(lengths, ruler)[0].lines)}")
        top = bottom + 2.5 + cap_height_mm(SIZE_PT)
        return [
            Label(text, (left, top + LEADING_MM * n), SIZE_PT, "start", id=f"note-{n + 1}")
            for n, text in enumerate(lines)
        ]

    def _assembled(self, box: Box) -> Drawing:
        piece, scale = self.piece, self.scale
        dx, dy = PAD_MM - box[0], PAD_MM - box[1]
        notes = self._notes(box[0], box[3])
        whole = bounds_of([box, *(points_box(label_corners(n)) for n in notes)])
        items = [*self._paper_items(), *self._dimension_items(), *self.names, *notes]
        return Drawing(
            name=piece.name,
            width_mm=whole[2] - whole[0] + 2 * PAD_MM,
            height_mm=whole[3] - whole[1] + 2 * PAD_MM,
            items=tuple(moved(item, dx, dy) for item in items),
            scale=scale.factor,
            signs=self._signs(),
            alt=piece_alt(self.pattern, piece, scale),
        )

    def _paper_items(self) -> list[Item]:
        piece = self.piece
        stock = piece.stock.name
        items: list[Item] = [Fill("front", self.rings, stock, id="paper")]
        clear = self._kept_clear()
        if piece.stock.patterned:
            items.append(Fill("pattern", rings_of(self.paper.difference(clear)), stock))
        for zone, area in self.zones:
            rings = rings_of(area.difference(clear))
            if zone.face == "front":
                items.append(Fill("glue", rings, stock, id=f"glue-{zone.name}"))
            else:
                items.append(
                    Fill("glue-through", rings, stock, id=f"glue-{zone.name}", hatch_deg=-45.0)
                )
        for ring in self.ghost:
            items.append(Stroke("ghost", (ring,), id="beneath"))
        for score, path in self.scores:
            items.append(Stroke(score.bend, (path,), id=f"score-{score.name}"))
        for mark, paths in self.marks:
            items.append(Stroke("engrave", paths, id=f"{mark.kind}-{mark.name}"))
        if self.tears:
            items.append(Stroke("perforation", tuple(self.tears), id="perforations"))
        if self.slits:
            items.append(Stroke("slit", tuple(self.slits), id="slits"))
        items.append(Stroke("outline", self.rings, id="outline"))
        for zone, area in self.zones:
            role: LineRole = "glue-border" if zone.face == "front" else "hidden"
            items.append(Stroke(role, rings_of(area), id=f"glue-border-{zone.name}"))
        return items

    def _inset(self, region: Region) -> BaseGeometry:
        """A glue zone on paper, a hair away from outlines and scores, so that all are seen."""
        area = shapely.affinity.affine_transform(to_shapely(region), self._matrix())
        near = shapely.box(*grown(area_box(area), 2 * _GLUE_INSET_MM))
        paths = (*self.rings, *(p for _, p in self.scores))
        lines = shapely.union_all([path_to_shapely(p).intersection(near) for p in paths])
        return area.difference(lines.buffer(_GLUE_INSET_MM, join_style="mitre", quad_segs=4))

    def _kept_clear(self) -> BaseGeometry:
        """Where hatch and pattern make way for words and lines."""
        areas: list[BaseGeometry] = [shapely.box(*grown(b, 0.4)) for b in self.board.labels]
        spans = (*self.board.dimensions, *self.board.leaders)
        areas += [shapely.LineString(s).buffer(0.6) for s in spans]
        return shapely.union_all(areas)

    def _dimension_items(self) -> list[Item]:
        items: list[Item] = []
        for number, (measure, placed) in enumerate(self.found, 1):
            stem = f"{measure.what}-{number}"
            if isinstance(placed, Led):
                items.append(Stroke("leader", (span_path(placed.leader),), id=f"{stem}-leader"))
                items.append(Fill("sign", (circle(placed.leader[0], 0.45),), id=f"{stem}-foot"))
            else:
                if placed.extensions:
                    lines = tuple(span_path(s) for s in placed.extensions)
                    items.append(Stroke("extension", lines, id=f"{stem}-extension"))
                lines = tuple(span_path(s) for s in (*placed.line, *map(_tick, placed.ends)))
                items.append(Stroke("dimension", lines, id=f"{stem}-line"))
            items += placed.block.labels(placed.centre, stem)
        return items

    def _signs(self) -> tuple[str, ...]:
        piece = self.piece
        signs = {"front"} | {s.bend for s in piece.scores}
        signs |= {"glue-through" if z.face == "back" else "glue" for z in piece.glue_zones}
        signs |= {"engrave" for _ in self.marks} | {"perforation" for _ in self.tears}
        signs |= {"slit" for _ in self.slits} | {"ghost" for _ in self.ghost}
        return in_legend_order(signs)


def _tick(at: Point) -> Span:
    x0, y0, x1, y1 = tick_box(at)
    return ((x0, y1), (x1, y0))
