"""What is wrong with a line that leaves the grammar, in a maker's words."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.language import numbers
from publisher.language.lines import Line
from publisher.language.parser import Token, Unexpected
from publisher.language.wanted import ENDS_A_VALUE, OPENS_A_VALUE, nearest_verb, wanted
from publisher.language.words import RESERVED, Mode
from publisher.source import MappedText


def explain(
    body: MappedText,
    text: str,
    line: Line,
    tokens: Sequence[Token],
    fault: Unexpected,
    mode: Mode,
) -> Diagnostic:
    """A finding at the word that cannot stand where it stands."""
    return _Explainer(body, text, line, tokens, fault, mode).finding()


class _Explainer:
    def __init__(
        self,
        body: MappedText,
        text: str,
        line: Line,
        tokens: Sequence[Token],
        fault: Unexpected,
        mode: Mode,
    ) -> None:
        self.body = body
        self.line = line
        self.text = text
        self.tokens = tokens
        self.index = fault.index
        self.expected = fault.expected
        self.mode = mode
        self.here = tokens[fault.index] if fault.index < len(tokens) else None
        self.before = tokens[fault.index - 1] if fault.index > 0 else None

    # ------------------------------------------------------------ parts

    def said(self, token: Token) -> str:
        return " ".join(token.text.split())

    def at(self, token: Token) -> Span:
        return self.body.span(token.start, token.end)

    def error(
        self, message: str, span: Span, *notes: str, ways: tuple[WayOut, ...] = ()
    ) -> Diagnostic:
        return Diagnostic("syntax", "error", message, (Place(span),), (), notes, ways)

    # ------------------------------------------------------------ cases

    def finding(self) -> Diagnostic:
        return self._brackets() or (self._at_the_end() if self.here is None else self._inside())

    def _brackets(self) -> Diagnostic | None:
        opened: list[Token] = []
        for token in self.tokens:
            if token.kind == "OPENING":
                opened.append(token)
            elif token.kind == "CLOSING":
                if not opened:
                    return self.error("no bracket is open here", self.at(token))
                opened.pop()
        if opened and (self.here is None or "CLOSING" in self.expected):
            return self.error("this bracket is not closed", self.at(opened[-1]))
        return None

    def _at_the_end(self) -> Diagnostic:
        before = self.before
        if before is None:
            return self.error(
                "nothing is said here", self.body.span(self.line.start, self.line.end)
            )
        if before.kind == "COMMA":
            return self.error(
                "this line ends with a comma. Indent the next line to go on, "
                "or take the comma away",
                self.at(before),
                ways=(WayOut("take the comma away", Edit(self.at(before), "")),),
            )
        said = self.said(before)
        if before.kind == "HEAD":
            return self.error(f"{said} what? Nothing follows ‘{said}’", self.at(before))
        if self.mode == "sizes" and "EQUALS" in self.expected:
            note = "Write for example ‘tab = 12 mm’"
            return self.error(f"‘{said}’ has no value", self.at(before), note)
        if self.mode == "fits" and "VERB" in self.expected:
            slip = self._verb_slip()
            if slip is not None:
                return slip
            note = "Write for example ‘stack goes into drawer with 2 mm to 6 mm to spare’"
            return self.error("this line does not say what fits what", self._whole(), note)
        if "TO_SPARE" in self.expected:
            return self.error("‘to spare’ is missing at the end", self.at(before))
        if "TO" in self.expected and any(t.kind == "FROM" for t in self._phrase()):
            return self._from_without_to(said)
        return self.error(
            f"something is missing after ‘{said}’: {wanted(self.expected)}", self.at(before)
        )

    def _from_without_to(self, said: str) -> Diagnostic:
        phrase = self._phrase()
        at = max(i for i, t in enumerate(phrase) if t.kind == "FROM")
        inches = self._inches_from(phrase[at], phrase[at - 1] if at > 0 else None)
        if inches is not None:
            return inches
        return self.error(
            f"from where to where? ‘to’ is missing after ‘{said}’", self.at(phrase[at])
        )

    def _inside(self) -> Diagnostic:
        here = self.here
        assert here is not None
        before = self.before
        for case in (
            self._article_as_name,
            self._kept_word,
            self._unit,
            self._wrong_colon,
            self._size_sign,
            self._sum_in_size,
            self._inches_from,
            self._comma_and,
            self._comma,
            self._verb,
        ):
            found = case(here, before)
            if found is not None:
                return found
        said = self.said(here)
        after = f" after ‘{self.said(before)}’" if before is not None else ""
        return self.error(
            f"‘{said}’ cannot stand here{after}: {wanted(self.expected)}", self.at(here)
        )

    def _article_as_name(self, here: Token, before: Token | None) -> Diagnostic | None:
        if before is None and here.kind == "EQUALS" and self.mode == "sizes":
            start = self.line.start
            said = self.text[start : here.start].strip()
            message = f"‘{said}’ is passed over when a line is read; it cannot be a name"
            return self.error(message, self.body.span(start, start + len(said)))
        return None

    def _kept_word(self, here: Token, before: Token | None) -> Diagnostic | None:
        word = self.said(here).lower()
        names = "NAME" in self.expected and len(self.expected & OPENS_A_VALUE) <= 1
        if names and word.split()[0] in RESERVED:
            return self.error(
                f"‘{word}’ has a meaning of its own, so it cannot be a name", self.at(here)
            )
        return None

    def _unit(self, here: Token, before: Token | None) -> Diagnostic | None:
        """``12 mn``: a word after a number that is no unit."""
        if here.kind != "NAME" or before is None or before.kind != "NUMBER":
            return None
        if self.mode != "sizes" and "NAME" in self.expected:
            return None
        said = self.said(here)
        return Diagnostic(
            "unknown-unit",
            "error",
            f"‘{said}’ is no unit",
            (Place(self.at(here)),),
            notes=("The units are mm, cm, in, pt and degrees, and seconds, minutes and hours",),
        )

    def _size_sign(self, here: Token, before: Token | None) -> Diagnostic | None:
        if self.mode != "sizes" or "EQUALS" not in self.expected or before is None:
            return None
        name, value = self.said(before), self.said(here)
        where = self.body.span(before.end, before.end)
        return self.error(
            f"‘=’ is missing between ‘{name}’ and ‘{value}’",
            self.at(here),
            ways=(WayOut(f"write ‘{name} = {value}’", Edit(where, " =")),),
        )

    def _sum_in_size(self, here: Token, before: Token | None) -> Diagnostic | None:
        if here.kind == "X" and before is not None and before.kind not in ENDS_A_VALUE:
            message = "‘x’ joins the parts of a size, so it cannot be a name"
            return self.error(message, self.at(here))
        if here.kind != "X":
            if before is not None and self._in_size() and here.kind in ("PLUS", "MINUS"):
                return self.error("a sum beside x stands in brackets: (a + b) x c", self.at(here))
            return None
        if any(t.kind in ("PLUS", "MINUS") for t in self._phrase()):
            return self.error("a sum beside x stands in brackets: (a + b) x c", self.at(here))
        if sum(t.kind == "X" for t in self._phrase()) >= 2:
            return self.error("a size has at most three parts: across, down, deep", self.at(here))
        return None

    def _inches_from(self, here: Token, before: Token | None) -> Diagnostic | None:
        if here.kind == "FROM" and before is not None and self.said(before).endswith(" in"):
            number, _ = numbers.split_measure(self.said(before))
            return self.error(
                f"‘{self.said(before)}’ is inches here. For a place write "
                f"‘{number} mm in from …’ or ‘{number} in in from …’",
                self.at(before),
            )
        return None

    def _comma_and(self, here: Token, before: Token | None) -> Diagnostic | None:
        if here.kind != "AND" or before is None or before.kind != "COMMA":
            return None
        return self.error(
            "no comma before ‘and’: ‘a, b and c’",
            self.at(before),
            ways=(WayOut("take the comma away", Edit(self.at(before), "")),),
        )

    def _comma(self, here: Token, before: Token | None) -> Diagnostic | None:
        if before is None or "COMMA" not in self.expected or here.kind not in OPENS_A_VALUE:
            return None
        if self.mode not in ("header", "piece", "step"):
            return None
        start = self._phrase()[0] if self._phrase() else before
        first = self.text[start.start : before.end]
        label = ""
        if self.index + 1 < len(self.tokens) and self.tokens[self.index + 1].kind == "NAME":
            label = f" {self.said(self.tokens[self.index + 1])}"
        said = self.said(here)
        gap = self.body.span(before.end, before.end)
        return self.error(
            f"put a comma before {said}: ‘{' '.join(first.split())}, {said}{label}’",
            self.at(here),
            ways=(WayOut("put a comma there", Edit(gap, ",")),),
        )

    def _wrong_colon(self, here: Token, before: Token | None) -> Diagnostic | None:
        if here.kind != "COLON" or self.mode != "sizes" or before is None:
            return None
        return self.error(
            f"write ‘{self.said(before)} = …’: a size has an equals sign, not a colon",
            self.at(here),
            ways=(WayOut("write =", Edit(self.at(here), " =")),),
        )

    def _verb(self, here: Token, before: Token | None) -> Diagnostic | None:
        return self._verb_slip() if "VERB" in self.expected else None

    def _verb_slip(self) -> Diagnostic | None:
        """``stack goes in drawer``: the words nearest to a verb."""
        start, end = self.line.start, self.line.end
        fault = None if self.here is None else self.here.start - start
        near = nearest_verb(self.text[start:end], fault)
        if near is None:
            return None
        verb, first, last = near
        said = " ".join(self.text[start + first : start + last].split())
        span = self.body.span(start + first, start + last)
        return self.error(
            f"nothing is proven by ‘{said}’. Nearest: ‘{verb}’",
            span,
            ways=(WayOut(f"write ‘{verb}’", Edit(span, verb)),),
        )

    # ------------------------------------------------------------ surroundings

    def _whole(self) -> Span:
        return self.body.span(self.tokens[0].start, self.tokens[-1].end)

    def _phrase(self) -> list[Token]:
        """The terminals from the last comma, or from the head, up to the fault."""
        found: list[Token] = []
        for token in reversed(self.tokens[: self.index]):
            if token.kind in ("COMMA", "COLON", "HEAD", "EQUALS"):
                break
            found.append(token)
        return found[::-1]

    def _in_size(self) -> bool:
        return any(t.kind == "X" for t in self._phrase())
