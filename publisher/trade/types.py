"""Frozen values read from ``shared/*.toml``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias

from msgspec import Struct, field

Sources: TypeAlias = tuple[tuple[str, str], ...]
"""(key of the value, where it comes from), in the order of the entry."""


class Stock(Struct, frozen=True):
    """A paper. ``grain`` says how it runs on the sheet as sold; colours are ``#rrggbb``.

    ``source`` speaks for the entry as a whole, ``sources`` for each value.
    """

    name: str
    title: str
    caliper_mm: float
    grammage_gsm: float
    front_colour: str
    back_colour: str
    grain: Literal["long", "short", "none"]
    patterned: bool
    sheet: str
    source: str
    sources: Sources = ()


class SheetSize(Struct, frozen=True):
    """A sheet as sold; ``margin_mm`` on every side stays free of pieces."""

    name: str
    title: str
    width_mm: float
    height_mm: float
    margin_mm: float
    source: str
    sources: Sources = ()


class CommonObject(Struct, frozen=True):
    """A thing that patterns hold: across, down, thick, in mm.

    ``doubtful`` figures are a start for a design and never a limit.
    """

    name: str
    title: str
    width_mm: float
    height_mm: float
    depth_mm: float
    source: str
    sources: Sources = ()
    doubtful: bool = False


class Practice(Struct, frozen=True):
    """One threshold of the checks; lengths in mm, angles in degrees.

    By a ``doubtful`` one a check may warn and never refuse.
    """

    name: str
    value: float
    unit: str
    source: str
    means: str = ""
    doubtful: bool = False


class Licence(Struct, frozen=True):
    """What a maker may do with a pattern: ``text`` in full, paragraphs apart by blank lines."""

    name: str
    title: str
    text: str
    source: str


class Machine(Struct, frozen=True):
    """A way of cutting, by what the tool does; lengths in mm, speeds in mm/s, times in s.

    A bed of 0 has no limit. ``scores`` with a "tool" that presses, with a "blade" that goes
    part of the way, or "no". ``units_per_inch`` is what its programs take a bare number in an
    SVG for.
    """

    name: str
    title: str
    bed_width_mm: float
    bed_height_mm: float
    margin_mm: float
    blade_offset_mm: float
    overcut_mm: float
    lead_mm: float
    cut_mm_s: float
    score_mm_s: float
    travel_mm_s: float
    lift_s: float
    scores: Literal["tool", "blade", "no"]
    units_per_inch: int
    source: str
    sources: Sources = ()


class Post(Struct, frozen=True):
    """What a kind of post takes; lengths in mm, mass in g; 0 where nothing is published.

    Length is the longer side. ``ratio`` is length over height; outside it a piece is
    refused where ``ratio_refuses``, else it goes by hand and at another price. ``sum_most_mm``
    is for length, height and thickness together. ``published`` is the state of the limits: the
    year, or what is known of it. By ``doubtful`` limits a check may warn and never refuse.
    """

    name: str
    title: str
    length_least_mm: float
    height_least_mm: float
    thick_least_mm: float
    length_most_mm: float
    height_most_mm: float
    thick_most_mm: float
    mass_most_g: float
    ratio_least: float
    ratio_most: float
    sum_most_mm: float
    ratio_refuses: bool
    published: str
    source: str
    sources: Sources = ()
    doubtful: bool = False


class Trade(Struct, frozen=True):
    """All of it, each by name in the order of the file."""

    stocks: Mapping[str, Stock]
    sheets: Mapping[str, SheetSize]
    objects: Mapping[str, CommonObject]
    practice: Mapping[str, Practice]
    licences: Mapping[str, Licence] = field(default_factory=dict)
    machines: Mapping[str, Machine] = field(default_factory=dict)
    posts: Mapping[str, Post] = field(default_factory=dict)
