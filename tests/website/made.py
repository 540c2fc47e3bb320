"""The house site with the handmade patterns, for tests."""

from __future__ import annotations

from functools import cache

from publisher.website import SiteLook, SitePattern, SiteSettings, build_site, look_of
from tests.booklet.book import ROOT, book_of, envelope_sheets, house_theme, sliding_box_sheets
from tests.handmade import envelope_pattern, sliding_box_pattern

SETTINGS = SiteSettings("Potting Shed Paper", "Paper things for seed swaps.")


@cache
def house_look() -> SiteLook:
    folder = ROOT / "themes/potting-shed"
    files = {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in sorted(folder.rglob("*"))
        if file.is_file()
    }
    return look_of(house_theme(), files)


@cache
def house_patterns() -> tuple[SitePattern, ...]:
    box, envelope = sliding_box_pattern(), envelope_pattern()
    return (
        SitePattern(book_of(box, sliding_box_sheets(box)), "sliding-box-1.0.0.zip", b"PK box"),
        SitePattern(book_of(envelope, envelope_sheets(envelope)), "envelope-1.0.0.zip", b"PK env"),
    )


@cache
def own_pages() -> dict[str, str]:
    return {
        file.stem: file.read_text("utf-8") for file in sorted((ROOT / "site/pages").glob("*.md"))
    }


@cache
def house_site() -> dict[str, bytes]:
    return build_site(house_patterns(), SETTINGS, house_look(), own_pages())


def html_pages() -> dict[str, str]:
    return {
        path: data.decode("utf-8") for path, data in house_site().items() if path.endswith(".html")
    }
