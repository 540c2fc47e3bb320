"""A strip through slits: before the paper, behind it, before it again."""

from __future__ import annotations

import pytest

from publisher.assembly.layering import side_between
from publisher.assembly.types import State, Story
from publisher.drawing.space_view import draw_story
from tests.compiled import codes, compile_text

CARD = """
```piece card, in card
outline  rectangle, 100 x 70 mm
slit     {slit} mm long, down, at 30 mm right of middle of left, called first
slit     {slit} mm long, down, at middle, called second
slit     {slit} mm long, down, at 30 mm left of middle of right, called third
```

```piece lining, in paper
outline  rectangle, 90 x 60 mm
```

```piece ribbon, in paper
outline  rectangle, {ribbon}
```

## Make it

```step
cut      each slit of card
{before}
```

```step
slide    ribbon through {ways} of card
```
"""


def threaded(
    slit: float = 16,
    ribbon: str = "120 x 14 mm",
    ways: str = "first and third",
    before: str = "",
    after: str = "",
) -> str:
    text = CARD.format(slit=slit, ribbon=ribbon, ways=ways, before=before)
    if "lining" not in before:
        head, _, rest = text.partition("```piece lining")
        text = head + rest.partition("```\n")[2]
    return text + after


def story_of(text: str) -> Story:
    outcome = compile_text(text)
    assert codes(outcome) == []
    assert outcome.story is not None
    return outcome.story


def over(state: State, one: str, other: str) -> set[tuple[str, bool]]:
    """The facets of one body that lie flat on a facet of the other: whether on its front."""
    found = set()
    for facet, _ in state.body(one).facets:
        for below, _ in state.body(other).facets:
            side = side_between(state, (other, below), (one, facet))
            if side is not None:
                found.add((facet, side > 0))
    return found


@pytest.mark.parametrize("ribbon", ["120 x 14 mm", "14 x 120 mm"])
def test_it_lies_before_and_behind_in_turn(ribbon: str) -> None:
    story = story_of(threaded(ribbon=ribbon))
    found = over(story.end, "ribbon-1", "card-1")
    assert found == {
        ("stretch 1 of ribbon", True),
        ("stretch 2 of ribbon", False),
        ("stretch 3 of ribbon", True),
    }


def test_through_three_slits() -> None:
    story = story_of(threaded(ways="first and second and third"))
    sides = [up for _, up in sorted(over(story.end, "ribbon-1", "card-1"))]
    assert sides == [True, False, True, False]


def test_half_of_it_stands_out_at_each_end() -> None:
    """The slits are 40 apart, the strip is 120 long: 40 beyond each."""
    story = story_of(threaded())
    body = story.end.body("ribbon-1")
    ends = [
        body.facet_pose(f"stretch {n} of ribbon").apply((x, 0.0, 0.0))
        for n, x in ((1, 0), (3, 120))
    ]
    assert abs(ends[0][0] - ends[1][0]) == pytest.approx(120.0)
    card = story.end.body("card-1").facet_pose("card")
    middle = card.apply((50.0, -35.0, 0.0))
    assert sum(e[0] for e in ends) / 2.0 == pytest.approx(middle[0])


def test_from_the_side_that_lies_up() -> None:
    story = story_of(threaded(before="turn     over card"))
    found = dict(over(story.end, "ribbon-1", "card-1"))
    # The card's back lies up: what comes first lies on its back.
    assert found["stretch 1 of ribbon"] is False
    assert found["stretch 2 of ribbon"] is True


def test_what_is_glued_behind_lies_behind_it_all() -> None:
    before = "glue     lining behind card"
    story = story_of(threaded(before=before))
    found = dict(over(story.end, "ribbon-1", "lining-1"))
    assert set(found.values()) == {True}


@pytest.mark.parametrize(
    ("slit", "ribbon", "missing"),
    [
        (14.0, "120 x 14 mm", None),
        (13.5, "120 x 14 mm", 0.5),
        (16.0, "30 x 14 mm", 10.0),
    ],
)
def test_what_does_not_go_through(slit: float, ribbon: str, missing: float | None) -> None:
    outcome = compile_text(threaded(slit=slit, ribbon=ribbon))
    found = [d for d in outcome.diagnostics if d.code == "no-way-in"]
    assert len(found) == (0 if missing is None else 1)
    if missing is not None:
        assert dict(found[0].numbers)["missing_mm"] == pytest.approx(missing)


def test_openings_that_do_not_follow_each_other() -> None:
    assert codes(compile_text(threaded(ways="first and third and second"))) == ["not-yet"]


def test_it_goes_with_the_card() -> None:
    after = "\n```step\nturn     over card\n```\n"
    story = story_of(threaded(after=after))
    before, end = story.frames[-2].after, story.end
    moved = before.body("ribbon-1").facets != end.body("ribbon-1").facets
    assert moved
    assert over(before, "ribbon-1", "card-1") == over(end, "ribbon-1", "card-1")


def test_and_can_be_pulled_out_again() -> None:
    story = story_of(threaded(after="\n```step\npull     ribbon\n```\n"))
    assert over(story.end, "ribbon-1", "card-1") == set()


def test_a_ribbon_that_is_no_paper() -> None:
    text = threaded().replace(
        "```piece card", "```sizes\nsatin = 120 x 14 x 0.3 mm\n```\n\n```piece card", 1
    )
    head, _, rest = text.partition("```piece ribbon")
    text = head + rest.partition("```\n")[2].replace("slide    ribbon", "slide    satin")
    story = story_of(text)
    assert [up for _, up in sorted(over(story.end, "satin-1", "card-1"))] == [True, False, True]


def test_it_is_told_in_words_and_drawn_where_it_goes() -> None:
    outcome = compile_text(threaded())
    assert outcome.pattern is not None
    assert outcome.story is not None
    told = outcome.story.handled or outcome.pattern
    drawing = draw_story(told, outcome.story)[-1]
    assert "in at the first, behind the card and out at the third" in drawing.alt
    assert "ghost" in drawing.signs


def test_two_strips_each_through_its_own_slit() -> None:
    text = threaded(ways="first and third").replace("slide    ribbon", "slide    ribbon and satin")
    text += "\n```piece satin, in paper\noutline  rectangle, 30 x 10 mm\n```\n"
    story = story_of(text)
    for strip in ("ribbon-1", "satin-1"):
        assert [up for _, up in sorted(over(story.end, strip, "card-1"))] == [True, False]


def test_one_strip_on_two_ways_is_not_worked_out() -> None:
    again = (
        "\n```step\npull     ribbon\n"
        "slide    ribbon through first and second and third of card\n```\n"
    )
    assert codes(compile_text(threaded(after=again))) == ["not-yet", "not-inside"]
