"""The texts of ``shared/*.toml`` as frozen values.

Each function takes the file's name as shown and its text, and returns the entries by name in
the order of the file together with everything that is wrong with it. An entry with a wrong
value still comes back, with a harmless value in its place, so that one run reports all.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias, cast

from publisher.diagnostics import Diagnostic
from publisher.trade.entries import EntryFile
from publisher.trade.types import (
    CommonObject,
    Licence,
    Machine,
    Post,
    Practice,
    SheetSize,
    Stock,
    Trade,
)

_Grain: TypeAlias = Literal["long", "short", "none"]

_Scores: TypeAlias = Literal["tool", "blade", "no"]
UNITS_PER_INCH = (72, 90, 96)

FILES = (
    "stocks.toml",
    "sheets.toml",
    "objects.toml",
    "practice.toml",
    "licences.toml",
    "machines.toml",
    "post.toml",
)
"""What ``read_trade`` wants, by its name in ``shared/``."""


def read_stocks(file: str, text: str) -> tuple[dict[str, Stock], list[Diagnostic]]:
    source = EntryFile(file, text)
    stocks = {}
    for entry in source.entries():
        stocks[entry.name] = Stock(
            name=entry.name,
            title=entry.words("title"),
            caliper_mm=entry.number("caliper_mm"),
            grammage_gsm=entry.number("grammage_gsm"),
            front_colour=entry.colour("front"),
            back_colour=entry.colour("back"),
            grain=cast(_Grain, entry.one_of("grain", ("long", "short", "none"))),
            patterned=entry.yes_or_no("patterned"),
            sheet=entry.words("sheet"),
            source=entry.source,
            sources=tuple(entry.sources),
        )
    return stocks, source.diagnostics


def read_sheets(file: str, text: str) -> tuple[dict[str, SheetSize], list[Diagnostic]]:
    source = EntryFile(file, text)
    sheets = {}
    for entry in source.entries():
        sheet = SheetSize(
            name=entry.name,
            title=entry.words("title"),
            width_mm=entry.number("width_mm"),
            height_mm=entry.number("height_mm"),
            margin_mm=entry.number("margin_mm", zero=True),
            source=entry.source,
            sources=tuple(entry.sources),
        )
        if 2 * sheet.margin_mm >= min(sheet.width_mm, sheet.height_mm):
            entry.wrong("margin_mm", "the margins leave no room")
        sheets[entry.name] = sheet
    return sheets, source.diagnostics


def read_objects(file: str, text: str) -> tuple[dict[str, CommonObject], list[Diagnostic]]:
    source = EntryFile(file, text)
    objects = {}
    for entry in source.entries():
        objects[entry.name] = CommonObject(
            name=entry.name,
            title=entry.words("title"),
            width_mm=entry.number("width_mm"),
            height_mm=entry.number("height_mm"),
            depth_mm=entry.number("depth_mm"),
            doubtful=entry.yes_or_no("doubtful", default=False),
            source=entry.source,
            sources=tuple(entry.sources),
        )
    return objects, source.diagnostics


def read_practice(file: str, text: str) -> tuple[dict[str, Practice], list[Diagnostic]]:
    source = EntryFile(file, text)
    practice = {}
    for entry in source.entries():
        practice[entry.name] = Practice(
            name=entry.name,
            value=entry.number("value", zero=True),
            unit=entry.one_of("unit", ("mm", "degrees", "calipers", "gsm", "share")),
            means=entry.words("means"),
            doubtful=entry.yes_or_no("doubtful", default=False),
            source=entry.source,
        )
    return practice, source.diagnostics


def read_licences(file: str, text: str) -> tuple[dict[str, Licence], list[Diagnostic]]:
    source = EntryFile(file, text)
    licences = {}
    for entry in source.entries():
        licences[entry.name] = Licence(
            name=entry.name,
            title=entry.words("title"),
            text=entry.words("text"),
            source=entry.source,
        )
    return licences, source.diagnostics


def read_machines(file: str, text: str) -> tuple[dict[str, Machine], list[Diagnostic]]:
    source = EntryFile(file, text)
    machines = {}
    for entry in source.entries():
        machine = Machine(
            name=entry.name,
            title=entry.words("title"),
            bed_width_mm=entry.number("bed_width_mm", zero=True),
            bed_height_mm=entry.number("bed_height_mm", zero=True),
            margin_mm=entry.number("margin_mm", zero=True),
            blade_offset_mm=entry.number("blade_offset_mm", zero=True),
            overcut_mm=entry.number("overcut_mm", zero=True),
            lead_mm=entry.number("lead_mm", zero=True),
            cut_mm_s=entry.number("cut_mm_s"),
            score_mm_s=entry.number("score_mm_s"),
            travel_mm_s=entry.number("travel_mm_s"),
            lift_s=entry.number("lift_s", zero=True),
            scores=cast(_Scores, entry.one_of("scores", ("tool", "blade", "no"))),
            units_per_inch=int(entry.number("units_per_inch")),
            source=entry.source,
            sources=tuple(entry.sources),
        )
        if machine.units_per_inch not in UNITS_PER_INCH:
            entry.wrong("units_per_inch", "‘units_per_inch’ must be 72, 90 or 96")
        for side in ("bed_width_mm", "bed_height_mm"):
            if 0.0 < getattr(machine, side) <= 2 * machine.margin_mm:
                entry.wrong("margin_mm", "the margins leave no room")
                break
        machines[entry.name] = machine
    return machines, source.diagnostics


_POST_LIMITS = (
    "length_least_mm",
    "height_least_mm",
    "thick_least_mm",
    "length_most_mm",
    "height_most_mm",
    "thick_most_mm",
    "mass_most_g",
    "ratio_least",
    "ratio_most",
    "sum_most_mm",
)


def read_posts(file: str, text: str) -> tuple[dict[str, Post], list[Diagnostic]]:
    source = EntryFile(file, text)
    posts = {}
    for entry in source.entries():
        limits = {key: entry.number(key, zero=True) for key in _POST_LIMITS}
        posts[entry.name] = Post(
            name=entry.name,
            title=entry.words("title"),
            ratio_refuses=entry.yes_or_no("ratio_refuses", default=False),
            published=entry.words("published"),
            doubtful=entry.yes_or_no("doubtful", default=False),
            source=entry.source,
            sources=tuple(entry.sources),
            **limits,
        )
    return posts, source.diagnostics


def read_trade(
    texts: Mapping[str, str], base: Trade | None = None
) -> tuple[Trade, tuple[Diagnostic, ...]]:
    """All of it, from the texts by file name (``FILES``); a file left out has no entries.

    Entries of ``base`` are there too, except where the texts have one of the same name. Also
    reports a stock that is sold as a sheet which nobody knows.
    """
    shown = {name: f"shared/{name}" for name in FILES}
    given = {name: texts.get(name, "") for name in FILES}
    stocks, wrong_stocks = read_stocks(shown["stocks.toml"], given["stocks.toml"])
    sheets, wrong_sheets = read_sheets(shown["sheets.toml"], given["sheets.toml"])
    objects, wrong_objects = read_objects(shown["objects.toml"], given["objects.toml"])
    practice, wrong_practice = read_practice(shown["practice.toml"], given["practice.toml"])
    licences, wrong_licences = read_licences(shown["licences.toml"], given["licences.toml"])
    machines, wrong_machines = read_machines(shown["machines.toml"], given["machines.toml"])
    posts, wrong_posts = read_posts(shown["post.toml"], given["post.toml"])
    before = base or Trade({}, {}, {}, {}, {})
    trade = Trade(
        stocks={**before.stocks, **stocks},
        sheets={**before.sheets, **sheets},
        objects={**before.objects, **objects},
        practice={**before.practice, **practice},
        licences={**before.licences, **licences},
        machines={**before.machines, **machines},
        posts={**before.posts, **posts},
    )
    across = EntryFile(shown["stocks.toml"], given["stocks.toml"])
    for stock in stocks.values():
        if stock.sheet and stock.sheet not in trade.sheets:
            across.report(
                "shared-value-wrong",
                f"there is no sheet ‘{stock.sheet}’ for ‘{stock.name}’",
                across.key_span(stock.name, "sheet"),
            )
    found = [*wrong_stocks, *across.diagnostics, *wrong_sheets, *wrong_objects]
    return trade, (*found, *wrong_practice, *wrong_licences, *wrong_machines, *wrong_posts)
