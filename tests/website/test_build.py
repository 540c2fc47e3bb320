"""What is on the site, and what keeps a stranger's words and templates harmless."""

from __future__ import annotations

import io
import re

import jinja2
import pytest
from msgspec.structs import replace
from PIL import Image

from publisher.model.prose import Block, Run
from publisher.website import SiteLook, SitePattern, SiteSettings, build_site
from publisher.website.words import figures, safe_link
from tests.handmade import at
from tests.website.made import SETTINGS, house_look, house_patterns, house_site, html_pages


def with_pattern(entry: SitePattern, **changes: object) -> SitePattern:
    pattern = replace(entry.book.pattern, **changes)
    return replace(entry, book=replace(entry.book, pattern=pattern))


def test_front_page_shows_what_a_maker_chooses_by() -> None:
    front = html_pages()["index.html"]
    for said in ("Sliding box", "A drawer in a sleeve", "Easy", "3 sheets", "patterns/envelope/"):
        assert said in front
    assert '<span class="measure">' in html_pages()["patterns/sliding-box/index.html"]


def test_patterns_for_patrons_are_not_given_away() -> None:
    box, envelope = house_patterns()
    meta = replace(envelope.book.pattern.meta, edition="patrons")
    files = build_site((box, with_pattern(envelope, meta=meta)), SETTINGS, house_look())
    assert not [path for path in files if "envelope" in path]
    assert b"Envelope" not in files["index.html"]


def test_a_site_without_patterns_still_has_a_front_page() -> None:
    files = build_site((), SETTINGS, house_look())
    assert b"kitchen table" in files["index.html"]


def test_the_bundle_is_what_is_downloaded() -> None:
    assert house_site()["downloads/sliding-box-1.0.0.zip"] == b"PK box"
    page = html_pages()["patterns/sliding-box/index.html"]
    assert 'href="../../downloads/sliding-box-1.0.0.zip"' in page


def test_a_maker_finds_the_bundle_for_its_own_kind() -> None:
    first, *_ = house_patterns()
    made = replace(first, makers=(("12 in maker", "sliding-box-1.0.0-12-in-maker.zip", b"PK 12"),))
    files = build_site((made,), SETTINGS, house_look(), {})
    assert files["downloads/sliding-box-1.0.0-12-in-maker.zip"] == b"PK 12"
    page = files["patterns/sliding-box/index.html"].decode()
    assert 'href="../../downloads/sliding-box-1.0.0-12-in-maker.zip"' in page
    assert "For the 12 in maker" in page
    usual = build_site((first,), SETTINGS, house_look(), {})
    assert b"For the " not in usual["patterns/sliding-box/index.html"]


def test_files_come_in_the_order_of_their_paths_and_are_the_same_again() -> None:
    again = build_site(house_patterns(), SETTINGS, house_look(), {"about": "# About\n\nUs."})
    assert list(again) == sorted(again)
    same = {path for path in again if again[path] != house_site()[path]}
    assert same == {"about/index.html"}


def test_an_address_gives_canonical_links_and_what_posts_show() -> None:
    settings = SiteSettings("S", address="https://example.org/paper/")
    page = build_site(house_patterns(), settings, house_look())["patterns/envelope/index.html"]
    canonical = b'<link rel="canonical" href="https://example.org/paper/patterns/envelope/">'
    assert canonical in page
    folder = "patterns/envelope/"
    # The Open Graph protocol, ogp.me: title, type, image and url are required.
    said = dict(re.findall(r'<meta property="og:([a-z_:]+)" content="([^"]*)">', page.decode()))
    assert {"title", "type", "image", "url"} <= set(said)
    assert said["url"] == f"https://example.org/paper/{folder}"
    picture = said["image"].removeprefix("https://example.org/paper/")
    shown = Image.open(io.BytesIO(house_site()[picture]))
    cover = house_patterns()[1].book.cover
    assert (shown.format, shown.width) == ("PNG", 1200)
    assert shown.height == pytest.approx(1200 * cover.height_mm / cover.width_mm, abs=1)
    assert page.count(b"https://example.org") == 3
    assert b"https://" not in house_site()[f"{folder}index.html"].split(b"</head>")[0]


def test_words_of_a_pattern_cannot_become_markup() -> None:
    span = at("content/x/pattern.md", 1)
    nasty = "<script>alert(1)</script> {{ 7 * 7 }}"
    runs = (Run(nasty, span), Run("here", span, href="java\tscript:alert(1)"))
    meta = replace(house_patterns()[0].book.pattern.meta, summary=nasty)
    entry = with_pattern(house_patterns()[0], body=(Block("paragraph", span, runs),), meta=meta)
    files = build_site((entry,), SETTINGS, house_look())
    page = files["patterns/sliding-box/index.html"].decode()
    assert "<script" not in page
    assert "script:alert" not in page
    assert "{{ 7 * 7 }}" in page
    assert b"<script" not in files["index.html"]


def test_own_pages_show_raw_markup_as_typed() -> None:
    files = build_site((), SETTINGS, house_look(), {"x": "# T\n\n<b>bold</b> [l](javascript:x)"})
    page = files["x/index.html"].decode()
    assert "&lt;b&gt;bold" in page
    assert 'href="javascript' not in page
    assert page.count("<h1>") == 1


@pytest.mark.parametrize(
    "template",
    ["{{ ''.__class__.__mro__ }}", "{{ cards.append(1) }}", "{{ no_such_value }}"],
)
def test_a_strangers_template_reaches_nothing(template: str) -> None:
    look = house_look()
    pages = {**look.pages, "front.html": template}
    with pytest.raises(jinja2.TemplateError):
        build_site((), SETTINGS, SiteLook(look.theme, pages, look.css))


@pytest.mark.parametrize(
    ("href", "expected"),
    [
        ("https://example.org/a?b=1", "https://example.org/a?b=1"),
        ("../envelope/", "../envelope/"),
        ("mailto:someone@example.org", "mailto:someone@example.org"),
        ("JavaScript:alert(1)", ""),
        (" data:text/html,x", ""),
        ("vb\nscript:x", ""),
    ],
)
def test_safe_links(href: str, expected: str) -> None:
    assert safe_link(href) == expected


def test_figures_are_kept_together_and_escaped() -> None:
    assert figures("a < 5 1/4 in") == (
        'a &lt; <span class="measure">5 <span class="fraction">1/4</span> in</span>'
    )
    assert figures("124 × 84 mm deep") == '<span class="measure">124 × 84 mm</span> deep'
    assert figures("and so on") == "and so on"
