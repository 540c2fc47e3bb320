"""Steps that move on a page: the clips stand in it, the script asks nobody, and without it the
page is as it was."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from publisher.assembly import assemble
from publisher.booklet.types import Picture, StepPictures, picture_of
from publisher.drawing.space_view import draw_story, told_frames
from publisher.drawing.svg import to_svg
from publisher.website import build_site, motions_of
from tests.booklet.book import house_theme
from tests.conftest import BROWSERS
from tests.handmade import sliding_box_pattern
from tests.website.made import SETTINGS, house_look, house_patterns

PAGE = "patterns/sliding-box/index.html"
CLIP = re.compile(r'<script type="application/json">(.*?)</script>', re.S)


@cache
def moving_site() -> dict[str, bytes]:
    box = sliding_box_pattern()
    story, _ = assemble(box)
    theme, stocks = house_theme(), {p.stock.name: p.stock for p in box.pieces}
    steps: dict[int, list[Picture]] = {}
    for frame, drawing in zip(told_frames(box, story), draw_story(box, story), strict=True):
        made = picture_of(drawing, to_svg(drawing, theme, stocks))
        steps.setdefault(frame.step, []).append(made)
    pictures = tuple(StepPictures(number, tuple(found)) for number, found in steps.items())
    entry = house_patterns()[0]
    book = replace(entry.book, steps=pictures)
    entry = replace(entry, book=book, motions=motions_of(box, story, theme))
    return build_site((entry,), SETTINGS, house_look(), {})


def page() -> str:
    return moving_site()[PAGE].decode("utf-8")


def test_a_clip_stands_beside_every_picture_that_moves() -> None:
    found = [json.loads(data) for data in CLIP.findall(page())]
    names = [clip["name"] for clip in found]
    assert names == ["step-01b", "step-01c", "step-01d", "step-02", "step-03a", "step-03b",
                     "step-03c", "step-03d", "step-03e", "step-04"]  # fmt: skip
    for clip in found:
        assert {"moments", "axes", "box", "bodies", "above"} <= clip.keys()
        assert clip["bodies"][0]["facets"]
    assert page().count('<script src="../../motion.js" defer>') == 1


def test_players_are_out_of_sight_until_the_script_has_come() -> None:
    holders = re.findall(r'<div class="motion"[^>]*>', page())
    assert len(holders) == len(CLIP.findall(page()))
    assert all(" hidden" in holder for holder in holders)
    assert all(word in page() for word in ("See it move", 'aria-label="Move it by hand"'))


def test_a_site_where_nothing_moves_has_no_script() -> None:
    still = build_site(house_patterns(), SETTINGS, house_look(), {})
    assert "motion.js" not in still
    assert b"<script" not in still[PAGE]


def test_the_script_asks_nobody_and_minds_who_wants_calm() -> None:
    script = moving_site()["motion.js"].decode("utf-8")
    addresses = set(re.findall(r"\w+://[^\s\"']+", script))
    assert addresses == {"http://www.w3.org/2000/svg"}  # the name of SVG, never fetched
    for word in ("fetch(", "XMLHttpRequest", "import(", "WebSocket", "eval(", "innerHTML"):
        assert word not in script
    assert "prefers-reduced-motion: reduce" in script


@pytest.mark.browser
def test_the_player_draws_the_thing_as_it_moves(tmp_path: Path) -> None:
    """Scrubbed to its end, the walls of the drawer stand: the picture gives way to a drawing of
    the nine facets, and an error in the script would leave a mark."""
    for path, data in moving_site().items():
        file = tmp_path / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)
    file = tmp_path / PAGE
    scrubbed = """<script>
      window.addEventListener("error", (e) => { document.title = e.message; });
      window.addEventListener("load", () => {
        for (const i of document.querySelectorAll(".motion input")) {
          i.value = i.max;
          i.dispatchEvent(new Event("input"));
        }
      });</script></head>"""
    file.write_text(page().replace("</head>", scrubbed), encoding="utf-8")
    browser = next(found for found in map(shutil.which, BROWSERS) if found)
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom"]
    command += ["--virtual-time-budget=3000", file.as_uri()]
    dom = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True).stdout
    assert "<title>Sliding box" in dom
    drawings = re.findall(r'<svg[^>]*class="moving"[^>]*>(.*?)</svg>', dom, re.S)
    assert len(drawings) == 10
    walls = drawings[1]
    assert walls.count("<path") == 9
    assert all(f'd="M{n}' not in walls for n in ("NaN", "undefined"))
    assert 'role="img"' in dom
