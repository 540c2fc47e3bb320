"""What lies on which while things travel: known wherever papers that touch lie over each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import pytest
import shapely

from publisher.assembly import FacetId, Frame, MoveMotion
from publisher.drawing.motion import Moment, moments_of
from publisher.drawing.space_view import told_frames
from publisher.drawing.space_view.stage import Actor, Stage, set_stage
from publisher.drawing.underway import underway
from publisher.geometry.flatten import flattened
from publisher.geometry.space import dot, lift, sub
from tests.drawing.test_view_content import NAMES, told

TOUCH_MM = 0.01
MOST_MM2 = 2.0  # corners of paper with a caliper of its own may meet by less


def travels(name: str) -> Iterator[tuple[Frame, Stage]]:
    pattern, story, _ = told(name)
    for frame in told_frames(pattern, story):
        moves = [m for m in frame.motions if isinstance(m, MoveMotion)]
        if moves and all(m.manner != "thread" for m in moves):
            yield frame, set_stage(pattern, frame)


def area(actor: Actor, moment: Moment, seen_from: Actor) -> shapely.Polygon:
    """A facet as it lies in the frame of another, flat."""
    pose = moment.poses[seen_from.body][seen_from.facet].inverse()
    there = pose.after(moment.poses[actor.body][actor.facet])
    ring = flattened(actor.piece.facet(actor.facet).region.outer, 0.5)
    return shapely.Polygon([there.apply(lift(p))[:2] for p in ring])


def touching(stage: Stage, moment: Moment) -> Iterator[tuple[FacetId, FacetId]]:
    """Papers in one plane that lie over each other, one of which travels."""
    for one in (a for a in stage.actors if a.body in stage.away):
        for other in (a for a in stage.actors if a.body not in stage.away):
            first, second = (moment.poses[a.body][a.facet] for a in (one, other))
            if abs(dot(first.normal, second.normal)) < 1.0 - 1e-6:
                continue
            if abs(dot(second.normal, sub(first.shift, second.shift))) > TOUCH_MM:
                continue
            both = area(one, moment, other).intersection(area(other, moment, other))
            if both.area > MOST_MM2:
                yield one.id, other.id


def table(frame: Frame, stage: Stage) -> Mapping[tuple[FacetId, FacetId], int]:
    return {(lower, upper): side for lower, upper, side in underway(frame, stage)}


@pytest.mark.parametrize("name", NAMES)
def test_papers_that_pass_over_each_other_are_in_a_known_order(name: str) -> None:
    for frame, stage in travels(name):
        known = table(frame, stage)
        for moment in moments_of(frame, stage)[1:-1:3]:
            for pair in touching(stage, moment):
                assert pair in known or pair[::-1] in known, (frame.step, pair)


@pytest.mark.parametrize("verb", ["slide", "pull"])
def test_a_card_goes_into_its_envelope_over_the_flap_that_closes_it(verb: str) -> None:
    """The flap lies level with the back of the envelope: the card is on one side of both."""
    frame, stage = next((f, s) for f, s in travels("pop-up-card") if f.action.verb == verb)
    known = table(frame, stage)
    flap, back = (("envelope-1", name) for name in ("upper flap", "centre"))
    over = [pair for pair in known if flap in pair and pair[0][0] != pair[1][0]]
    assert {body for pair in over for body, _ in pair} == {"envelope-1", "page-1", "cover-1"}
    for card in {facet for pair in over for facet in pair if facet[0] != "envelope-1"}:
        poses = dict(frame.after.body(card[0]).facets), dict(frame.after.body("envelope-1").facets)
        alike = dot(poses[0][card[1]].normal, poses[1]["centre"].normal) > 0.0
        assert _of(known, flap, card, alike) == _of(known, back, card, alike), card


def _of(
    known: Mapping[tuple[FacetId, FacetId], int], one: FacetId, other: FacetId, alike: bool
) -> int | None:
    """On which side of the first the second lies, either way it is told."""
    if (one, other) in known:
        return known[one, other]
    side = known.get((other, one))
    return None if side is None else -side if alike else side


def test_where_level_papers_tell_both_ways_nothing_is_guessed() -> None:
    """A sheet under a tongue and over the base that the tongue is cut from: both orders are told
    as they will be, and none of them spreads over the other."""
    frame, stage = next(t for t in travels("token-holder") if t[0].action.verb == "tuck")
    known = table(frame, stage)
    for lower, upper, side in stage.above_after:
        assert known.get((lower, upper), side) == side
        assert not ((lower, upper) in known and (upper, lower) in known)
