from __future__ import annotations

from itertools import combinations
from pathlib import Path
from typing import get_args

import pytest

from publisher.drawing.colour import contrast, luminance, mixed, rgb
from publisher.drawing.fonts import face_file
from publisher.drawing.theme import LineStyle, Theme, ThemeError, parse_theme
from publisher.drawing.types import FillRole, LabelRole, LineRole
from publisher.trade import Stock
from tests.handmade import CARD, PAPER, PATTERNED

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "themes/potting-shed/theme.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def theme() -> Theme:
    return parse_theme(TEXT)


def test_every_role_has_a_style(theme: Theme) -> None:
    assert set(theme.lines) == set(get_args(LineRole))
    assert set(theme.fills) == set(get_args(FillRole))
    assert set(theme.labels) == set(get_args(LabelRole))


def test_the_house_widths(theme: Theme) -> None:
    assert theme.lines["outline"].width_mm == 0.35
    assert theme.lines["inner"].width_mm == 0.18


def test_label_faces_are_installed(theme: Theme) -> None:
    for style in theme.labels.values():
        assert face_file(style.family, style.weight, style.italic).is_file()


# Drawn on paper or for it; the measuring lines are told by their shape: a dimension by the
# strokes at its ends, a leader by the dot at its foot, an extension line by its gap.
PAPER_ROLES = [r for r in get_args(LineRole) if r not in ("dimension", "extension", "leader")]


def rhythm(style: LineStyle) -> tuple[float, ...]:
    """Where a line is on and off, as shares of its repeat; () for an unbroken line."""
    whole = sum(style.dash_mm)
    return tuple(round(d / whole, 3) for d in style.dash_mm)


def differ(a: LineStyle, b: LineStyle) -> bool:
    """Whether two lines are told apart in grey: by rhythm, by a repeat half as long again, or
    by a width at least 1.35 times the other (a step of the standard widths)."""
    if bool(a.dash_mm) != bool(b.dash_mm) or len(a.dash_mm) != len(b.dash_mm):
        return True
    if a.dash_mm:
        apart = max(abs(x - y) for x, y in zip(rhythm(a), rhythm(b), strict=True))
        repeats = sorted((sum(a.dash_mm), sum(b.dash_mm)))
        if apart >= 0.15 or repeats[1] / repeats[0] >= 1.5:
            return True
    widths = sorted((a.width_mm, b.width_mm))
    return widths[1] / widths[0] >= 1.35


# Slits are drawn on flat pieces, moving parts in space: never both in one picture.
NEVER_TOGETHER = {("outline-moving", "slit")}
# A clear edge bounds a wash; a drawn line lies within a face of paper.
TOLD_BY_FILL = {("engrave", "clear")}


@pytest.mark.parametrize(
    ("a", "b"),
    [p for p in combinations(PAPER_ROLES, 2) if p not in NEVER_TOGETHER | TOLD_BY_FILL],
)
def test_lines_are_told_apart_without_colour(theme: Theme, a: str, b: str) -> None:
    assert differ(theme.lines[a], theme.lines[b])


def test_clear_paper_is_bounded_by_unbroken_lines_and_has_a_wash(theme: Theme) -> None:
    """No dashes, as ghosts and folds have, and heavier than a crease; through the wash what lies
    behind shows, and on the page the wash is seen."""
    edge, crease = theme.lines["clear"], theme.lines["fold-made"]
    assert not edge.dash_mm
    assert edge.width_mm >= 1.35 * crease.width_mm
    for role in ("front-clear", "back-clear"):
        wash = theme.fills[role]
        assert 0.2 <= wash.opacity <= 0.5
        for stock in (CARD, PATTERNED):
            colour = theme.fill_colour(wash, stock, 0.5)
            washed = mixed(theme.paper.page, colour, wash.opacity)
            assert contrast(washed, theme.paper.page) >= 1.1, (role, stock.name)
            assert contrast(edge.colour, washed) >= 4.5


@pytest.mark.parametrize("stock", [CARD, PATTERNED, PAPER], ids=lambda s: s.name)
def test_a_ghost_has_the_colour_of_what_moves_and_no_dash_of_a_fold(
    theme: Theme, stock: Stock
) -> None:
    ghost = theme.lines["ghost"]
    assert ghost.colour == theme.fills["arrow-move"].colour
    assert ghost.width_mm >= theme.lines["outline"].width_mm
    for fold in ("valley", "mountain", "hidden"):
        assert differ(ghost, theme.lines[fold])
    assert contrast(ghost.colour, theme.paper_colour("back", stock)) >= 2.5


def test_folds_are_drawn_as_the_trade_draws_them(theme: Theme) -> None:
    valley, mountain = theme.lines["valley"].dash_mm, theme.lines["mountain"].dash_mm
    assert len(valley) == 2
    assert len(mountain) == 6, "dash, dot, dot"
    assert mountain[0] > 3 * max(mountain[2], mountain[4])
    assert valley[0] < mountain[0]
    hidden = theme.lines["hidden"]
    assert hidden.dash_mm[0] == 0.0, "dots"
    assert hidden.cap == "round"


def test_glue_on_either_face_is_told_apart_without_colour(theme: Theme) -> None:
    here, through = theme.fills["glue"].hatch, theme.fills["glue-through"].hatch
    assert here is not None
    assert through is not None
    assert not here.dash_mm
    assert through.dash_mm
    assert contrast(here.colour, CARD.front_colour) >= 3.0


def test_movement_and_glue_have_accents_of_their_own(theme: Theme) -> None:
    move = theme.fills["arrow-fold"].colour
    assert move == theme.fills["arrow-move"].colour == theme.accents["move"].colour
    hatch = theme.fills["glue"].hatch
    assert hatch is not None
    assert hatch.colour == theme.accents["glue"].colour != move


@pytest.mark.parametrize("face", ["front", "back"])
@pytest.mark.parametrize("stock", [CARD, PATTERNED, PAPER], ids=lambda s: s.name)
def test_what_moves_is_told_in_grey(theme: Theme, stock: Stock, face: FillRole) -> None:
    moving = theme.fills[f"{face}-moving"]
    for shade in range(9):
        rest = theme.fill_colour(theme.fills[face], stock, shade / 8)
        assert contrast(rest, theme.fill_colour(moving, stock, shade / 8)) >= 1.1
    edges = theme.lines["outline-moving"].width_mm / theme.lines["outline"].width_mm
    assert edges >= 1.35


@pytest.mark.parametrize("stock", [CARD, PATTERNED, PAPER], ids=lambda s: s.name)
def test_the_back_is_lighter_and_warm(theme: Theme, stock: object) -> None:
    front = theme.paper_colour("front", stock)
    back = theme.paper_colour("back", stock)
    assert luminance(back) > luminance(front)
    red, _, blue = rgb(back)
    assert red >= blue


def test_shade_darkens_in_steps(theme: Theme) -> None:
    shades = [theme.paper_colour("front", CARD, s / 100) for s in range(101)]
    lights = [luminance(s) for s in shades]
    assert lights == sorted(lights, reverse=True)
    assert len(set(shades)) == theme.paper.shade_steps + 1
    assert shades[0] == CARD.front_colour
    for style in (theme.lines["outline"], theme.labels["name"]):
        assert contrast(style.colour, shades[-1]) >= 4.5


def test_a_moving_part_is_tinted(theme: Theme) -> None:
    still = theme.fill_colour(theme.fills["front"], CARD)
    moving = theme.fill_colour(theme.fills["front-moving"], CARD)
    assert still == CARD.front_colour
    assert moving != still


def test_what_pages_need_is_kept_as_it_stands(theme: Theme) -> None:
    assert theme.tables["type"]["sizes_pt"] == [9, 11, 14, 20, 32]


@pytest.mark.parametrize(
    ("before", "after", "message"),
    [
        ("outline = {", "edge = {", r"\[lines\] has no style for outline"),
        ('colour = "ink", cap', 'colour = "inky", cap', "no colour is named 'inky'"),
        ("width_mm = 0.35", "width_mm = -1", "below zero"),
        ("dash_mm = [1.5, 1.0]", "dash_mm = [1.5]", "pairs of on and off"),
        ('cap = "round"', 'cap = "square"', "one of butt, round"),
        ('ink = "#2b2925"', 'ink = "#2b29"', "wants the form #rrggbb"),
        ("shade_steps = 8", 'shade_steps = "8"', "wants shade_steps as int"),
        ("[paper]", "[paper", "cannot be read"),
        ("[type]", "[kind]", r"\[type\] is missing"),
    ],
)
def test_a_faulty_theme_is_told(before: str, after: str, message: str) -> None:
    assert before in TEXT
    with pytest.raises(ThemeError, match=message):
        parse_theme(TEXT.replace(before, after, 1))
