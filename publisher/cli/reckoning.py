"""The command ``supplies``: what a pattern takes, for one and for many, and what that costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from publisher.cli.place import open_here, some_chosen
from publisher.cli.speech import Speech

if TYPE_CHECKING:
    from publisher.supplies import PriceList
    from publisher.workshop import Workshop


def supplies(speech: Speech, names: Sequence[str], times: Sequence[int]) -> None:
    workshop = open_here(speech)
    if workshop is None:
        return
    from publisher.diagnostics import has_errors
    from publisher.supplies import FILE, read_prices
    from publisher.workshop import read_own

    text = read_own(workshop, FILE)
    prices, found = read_prices(text)
    speech.findings(found, {FILE: text})
    if has_errors(found):
        return
    listed = some_chosen(speech, workshop, names)
    for name in listed:
        _say(speech, workshop, name, times, prices)
    if not prices.prices:
        speech.result(f"For the cost write a price list, {FILE}.")


def _say(
    speech: Speech, workshop: Workshop, name: str, times: Sequence[int], prices: PriceList
) -> None:
    from publisher.pipeline import check_pattern, on_sheets
    from publisher.supplies import TIMES, batch, cost, offcuts, told

    outcome = on_sheets(check_pattern(workshop, name), workshop.trade)
    speech.findings(outcome.diagnostics, outcome.sources)
    pattern, trade = outcome.pattern, workshop.trade
    if outcome.failed or pattern is None:
        return
    rests = offcuts(pattern, outcome.sheets, trade)
    reckoned = []
    speech.result(pattern.meta.title)
    for number in tuple(dict.fromkeys(times)) or TIMES:
        needed = batch(pattern, trade, outcome.cutting, number)
        price = cost(pattern, needed, prices)
        data = told.as_data(needed)
        if prices.prices:
            data["cost"] = told.cost_data(price)
        reckoned.append(data)
        speech.result(f"  for {number}:")
        for line in told.lines_of(pattern, needed):
            speech.result(f"    {line}")
        for line in told.cost_lines(price) if prices.prices else ():
            speech.result(f"      {line}")
    for rest in rests:
        speech.result(f"  left over: {told.offcut_words(rest, pattern.meta.first_unit)}")
    kept = [told.offcut_data(rest) for rest in rests]
    speech.data("supplies", {"name": name, "batches": reckoned, "offcuts": kept})
