"""The values the site is made of."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from publisher.booklet.types import BookletInput
from publisher.drawing.theme import Theme


class SiteSettings(Struct, frozen=True):
    """``title`` is the workshop's name, ``line`` one sentence under it, ``language`` a
    BCP 47 tag, ``address`` where the site will live ("" while unknown)."""

    title: str
    line: str = ""
    language: str = "en"
    address: str = ""


class SitePattern(Struct, frozen=True):
    """A pattern with what its booklet is made from, and its bundle as offered. ``makers`` are
    further bundles: for which maker, the file's name, the zip. ``motions`` are clips as JSON, by
    the name of the picture that they move (``step-01a``)."""

    book: BookletInput
    bundle_name: str
    bundle: bytes
    makers: tuple[tuple[str, str, bytes], ...] = ()
    motions: Mapping[str, str] = field(default_factory=dict)


class SiteLook(Struct, frozen=True):
    """A theme's side for the site: its templates by name (``front.html``) and ``site.css``."""

    theme: Theme
    pages: Mapping[str, str]
    css: str


def look_of(theme: Theme, files: Mapping[str, bytes]) -> SiteLook:
    """From the files of a theme by their path inside its folder."""
    pages = {
        path.removeprefix("pages/"): data.decode("utf-8")
        for path, data in sorted(files.items())
        if path.startswith("pages/") and path.endswith(".html")
    }
    return SiteLook(theme, pages, files["site.css"].decode("utf-8"))
