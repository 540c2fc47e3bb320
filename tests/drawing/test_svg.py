from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from pathlib import Path as FilePath
from xml.etree import ElementTree

import pytest
import svgelements
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from publisher.drawing.legend import draw_sign
from publisher.drawing.piece_drawing import draw_piece
from publisher.drawing.png import outlined, to_png
from publisher.drawing.svg import identifier, number, path_data, to_svg
from publisher.drawing.theme import Theme, parse_theme
from publisher.drawing.types import Drawing, Fill, Label, Stroke
from publisher.geometry.measure import path_bounds
from publisher.geometry.path import Arc, Line, Path, circle, polygon
from tests.handmade import CARD, PAPER, PATTERNED, sliding_box_pattern

THEME = FilePath(__file__).parents[2] / "themes/potting-shed/theme.toml"
SVG = "{http://www.w3.org/2000/svg}"
STOCKS = {s.name: s for s in (CARD, PAPER, PATTERNED)}


@pytest.fixture(scope="module")
def theme() -> Theme:
    return parse_theme(THEME.read_text(encoding="utf-8"))


def drawing(*items: Stroke | Fill | Label, alt: str = "A test. Of little.") -> Drawing:
    return Drawing("a test", 60.0, 40.0, items, 1.0, (), alt)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.0, "0"), (-0.0004, "0"), (1.0, "1"), (2.5, "2.5"), (0.1236, "0.124")],
)
def test_numbers_are_short(value: float, text: str) -> None:
    assert number(value) == text


@given(st.floats(-1e4, 1e4))
def test_numbers_stay_within_half_a_thousandth(value: float) -> None:
    assert abs(float(number(value)) - value) <= 0.0005 + 1e-9
    assert re.fullmatch(r"-?\d+(\.\d{1,3})?", number(value))


@given(st.text(max_size=20), st.text(max_size=20))
def test_identifiers_are_fit_for_xml(a: str, b: str) -> None:
    assert re.fullmatch(r"[A-Za-z_][\w.-]*", identifier(a, b), flags=re.ASCII)


@given(st.text(max_size=60))
def test_any_words_give_well_formed_xml(theme: Theme, text: str) -> None:
    label = Label(text or "x", (5.0, 5.0), id=text)
    root = ElementTree.fromstring(to_svg(drawing(label, alt=text), theme, {}))
    assert root.tag == f"{SVG}svg"


def test_text_comes_back_as_written(theme: Theme) -> None:
    said = "a < b & 'c' \"d\" > e"
    root = ElementTree.fromstring(to_svg(drawing(Label(said, (5.0, 5.0))), theme, {}))
    (text,) = root.iter(f"{SVG}text")
    assert text.text == said


def test_size_title_and_description(theme: Theme) -> None:
    root = ElementTree.fromstring(to_svg(drawing(), theme, {}))
    assert (root.get("width"), root.get("height")) == ("60mm", "40mm")
    assert root.get("viewBox") == "0 0 60 40"
    assert root.get("role") == "img"
    named = (root.get("aria-labelledby") or "").split()
    by_id = {e.get("id"): e.text for e in root}
    assert [by_id[i] for i in named] == ["A test", "Of little."]


ARCS = (
    Arc((10.0, 5.0), (20.0, 5.0), (15.0, 5.0), True),
    Arc((10.0, 5.0), (20.0, 5.0), (15.0, 5.0), False),
    Arc((10.0, 5.0), (15.0, 10.0), (15.0, 5.0), True),
    Arc((10.0, 5.0), (15.0, 10.0), (15.0, 5.0), False),
)


@pytest.mark.parametrize("arc", ARCS)
def test_arcs_stay_arcs_and_go_the_same_way(arc: Arc) -> None:
    data = path_data([Path((arc,), closed=False)])
    (read,) = (s for s in svgelements.Path(data) if isinstance(s, svgelements.Arc))
    assert read.length() == pytest.approx(arc.length_mm, abs=0.01)
    assert abs(read.center - complex(*arc.centre)) < 0.002
    box = svgelements.Path(data).bbox()
    assert box == pytest.approx(path_bounds(Path((arc,), closed=False)), abs=0.002)


def test_a_closed_path_is_closed_once() -> None:
    assert path_data([polygon(((0, 0), (2, 0), (2, 1)))]) == "M0 0L2 0L2 1Z"
    assert path_data([circle((0, 0), 1)]).count("A") == 2


def test_dashes_come_from_the_theme(theme: Theme) -> None:
    line = Path((Line((0, 0), (30, 0)),), closed=False)
    root = ElementTree.fromstring(to_svg(drawing(Stroke("mountain", (line,))), theme, {}))
    (path,) = root.iter(f"{SVG}path")
    dashes = tuple(float(d) for d in (path.get("stroke-dasharray") or "").split())
    own = theme.lines["mountain"].dash_mm
    assert dashes[1:] == own[1:]
    # four dashes with what lies between them fill the 30 mm
    assert 4 * dashes[0] + 3 * sum(dashes[1:]) == pytest.approx(30.0, abs=0.05)
    assert path.get("class") == "mountain"


def test_hatches_are_lines_and_nothing_else(theme: Theme) -> None:
    zone = polygon(((5, 5), (25, 5), (25, 15), (5, 15)))
    svg = to_svg(drawing(Fill("glue", (zone,))), theme, {})
    assert "<pattern" not in svg
    root = ElementTree.fromstring(svg)
    (path,) = root.iter(f"{SVG}path")
    assert (path.get("d") or "").count("M") > 10


def test_paper_takes_the_colours_of_its_stock(theme: Theme) -> None:
    sheet = polygon(((5, 5), (25, 5), (25, 15), (5, 15)))
    svg = to_svg(drawing(Fill("front", (sheet,), "card")), theme, STOCKS)
    assert f'fill="{CARD.front_colour}"' in svg
    plain = to_svg(drawing(Fill("front", (sheet,), "unknown")), theme, STOCKS)
    assert f'fill="{theme.paper.plain}"' in plain


def test_a_halo_lies_under_its_words(theme: Theme) -> None:
    """As one shape before the words: stroked words lose parts of their letters in print."""
    label = Label("mat 5/16", (30, 20), role="letter", turn_deg=-90.0)
    root = ElementTree.fromstring(to_svg(drawing(label), theme, {}))
    halo, words = list(root)[-2:]
    assert (halo.tag, words.tag) == (f"{SVG}path", f"{SVG}text")
    assert halo.get("stroke") == theme.paper.page
    assert float(halo.get("stroke-width") or 0) == 2 * theme.labels["letter"].halo_mm
    assert halo.get("transform") == words.get("transform") == "rotate(-90 30 20)"
    assert words.get("stroke") is None
    left, top, right, bottom = svgelements.Path(halo.get("d")).bbox()
    assert (left + right) / 2 == pytest.approx(30.0, abs=0.2)
    assert top < 18.5 < 20.0 <= bottom + 0.1


def test_the_same_drawing_gives_the_same_bytes_in_any_process() -> None:
    script = (
        "from pathlib import Path\n"
        "from publisher.drawing.piece_drawing import draw_piece\n"
        "from publisher.drawing.svg import to_svg\n"
        "from publisher.drawing.theme import parse_theme\n"
        "from tests.handmade import CARD, PATTERNED, sliding_box_pattern\n"
        "t = parse_theme(Path('themes/potting-shed/theme.toml').read_text(encoding='utf-8'))\n"
        "p = sliding_box_pattern()\n"
        "s = {x.name: x for x in (CARD, PATTERNED)}\n"
        "import hashlib, sys\n"
        "text = ''.join(to_svg(draw_piece(p, x), t, s) for x in p.pieces)\n"
        "sys.stdout.write(hashlib.sha256(text.encode()).hexdigest())\n"
    )

    def run(seed: str) -> str:
        root = THEME.parents[2]
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(root)}
        command = [sys.executable, "-c", script]
        done = subprocess.run(
            command, env=env, cwd=root, capture_output=True, text=True, check=True
        )
        return done.stdout

    assert run("1") == run("2")


# ---------------------------------------------------------------- pictures


def test_words_become_outlines(theme: Theme) -> None:
    svg = outlined(to_svg(drawing(Label("base 5/16", (30, 20))), theme, {}))
    root = ElementTree.fromstring(svg)
    assert not list(root.iter(f"{SVG}text"))
    _, path = root.iter(f"{SVG}path")
    left, top, right, bottom = svgelements.Path(path.get("d")).bbox()
    assert 20 < left < 30 < right < 40
    assert 17 < top < 20 < bottom + 1.0


def test_a_picture_has_its_size_and_shows_paper(theme: Theme) -> None:
    pattern = sliding_box_pattern()
    drawn = draw_piece(pattern, pattern.piece("drawer"))
    png = to_png(to_svg(drawn, theme, STOCKS), 600)
    image = Image.open(io.BytesIO(png)).convert("RGB")
    assert image.width == 600
    assert abs(image.height - 600 * drawn.height_mm / drawn.width_mm) <= 1
    colours = {colour for _, colour in image.getcolors(10**6) or []}
    assert (0xE8, 0xD9, 0xB8) in colours
    assert png == to_png(to_svg(drawn, theme, STOCKS), 600)


def test_a_sign_without_ground_is_clear(theme: Theme) -> None:
    png = to_png(to_svg(draw_sign("hidden"), theme, {}), 90, ground=None)
    image = Image.open(io.BytesIO(png))
    assert image.mode == "RGBA"
    assert image.getpixel((0, 0)) == (0, 0, 0, 0)
