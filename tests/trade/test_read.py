"""The data of the trade: read in full, and every mistake answered where it stands."""

import re
from pathlib import Path

import pytest

from publisher.trade import FILES, read_trade
from publisher.trade.read import read_objects, read_practice, read_sheets, read_stocks

SHARED = Path(__file__).parents[2] / "shared"

CARD = """
[card]
title = "Card"
caliper_mm = 0.4
grammage_gsm = 300
front = "#e3d2b0"
back = "#f8f1e4"
grain = "long"
patterned = false
sheet = "a4"
source = "common practice, no source"
"""


def texts() -> dict[str, str]:
    return {name: (SHARED / name).read_text(encoding="utf-8") for name in FILES}


def test_what_is_shared_is_read_without_a_finding() -> None:
    trade, diagnostics = read_trade(texts())
    assert diagnostics == ()
    assert trade.stocks["card"].caliper_mm == 0.4
    assert {"patterned paper", "paper", "tracing paper"} <= set(trade.stocks)
    assert {"a4", "letter", "12 x 12 in"} <= set(trade.sheets)
    assert {"id-1 card", "poker card", "tea light"} <= set(trade.objects)
    assert {"personal"} <= set(trade.licences)


def test_every_value_has_a_source() -> None:
    trade, _ = read_trade(texts())
    for stock in trade.stocks.values():
        measured = {"caliper_mm", "grammage_gsm", "front", "back", "grain", "patterned", "sheet"}
        assert {key for key, _ in stock.sources} == measured, stock.name
        assert all(source for _, source in stock.sources)
    for sheet in trade.sheets.values():
        assert {key for key, _ in sheet.sources} == {"width_mm", "height_mm", "margin_mm"}
    for thing in trade.objects.values():
        assert {key for key, _ in thing.sources} == {"width_mm", "height_mm", "depth_mm"}
    everything = [trade.stocks, trade.sheets, trade.objects, trade.practice, trade.licences]
    assert all(entry.source for entries in everything for entry in entries.values())


def test_an_entry_keeps_its_order_and_a_value_its_own_source() -> None:
    sheets, wrong = read_sheets(
        "shared/sheets.toml",
        """
[small]
title = "Small"
width_mm = 100
height_mm = { value = 150.5, source = "measured" }
margin_mm = 0
source = "a shop"

[large]
title = "Large"
width_mm = 200
height_mm = 300
margin_mm = 5
source = "a shop"
""",
    )
    assert wrong == []
    assert list(sheets) == ["small", "large"]
    assert sheets["small"].height_mm == 150.5
    assert dict(sheets["small"].sources)["height_mm"] == "measured"
    assert dict(sheets["small"].sources)["width_mm"] == "a shop"


@pytest.mark.parametrize(
    ("was", "now", "code", "line", "word"),
    [
        ("caliper_mm = 0.4", "caliper_mm = 0", "shared-value-wrong", 4, "caliper_mm"),
        ("caliper_mm = 0.4", "caliper_mm = -1", "shared-value-wrong", 4, "caliper_mm"),
        ("caliper_mm = 0.4", "caliper_mm = nan", "shared-value-wrong", 4, "caliper_mm"),
        ("caliper_mm = 0.4", "caliper_mm = true", "shared-value-wrong", 4, "caliper_mm"),
        ("caliper_mm = 0.4\n", "", "shared-value-wrong", 2, "[card]"),
        ("caliper_mm", "calliper_mm", "shared-key-unknown", 4, "calliper_mm"),
        ('"#e3d2b0"', '"oat"', "shared-value-wrong", 6, "front"),
        ('grain = "long"', 'grain = "wide"', "shared-value-wrong", 8, "grain"),
        ("patterned = false", 'patterned = "no"', "shared-value-wrong", 9, "patterned"),
        ('source = "common practice, no source"', "", "shared-source-missing", 4, "caliper_mm"),
        ("[card]", "[Card]", "shared-value-wrong", 2, "[Card]"),
        ("0.4", "{ is = 0.4 }", "shared-value-wrong", 4, "caliper_mm"),
        ("[card]", "loose = 1\n[card]", "shared-value-wrong", 2, "loose"),
        ("= 0.4", "= 0,4", "shared-file-wrong", 4, ","),
        ('title = "Card"', "title = 4", "shared-value-wrong", 3, "title"),
    ],
)
def test_a_mistake_is_answered_where_it_stands(
    was: str, now: str, code: str, line: int, word: str
) -> None:
    text = CARD.replace(was, now, 1)
    assert text != CARD
    _, wrong = read_stocks("shared/stocks.toml", text)
    found = [d for d in wrong if d.code == code]
    assert len(found) == 1, wrong
    span = found[0].places[0].span
    assert (span.file, span.line) == ("shared/stocks.toml", line)
    assert text[span.start : span.end] == word
    assert text.split("\n")[line - 1][span.column - 1 :].startswith(word)


def test_a_misspelt_key_is_mended_by_its_way_out() -> None:
    text = CARD.replace("grain", "grian")
    _, wrong = read_stocks("shared/stocks.toml", text)
    edit = next(d for d in wrong if d.code == "shared-key-unknown").ways_out[0].edit
    assert edit is not None
    mended = text[: edit.span.start] + edit.text + text[edit.span.end :]
    assert read_stocks("shared/stocks.toml", mended)[1] == []


def test_one_run_reports_every_mistake() -> None:
    text = CARD.replace("0.4", "-1").replace("300", '"heavy"').replace("[card]", "[card]\nx = 1")
    _, wrong = read_stocks("shared/stocks.toml", text)
    assert len(wrong) == 3


def test_a_stock_on_a_sheet_that_is_not_there() -> None:
    all_texts = {**texts(), "stocks.toml": CARD.replace('"a4"', '"a44"')}
    _, wrong = read_trade(all_texts)
    assert [d.message for d in wrong] == ["there is no sheet ‘a44’ for ‘card’"]
    assert wrong[0].places[0].span.line == 10


def test_margins_that_leave_no_room() -> None:
    text = (SHARED / "sheets.toml").read_text(encoding="utf-8").replace("value = 5,", "value = 80,")
    _, wrong = read_sheets("shared/sheets.toml", text)
    assert [d.message for d in wrong] == ["the margins leave no room in ‘a5’"]


def test_an_empty_file_has_no_entries() -> None:
    assert read_objects("shared/objects.toml", "") == ({}, [])
    assert read_practice("shared/practice.toml", "# nothing yet\n") == ({}, [])


def test_what_the_trade_does_not_agree_on_is_marked() -> None:
    """Rows that were found in no standard may guide and may not refuse."""
    trade, _ = read_trade(texts())
    for rule in trade.practice.values():
        assert rule.doubtful == (rule.source == "common practice, no source"), rule.name
    assert {n for n, o in trade.objects.items() if o.doubtful} == {
        "tea light",
        "seed packet",
        "bookmark",
    }


def test_names_can_be_written_in_a_pattern() -> None:
    """Words of letters, digits and hyphens that the language does not keep for itself, at most
    one number at the end."""
    from publisher.language.words import ARTICLES, SIDES, SINGLE, UNITS

    trade, _ = read_trade(texts())
    for name in (*trade.stocks, *trade.objects):
        words = name.split()
        if words[-1].isdigit():
            words = words[:-1]
        assert words, name
        for word in words:
            assert re.fullmatch(r"[a-z](?:[a-z0-9]|-(?=[a-z0-9]))*", word), name
            assert word not in {*ARTICLES, *SIDES, *SINGLE, *UNITS}, name
