"""A statement against its entry in the registry: what it takes and what it does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, a_line, nearest
from publisher.language import ast
from publisher.language.ast import Phrase, Ref, Statement
from publisher.language.phrases import joining_word, joins_nothing, leading_name, plain_word
from publisher.language.statements import STATEMENTS, StatementSpec, Where

ANYWHERE = ("called", "when")
"""Joinings that every statement takes."""


def find_spec(statement: Statement, where: Where) -> tuple[StatementSpec | None, Diagnostic | None]:
    """The registry's entry for a line; a finding where there is none or nothing builds it."""
    known = STATEMENTS[where]
    spec = known.get(statement.head)
    if spec is None:
        return None, _unknown_head(statement, where)
    if not spec.built:
        return spec, Diagnostic(
            "not-yet",
            "error",
            f"‘{statement.head}’ is part of the language, but nothing builds it yet",
            (Place(statement.head_span),),
        )
    return spec, None


def _unknown_head(statement: Statement, where: Where) -> Diagnostic:
    head, span = statement.head, statement.head_span
    code = "unknown-action" if where == "step" else "unknown-statement"
    from publisher.language.meant import head_meant_by  # only a line that fails waits

    near = head_meant_by(head, where) or nearest(head, STATEMENTS[where])
    other: Where = "piece" if where == "step" else "step"
    message = f"no line of a {where} begins with ‘{head}’"
    notes: tuple[str, ...] = ()
    if near is not None:
        message += f". Nearest: ‘{near}’"
    elif head in STATEMENTS[other]:
        message += f"; it belongs in a {other}"
        if head == "fold":
            notes = ("In a piece ‘score’ makes the line; ‘fold’ moves the paper, in a step",)
    else:
        notes = ("It can begin with " + ", ".join(sorted(STATEMENTS[where])),)
    ways = (WayOut(f"write ‘{near}’", Edit(span, near)),) if near is not None else ()
    return Diagnostic(code, "error", message, (Place(span),), notes=notes, ways_out=ways)


def check(statement: Statement, spec: StatementSpec) -> list[Diagnostic]:
    """Every phrase that the statement does not take."""
    return list(_Check(statement, spec).run())


class _Check(Struct):
    statement: Statement
    spec: StatementSpec

    def run(self) -> Iterator[Diagnostic]:
        spec = self.spec
        bare = 0
        if spec.names and self.statement.name is None:
            yield self._nameless()
            return
        for phrase in self.statement.phrases:
            yield from self._joinings(phrase)
            if phrase.setting is not None:
                if not spec.settings:
                    said = f"{phrase.setting.text} = …"
                    yield self._strange(said, phrase.setting.span, ())
            elif (gap := self._no_comma(phrase)) is not None:
                yield gap
            elif isinstance(phrase.value, ast.Offset):
                yield from self._offset(phrase.value)
            elif phrase.value is None:
                yield from self._word(phrase)
            elif phrase.label is None:
                bare += 1
                if bare > spec.bare:
                    yield from self._bare(phrase)
            else:
                yield from self._label(phrase)
        if self.statement.items and not spec.items:
            first = self.statement.items[0].span
            yield self._strange("a list after a colon", first, (), quoted=False)
        if spec.needs_face and self.statement.face() is None:
            yield Diagnostic(
                "which-face",
                "error",
                "on which face? Add ‘on front face’ or ‘on back face’",
                (Place(self.statement.head_span),),
            )

    def _no_comma(self, phrase: Phrase) -> Diagnostic | None:
        """``outline rectangle 60 x 40 mm``: a word and the measure that follows it."""
        lead = leading_name(phrase.value)
        word, _, digits = (lead.name if lead is not None else "").rpartition(" ")
        if lead is None or word not in self.spec.words or not digits.isdigit():
            return None
        return self._comma_before(digits, word, lead.span)

    def _nameless(self) -> Diagnostic:
        """``panel base 60 x 40 mm``: the name is not by itself."""
        head = self.spec.head
        first = self.statement.phrases[0]
        lead = leading_name(first.value)
        name, _, digits = (lead.name if lead is not None else "").rpartition(" ")
        side = _only_side(first.value)
        if side is not None:
            message = f"‘{side.name}’ is a side of every panel, so it cannot be a name"
            better = f"{side.name} {head}"
            ways = (WayOut(f"write ‘{better}’", Edit(side.span, better)),)
            return Diagnostic("syntax", "error", message, (Place(first.span),), ways_out=ways)
        if lead is None or not digits.isdigit():
            message = f"{a_line(head)} begins with the name it gives: ‘{self.spec.example}’"
            return Diagnostic("syntax", "error", message, (Place(first.span),))
        return self._comma_before(digits, name, lead.span)

    def _comma_before(self, digits: str, word: str, at: Span) -> Diagnostic:
        """``at`` holds the word and the digits after it."""
        shift = at.end - at.start - len(digits)
        span = Span(at.file, at.start + shift, at.end, at.line, at.column + shift)
        return Diagnostic(
            "syntax",
            "error",
            f"put a comma before {digits}: ‘{self.spec.head} {word}, {digits} …’",
            (Place(span),),
            ways_out=(WayOut("put a comma there", Edit(at, f"{word}, {digits}")),),
        )

    # ------------------------------------------------------------ kinds of phrase

    def _joinings(self, phrase: Phrase) -> Iterator[Diagnostic]:
        for joining in phrase.joinings:
            word, span = joining_word(joining)
            if joins_nothing(phrase, joining):
                yield self._strange(word, span, ())
                continue
            if word in self.spec.joins or word in ANYWHERE:
                continue
            if word == "on" and self.spec.needs_face:
                continue
            if word in self.spec.later:
                yield self._later(word, span)
            else:
                yield self._strange(word, span, (*self.spec.joins, *ANYWHERE))

    def _offset(self, value: ast.Offset) -> Iterator[Diagnostic]:
        if value.direction not in self.spec.offsets:
            yield self._strange(value.direction, value.span, self.spec.offsets)

    def _word(self, phrase: Phrase) -> Iterator[Diagnostic]:
        word, span = phrase.label, phrase.label_span or phrase.span
        if word is None or word in self.spec.words:
            return
        if word in self.spec.later:
            yield self._later(word, span)
        else:
            yield self._strange(word, span, (*self.spec.words, *self.spec.labels))

    def _bare(self, phrase: Phrase) -> Iterator[Diagnostic]:
        value = phrase.value
        assert value is not None
        word = plain_word(value)
        if word is not None:
            yield from self._word(Phrase(None, word, (), phrase.span, value.span))
            return
        number = isinstance(value, ast.Literal) and not value.unit
        if number or not self.spec.labels:
            yield self._strange("this", value.span, self.spec.labels, quoted=False)
            return
        labels = _listed(self.spec.labels)
        ways: tuple[WayOut, ...] = ()
        if isinstance(value, ast.Literal) and value.unit in ("mm", "cm", "in", "pt"):
            said = f"{value.written} {self.spec.labels[0]}"
            ways = (WayOut(f"write ‘{said}’", Edit(value.span, said)),)
        yield Diagnostic(
            "unknown-word",
            "error",
            f"this does not say what it measures: {labels}",
            (Place(value.span),),
            ways_out=ways,
        )

    def _label(self, phrase: Phrase) -> Iterator[Diagnostic]:
        label, span = phrase.label or "", phrase.label_span or phrase.span
        if label in self.spec.labels:
            return
        if label in self.spec.later:
            yield self._later(label, span)
            return
        value = phrase.value
        if isinstance(value, Ref) and self._is_odd_way(label):
            said = value.text
            yield Diagnostic(
                "unknown-word",
                "error",
                f"‘{said}’ is known, ‘{said} {label}’ is not. Leave out ‘{label}’: "
                "the score says which way",
                (Place(span),),
                ways_out=(WayOut(f"leave out ‘{label}’", Edit(span, "")),),
            )
            return
        first, _, rest = label.partition(" ")
        if rest and first in self.spec.labels:
            gap = Span(span.file, span.start, span.start + len(first), span.line, span.column)
            shift = span.end - span.start - len(rest)
            place = Span(span.file, span.end - len(rest), span.end, span.line, span.column + shift)
            yield Diagnostic(
                "syntax",
                "error",
                f"put a comma before ‘{rest}’",
                (Place(place),),
                ways_out=(WayOut("put a comma there", Edit(gap, f"{first},")),),
            )
            return
        if self.spec.head in ("colour", "stamp"):
            yield Diagnostic(
                "unknown-word",
                "error",
                f'what it is done with stands in quotation marks at the end: "{label}"',
                (Place(span),),
                ways_out=(WayOut(f'write ‘"{label}"’', Edit(span, f'"{label}"')),),
            )
            return
        if not self.spec.labels and rest:
            # "turn drawer ovr lid": the slip is in the joining word.
            start = Span(span.file, span.start, span.start + len(first), span.line, span.column)
            yield self._strange(first, start, self.spec.joins)
            return
        yield self._strange(label, span, self.spec.labels)

    def _is_odd_way(self, label: str) -> bool:
        return self.spec.where == "step" and label in ("up", "down", "back", "over", "in", "out")

    # ------------------------------------------------------------ answers

    def _later(self, word: str, span: Span) -> Diagnostic:
        message = f"‘{word}’ is part of the language, but nothing builds it yet"
        return Diagnostic("not-yet", "error", message, (Place(span),))

    def _strange(
        self, said: str, span: Span, choices: Iterable[str], *, quoted: bool = True
    ) -> Diagnostic:
        """``slit takes ‘wide’, ‘deep’; ‘tall’ is not one of them``."""
        head, known = self.spec.head, [c for c in choices if c not in ANYWHERE]
        shown = f"‘{said}’" if quoted else said
        from publisher.language.meant import meant_by  # only a line that fails waits

        near = meant_by(said, known) or nearest(said, known)
        ways: tuple[WayOut, ...] = ()
        if not known:
            message = (
                f"{a_line(head)} takes no {shown}" if quoted else f"‘{head}’ does not take {said}"
            )
        else:
            message = f"‘{head}’ takes {_listed(known)}; {shown} is not one of them"
        if near is not None:
            message += f". Nearest: ‘{near}’"
            ways = (WayOut(f"write ‘{near}’", Edit(span, near)),)
        return Diagnostic("unknown-word", "error", message, (Place(span),), ways_out=ways)


def _listed(words: Iterable[str]) -> str:
    quoted = [f"‘{w}’" for w in words]
    if len(quoted) == 1:
        return quoted[0]
    return ", ".join(quoted[:-1]) + " and " + quoted[-1]


def _only_side(value: ast.Place | None) -> ast.Segment | None:
    """The side that stands where a name is wanted: ``panel bottom, …``."""
    if isinstance(value, ast.Ref) and len(value.segments) == 1 and not value.states:
        only = value.segments[0]
        return only if only.kind == "side" else None
    return None
