"""Lists with commas: ``left, right and bottom of pocket`` is one list of places.

The grammar parts a line at its commas, so such a list arrives as several phrases. Where names or
points stand alone between commas, and the last of them has an ‘and’, they belong to the phrase
before. This comes after labels are split off: ``on left and right, short tab and long tab deep``
stays as it is.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.language import ast
from publisher.language.ast import Expr, Phrase, PointAt, Prep, Ref, Several
from publisher.language.names import Names
from publisher.source import SourceText


class Lister(Struct):
    """Joins the lists of a line, seen from ``piece`` (None: from a step)."""

    names: Names
    piece: str | None
    source: SourceText
    findings: list[Diagnostic]

    def joined(self, phrases: Sequence[Phrase]) -> tuple[Phrase, ...]:
        """The phrases with every list in the phrase that it belongs to."""
        found: list[Phrase] = []
        at = 0
        while at < len(phrases):
            first = phrases[at]
            end = self._end_of_list(phrases, at) if _opens(first) else at + 1
            if end > at + 1:
                first = self._with(first, phrases[at + 1 : end])
            found.append(first)
            at = end
        return tuple(found)

    def _end_of_list(self, phrases: Sequence[Phrase], at: int) -> int:
        """Behind the last phrase of the list that begins at ``at``; reports a list whose ‘and’
        is missing, or stands too early."""
        end = at + 1
        while end < len(phrases) and self._is_place(phrases[end]):
            end += 1
            if end < len(phrases) and phrases[end - 1].joinings:
                break
        members = phrases[at + 1 : end]
        closes = next((i for i, p in enumerate(members) if isinstance(p.value, Several)), None)
        if closes is not None:
            return at + 2 + closes
        if not self._is_surely(phrases[at], members):
            return at + 1
        self._without_and(phrases[at], members)
        return end

    def _is_place(self, phrase: Phrase) -> bool:
        value = phrase.value
        if phrase.setting is not None or not isinstance(value, (Ref, PointAt, Several)):
            return False
        items = value.items if isinstance(value, Several) else (value,)
        if not all(isinstance(i, (Ref, PointAt)) for i in items):
            return False
        return phrase.label is None or self._labels_itself(phrase, items[-1])

    def _labels_itself(self, phrase: Phrase, last: Expr) -> bool:
        """A panel called ``side``, which a statement could also take for a measure."""
        if not isinstance(last, Ref) or phrase.label_span is None or self.piece is None:
            return False
        name = last.segments[-1].name
        whole = phrase.label_span.end == last.segments[-1].span.end
        return whole and name not in self.names.sizes and self.names.is_part(name, self.piece)

    def _is_surely(self, first: Phrase, members: Sequence[Phrase]) -> bool:
        """Whether what stands between the commas can be nothing but more places."""
        if not members or not first.joinings:
            return False
        return all(isinstance(p.value, PointAt) or self._is_part(p.value) for p in members)

    def _is_part(self, value: ast.Place | None) -> bool:
        if not isinstance(value, Ref):
            return False
        if value.segments[0].kind != "name":
            return True
        name = value.segments[-1].name
        if name in self.names.sizes:
            return False
        return self.piece is not None and self.names.is_part(name, self.piece)

    def _without_and(self, first: Phrase, members: Sequence[Phrase]) -> None:
        last = members[-1].span
        before = (first, *members)[-2].span
        said = " ".join(self.source.text[last.start : last.end].split())
        gap = self.source.span(before.end, last.start)
        if _has_and(first):
            message = f"‘and’ stands before the last of a list: ‘…, … and {said}’"
        else:
            message = f"‘and’ is missing before the last of this list: ‘… and {said}’"
        ways = (WayOut(f"write ‘and {said}’", Edit(gap, " and ")),)
        self.findings.append(Diagnostic("syntax", "error", message, (Place(last),), ways_out=ways))

    # ------------------------------------------------------------ joining

    def _with(self, first: Phrase, members: Sequence[Phrase]) -> Phrase:
        more: list[Expr] = []
        for phrase in members:
            value = phrase.value
            if isinstance(value, Several):
                more.extend(value.items)
            elif isinstance(value, (Ref, PointAt)):
                more.append(value)
        span = self._until(first.span, members[-1].span)
        joinings = (*first.joinings, *members[-1].joinings)
        if not first.joinings:
            value = self._longer(first.value, more)
            return replace(first, value=value, joinings=joinings, span=span)
        last = first.joinings[-1]
        assert isinstance(last, Prep)
        places = last.places
        if isinstance(places[-1], ast.Offset):
            places = (*places[:-1], self._more_bases(places[-1], more))
        else:
            places = (*places, *more)
        prep = replace(last, places=places, span=self._until(last.span, more[-1].span))
        joinings = (*first.joinings[:-1], prep, *members[-1].joinings)
        return replace(first, joinings=joinings, span=span)

    def _longer(self, value: ast.Place | None, more: Sequence[Expr]) -> ast.Place:
        assert value is not None
        if isinstance(value, ast.Offset):
            return self._more_bases(value, more)
        items = value.items if isinstance(value, Several) else (value,)
        return Several((*items, *more), self._until(value.span, more[-1].span))

    def _more_bases(self, offset: ast.Offset, more: Sequence[Expr]) -> ast.Offset:
        span = self._until(offset.span, more[-1].span)
        return replace(offset, bases=(*offset.bases, *more), span=span)

    def _until(self, start: Span, end: Span) -> Span:
        return self.source.span(start.start, end.end)


def _opens(phrase: Phrase) -> bool:
    """Whether a list can go on behind this phrase: it ends with places, or is one itself."""
    if phrase.joinings:
        last = phrase.joinings[-1]
        return isinstance(last, Prep) and not any(_is_face(p) for p in last.places)
    value = phrase.value
    if phrase.label is not None and value is not None:
        return False
    return isinstance(value, (Ref, PointAt, ast.Offset))


def _is_face(place: ast.Place) -> bool:
    return isinstance(place, Ref) and place.segments[0].kind == "face"


def _has_and(phrase: Phrase) -> bool:
    last = phrase.joinings[-1]
    return isinstance(last, Prep) and len(last.places) > 1
