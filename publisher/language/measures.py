"""Numbers in a line, with the unit that follows, and slips in writing them."""

from __future__ import annotations

import re

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, WayOut
from publisher.language import numbers
from publisher.language.parser import Token
from publisher.source import MappedText

MAX_DIGITS = 12

_DECIMAL_COMMA = re.compile(r"\d+,\d+(?![\d/])")
_HYPHEN_FRACTION = re.compile(r"(\d+)-(\d+/\d+)(?![\w/])")


class Measured(Struct, frozen=True):
    """A number read: its terminal, or the finding that makes its line unreadable."""

    token: Token | None
    finding: Diagnostic | None


class MeasureReader(Struct, frozen=True):
    """Reads numbers from ``text``, whose offsets are those of ``body``, up to ``end``."""

    body: MappedText
    text: str
    end: int

    def read(self, at: int) -> Measured:
        """The number at ``at``. A slip whose meaning is plain gives both: the line is refused,
        and its other words are still looked at."""
        slip = _DECIMAL_COMMA.match(self.text, at, self.end)
        if slip is not None:
            mended = slip.group().replace(",", ".")
            said = f"a decimal has a point: {mended}"
            return self._with_unit(at, slip.end(), self._slip(slip, said, mended))
        slip = _HYPHEN_FRACTION.match(self.text, at, self.end)
        if slip is not None:
            mended = f"{slip.group(1)} {slip.group(2)}"
            said = f"a fraction follows its whole number: {mended}"
            return self._with_unit(at, slip.end(), self._slip(slip, said, mended))
        number = numbers.NUMBER.match(self.text, at, self.end)
        if number is None:
            message = f"‘{self.text[at]}’ means nothing here"
            return self._unreadable("unknown-sign", message, at, at + 1)
        if numbers.amount(number.group()) is None:
            return self._unreadable("number", "nothing can be divided by 0", at, number.end())
        if len(number.group()) > 2 * MAX_DIGITS:
            return self._unreadable("number", "this number has too many digits", at, number.end())
        return self._with_unit(at, number.end(), None)

    def _with_unit(self, start: int, at: int, finding: Diagnostic | None) -> Measured:
        unit = numbers.UNIT.match(self.text, at, self.end)
        if unit is not None:
            text = self.text[start : unit.end()]
            return Measured(Token("MEASURE", text, start, unit.end()), finding)
        other = numbers.OTHER_UNIT.match(self.text, at, self.end)
        if other is not None and not self._opens_a_note(at, other.group()):
            # Read on as if it were some length.
            token = Token("MEASURE", "1 mm", start, other.end())
            return Measured(token, finding or self._other_unit(start, other))
        return Measured(Token("NUMBER", self.text[start:at], start, at), finding)

    def _opens_a_note(self, at: int, unit: str) -> bool:
        """A straight quote after a number may begin the note: ``3 "times"``."""
        return unit == '"' and '"' in self.text[at + 1 : self.end]

    def _other_unit(self, start: int, match: re.Match[str]) -> Diagnostic:
        said = match.group().strip()
        factor, unit = numbers.OTHER_UNITS[said.lower()]
        value = self.text[start : match.start()].strip()
        ways: tuple[WayOut, ...] = ()
        if factor:
            amount = numbers.amount(value)
            if factor != 1 and amount is not None:
                value = f"{amount * factor:g}"
            whole = self.body.span(start, match.end())
            ways = (WayOut(f"write ‘{value} {unit}’", Edit(whole, f"{value} {unit}")),)
        return Diagnostic(
            "unknown-unit",
            "error",
            f"‘{said}’ is no unit here",
            (Place(self.body.span(match.end() - len(said), match.end())),),
            notes=("The units are mm, cm, in, pt and degrees, and seconds, minutes and hours",),
            ways_out=ways,
        )

    def _slip(self, match: re.Match[str], message: str, mended: str) -> Diagnostic:
        span = self.body.span(match.start(), match.end())
        way = WayOut(f"write ‘{mended}’", Edit(span, mended))
        return Diagnostic("number", "error", message, (Place(span),), ways_out=(way,))

    def _unreadable(self, code: str, message: str, start: int, end: int) -> Measured:
        place = Place(self.body.span(start, end))
        return Measured(None, Diagnostic(code, "error", message, (place,)))
