"""The site as files: front page, a page for every free pattern, the workshop's own pages."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from jinja2 import DictLoader, StrictUndefined
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markdown_it import MarkdownIt
from markupsafe import Markup

from publisher.drawing.png import outlined, to_png
from publisher.drawing.webfaces import licence_text, woff2
from publisher.website.styles import fonts_of, style_sheet
from publisher.website.types import SiteLook, SitePattern, SiteSettings
from publisher.website.view import POST_PICTURE, card, pattern_view, pictures_of
from publisher.website.words import figures, safe_link

POST_PX = 1200
"""Wide enough for what sites show of a link (common practice, no source)."""


def build_site(
    patterns: tuple[SitePattern, ...],
    site: SiteSettings,
    look: SiteLook,
    pages: Mapping[str, str] | None = None,
) -> dict[str, bytes]:
    """Every file of the site by its path, in the order of the paths.

    Free patterns are shown, in the order given; patrons' patterns are left out. ``pages`` are
    the workshop's own pages by name (``about``) as Markdown whose first heading is the title.
    All links are relative, so that the site works under any address and from a folder.
    Raises ``jinja2.TemplateError`` where a theme's template is wrong.
    """
    free = [entry for entry in patterns if entry.book.pattern.meta.edition == "free"]
    own = {name: _own_page(text) for name, text in sorted((pages or {}).items())}
    render = _Renderer(site, look, [(title, f"{name}/") for name, (title, _) in own.items()])
    files = {"index.html": render("front.html", "", cards=[card(entry) for entry in free])}
    for name, (title, body) in own.items():
        files[f"{name}/index.html"] = render("page.html", f"{name}/", title=title, body=body)
    for entry in free:
        files.update(_pattern_files(entry, render))
    files["style.css"] = style_sheet(look).encode("utf-8")
    if any(entry.motions for entry in free):
        files["motion.js"] = Path(__file__).with_name("motion.js").read_bytes()
    files.update(_font_files(look))
    return dict(sorted(files.items()))


class _Renderer:
    """Renders a template for a page at a folder of the site."""

    def __init__(
        self, site: SiteSettings, look: SiteLook, own_pages: list[tuple[str, str]]
    ) -> None:
        self.site, self.own_pages = site, own_pages
        self.templates = ImmutableSandboxedEnvironment(
            loader=DictLoader(dict(look.pages)),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        self.templates.filters["figures"] = figures
        self.templates.filters["safe_link"] = safe_link

    def __call__(self, template: str, folder: str, **values: Any) -> bytes:
        root = posixpath.relpath(".", folder) + "/" if folder else ""
        address = self.site.address.rstrip("/")
        text = self.templates.get_template(template).render(
            site=self.site,
            own_pages=self.own_pages,
            root=root,
            canonical=f"{address}/{folder}" if address else "",
            **values,
        )
        return text.encode("utf-8")


def _pattern_files(entry: SitePattern, render: _Renderer) -> dict[str, bytes]:
    book = entry.book
    folder = f"patterns/{book.pattern.name}/"
    files = {f"{folder}index.html": render("pattern.html", folder, **pattern_view(entry))}
    for file, picture in pictures_of(book).items():
        files[folder + file] = outlined(picture.svg).encode("utf-8")
    files[folder + POST_PICTURE] = to_png(book.cover.svg, POST_PX)
    for name, photograph in book.photographs:
        files[f"{folder}photographs/{name}"] = photograph
    files[f"downloads/{entry.bundle_name}"] = entry.bundle
    for _, name, data in entry.makers:
        files[f"downloads/{name}"] = data
    return files


def _font_files(look: SiteLook) -> dict[str, bytes]:
    files = {}
    for font in fonts_of(look):
        files[f"fonts/{font.file}"] = woff2(font.family, font.weight, font.italic)
        licence = f"fonts/{font.family.lower().replace(' ', '-')}-licence.txt"
        files[licence] = licence_text(font.family)
    return files


def _own_page(text: str) -> tuple[str, Markup]:
    """Title and body of a page in Markdown; raw HTML in it is shown as it was typed."""
    markdown = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = markdown.parse(text)
    title = "Page"
    if len(tokens) > 1 and tokens[0].type == "heading_open" and tokens[0].tag == "h1":
        title = re.sub(r"[*_`]", "", tokens[1].content)
        tokens = tokens[3:]
    for token in tokens:
        if token.tag == "h1":
            token.tag = "h2"
    return title, Markup(markdown.renderer.render(tokens, markdown.options, {}))
