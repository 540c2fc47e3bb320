"""A theme: what the roles of a drawing look like, read from the text of a ``theme.toml``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal, get_args

import tomli
from msgspec import Struct

from publisher.drawing.colour import is_colour, mixed
from publisher.drawing.types import FillRole, LabelRole, LineRole
from publisher.trade import Stock


class ThemeError(ValueError):
    """A theme file lacks something or says something that has no meaning."""


class LineStyle(Struct, frozen=True):
    """A line. ``dash_mm`` is on, off, on, off, ...; empty for an unbroken line."""

    width_mm: float
    dash_mm: tuple[float, ...]
    cap: Literal["butt", "round"]
    colour: str


class Hatch(Struct, frozen=True):
    """Parallel lines, their distance measured square to them."""

    spacing_mm: float
    width_mm: float
    dash_mm: tuple[float, ...]
    colour: str


class Dots(Struct, frozen=True):
    """A repeat of dots in rows, each row shifted by half a step against the last."""

    spacing_mm: float
    radius_mm: float
    share: float


class FillStyle(Struct, frozen=True):
    """An area: a plain ``colour``, a ``face`` of the stock, a hatch, or dots.

    ``tint`` is mixed into a face by ``tint_share``; ``halo_mm`` is how far a halo of the page
    colour reaches out round the area; below an ``opacity`` of 1 what lies under it shows.
    """

    colour: str = ""
    face: Literal["", "front", "back"] = ""
    tint: str = ""
    tint_share: float = 0.0
    halo_mm: float = 0.0
    hatch: Hatch | None = None
    dots: Dots | None = None
    opacity: float = 1.0


class LabelStyle(Struct, frozen=True):
    """How the words of one role are set."""

    family: str
    weight: int
    italic: bool
    colour: str
    halo_mm: float


class Paper(Struct, frozen=True):
    """From the stock's colours to those of the picture.

    The back face takes ``back_share`` of ``back_towards``, so that it is lighter and slightly
    warm. Shade mixes in up to ``shade_share`` of ``shade_towards`` in ``shade_steps`` steps.
    """

    page: str
    plain: str
    back_towards: str
    back_share: float
    shade_towards: str
    shade_share: float
    shade_steps: int


class Accent(Struct, frozen=True):
    """``colour`` for shapes and its darker ``text`` for words."""

    name: str
    colour: str
    text: str
    of: str


class Theme(Struct, frozen=True):
    """A whole theme. ``tables`` keeps every table of the file as it stands there, for the
    rooms that make pages (``type``, ``page``, ``site``); ``colours`` holds all named ones."""

    name: str
    title: str
    colours: Mapping[str, str]
    accents: Mapping[str, Accent]
    lines: Mapping[str, LineStyle]
    fills: Mapping[str, FillStyle]
    labels: Mapping[str, LabelStyle]
    paper: Paper
    tables: Mapping[str, Mapping[str, Any]]

    def paper_colour(
        self, face: Literal["front", "back"], stock: Stock | None, shade: float = 0.0
    ) -> str:
        """The colour of a face of the stock (plain paper for None), shaded 0 to 1."""
        paper = self.paper
        if stock is None:
            colour = paper.plain
        else:
            colour = stock.front_colour if face == "front" else stock.back_colour
        if face == "back":
            colour = mixed(colour, paper.back_towards, paper.back_share)
        step = round(min(1.0, max(0.0, shade)) * paper.shade_steps) / paper.shade_steps
        return mixed(colour, paper.shade_towards, paper.shade_share * step)

    def fill_colour(self, style: FillStyle, stock: Stock | None, shade: float = 0.0) -> str:
        """What a plain area or a face of paper is filled with.

        Dots on a face are the shaded front face with ``share`` of the shade's colour in it.
        """
        if style.dots is not None:
            face = self.paper_colour("front", stock, shade)
            return mixed(face, self.paper.shade_towards, style.dots.share)
        if not style.face:
            return style.colour
        colour = self.paper_colour(style.face, stock, shade)
        return mixed(colour, style.tint, style.tint_share) if style.tint else colour


class _Table:
    """A table of the file that knows its own name, so that a mistake can be told."""

    def __init__(self, name: str, values: object, colours: Mapping[str, str]) -> None:
        if not isinstance(values, dict):
            raise ThemeError(f"[{name}] is missing or is no table")
        self.name, self.values, self.colours = name, values, colours

    def get(self, key: str, kind: type, default: Any = None) -> Any:
        value = self.values.get(key, default)
        if kind is float and isinstance(value, int) and not isinstance(value, bool):
            value = float(value)
        if not isinstance(value, kind):
            raise ThemeError(f"[{self.name}] wants {key} as {kind.__name__}, has {value!r}")
        return value

    def length(self, key: str, default: float | None = None) -> float:
        value = self.get(key, float, default)
        if value < 0:
            raise ThemeError(f"[{self.name}] {key} is below zero")
        return float(value)

    def lengths(self, key: str) -> tuple[float, ...]:
        values = self.get(key, list, [])
        if not all(isinstance(v, int | float) and v >= 0 for v in values) or len(values) % 2:
            raise ThemeError(f"[{self.name}] {key} wants lengths in pairs of on and off")
        return tuple(float(v) for v in values)

    def colour(self, key: str, default: str | None = None) -> str:
        value = self.get(key, str, default)
        found = self.colours.get(value, value)
        if found and not is_colour(found):
            raise ThemeError(f"[{self.name}] {key}: no colour is named {value!r}")
        return str(found)

    def one_of(self, key: str, choices: tuple[str, ...], default: str) -> Any:
        value = self.get(key, str, default)
        if value not in choices:
            raise ThemeError(f"[{self.name}] {key} is one of {', '.join(choices)}")
        return value


def _accents(tables: Mapping[str, Any]) -> dict[str, Accent]:
    accents = {}
    for name, values in tables.get("accents", {}).items():
        table = _Table(f"accents.{name}", values, {})
        accents[name] = Accent(
            name, table.colour("colour"), table.colour("text"), table.get("of", str)
        )
    if len(accents) > 5:
        raise ThemeError("[accents] has more than five")
    return accents


def _line(table: _Table) -> LineStyle:
    return LineStyle(
        table.length("width_mm"),
        table.lengths("dash_mm"),
        table.one_of("cap", ("butt", "round"), "butt"),
        table.colour("colour"),
    )


def _fill(table: _Table) -> FillStyle:
    hatch = dots = None
    if "hatch" in table.values:
        inner = _Table(f"{table.name}.hatch", table.values["hatch"], table.colours)
        hatch = Hatch(
            inner.length("spacing_mm"),
            inner.length("width_mm"),
            inner.lengths("dash_mm"),
            inner.colour("colour"),
        )
    if "dots" in table.values:
        inner = _Table(f"{table.name}.dots", table.values["dots"], table.colours)
        dots = Dots(inner.length("spacing_mm"), inner.length("radius_mm"), inner.length("share"))
    return FillStyle(
        table.colour("colour", ""),
        table.one_of("face", ("", "front", "back"), ""),
        table.colour("tint", ""),
        table.length("tint_share", 0.0),
        table.length("halo_mm", 0.0),
        hatch,
        dots,
        table.length("opacity", 1.0),
    )


def _paper(table: _Table) -> Paper:
    return Paper(
        page=table.colour("page"),
        plain=table.colour("plain"),
        back_towards=table.colour("back_towards"),
        back_share=table.length("back_share"),
        shade_towards=table.colour("shade_towards"),
        shade_share=table.length("shade_share"),
        shade_steps=max(1, table.get("shade_steps", int)),
    )


def parse_theme(text: str) -> Theme:
    """The theme that the text of a ``theme.toml`` describes.

    Raises:
        ThemeError: not TOML, a role without a style, an unknown colour, a value out of place.
    """
    try:
        tables = tomli.loads(text)
    except tomli.TOMLDecodeError as error:
        raise ThemeError(f"the theme cannot be read: {error}") from error
    accents = _accents(tables)
    colours = dict(_Table("colours", tables.get("colours"), {}).values)
    for accent in accents.values():
        colours[accent.name] = accent.colour
        colours[f"{accent.name}-text"] = accent.text
    for name, colour in colours.items():
        if not isinstance(colour, str) or not is_colour(colour):
            raise ThemeError(f"[colours] {name} wants the form #rrggbb")

    def styled(section: str, roles: tuple[str, ...]) -> dict[str, _Table]:
        given = _Table(section, tables.get(section), colours).values
        for role in roles:
            if role not in given:
                raise ThemeError(f"[{section}] has no style for {role}")
        return {role: _Table(f"{section}.{role}", given[role], colours) for role in roles}

    type_table = _Table("type", tables.get("type"), colours)

    def label(table: _Table) -> LabelStyle:
        return LabelStyle(
            type_table.get(table.get("face", str, "text"), str),
            table.get("weight", int, 400),
            table.get("italic", bool, False),
            table.colour("colour"),
            table.length("halo_mm", 0.0),
        )

    theme = _Table("theme", tables.get("theme"), colours)
    return Theme(
        name=theme.get("name", str),
        title=theme.get("title", str),
        colours=colours,
        accents=accents,
        lines={role: _line(t) for role, t in styled("lines", get_args(LineRole)).items()},
        fills={role: _fill(t) for role, t in styled("fills", get_args(FillRole)).items()},
        labels={role: label(t) for role, t in styled("labels", get_args(LabelRole)).items()},
        paper=_paper(_Table("paper", tables.get("paper"), colours)),
        tables={k: dict(v) for k, v in tables.items() if isinstance(v, dict)},
    )
