"""One TOML file of named entries: values taken out with their kinds checked.

Every value has a source: its own, where it is written ``{ value = ..., source = "..." }``,
or else its entry's ``source``. Mistakes are collected with the line they stand on.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping

import tomli
from msgspec import Struct, field

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest

_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_COLOUR = re.compile(r"#[0-9a-f]{6}")
_SPEAKS_FOR_ITSELF = frozenset({"title", "text", "means", "unit", "doubtful"})


class Entry(Struct):
    """One table of the file while it is read; what is asked for is ticked off."""

    file: EntryFile
    name: str
    table: Mapping[str, object]
    sources: list[tuple[str, str]] = field(default_factory=list)
    asked: set[str] = field(default_factory=lambda: {"source"})
    sourceless: bool = False

    def _raw(self, key: str, default: object = None) -> object:
        self.asked.add(key)
        value = self.table.get(key, default)
        source = self.table.get("source")
        if isinstance(value, dict):
            source = value.get("source", source)
            if "value" not in value or set(value) - {"value", "source"}:
                self.wrong(key, "in braces stand a value and its source")
            value = value.get("value")
        elif value is None:
            self.wrong(key, f"‘{key}’ is missing")
        if key not in _SPEAKS_FOR_ITSELF and value is not None:
            self._note_source(key, source)
        return value

    def _note_source(self, key: str, source: object) -> None:
        if isinstance(source, str) and source.strip():
            self.sources.append((key, source.strip()))
        elif not self.sourceless:
            self.sourceless = True
            self.file.report(
                "shared-source-missing",
                f"‘{key}’ of ‘{self.name}’ has no source",
                self.file.key_span(self.name, key),
                notes=('Where there is none, write source = "common practice, no source".',),
            )

    def wrong(self, key: str, message: str) -> None:
        self.file.report(
            "shared-value-wrong", f"{message} in ‘{self.name}’", self.file.key_span(self.name, key)
        )

    def number(self, key: str, *, zero: bool = False) -> float:
        """A finite number, more than zero (or zero too)."""
        value = self._raw(key)
        if isinstance(value, bool) or not isinstance(value, int | float):
            if value is not None:
                self.wrong(key, f"‘{key}’ must be a number")
            return 1.0
        if not math.isfinite(value) or value < 0 or (value == 0 and not zero):
            self.wrong(key, f"‘{key}’ must be more than zero")
            return 1.0
        return float(value)

    def words(self, key: str) -> str:
        value = self._raw(key)
        if not isinstance(value, str):
            if value is not None:
                self.wrong(key, f"‘{key}’ must be words in quotes")
            return ""
        if not value.strip():
            self.wrong(key, f"‘{key}’ is empty")
        return value.strip()

    def one_of(self, key: str, allowed: tuple[str, ...]) -> str:
        value = self.words(key)
        if value and value not in allowed:
            self.wrong(key, f"‘{key}’ must be one of {', '.join(allowed)}")
        return value if value in allowed else allowed[0]

    def colour(self, key: str) -> str:
        value = self.words(key)
        if value and not _COLOUR.fullmatch(value):
            self.wrong(key, f"‘{key}’ must be a colour such as #e3d2b0, in small letters,")
            return "#ffffff"
        return value or "#ffffff"

    def yes_or_no(self, key: str, default: bool | None = None) -> bool:
        value = self._raw(key, default)
        if not isinstance(value, bool):
            if value is not None:
                self.wrong(key, f"‘{key}’ must be true or false")
            return False
        return value

    @property
    def source(self) -> str:
        """The entry's own source, or those of its values."""
        own = self.table.get("source")
        if isinstance(own, str):
            return own.strip()
        return "; ".join(dict.fromkeys(source for _, source in self.sources))

    def done(self) -> None:
        """Report the keys that nobody asked for."""
        for key in self.table:
            if key in self.asked:
                continue
            span = self.file.key_span(self.name, key)
            near = nearest(key, self.asked)
            self.file.report(
                "shared-key-unknown",
                f"‘{key}’ in ‘{self.name}’ is not known",
                span,
                ways_out=(WayOut(f"write ‘{near}’", Edit(span, near)),) if near else (),
            )


class EntryFile:
    """The text of one file of ``shared/``: its entries, and what is wrong with them."""

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.text = text
        self.diagnostics: list[Diagnostic] = []

    def report(
        self,
        code: str,
        message: str,
        span: Span,
        notes: tuple[str, ...] = (),
        ways_out: tuple[WayOut, ...] = (),
    ) -> None:
        self.diagnostics.append(
            Diagnostic(code, "error", message, (Place(span),), notes=notes, ways_out=ways_out)
        )

    def entries(self) -> Iterable[Entry]:
        """Every table, in the order of the file; nothing where the file is not TOML."""
        try:
            tables = tomli.loads(self.text)
        except tomli.TOMLDecodeError as error:
            message, span = self._decode_place(str(error))
            self.report("shared-file-wrong", f"this is not TOML: {message}", span)
            return
        for name, table in tables.items():
            if not isinstance(table, dict):
                self.report(
                    "shared-value-wrong",
                    f"‘{name}’ stands outside of every entry",
                    self.key_span("", name),
                )
                continue
            if name != " ".join(name.lower().split()):
                self.report(
                    "shared-value-wrong",
                    f"names are in small letters with single spaces, ‘{name}’ is not",
                    self.key_span(name, ""),
                )
            entry = Entry(self, name, table)
            yield entry
            entry.done()

    def _decode_place(self, message: str) -> tuple[str, Span]:
        found = _AT.search(message)
        cause = message[: found.start()] if found else message
        cause = cause[:1].lower() + cause[1:]
        if found and found.group(1):
            line, column = int(found.group(1)), int(found.group(2))
            offset = sum(len(part) for part in self.text.split("\n")[: line - 1]) + line - 1
            offset = min(offset + column - 1, len(self.text))
            return cause, self._span(offset, min(offset + 1, len(self.text)))
        return cause, self._span(len(self.text), len(self.text))

    def key_span(self, entry: str, key: str) -> Span:
        """Where ``key`` of ``entry`` stands; the entry's head where the key is not there."""
        start, end = 0, 0
        search_from = 0
        if entry:
            name = re.escape(entry)
            head = re.search(rf'^\s*\[\s*(?:"{name}"|{name})\s*\]', self.text, re.MULTILINE)
            if head:
                start, end = head.end() - len(head.group().lstrip()), head.end()
                search_from = head.end()
        body_end = re.compile(r"^\s*\[", re.MULTILINE).search(self.text, search_from)
        stop = body_end.start() if body_end else len(self.text)
        found = re.compile(rf'^[ \t]*("?{re.escape(key)}"?)[ \t]*=', re.MULTILINE).search(
            self.text, search_from, stop
        )
        if key and found:
            start, end = found.span(1)
        return self._span(start, end)

    def _span(self, start: int, end: int) -> Span:
        before = self.text[:start]
        line = before.count("\n") + 1
        column = start - (before.rfind("\n") + 1) + 1
        return Span(self.file, start, end, line, column)
