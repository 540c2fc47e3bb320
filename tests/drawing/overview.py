"""Every step picture and cover of the content patterns on one page, to be looked at.

``python -m tests.drawing.overview`` writes ``build/overview/index.html`` and the pictures beside
it, as SVG in colour and as PNG in grey as a printer without colours sets them. ``--words`` adds
each picture's alternative text.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from html import escape
from pathlib import Path

from PIL import Image

from publisher.drawing.png import to_png
from publisher.drawing.space_view import draw_cover, draw_story
from publisher.drawing.svg import to_svg
from publisher.drawing.types import Drawing
from publisher.pipeline import check_pattern
from publisher.workshop import look_of, open_workshop

ROOT = Path(__file__).parents[2]
PX = 900


def content_drawings() -> Iterator[tuple[str, tuple[Drawing, ...], dict]]:
    """Every content pattern that can be put together: its name, its pictures with the cover
    first, and its stocks."""
    workshop = open_workshop(ROOT)[0]
    for file in sorted((ROOT / "content").glob("*/pattern.md")):
        outcome = check_pattern(workshop, file.parent.name)
        if outcome.pattern is None or outcome.story is None:
            continue
        told = outcome.story.handled or outcome.pattern
        stocks = {piece.stock.name: piece.stock for piece in told.pieces}
        drawings = (draw_cover(told, outcome.story), *draw_story(told, outcome.story))
        yield file.parent.name, drawings, stocks


def write(folder: Path, words: bool = True) -> int:
    """Write the page and its pictures; gives how many pictures there are."""
    theme = look_of(open_workshop(ROOT)[0])[0]
    rows = []
    count = 0
    for name, drawings, stocks in content_drawings():
        rows.append(f"<h2>{escape(name)}</h2><div class='row'>")
        for drawing in drawings:
            svg = to_svg(drawing, theme, stocks)
            at = f"{name}-{drawing.name}"
            (folder / f"{at}.svg").write_text(svg, encoding="utf-8")
            grey = Image.open(io.BytesIO(to_png(svg, PX))).convert("L")
            grey.save(folder / f"{at}.png")
            said = f"<p>{escape(drawing.alt)}</p>" if words else ""
            rows.append(
                f"<figure><img src='{at}.svg' alt='{escape(drawing.alt, quote=True)}'>"
                f"<figcaption><b>{drawing.name}</b>{said}</figcaption></figure>"
            )
            count += 1
        rows.append("</div>")
    page = (
        "<!doctype html><meta charset='utf-8'><title>Step pictures</title><style>"
        ".row{display:flex;flex-wrap:wrap;gap:8px}figure{margin:0;width:85mm;font:9pt sans-serif}"
        "img{max-width:85mm;border:1px solid #ccc}</style>" + "\n".join(rows)
    )
    (folder / "index.html").write_text(page, encoding="utf-8")
    return count


if __name__ == "__main__":
    target = ROOT / "build" / "overview"
    target.mkdir(parents=True, exist_ok=True)
    found = write(target, "--words" in sys.argv)
    sys.stdout.write(f"{found} pictures: {target / 'index.html'}\n")
