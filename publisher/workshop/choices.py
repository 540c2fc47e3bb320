"""The tables ``[cutting]`` and ``[makers."..."]`` of a workshop's settings."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest
from publisher.trade import CUTTING_KEYS, Cutting, Trade, read_cutting

_KEYS = {key.name: key for key in CUTTING_KEYS}
_MAKER = re.compile(r"[A-Za-z0-9][A-Za-z0-9 -]{0,39}")
CODE = "settings-wrong"


class Choices:
    """Reads the tables of one file; ``wrong`` is what could not be read."""

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.text = text
        self.wrong: list[Diagnostic] = []

    def cutting(self, table: object) -> Cutting:
        """What stands in ``[cutting]``."""
        return self._choices(table, "cutting", ())

    def makers(self, table: object) -> tuple[tuple[str, Cutting], ...]:
        """Every maker by name, in the order of the file."""
        if not isinstance(table, Mapping):
            self._tell('‘makers’ takes a table for each, such as [makers."A4 maker"]', "makers")
            return ()
        found = []
        for name, own in table.items():
            if _MAKER.fullmatch(name):
                found.append((name, self._choices(own, name, ("makers",))))
            else:
                self._tell(f"‘{name}’ is no name for a maker: letters, figures and spaces", name)
        return tuple(found)

    def unknown(self, settings: Mapping[str, Cutting], trade: Trade) -> Iterator[Diagnostic]:
        """Sheets and machines that the trade has not got; choices by their table's name."""
        for table, cutting in settings.items():
            for key, value, known in (
                ("sheet", cutting.sheet, tuple(trade.sheets)),
                ("machine", cutting.machine, tuple(trade.machines)),
            ):
                if value and value not in known:
                    near = nearest(value, known)
                    yield Diagnostic(
                        CODE,
                        "error",
                        f"there is no {key} ‘{value}’",
                        (Place(self.span(key, table)),),
                        notes=(f"Known are {', '.join(known)}.",),
                        ways_out=(WayOut(f'write {key} = "{near}"'),) if near else (),
                    )

    def _choices(self, table: object, name: str, above: tuple[str, ...]) -> Cutting:
        if not isinstance(table, Mapping):
            self._tell(f"‘{name}’ is a table: write [{'.'.join((*above, name))}]", name)
            return Cutting()
        said: dict[str, str] = {}
        for key, value in table.items():
            asked = _KEYS.get(key)
            if asked is None:
                self._tell_unknown(key, name)
                continue
            # A bare number is a fair way to write how many copies.
            text = str(value).strip() if isinstance(value, (str, int)) else ""
            if text not in asked.words if asked.words else not (text and asked.fits(text)):
                self._tell(f"‘{key}’ takes {asked.wants}", key, name)
            else:
                said[key] = text
        return read_cutting(said)

    def _tell_unknown(self, key: str, table: str) -> None:
        near = nearest(key, _KEYS)
        span = self.span(key, table)
        self.wrong.append(
            Diagnostic(
                CODE,
                "error",
                f"‘{key}’ is not known here",
                (Place(span),),
                notes=(f"Known are {', '.join(_KEYS)}.",),
                ways_out=(WayOut(f"write ‘{near}’", Edit(span, near)),) if near else (),
            )
        )

    def _tell(self, message: str, key: str, table: str = "") -> None:
        self.wrong.append(Diagnostic(CODE, "error", message, (Place(self.span(key, table)),)))

    def span(self, key: str, table: str = "") -> Span:
        """Where a key stands, after the head of its table; the file's beginning where it does
        not."""
        head = re.search(rf'^[ \t]*\[[^\]\n]*{re.escape(table)}"?[ \t]*\]', self.text, re.MULTILINE)
        after = head.end() if table and head else 0
        sought = re.compile(rf'^[ \t]*\[?[^=\n]*?("?{re.escape(key)}"?)[ \t]*[=\].]', re.MULTILINE)
        found = sought.search(self.text, after)
        start, end = found.span(1) if found else (0, 0)
        line = self.text.count("\n", 0, start) + 1
        return Span(self.file, start, end, line, start - (self.text.rfind("\n", 0, start) + 1) + 1)
