"""From a form's words to its caller's: names of parts, and things that the caller gave."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from msgspec import Struct
from msgspec.structs import replace

from publisher.language.ast import Offset, Place, Ref, Segment, Several

_NUMBERED = re.compile(r"(.+)( \d+)")


class Renaming(Struct, frozen=True):
    """``things`` are places by the name that the form asks for; ``own`` is the form's word for
    the piece itself, which the caller calls ``piece``. Of a form that was ``called`` something
    the parts in ``given`` bear that name first: its ``foot`` is the ``step foot``."""

    things: Mapping[str, tuple[Place, ...]]
    given: frozenset[str]
    called: str
    own: str
    piece: str

    def name(self, text: str) -> str:
        """A part's name as the caller has it."""
        if not self.called:
            return text
        numbered = _NUMBERED.fullmatch(text)
        base = numbered.group(1) if numbered is not None else text
        known = text in self.given or base in self.given
        return f"{self.called} {text}" if known else text

    def place(self, place: Place) -> list[Place]:
        """A place as the caller would say it; several where a thing that was given is."""
        if isinstance(place, Several):
            return [p for item in place.items for p in self.place(item)]
        if isinstance(place, Offset):
            bases = tuple(b for base in place.bases for b in self.place(base))
            return [replace(place, bases=bases)]
        if isinstance(place, Ref):
            return self._ref(place)
        return [place]

    def places(self, places: Iterable[Place]) -> tuple[Place, ...]:
        return tuple(p for place in places for p in self.place(place))

    def measure(self, ref: Ref) -> Ref:
        """``length of edge``: the measured thing in the caller's words."""
        inner = replace(ref, segments=ref.segments[1:])
        told = self._ref(inner)[0]
        if not isinstance(told, Ref):
            return ref
        return replace(told, segments=(ref.segments[0], *told.segments))

    def _ref(self, ref: Ref) -> list[Place]:
        *inner, owner = ref.segments
        if owner.kind != "name":
            segments = tuple(self._segment(s) for s in ref.segments)
            if owner.kind == "each" and self.called:
                segments = (*segments, Segment("name", self.called, owner.span))
            return [replace(ref, segments=segments)]
        before = tuple(self._segment(s) for s in inner)
        things = self.things.get(owner.name)
        if things is not None:
            return [self._in_thing(before, ref, thing) for thing in things]
        if owner.name == self.own and owner.name not in self.given:
            owner = replace(owner, name=self.piece)
        return [replace(ref, segments=(*before, self._segment(owner)))]

    def _in_thing(self, before: tuple[Segment, ...], ref: Ref, thing: Place) -> Place:
        if not isinstance(thing, Ref):
            return thing
        return replace(
            thing, segments=(*before, *thing.segments), states=ref.states or thing.states
        )

    def _segment(self, segment: Segment) -> Segment:
        if segment.kind != "name":
            return segment
        return replace(segment, name=self.name(segment.name))
