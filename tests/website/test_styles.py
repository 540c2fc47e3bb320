"""Tokens come from the theme; nothing is coloured or measured twice."""

from __future__ import annotations

import re

from publisher.website.styles import style_sheet
from publisher.website.view import shown
from tests.booklet.book import ROOT
from tests.website.made import house_look, house_patterns


def test_every_custom_property_used_is_defined() -> None:
    text = style_sheet(house_look())
    defined = set(re.findall(r"^\s*(--[\w-]+):", text, re.MULTILINE)) | {"--ground"}
    assert set(re.findall(r"var\((--[\w-]+)\)", text)) <= defined


def test_no_colour_and_no_face_is_written_outside_the_theme_file() -> None:
    folder = ROOT / "themes/potting-shed"
    literal = re.compile(
        r"#[0-9a-fA-F]{3,8}\b(?!\w)|\brgba?\(|\bhsla?\(|: *(?:white|black|red|grey)\b(?!-)"
    )
    for file in [folder / "site.css", *sorted((folder / "pages").glob("*.html"))]:
        for line in file.read_text("utf-8").splitlines():
            shown_line = re.sub(r"href=\"#[\w-]+\"", "", line)
            assert not literal.search(shown_line), (file.name, line)
    template = (folder / "booklet.typ").read_text("utf-8")
    assert "rgb(" not in template.replace("#let colour(name) = rgb(look.colours.at(name))", "")
    for family in ("Fira", "Spectral"):
        assert family not in template
        assert family not in (folder / "site.css").read_text("utf-8")


def test_sizes_keep_the_scale_of_the_booklet() -> None:
    text = style_sheet(house_look())
    sizes = [float(v) for v in re.findall(r"--size-\w+: ([\d.]+)rem", text)]
    assert sizes == [round(pt / 11, 3) for pt in (9, 11, 14, 20, 32)]


def test_pictures_are_shown_at_the_size_of_css_millimetres() -> None:
    cover = house_patterns()[0].book.cover
    picture = shown("x.svg", cover)
    assert abs(picture.width - cover.width_mm * 96 / 25.4) <= 0.5
