"""A workshop's price list, and what its patterns cost to make."""

from __future__ import annotations

import re

from publisher.diagnostics import Diagnostic
from publisher.model.types import Pattern
from publisher.supplies.types import Cost, CostLine, Price, PriceList, Supplies
from publisher.trade.entries import EntryFile

FILE = "site/prices.toml"
PER = ("sheet", "100 cm2", "m", "hour")
_HOURS = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:h\b|hours?\b)")
_MINUTES = re.compile(r"(\d+(?:[.,]\d+)?)\s*min")


def read_prices(text: str) -> tuple[PriceList, tuple[Diagnostic, ...]]:
    """The list in the text of ``site/prices.toml``; no text is an empty list.

    The entry ``money`` says the currency, every other one the price of the stock of its name,
    or of "glue", "tape" or "work".
    """
    source = EntryFile(FILE, text)
    currency = ""
    prices = {}
    for entry in source.entries():
        if entry.name == "money":
            currency = entry.words("currency")
            continue
        amount = entry.number("price", zero=True)
        prices[entry.name] = Price(entry.name, amount, entry.one_of("per", PER), entry.source)
    return PriceList(currency, prices), tuple(source.diagnostics)


def minutes(pattern: Pattern) -> float:
    """The time that the pattern says it takes, 0 where it says none that can be read."""
    said = pattern.meta.time.lower().replace("½", ".5")
    hours = sum(float(h.replace(",", ".")) for h in _HOURS.findall(said))
    return hours * 60.0 + sum(float(m.replace(",", ".")) for m in _MINUTES.findall(said))


def cost(pattern: Pattern, needed: Supplies, prices: PriceList) -> Cost:
    """What the supplies and the time cost by the list. Sheets are paid whole, glue by its
    area, tape by the length of the lines, work by the pattern's own time for each one."""
    verbs = {action.verb for step in pattern.steps for action in step.actions}
    asked: list[tuple[str, str, dict[str, float]]] = [
        (use.stock.name, f"{use.stock.title}, {use.size.title}", {"sheet": float(use.count)})
        for use in needed.sheets
    ]
    by_area = {"100 cm2": needed.glue_mm2 / 1e4, "m": needed.line_mm / 1000.0}
    if needed.glue_mm2 > 0.0 and ("tape" not in verbs or "glue" in verbs):
        asked.append(("glue", "Glue", by_area))
    if "tape" in verbs:
        asked.append(("tape", "Tape", by_area))
    time = minutes(pattern) / 60.0 * needed.times
    if time:
        asked.append(("work", "Work", {"hour": time}))
    lines, unpriced = [], []
    for name, title, quantities in asked:
        price = prices.prices.get(name)
        if price is None or price.per not in quantities:
            unpriced.append(title)
        else:
            quantity = quantities[price.per]
            lines.append(CostLine(title, quantity, price.per, quantity * price.amount))
    return Cost(needed.times, prices.currency, tuple(lines), tuple(unpriced))
