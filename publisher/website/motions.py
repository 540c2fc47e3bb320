"""The motions of a pattern's steps as JSON, for its page to play."""

from __future__ import annotations

import msgspec

from publisher.assembly import Story
from publisher.drawing.motion import clips
from publisher.drawing.theme import Theme
from publisher.model.types import Pattern


def motions_of(pattern: Pattern, story: Story | None, theme: Theme) -> dict[str, str]:
    """Each clip as JSON, by the name of the picture that it moves."""
    if story is None:
        return {}
    encode = msgspec.json.Encoder().encode
    told = story.handled or pattern
    return {clip.name: encode(clip).decode("ascii") for _, clip in clips(told, story, theme)}
