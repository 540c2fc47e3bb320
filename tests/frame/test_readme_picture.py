"""The picture in README.md is what the tool makes of the star lantern today.

``make pictures`` renews it.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

from publisher.drawing.png import outlined
from publisher.pipeline import build_bundle
from publisher.workshop import open_workshop

ROOT = Path(__file__).resolve().parents[2]
PICTURE = ROOT / "site" / "pictures" / "lantern.svg"
SHOWN = ("piece-lantern.svg", "step-02b.svg", "step-03b.svg", "cover.svg")
ROW_MM = 62.0
GAP_MM = 8.0

ROOT_ELEMENT = re.compile(r'<svg xmlns="[^"]+" width="([\d.]+)mm" height="([\d.]+)mm"')


def in_a_row(pictures: list[str]) -> str:
    """The pictures side by side, each as high as the row, as one SVG."""
    x, parts = 0.0, []
    for picture in pictures:
        found = ROOT_ELEMENT.search(picture)
        assert found is not None
        width, height = float(found[1]), float(found[2])
        shown = min(ROW_MM / height, 1.4)
        size = (width * shown, height * shown)
        place = f'<svg x="{x:.2f}" y="{(ROW_MM - size[1]) / 2:.2f}"'
        place += f' width="{size[0]:.2f}" height="{size[1]:.2f}"'
        body = picture[found.start() :].replace(found[0], place, 1)
        parts.append(re.sub(r' role="img" aria-labelledby="[^"]*"', "", body))
        x += size[0] + GAP_MM
    inside = "".join(parts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{x - GAP_MM:.2f}mm" height="{ROW_MM}mm"'
        f' viewBox="0 0 {x - GAP_MM:.2f} {ROW_MM}">'
        f'<rect width="100%" height="100%" fill="#ffffff"/>{inside}</svg>\n'
    )


def test_the_picture_is_current() -> None:
    workshop, _ = open_workshop(ROOT)
    outcome = build_bundle(workshop, "lantern")
    drawn = in_a_row([outlined(outcome.files[name].decode()) for name in SHOWN])
    if os.environ.get("RENEW_PICTURES"):
        PICTURE.parent.mkdir(exist_ok=True)
        PICTURE.write_text(drawn, encoding="utf-8")
    assert PICTURE.read_text(encoding="utf-8") == drawn, "renew it with: make pictures"
