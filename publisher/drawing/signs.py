"""The signs that drawings may use, for the legend: key and plain words, in legend order.

``Drawing.signs`` holds keys of this mapping. The legend prints only those that were used.
The shapes of arrows and of the turn sign come from ``space_view.arrows``, so that the legend
shows what the diagrams show.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

SIGNS: Mapping[str, str] = MappingProxyType(
    {
        "front": "front face of the paper",
        "back": "back face of the paper",
        "pattern-through": "printed on the far side, seen through the paper",
        "moving": "the part that moves now",
        "cut": "cut",
        "score": "score along the line with a bone folder: nothing is folded yet",
        "crease": "press along the fold with a bone folder",
        "slit": "slit",
        "perforation": "perforation",
        "engrave": "drawn line",
        "valley": "valley fold: towards you, as drawn",
        "mountain": "mountain fold: away from you, as drawn",
        "fold-made": "crease, already there",
        "fold-arrow-valley": "fold this way, towards you",
        "fold-arrow-mountain": "fold this way, away from you",
        "fold-arrow-unfold": "unfold this way",
        "repeat": "the same once more for each bar",
        "repeat-behind": "the same on the far side, once for each dotted bar",
        "curl-arrow": "curl this way, without a fold",
        "move-arrow": "move this way",
        "push-arrow": "push out this way, from behind",
        "turn-over": "turn over",
        "turn-quarter": "turn by a quarter, over the axis as the arrow goes",
        "turn-round": "turn round, same face up",
        "look-higher": "seen from higher up than before",
        "look-lower": "seen from lower down than before",
        "glue": "glue here",
        "glue-through": "glue on the far side, seen through the paper",
        "glue-wet": "glue that is there already",
        "no-glue": "keep free of glue",
        "no-glue-through": "keep the far side free of glue",
        "tape": "double-sided tape here",
        "tape-through": "tape on the far side, seen through the paper",
        "pads": "pad on the far side, seen through the paper",
        "colour": "colour or stamp here",
        "hold": "press here and hold",
        "clock": "let it dry",
        "ghost": "where the part will lie",
        "hidden": "edge behind paper",
        "clear": "paper drawn clear, so that what is behind it shows",
        "close-up": "the place in the ring, larger",
    }
)


def in_legend_order(keys: Iterable[str]) -> tuple[str, ...]:
    """The keys without repeats, as the legend lists them; an unknown key raises KeyError."""
    wanted = set(keys)
    unknown = sorted(wanted - set(SIGNS))
    if unknown:
        raise KeyError(f"no such sign: {', '.join(unknown)}")
    return tuple(key for key in SIGNS if key in wanted)
