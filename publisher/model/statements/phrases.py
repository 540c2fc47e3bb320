"""Reading the phrases of one line, and answering what no statement asked for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from publisher.diagnostics import Edit, Span, WayOut
from publisher.diagnostics.near import a_line, nearest
from publisher.language.ast import (
    By,
    Called,
    Expr,
    FromTo,
    Joining,
    Offset,
    Phrase,
    Place,
    Prep,
    Quoted,
    Ref,
    Several,
    Statement,
    When,
)
from publisher.model.findings import Refused, listed, radius_alone, refuse
from publisher.model.types import Bend, Face


class Phrases:
    """One line's phrases. Whoever asks for a phrase takes it; ``finish`` refuses the rest. The
    words that were asked for are what it could have said: the answer to a wrong one needs no list.
    """

    def __init__(self, statement: Statement) -> None:
        self.statement = statement
        self._taken: set[int] = set()
        self._asked: list[str] = []

    @property
    def head(self) -> str:
        return self.statement.head

    @property
    def span(self) -> Span:
        return self.statement.span

    def labelled(self, *labels: str) -> Phrase | None:
        """The phrase whose value has one of these labels (``24 mm wide``)."""
        self._asked.extend(labels)
        for phrase in self.statement.phrases:
            if phrase.label in labels and phrase.value is not None and not self._has(phrase):
                self.take(phrase)
                return phrase
        return None

    def bare(self) -> Phrase | None:
        """The next phrase that is a value and nothing else says what it measures."""
        for phrase in self.statement.phrases:
            if phrase.value is None or phrase.label is not None or phrase.setting is not None:
                continue
            if not self._has(phrase):
                self.take(phrase)
                return phrase
        return None

    def offset(self, direction: str) -> Phrase | None:
        """The next phrase that is a place so far from another (``6 mm in from left``)."""
        for phrase in self.statement.phrases:
            value = phrase.value
            if self._has(phrase) or not isinstance(value, Offset):
                continue
            if value.direction == direction:
                self.take(phrase)
                return phrase
        return None

    def bare_places(self) -> list[Place]:
        """All bare phrases, as places."""
        found: list[Place] = []
        while (phrase := self.bare()) is not None:
            if phrase.value is not None:
                found.append(phrase.value)
        return found

    def word(self, *words: str) -> str | None:
        """The first of these words that stands alone between commas."""
        self._asked.extend(words)
        for phrase in self.statement.phrases:
            if phrase.label in words and phrase.value is None:
                self.take(phrase)
                return phrase.label
            only = _single_word(phrase)
            if only is not None and only in words:
                self.take(phrase)
                return only
        return None

    def word_span(self, word: str) -> Span:
        for phrase in self.statement.phrases:
            if phrase.label == word:
                return phrase.label_span or phrase.span
            if _single_word(phrase) == word:
                return phrase.span
        return self.span

    def all_labelled(self, label: str) -> list[Phrase]:
        """Every phrase whose value has this label, in order."""
        found: list[Phrase] = []
        while (phrase := self.labelled(label)) is not None:
            found.append(phrase)
        return found

    def all_words(self, *words: str) -> list[str]:
        """These words as often as they stand alone between commas, in order."""
        self._asked.extend(words)
        found: list[str] = []
        for phrase in self.statement.phrases:
            word = phrase.label if phrase.value is None else _single_word(phrase)
            if word in words and word is not None and not self._has(phrase):
                self.take(phrase)
                found.append(word)
        return found

    def turned(self) -> Expr | None:
        """The angle of ``turned by 30 degrees``."""
        return self.by_after("turned", "how far it is turned", "turned by 30 degrees")

    def by_after(self, said: str, what: str, example: str) -> Expr | None:
        """The value of ``WORD by VALUE``."""
        self._asked.append(said)
        for phrase in self.statement.phrases:
            word = phrase.label if phrase.value is None else _single_word(phrase)
            by = next((j for j in phrase.joinings if isinstance(j, By)), None)
            if word != said or self._has(phrase):
                continue
            if by is None:
                raise self.missing(what, example)
            self.take(phrase)
            self._taken.add(id(by))
            return by.value
        return None

    def aligned(self) -> list[Place]:
        """The places of ``aligned with PLACES``, however often it is said."""
        self._asked.append("aligned")
        found: list[Place] = []
        for phrase in self.statement.phrases:
            word = phrase.label if phrase.value is None else _single_word(phrase)
            if word != "aligned" or self._has(phrase):
                continue
            said = [j for j in phrase.joinings if isinstance(j, Prep) and j.word == "with"]
            if not said:
                raise self.missing("what it is aligned with", "aligned with top of door")
            self.take(phrase)
            self.take_joinings(said)
            found.extend(place for joining in said for place in joining.places)
        return found

    def bend(self) -> Bend | None:
        word = self.word("mountain", "valley")
        return "mountain" if word == "mountain" else "valley" if word == "valley" else None

    def prep(self, *words: str) -> Prep | None:
        """The first joining with one of these words that does not name a face."""
        self._asked.extend(words)
        for joining in self._joinings():
            if isinstance(joining, Prep) and joining.word in words and not _face_of(joining):
                self._taken.add(id(joining))
                return joining
        return None

    def places(self, *words: str) -> tuple[Place, ...]:
        """All places after these words, in order."""
        found: list[Place] = []
        while (prep := self.prep(*words)) is not None:
            found.extend(prep.places)
        return tuple(found)

    def from_to(self) -> FromTo | None:
        for joining in self._joinings():
            if isinstance(joining, FromTo):
                self._taken.add(id(joining))
                return joining
        return None

    def by(self) -> By | None:
        for joining in self._joinings():
            if isinstance(joining, By):
                self._taken.add(id(joining))
                return joining
        return None

    def face(self) -> tuple[Face, Span] | None:
        """The face said by ``on back face``."""
        for joining in self._joinings():
            if isinstance(joining, Prep) and joining.word == "on":
                face = _face_of(joining)
                if face is not None:
                    self._taken.add(id(joining))
                    return face, joining.span
        return None

    def quoted(self, word: Literal["saying", "from file"]) -> Quoted | None:
        """What stands in quotation marks after this word."""
        self._asked.append(word)
        for joining in self._joinings():
            if isinstance(joining, Quoted) and joining.word == word:
                self._taken.add(id(joining))
                return joining
        return None

    def take(self, phrase: Phrase) -> None:
        """This has been read by the statement itself."""
        self._taken.add(id(phrase))

    def take_joinings(self, joinings: Sequence[Joining]) -> None:
        """These have been read by the statement itself."""
        self._taken.update(id(j) for j in joinings)

    def finish(self) -> None:
        """Refuses the first phrase that nobody asked for."""
        for phrase in self.statement.phrases:
            for joining in phrase.joinings:
                if isinstance(joining, (Called, When)) or id(joining) in self._taken:
                    continue
                raise self._strange(_said(joining), joining.span)
            if self._has(phrase) or (phrase.value is None and phrase.label is None):
                continue
            said = phrase.label or "this"
            raise self._strange(said, phrase.label_span or phrase.span)

    def _strange(self, said: str, span: Span) -> Refused:
        line, known = a_line(self.head), sorted(set(self._asked))
        near = nearest(said, known) if said != "this" else None
        if near is not None:
            return refuse(
                "unknown-word",
                f"{line} does not know ‘{said}’. Nearest: ‘{near}’",
                span,
                ways_out=(WayOut(f"write ‘{near}’", Edit(span, near)),),
            )
        measure = "this does not say what it measures"
        what = measure if said == "this" else f"‘{said}’ says nothing here"
        if said == "radius" and "rounded corners" in known:
            return radius_alone(line, span)
        notes = (f"{line.capitalize()} knows {listed(known, 12)}",) if known else ()
        return refuse("unknown-word", f"{what} in {line}", span, notes=notes)

    def missing(self, what: str, example: str) -> Refused:
        """The line lacks a phrase that it cannot do without."""
        return refuse(
            "missing-phrase",
            f"this ‘{self.head}’ line does not say {what}",
            self.statement.head_span,
            notes=(f"Write for example ‘{example}’",),
        )

    def _joinings(self) -> list[Joining]:
        return [j for j in self.statement.joinings() if id(j) not in self._taken]

    def _has(self, phrase: Phrase) -> bool:
        return id(phrase) in self._taken


def _single_word(phrase: Phrase) -> str | None:
    """A phrase that is nothing but one name."""
    value = phrase.value
    if phrase.label is not None or phrase.setting is not None or not isinstance(value, Ref):
        return None
    plain = len(value.segments) == 1 and value.segments[0].kind == "name" and not value.states
    return value.segments[0].name if plain else None


def _face_of(prep: Prep) -> Face | None:
    for place in prep.places:
        if isinstance(place, Ref) and place.segments[0].kind == "face":
            return "front" if place.segments[0].name.startswith("front") else "back"
    return None


def _said(joining: Joining) -> str:
    if isinstance(joining, Prep):
        return joining.word
    if isinstance(joining, FromTo):
        return "from"
    if isinstance(joining, By):
        return "by"
    if isinstance(joining, Quoted):
        return joining.word
    return "this"


def flat_places(places: Sequence[Place]) -> list[Place]:
    """``a and b`` as two places."""
    flat: list[Place] = []
    for place in places:
        flat.extend(place.items if isinstance(place, Several) else (place,))
    return flat
