"""What the player of the site paints hides what lies behind it: point by point, in a browser,
against a ray through every facet."""

from __future__ import annotations

import json
import random
import re
import shutil
import subprocess
from collections.abc import Sequence
from html import unescape
from pathlib import Path
from typing import Any

import msgspec
import numpy as np
import pytest
import shapely

from publisher.assembly import Story
from publisher.drawing.clip import Clip
from publisher.drawing.motion import Moment, clips, moments_of
from publisher.drawing.space_view.stage import Stage, set_stage
from publisher.geometry.flatten import flattened
from publisher.geometry.space import lift
from publisher.model.types import Pattern
from publisher.workshop import look_of
from tests.conftest import BROWSERS
from tests.drawing import test_view_cross
from tests.drawing.test_view_content import told, workshop

SCRIPT = Path(__file__).parents[2] / "publisher" / "website" / "motion.js"
SPOTS = 400
EDGE_MM = 0.25
NOWHERE = -1e9
LAYERS_MM = 1.3  # nearer to each other the order of papers decides, not their place
WITHIN = """
const out = [];
addEventListener("error", (e) => out.push(e.message));
addEventListener("load", () => {
  for (const holder of document.querySelectorAll(".motion")) {
    const input = holder.querySelector("input"), of = [];
    for (const t of JSON.parse(holder.dataset.at)) {
      input.value = t;
      input.dispatchEvent(new Event("input"));
      const paths = holder.closest("figure").querySelectorAll(WHICH);
      of.push([...paths].map((p) => [p.dataset.of ?? null, p.getAttribute("d")]));
    }
    out.push(of);
  }
  document.querySelector("pre").textContent = JSON.stringify(out);
});
"""


def painted(
    found: Sequence[tuple[Clip, Sequence[int]]], folder: Path, which: str = "svg path[data-of]"
) -> list[Any]:
    """For each clip and each of its moments the paths in the order in which they are painted:
    body and facet by their places, and the path's data."""
    figures = "".join(
        f'<figure><img alt="" width="400"><div class="motion" data-width="85" data-at="{list(at)}">'
        '<button></button><input type="range" min="0" step="0.25" value="0" '
        f'max="{clip.moments - 1}"><script type="application/json">'
        f"{msgspec.json.encode(clip).decode()}</script></div></figure>"
        for clip, at in found
    )
    within = WITHIN.replace("WHICH", json.dumps(which))
    script = SCRIPT.read_text(encoding="utf-8")
    page = f"<!doctype html><meta charset=utf-8>{figures}<pre></pre><script>{within}</script>"
    file = folder / "page.html"
    file.write_text(f"{page}<script>{script}</script>", encoding="utf-8")
    browser = next(found for found in map(shutil.which, BROWSERS) if found)
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom"]
    command += ["--virtual-time-budget=20000", file.as_uri()]
    dom = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True).stdout
    told = re.search(r"<pre>(.*?)</pre>", dom, re.S)
    assert told is not None
    return list(json.loads(unescape(told[1])))


def area(data: str) -> shapely.Geometry:
    """The filled area of a path of straight lines, even-odd."""
    found: shapely.Geometry = shapely.Polygon()
    for ring in re.findall(r"M([^Z]*)Z", data):
        points = [tuple(map(float, point.split())) for point in ring.split("L")]
        found = found.symmetric_difference(shapely.Polygon(points).buffer(0))
    return found


def hits(stage: Stage, moment: Moment, rows: np.ndarray, spots: np.ndarray) -> list[str | None]:
    """The facet that is seen at each spot on paper: None where an edge or papers that nearly
    touch leave it open, "" where there is none."""
    near = np.full((len(stage.actors) + 1, len(spots)), NOWHERE)
    edges = []
    points = shapely.points(spots)
    for k, actor in enumerate(stage.actors):
        pose = moment.poses[actor.body][actor.facet]
        region = actor.piece.facet(actor.facet).region
        rings = [flattened(ring, 0.05) for ring in (region.outer, *region.holes)]
        paper = [np.array([pose.apply(lift(p)) for p in ring]) @ rows.T for ring in rings]
        edges += [shapely.linestrings(np.vstack((ring, ring[:1]))[:, :2]) for ring in paper]
        if abs(float(rows[2] @ np.array(pose.normal))) < 0.03 * np.linalg.norm(rows[2]):
            continue
        shape = shapely.Polygon(paper[0][:, :2], [ring[:, :2] for ring in paper[1:]])
        flat = np.column_stack((paper[0][:, :2], np.ones(len(paper[0]))))
        plane = np.linalg.lstsq(flat, paper[0][:, 2], rcond=None)[0]
        inside = shapely.contains_xy(shape, spots)
        near[k, inside] = spots[inside] @ plane[:2] + plane[2]
    rim = shapely.union_all(edges)
    shapely.prepare(rim)
    beside = shapely.dwithin(rim, points, EDGE_MM)
    order = np.sort(near, axis=0)
    close = (order[-1] > NOWHERE) & (order[-1] - order[-2] < LAYERS_MM)
    bodies = list(stage.bodies)
    names: list[str | None] = []
    for spot, k in enumerate(near.argmax(axis=0).tolist()):
        if beside[spot] or close[spot]:
            names.append(None)
        elif near[k, spot] == NOWHERE:
            names.append("")
        else:
            actor = stage.actors[k]
            names.append(f"{bodies.index(actor.body)} {stage.of(actor.body).index(actor)}")
    return names


def agreement(pattern: Pattern, story: Story, folder: Path) -> dict[str, float]:
    """The share of points at which the player paints what is nearest, by clip and moment."""
    chosen = []
    for frame, clip in clips(pattern, story, look_of(workshop())[0]):
        last = clip.moments - 1
        chosen.append((frame, clip, (last // 4, last // 2, last)))
    drawn = painted([(clip, at) for _, clip, at in chosen], folder)
    assert len(drawn) == len(chosen), drawn
    dice = random.Random(5)
    shares = {}
    for (frame, clip, at), pictures in zip(chosen, drawn, strict=True):
        stage = set_stage(pattern, frame)
        moments = moments_of(frame, stage)
        rows = np.array(clip.axes).reshape(3, 3)
        x, y, wide, high = clip.box
        for t, paths in zip(at, pictures, strict=True):
            spots = np.array(
                [(x + dice.random() * wide, y + dice.random() * high) for _ in range(SPOTS)]
            )
            top = np.full(SPOTS, "", dtype=object)
            for of, data in paths:
                top[shapely.contains_xy(area(data), spots)] = of
            compared = agreed = 0
            for seen, name in zip(top, hits(stage, moments[t], rows, spots), strict=True):
                if name is not None:
                    compared += 1
                    agreed += seen == name
            shares[f"{clip.name} at {t}"] = agreed / max(1, compared)
    return shares


@pytest.mark.browser
def test_sheets_crossed_in_their_slots_are_parted_where_they_cross(tmp_path: Path) -> None:
    shares = agreement(*test_view_cross.told(), tmp_path)
    assert len(shares) > 20
    assert min(shares.values()) > 0.99, shares
    assert sum(shares.values()) / len(shares) >= 0.999


@pytest.mark.browser
@pytest.mark.parametrize("name", ["lidded-box", "pillow-box", "pop-up-card"])
def test_what_is_painted_last_is_nearest(name: str, tmp_path: Path) -> None:
    """A box with crossed sheets in it, bent paper, and paper with windows in it."""
    pattern, story, _ = told(name)
    shares = agreement(pattern, story, tmp_path)
    assert min(shares.values()) > 0.99, shares
    assert sum(shares.values()) / len(shares) >= 0.999


@pytest.mark.browser
def test_bent_paper_has_no_line_from_strip_to_strip(tmp_path: Path) -> None:
    """A line runs along a bend only where the paper turns away from the eye."""
    pattern, story, _ = told("pillow-box")
    found = [clip for _, clip in clips(pattern, story, look_of(workshop())[0])]
    clip = next(c for c in found if c.name == "step-05b")
    bends = sum(len(facet.bends) for body in clip.bodies for facet in body.facets)
    assert bends > 100
    ((paths,),) = painted([(clip, (4,))], tmp_path, "svg path")
    edges = sum(len(facet.rings[0]) // 2 for body in clip.bodies for facet in body.facets)
    drawn = sum(data.count("M") for of, data in paths if of is None)
    assert 0 < drawn < edges - 0.9 * bends


@pytest.mark.browser
def test_paper_that_shows_its_edge_only_is_a_line(tmp_path: Path) -> None:
    """Two walls of a ring as it is stood up: no moment of its way lacks them."""
    pattern, story, _ = told("hexagon-box")
    found = [clip for _, clip in clips(pattern, story, look_of(workshop())[0])]
    clip = next(c for c in found if c.name == "step-04a")
    every = {f"{b} {f}" for b, body in enumerate(clip.bodies) for f in range(len(body.facets))}
    moments = list(range(1, clip.moments))
    (pictures,) = painted([(clip, moments)], tmp_path)
    for k, paths in zip(moments, pictures, strict=True):
        assert {of for of, _ in paths} == every, k
        assert not any("NaN" in data for _, data in paths)
