"""Places in alternative texts, measured apart from what tells them: creases at the edges of what
they hang on, borders round what is laid, and what is left of what is slid in."""

from __future__ import annotations

import re

import pytest
import shapely

from publisher.assembly import FoldMotion, Frame, MoveMotion
from publisher.drawing.space_view.resting_words import own_host
from publisher.drawing.space_view.shapes import piece_shape
from publisher.geometry.space import Vector, add, dot, lift, scaled, sub, unit
from publisher.model.types import Piece
from tests.drawing.hearing import centre, hears, points_of, sentences
from tests.drawing.test_alt_content import EVERY, frames_of

SIDES: dict[str, Vector] = {
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
    "near": (0.0, -1.0, 0.0),
    "far": (0.0, 1.0, 0.0),
    "bottom": (0.0, 0.0, -1.0),
    "top": (0.0, 0.0, 1.0),
}
HINGES = re.compile(r"([a-z0-9 ]+?) hinges at the ([a-z]+) edge of ([a-z0-9 ]+?)(?=[;.,]| and )")
ALONE = re.compile(r"^Fold ([a-z0-9 ]+?) of .* at the ([a-z]+) edge of ([a-z0-9 ]+?)(?=[.,])")


def creases(piece: Piece, one: str, other: str) -> list[tuple[Vector, Vector, str]]:
    """The flat ends of each crease between two panels, with the facet of the second."""
    found = []
    for hinge in piece.hinges:
        panels = piece.facet(hinge.parent).panel, piece.facet(hinge.child).panel
        for facet, pair in ((hinge.child, panels), (hinge.parent, panels[::-1])):
            if hears(pair[0], one) and hears(pair[1], other):
                found.append((lift(hinge.start), lift(hinge.end), facet))
    return found


@pytest.mark.parametrize("name", EVERY)
def test_creases_are_at_the_edges_that_are_told(name: str) -> None:
    for frame, drawing, pieces in frames_of(name):
        told = [m for said in sentences(drawing.alt.lower()) for m in HINGES.findall(said)]
        told += [m for said in sentences(drawing.alt) for m in ALONE.findall(said)]
        bodies = [m.body for m in frame.motions if isinstance(m, FoldMotion)]
        for part, side, beside in told:
            lines = [
                (body, crease)
                for body in bodies
                for crease in creases(pieces[body], f"the {part}", f"the {beside}")
            ]
            assert lines, (drawing.name, part, beside)
            body, (start, end, facet) = lines[0]
            there = frame.before.body(body)
            pose = there.facet_pose(facet)
            middle = scaled(add(pose.apply(start), pose.apply(end)), 0.5)
            off = sub(middle, centre(points_of(pieces[body], there, [facet])))
            along = unit(sub(pose.apply(end), pose.apply(start)))
            off = sub(off, scaled(along, dot(off, along)))
            most = max(SIDES, key=lambda name: dot(off, SIDES[name]))
            assert dot(off, SIDES[side]) > 0.5 * dot(off, SIDES[most]), (drawing.name, part, side)


def laid(frame: Frame, body: str, pieces: dict[str, Piece]) -> float:
    """How far the edges of a body are from those of what it is laid on, at the least."""
    ((host, facet),) = own_host(frame.after, frame.before, body)
    pose = frame.after.body(host).facet_pose(facet).inverse()
    points = [pose.apply(p) for p in points_of(pieces[body], frame.after.body(body))]
    ours = shapely.convex_hull(shapely.MultiPoint([(x, -y) for x, y, _ in points]))
    under = piece_shape(pieces[host]).facets[facet].paper
    return float(shapely.distance(shapely.Polygon(under.exterior).envelope.exterior, ours))


@pytest.mark.parametrize("name", EVERY)
def test_borders_are_as_wide_as_is_told(name: str) -> None:
    for frame, drawing, pieces in frames_of(name):
        found = re.search(r"([0-9.]+) mm from every edge", drawing.alt)
        if found:
            moves = [m for m in frame.motions if isinstance(m, MoveMotion)]
            gap = laid(frame, moves[0].bodies[0], pieces)
            assert gap == pytest.approx(float(found[1]), abs=0.3), drawing.name


WAYS = {"down": 2, "to the left": 0, "to the right": 0, "towards you": 1, "away from you": 1}


@pytest.mark.parametrize("name", EVERY)
def test_what_still_stands_out_is_as_long_as_is_told(name: str) -> None:
    """As far as the thing reaches beyond the part that it is slid into, against its way."""
    for frame, drawing, pieces in frames_of(name):
        found = re.search(r"until ([0-9.]+) mm of it still stands out", drawing.alt)
        if found is None:
            continue
        move = next(m for m in frame.motions if isinstance(m, MoveMotion))
        way = next(w for w in WAYS if f" {w} into" in drawing.alt)
        axis, sign = WAYS[way], -1.0 if way in ("down", "to the left", "towards you") else 1.0
        (target,) = frame.action.objects
        host = next(b for b, p in pieces.items() if p.name == target.piece)
        facets = [f.name for f in pieces[host].facets if target.part in ("", f.panel)]
        ours = [p for b in move.bodies for p in points_of(pieces[b], frame.after.body(b))]
        theirs = points_of(pieces[host], frame.after.body(host), facets)
        out = min(sign * p[axis] for p in theirs) - min(sign * p[axis] for p in ours)
        assert out == pytest.approx(float(found[1]), abs=0.3), drawing.name


def test_hinges_are_found_in_the_texts() -> None:
    said = [drawing.alt for _, drawing, _ in frames_of("lidded-box")]
    assert sum(len(HINGES.findall(text.lower())) for text in said) >= 6
    assert any(ALONE.search(d.alt) for _, d, _ in frames_of("envelope"))


def test_what_stands_is_told_which_way_it_runs() -> None:
    """The dividers cross: each is long the way that is told."""
    frame, drawing, pieces = next(
        row for row in frames_of("lidded-box") if "stands upright" in row[1].alt
    )
    for body, axis, way in (("divider-1", 1, "near to far"), ("divider-2", 0, "left to right")):
        points = points_of(pieces[body], frame.before.body(body))
        spans = [max(p[k] for p in points) - min(p[k] for p in points) for k in range(2)]
        assert spans[axis] > 10.0 > spans[1 - axis]
        assert f"{body.replace('-', ' ')} stands upright from {way}, the slot at" in drawing.alt
