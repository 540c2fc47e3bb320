"""Characters to terminals: the longest match, names as runs of words that nobody keeps."""

from __future__ import annotations

import re

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language import numbers, words
from publisher.language.lines import OPENING_QUOTES, Line
from publisher.language.measures import MeasureReader
from publisher.language.parser import Token
from publisher.language.words import Mode
from publisher.source import MappedText

MAX_TERMINALS = 4000
MAX_OPERATORS = 100
MAX_BRACKETS = 24
MAX_NAME = 60

_SPACE = re.compile(r"\s+")
_WORD = re.compile(r"[^\W\d_](?:[\w’']|-(?=\w))*")
_DIGITS = re.compile(r"\s+(\d+)(?![\w.])")
_MARKS = {
    ",": "COMMA",
    ":": "COLON",
    "=": "EQUALS",
    "(": "OPENING",
    ")": "CLOSING",
    "+": "PLUS",
    "-": "MINUS",
    "−": "MINUS",
    "*": "TIMES",
    "/": "OVER",
    "^": "POWER",
    "×": "X",
}
_OPERATORS = frozenset({"PLUS", "MINUS", "TIMES", "OVER", "POWER", "X"})


class Lexed(Struct, frozen=True):
    """The terminals of one line; ``whole`` is False where the line cannot be parsed."""

    tokens: tuple[Token, ...]
    findings: tuple[Diagnostic, ...]
    whole: bool


def lex(body: MappedText, text: str, line: Line, mode: Mode) -> Lexed:
    """The terminals of ``text[line.start:line.end]``; positions are offsets into ``text``."""
    reader = _Reader(body, text, line, mode)
    reader.run()
    return Lexed(tuple(reader.tokens), tuple(reader.findings), reader.whole)


class _Reader:
    def __init__(self, body: MappedText, text: str, line: Line, mode: Mode) -> None:
        self.body = body
        self.text = text
        self.at = line.start
        self.end = line.end
        self.mode = mode
        self.measures = MeasureReader(body, text, line.end)
        self.kept = words.KEPT[mode]
        self.tokens: list[Token] = []
        self.findings: list[Diagnostic] = []
        self.whole = True
        self.brackets = 0
        self.operators = 0
        self.looked_at: dict[int, tuple[str | None, int]] = {}

    def run(self) -> None:
        if self.mode in ("piece", "step"):
            self._head()
        elif self.mode == "sizes":
            self._variant()
        while self.whole:
            space = _SPACE.match(self.text, self.at, self.end)
            if space is not None:
                self.at = space.end()
            if self.at >= self.end:
                break
            self._next()
            if len(self.tokens) > MAX_TERMINALS:
                self._fatal("line-too-long", "this line is too long", self.at, self.at + 1)

    def _next(self) -> None:
        at, char = self.at, self.text[self.at]
        if char.isalpha():
            self._words()
        elif char.isdigit() or char in numbers.FRACTION_SIGNS or self._is_point(at):
            self._number()
        elif char in OPENING_QUOTES:
            self._string()
        elif char in _MARKS:
            self._mark(_MARKS[char])
        else:
            self._fatal("unknown-sign", f"‘{char}’ means nothing here", at, at + 1)

    def _is_point(self, at: int) -> bool:
        return self.text[at] == "." and self.text[at + 1 : at + 2].isdigit()

    # ------------------------------------------------------------ beginnings

    def _head(self) -> None:
        match = _WORD.match(self.text, self.at, self.end)
        if match is not None:
            self._add("HEAD", match.end())

    def _variant(self) -> None:
        match = re.compile(r"variant(?=\s+[^\s=])", re.IGNORECASE).match(self.text, self.at)
        if match is not None:
            self._add("VARIANT", match.end())

    # ------------------------------------------------------------ marks

    def _mark(self, kind: str) -> None:
        self._add(kind, self.at + 1)
        if kind == "OPENING":
            self.brackets += 1
        elif kind == "CLOSING":
            self.brackets -= 1
        elif kind == "COMMA" and self.brackets <= 0:
            self.operators = 0
        self._bound()

    def _bound(self) -> None:
        """A maker's sum has a few terms; deep ones would only exhaust the machine."""
        if self.brackets > MAX_BRACKETS or self.operators > MAX_OPERATORS:
            what = "brackets" if self.brackets > MAX_BRACKETS else "signs"
            message = f"this sum has too many {what}; give parts of it names of their own"
            self._fatal("sum-too-long", message, self.at - 1, self.at)

    def _string(self) -> None:
        closing = OPENING_QUOTES[self.text[self.at]]
        ends = [self.text.find(c, self.at + 1, self.end) for c in {closing, '"'}]
        end = min((e for e in ends if e >= 0), default=self.end - 1)
        self._add("STRING", end + 1)

    # ------------------------------------------------------------ numbers

    def _number(self) -> None:
        found = self.measures.read(self.at)
        if found.finding is not None:
            self.findings.append(found.finding)
        if found.token is None:
            self.whole = False
            return
        self.tokens.append(found.token)
        self.at = found.token.end

    # ------------------------------------------------------------ words

    def _words(self) -> None:
        kind, end = self._keyword(self.at)
        if kind == "ARTICLE":
            self.at = end
        elif kind == "SIDE":
            self._side(end)
        elif kind is not None:
            self._add(kind, end)
            if kind in _OPERATORS:
                self._bound()
        else:
            self._name(self.at, end)

    def _keyword(self, at: int) -> tuple[str | None, int]:
        """What the language makes of the word at ``at``: terminal and end; None for a name."""
        known = self.looked_at.get(at)
        if known is None:
            known = self._looked_up(at)
            if self.text[at : at + 1] not in "xX":  # what x3 means hangs on what stands before it
                self.looked_at[at] = known
        return known

    def _looked_up(self, at: int) -> tuple[str | None, int]:
        word = _WORD.match(self.text, at, self.end)
        if word is None:
            return None, at
        if self.mode == "fits":
            verb = words.VERB.match(self.text, at, self.end)
            if verb is not None:
                return "VERB", verb.end()
        said = word.group().lower()
        phrase = words.PHRASES.get(said)
        if phrase is not None:
            match = phrase[1].match(self.text, at, self.end)
            if match is not None:
                return phrase[0], match.end()
        kept = self.kept.get(said)
        if kept is not None:
            return kept, word.end()
        if said[0] == "x" and said[1:].isdigit() and self._after_number():
            return "X", at + 1
        return None, word.end()

    def _after_number(self) -> bool:
        return bool(self.tokens) and self.tokens[-1].kind in ("NUMBER", "MEASURE", "CLOSING")

    def _side(self, end: int) -> None:
        """A side, or a name that begins with one: ``left wall``."""
        space = _SPACE.match(self.text, end, self.end)
        if space is not None and self._is_free_word(space.end()):
            self._name(self.at, end)
        else:
            self._add("SIDE", end)

    def _is_free_word(self, at: int) -> bool:
        return _WORD.match(self.text, at, self.end) is not None and self._keyword(at)[0] is None

    def _name(self, start: int, end: int) -> None:
        """A name whose first word ends at ``end``: as far as words are free."""
        while (space := _SPACE.match(self.text, end, self.end)) is not None:
            kind, word_end = self._keyword(space.end())
            if kind == "SIDE":
                # ``lower left flap``: a side in the midst of a name is a part of it.
                after = _SPACE.match(self.text, word_end, self.end)
                if after is None or not self._is_free_word(after.end()):
                    break
            elif kind is not None or word_end == space.end():
                break
            end = word_end
        digits = _DIGITS.match(self.text, end, self.end)
        if digits is not None and self._counts(digits):
            end = digits.end()
        if end - start > MAX_NAME:
            self._fatal("name-too-long", "this name is too long", start, end)
            return
        self._add("NAME", end, start)

    def _counts(self, digits: re.Match[str]) -> bool:
        """Whether a number after a name belongs to it: no fraction, no unit."""
        at = digits.end()
        number = numbers.NUMBER.match(self.text, digits.start(1), self.end)
        return (
            number is not None
            and number.end() == at
            and numbers.UNIT.match(self.text, at, self.end) is None
            and numbers.OTHER_UNIT.match(self.text, at, self.end) is None
        )

    # ------------------------------------------------------------ results

    def _add(self, kind: str, end: int, start: int | None = None) -> None:
        start = self.at if start is None else start
        if kind in _OPERATORS:
            self.operators += 1
        value = self.text[start:end]
        self.tokens.append(Token(kind, value, start, end))
        self.at = end

    def _fatal(self, code: str, message: str, start: int, end: int) -> None:
        span: Span = self.body.span(max(start, 0), min(end, self.end))
        self.findings.append(Diagnostic(code, "error", message, (Place(span),)))
        self.whole = False
