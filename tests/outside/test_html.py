"""The site against the standards of the web.

Sources: the HTML parsing algorithm as html5lib carries it out in its strict mode; HTML Living
Standard 4.7.3 (alt), 3.2.6 (unique ids); WCAG 2.2 success criteria 1.4.3 (contrast 4.5 for
text), 1.4.11 (3 for what shows focus) and its contrast formula; RFC 3986 for addresses;
WOFF2 (W3C 2022) signature; CSS Values and Units 4, 6.2 (96 px to the inch).
"""

from __future__ import annotations

import posixpath
import re
from itertools import pairwise
from xml.etree.ElementTree import Element

import html5lib
import pytest
from fontTools.ttLib import TTFont

from publisher.drawing.colour import contrast
from tests.website.made import house_look, house_patterns, house_site, html_pages

PAGES = sorted(html_pages())
each_page = pytest.mark.parametrize("path", PAGES)
_ADDRESS_ATTRIBUTES = ("href", "src", "srcset", "action", "poster", "data")


def parsed(text: str) -> Element:
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)


def test_every_page_is_there() -> None:
    assert PAGES == [
        "about/index.html",
        "index.html",
        "patterns/envelope/index.html",
        "patterns/sliding-box/index.html",
    ]


@each_page
def test_parses_without_one_error(path: str) -> None:
    assert html_pages()[path].startswith("<!doctype html>\n<html lang=")
    parsed(html_pages()[path])


def test_the_parser_does_refuse() -> None:
    with pytest.raises(html5lib.html5parser.ParseError):
        parsed("<!doctype html><title>x</title><p><table><p></table>")


@each_page
def test_nothing_is_fetched_from_another_host(path: str) -> None:
    for element in parsed(html_pages()[path]).iter():
        for name in _ADDRESS_ATTRIBUTES:
            value = element.get(name)
            if value is None or (element.tag == "a" and name == "href"):
                continue
            assert value == "data:," or not re.match(r"[a-z][a-z0-9+.-]*:|//", value), value
        assert "url(" not in (element.get("style") or "")
    assert "<script" not in html_pages()[path]


def test_style_sheet_and_pictures_fetch_only_what_lies_here() -> None:
    site = house_site()
    sheets = [path for path in site if path.endswith(".css")]
    assert sheets == ["style.css"]
    for path, data in site.items():
        if path.endswith((".css", ".svg")):
            text = data.decode("utf-8")
            for target in re.findall(r"url\(\"?([^)\"]+)\"?\)", text):
                assert posixpath.normpath(posixpath.join(posixpath.dirname(path), target)) in site
            assert "@import" not in text
            assert not re.search(r"(?:href|src)=\"(?!#)", text)


@each_page
def test_every_link_inside_leads_to_a_file(path: str) -> None:
    here = posixpath.dirname(path)
    page = parsed(html_pages()[path])
    ids = {element.get("id") for element in page.iter()}
    found = 0
    for element in page.iter():
        for name in ("href", "src"):
            value = element.get(name)
            if value is None or value == "data:,":
                continue
            if value.startswith("#"):
                assert value[1:] in ids
                continue
            assert posixpath.normpath(posixpath.join(here, value)) in house_site(), value
            found += 1
    assert found >= 3


@each_page
def test_ids_are_unique_and_pictures_speak(path: str) -> None:
    page = parsed(html_pages()[path])
    ids = [element.get("id") for element in page.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    for image in page.iter("img"):
        assert image.get("alt") is not None
        assert int(image.get("width", "0")) > 0
        assert int(image.get("height", "0")) > 0
    for element in page.iter():
        if element.get("aria-labelledby"):
            assert element.get("aria-labelledby") in ids


def test_diagrams_keep_the_words_of_the_model() -> None:
    for entry in house_patterns():
        book = entry.book
        page = parsed(html_pages()[f"patterns/{book.pattern.name}/index.html"])
        spoken = {image.get("alt") for image in page.iter("img")}
        for step in book.steps:
            assert {picture.alt for picture in step.pictures} <= spoken


@each_page
def test_headings_form_an_outline(path: str) -> None:
    levels = [
        int(element.tag[1])
        for element in parsed(html_pages()[path]).iter()
        if isinstance(element.tag, str) and re.fullmatch(r"h[1-6]", element.tag)
    ]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


def test_words_stand_out_from_their_grounds() -> None:
    colours = house_look().theme.colours
    for ground in ("cream", "page"):
        assert contrast(colours["ink"], colours[ground]) >= 7.0
        assert contrast(colours["soft-ink"], colours[ground]) >= 4.5
        assert contrast(colours["glue-text"], colours[ground]) >= 3.0
    for entry in house_patterns():
        for piece in entry.book.pattern.pieces:
            paper = house_look().theme.paper_colour("back", piece.stock)
            assert contrast(colours["ink"], paper) >= 4.5


def test_fonts_are_web_fonts_with_their_licence() -> None:
    site = house_site()
    fonts = {path: data for path, data in site.items() if path.startswith("fonts/")}
    assert sum(path.endswith(".woff2") for path in fonts) == 5
    for path, data in fonts.items():
        if path.endswith(".woff2"):
            assert data[:4] == b"wOF2"
            assert len(data) < 60_000
        else:
            assert b"SIL Open Font License, Version 1.1" in data


def test_web_font_still_sets_fractions(tmp_path: object) -> None:
    import io

    with TTFont(io.BytesIO(house_site()["fonts/fira-sans-400.woff2"])) as font:
        features = {r.FeatureTag for r in font["GSUB"].table.FeatureList.FeatureRecord}
        assert {"frac", "numr", "dnom", "tnum"} <= features
        assert {ord(c) for c in "aZ09×°’–é½"} <= set(font.getBestCmap())
