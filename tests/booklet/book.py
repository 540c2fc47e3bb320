"""Booklets of the handmade patterns, with plain drawings, for tests.

The drawings are simple on purpose: each piece flat, or leaning back as seen from the front.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path as FilePath

from publisher.booklet.cautions import cautions_for, read_cautions
from publisher.booklet.orders import order
from publisher.booklet.supplies import supplies_for
from publisher.booklet.types import (
    BookletInput,
    Picture,
    SheetMap,
    Sign,
    StepPictures,
    picture_of,
)
from publisher.drawing.signs import SIGNS
from publisher.drawing.svg import to_svg
from publisher.drawing.theme import Theme, parse_theme
from publisher.drawing.types import Drawing, Fill, Item, Stroke
from publisher.geometry.flatten import flattened
from publisher.geometry.path import Path, Point, polygon
from publisher.layout.types import Placed, Sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import Licence, SheetSize
from publisher.trade.read import read_licences

ROOT = FilePath(__file__).parents[2]
A4 = SheetSize("a4", "A4", 210.0, 297.0, 5.0, "ISO 216:2007, A series")


def house_theme() -> Theme:
    return parse_theme((ROOT / "themes/potting-shed/theme.toml").read_text("utf-8"))


def house_template() -> str:
    return (ROOT / "themes/potting-shed/booklet.typ").read_text("utf-8")


def house_licence(name: str) -> Licence:
    text = (ROOT / "shared/licences.toml").read_text("utf-8")
    licences, wrong = read_licences("shared/licences.toml", text)
    assert not wrong
    return licences[name]


def flat_drawing(piece: Piece, scale: float, name: str = "") -> Drawing:
    """The piece seen on its front face."""
    return _drawing(piece, scale, name or piece.name, lambda p: p, ("front", "valley", "mountain"))


def leaning_drawing(piece: Piece, scale: float, name: str) -> Drawing:
    """The piece lying on a table, seen from the front and above."""

    def lean(point: Point) -> Point:
        return (point[0] + 0.45 * point[1], 0.6 * point[1])

    return _drawing(piece, scale, name, lean, ("front", "moving", "fold-arrow-mountain"))


def _drawing(
    piece: Piece,
    scale: float,
    name: str,
    seen: Callable[[Point], Point],
    signs: tuple[str, ...],
) -> Drawing:
    def shown(path: Path) -> tuple[Point, ...]:
        return tuple((scale * x + 6, scale * y + 6) for x, y in map(seen, flattened(path, 0.05)))

    outline = shown(piece.outline.outer)
    items: list[Item] = [
        Fill("front", (polygon(outline),), stock=piece.stock.name),
        Stroke("outline", (polygon(outline),)),
    ]
    for score in piece.scores:
        ends = shown(score.path)
        line = polygon(ends)
        items.append(Stroke(score.bend, (Path(line.segments[:1], closed=False),)))
    width = max(x for x, _ in outline) - min(x for x, _ in outline) + 12
    height = max(y for _, y in outline) + 6
    used = tuple(s for s in signs if s not in ("valley", "mountain") or piece.scores)
    alt = f"{piece.name} seen flat. It has {len(piece.scores)} scores."
    return Drawing(name, width, height, tuple(items), scale, used, alt)


def sheet_map(sheet: Sheet, pieces: dict[str, Piece]) -> Picture:
    scale = 0.25
    items: list[Item] = []
    for placed in sheet.placed:
        drawn = flat_drawing(pieces[placed.piece], scale)
        for item in drawn.items:
            if isinstance(item, Stroke) and item.role == "outline":
                x, y = placed.x_mm * scale - 6, placed.y_mm * scale - 6
                ring = [(s.start[0] + x, s.start[1] + y) for s in item.paths[0].segments]
                items.append(Stroke("outline", (polygon(tuple(ring)),)))
    width, height = sheet.size.width_mm * scale, sheet.size.height_mm * scale
    edge = polygon(
        ((0.2, 0.2), (width - 0.2, 0.2), (width - 0.2, height - 0.2), (0.2, height - 0.2))
    )
    items.append(Stroke("ghost", (edge,)))
    drawing = Drawing(sheet.name, width, height, tuple(items), scale, (), f"{sheet.name} as laid.")
    return picture_of(drawing, to_svg(drawing, house_theme(), {}))


def signs(theme: Theme) -> tuple[Sign, ...]:
    ring = polygon(((2.0, 2.0), (22.0, 2.0), (22.0, 8.0), (2.0, 8.0)))
    made = []
    for name, title in SIGNS.items():
        drawing = Drawing(f"sign-{name}", 24, 10, (Stroke("outline", (ring,)),), 1.0, (), title)
        made.append(Sign(name, title, picture_of(drawing, to_svg(drawing, theme, {}))))
    return tuple(made)


def book_of(
    pattern: Pattern, sheets: tuple[Sheet, ...], theme: Theme | None = None
) -> BookletInput:
    """A booklet of the pattern, one diagram for each action."""
    theme = theme or house_theme()
    stocks = {piece.stock.name: piece.stock for piece in pattern.pieces}
    pieces = {piece.name: piece for piece in pattern.pieces}

    def drawn(drawing: Drawing, said: str = "") -> Picture:
        return picture_of(drawing, to_svg(drawing, theme, stocks), said)

    steps = tuple(
        StepPictures(
            step.number,
            tuple(
                drawn(
                    leaning_drawing(
                        pieces[action.subjects[0].piece], 0.36, f"step-{step.number}-{index + 1}"
                    ),
                    order(action),
                )
                for index, action in enumerate(step.actions)
            ),
        )
        for step in pattern.steps
    )
    supplies = supplies_for(pattern, sheets)
    cautions, wrong = read_cautions((ROOT / "shared/cautions.toml").read_text("utf-8"))
    assert not wrong
    return BookletInput(
        pattern=pattern,
        theme=theme,
        template=house_template(),
        cover=drawn(leaning_drawing(pattern.pieces[0], 0.9, "cover")),
        piece_pictures=tuple((p.name, drawn(flat_drawing(p, 0.5))) for p in pattern.pieces),
        steps=steps,
        sheets=tuple(
            SheetMap(
                sheet,
                sheet_map(sheet, pieces),
                tuple(f"cut-files/{kind}/{sheet.name}.{kind}" for kind in ("svg", "dxf", "pdf")),
            )
            for sheet in sheets
        ),
        signs=signs(theme),
        supplies=supplies,
        cautions=cautions_for(cautions, supplies),
        licence=house_licence(pattern.meta.licence),
        proven=("The packets go into the drawer with 4 mm (5/32 in) to spare.",),
        workshop="Potting Shed Paper",
    )


def sliding_box_sheets(pattern: Pattern) -> tuple[Sheet, ...]:
    """Drawer on one sheet of card, sleeve on another, mat on patterned paper."""
    drawer, sleeve, mat = pattern.pieces
    return (
        Sheet("card-1", drawer.stock, A4, (Placed("drawer", 1, 5.0, 5.0, 0.0),)),
        Sheet("card-2", sleeve.stock, A4, (Placed("sleeve", 1, 5.0, 5.0, 0.0),)),
        Sheet("patterned-paper-1", mat.stock, A4, (Placed("sleeve mat", 1, 5.0, 5.0, 0.0),)),
    )


def envelope_sheets(pattern: Pattern) -> tuple[Sheet, ...]:
    piece = pattern.pieces[0]
    return (Sheet("paper-1", piece.stock, A4, (Placed("envelope", 1, 10.0, 5.0, 0.0),)),)
