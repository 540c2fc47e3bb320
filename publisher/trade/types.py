"""Frozen values read from ``shared/*.toml``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Stock:
    """A paper. ``grain`` says how it runs on the sheet as sold; colours are ``#rrggbb``."""

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


@dataclass(frozen=True, slots=True)
class SheetSize:
    """A sheet as sold; ``margin_mm`` on every side stays free of pieces."""

    name: str
    title: str
    width_mm: float
    height_mm: float
    margin_mm: float
    source: str


@dataclass(frozen=True, slots=True)
class CommonObject:
    """A thing that patterns hold: across, down, thick, in mm."""

    name: str
    title: str
    width_mm: float
    height_mm: float
    depth_mm: float
    source: str


@dataclass(frozen=True, slots=True)
class Practice:
    """One threshold of the checks; lengths in mm, angles in degrees."""

    name: str
    value: float
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Trade:
    """All of it, each by name in the order of the file."""

    stocks: Mapping[str, Stock]
    sheets: Mapping[str, SheetSize]
    objects: Mapping[str, CommonObject]
    practice: Mapping[str, Practice]
