"""Phrases: which part of a run of words is a value and which says what it measures.

``tongue width`` may be a size of that name, or a size ``tongue`` and the word ``width``; only
the declared names decide. The longest declared name wins; where none is declared the last word
is the label.
"""

from __future__ import annotations

import re

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Span, nearest
from publisher.language import ast
from publisher.language.ast import Expr, Phrase, Ref, Segment
from publisher.language.names import Names
from publisher.language.statements import StatementSpec, canonical
from publisher.source import SourceText

_WORD = re.compile(r"\w(?:[\w’'-]*\w)?")


class Splitter(Struct, frozen=True):
    """Splits the phrases of one kind of line, seen from one piece (None: from a step)."""

    spec: StatementSpec
    names: Names
    piece: str | None
    source: SourceText

    def split(self, phrase: Phrase) -> Phrase:
        """The phrase with its label, as the statement's own word."""
        if phrase.setting is not None or isinstance(phrase.value, ast.Offset):
            return phrase
        if phrase.label is not None:
            return replace(phrase, label=self.own_word(phrase.label))
        value = phrase.value
        if value is None:
            return phrase
        word = plain_word(value)
        as_word = replace(phrase, value=None, label=word, label_span=value.span)
        if word is not None and word in (*self.spec.words, *self.spec.later):
            return as_word
        leaf = _rightmost(value)
        if leaf is None or leaf.states or leaf.segments[-1].kind not in ("name", "each"):
            return phrase
        split = self._by_names(phrase, value, leaf)
        is_split = split.label is not None and split.label in self.spec.labels
        return as_word if word is not None and not is_split and self._is_slip(word) else split

    def _is_slip(self, word: str) -> bool:
        """One of the statement's plain words, misspelt, or a stray one; no slip of a name."""
        known = (*self.spec.words, *self.spec.later)
        if self.names.is_known(word, self.piece):
            return False
        if nearest(word, known) is not None:
            return True
        takes = self.spec.where == "piece" and bool(self.spec.words) and self.spec.bare > 0
        stray = takes and " " not in word
        return stray and nearest(word, self.names.choices(self.piece)) is None

    def own_word(self, label: str) -> str:
        """The statement's word for a label; the label itself where it has none."""
        if label in self.spec.labels or label in self.spec.words:
            return label
        known = canonical(label)
        return known if known is not None and known in self.spec.labels else label

    def _by_names(self, phrase: Phrase, value: Expr, leaf: Ref) -> Phrase:
        last = leaf.segments[-1]
        words = last.name.split()
        for count in range(len(words), 0, -1):
            known = " ".join(words[:count])
            if not self._is_known(known, last):
                continue
            if count == len(words):
                return self._self_labelled(phrase, value, last)
            return self._cut(phrase, value, leaf, words, count)
        if len(words) > 1 and self.own_word(words[-1]) in self.spec.labels:
            return self._cut(phrase, value, leaf, words, len(words) - 1)
        return phrase

    def _is_known(self, name: str, segment: Segment) -> bool:
        if segment.kind == "each":
            return self.names.is_kind(name)
        return self.names.is_known(name, self.piece)

    def _self_labelled(self, phrase: Phrase, value: Expr, last: Segment) -> Phrase:
        """A name that ends in its label labels itself: ``border``, ``tongue width``."""
        label = self.own_word(last.name.split()[-1])
        if isinstance(value, ast.Join) or label not in self.spec.labels:
            return phrase
        return replace(phrase, label=label, label_span=self._word_span(last.span, -1, None))

    def _cut(self, phrase: Phrase, value: Expr, leaf: Ref, words: list[str], count: int) -> Phrase:
        last = leaf.segments[-1]
        # "each wall wide": the first word of the segment is "each".
        before = 1 if last.kind == "each" else 0
        name_span = self._word_span(last.span, 0, before + count)
        segment = replace(last, name=" ".join(words[:count]), span=name_span)
        span = self.source.span(leaf.span.start, name_span.end)
        shorter = replace(leaf, segments=(*leaf.segments[:-1], segment), span=span)
        return replace(
            phrase,
            value=self._with_leaf(value, shorter),
            label=self.own_word(" ".join(words[count:])),
            label_span=self._word_span(last.span, before + count, None),
        )

    def _word_span(self, span: Span, first: int, last: int | None) -> Span:
        """Where some of the words of a name stand."""
        words = list(_WORD.finditer(self.source.text, span.start, span.end))[first:last]
        return self.source.span(words[0].start(), words[-1].end()) if words else span

    def _with_leaf(self, value: Expr, leaf: Ref) -> Expr:
        span = self.source.span(value.span.start, leaf.span.end)
        match value:
            case ast.Binary():
                return replace(value, right=self._with_leaf(value.right, leaf), span=span)
            case ast.Negate():
                return replace(value, operand=self._with_leaf(value.operand, leaf), span=span)
            case ast.Join():
                parts = (*value.parts[:-1], self._with_leaf(value.parts[-1], leaf))
                return replace(value, parts=parts, span=span)
            case ast.Several():
                items = (*value.items[:-1], self._with_leaf(value.items[-1], leaf))
                return replace(value, items=items, span=span)
            case _:
                return leaf


def plain_word(value: ast.Place) -> str | None:
    """The text of a value that is one name and nothing else."""
    if isinstance(value, Ref) and len(value.segments) == 1 and not value.states:
        only = value.segments[0]
        return only.name if only.kind == "name" else None
    return None


def leading_name(value: ast.Place | None) -> Segment | None:
    """The name that a value begins with: "base 60" in ``base 60 x 40 mm``."""
    while True:
        match value:
            case Ref():
                return value.segments[0] if value.segments[0].kind == "name" else None
            case ast.Binary():
                value = value.left
            case ast.Join():
                value = value.parts[0]
            case ast.Several():
                value = value.items[0]
            case _:
                return None


def _rightmost(value: Expr) -> Ref | None:
    """The name that stands last, after which a label could follow."""
    while True:
        match value:
            case Ref():
                return value
            case ast.Binary():
                value = value.right
            case ast.Negate():
                value = value.operand
            case ast.Join():
                value = value.parts[-1]
            case ast.Several():
                value = value.items[-1]
            case _:
                return None


def joining_word(joining: ast.Joining) -> tuple[str, Span]:
    match joining:
        case ast.Prep():
            return joining.word, joining.word_span
        case ast.FromTo():
            return "from", joining.span
        case ast.Called():
            return "called", joining.span
        case ast.When():
            return "when", joining.span
        case ast.By():
            return "by", joining.span
        case ast.Quoted():
            return joining.word, joining.span


def joins_nothing(phrase: Phrase, joining: ast.Joining) -> bool:
    """``in the middle``, ``aligned to``, ``5 by 8 mm``: words that join, and say nothing so."""
    match joining:
        case ast.Prep(word="in", places=(ast.Ref(segments=(first, *_)),)):
            return first.kind == "middle"
        case ast.Prep():
            return phrase.label == "aligned" and joining.word != "with"
        case ast.By():
            return phrase.label is None and isinstance(phrase.value, ast.Literal)
        case _:
            return False
