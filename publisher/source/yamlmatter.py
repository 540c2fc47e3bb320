"""Front matter through PyYAML: quoted values, comments after values, and every fault.

PyYAML's events give each value with its place and need no recursion, so that no input can
exhaust the stack.
"""

from __future__ import annotations

import yaml

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.source.text import SourceText
from publisher.source.types import Entry

MAX_BRACKETS = 100
"""The YAML scanner's time grows with the square of open brackets."""


def read_yaml(
    source: SourceText, first: int, last: int
) -> tuple[tuple[Entry, ...], list[Diagnostic]]:
    """The entries on lines ``first`` to ``last`` (from 0, ``last`` exclusive). After a fault
    in the YAML the keys before it are kept."""
    start, end = source.line_starts[first], source.line_starts[last]
    if source.text.count("[", start, end) + source.text.count("{", start, end) > MAX_BRACKETS:
        message = f"the front matter has more than {MAX_BRACKETS} brackets"
        return (), [_error("front-matter-yaml", message, source.line_span(0))]
    reader = _Reader(source, start)
    try:
        for event in yaml.parse(source.text[start:end], Loader=yaml.SafeLoader):
            if not reader.take(event):
                break
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        reader.fault(start + (mark.index if mark else 0), first, last)
    except yaml.reader.ReaderError as error:
        at = start + error.position
        message = "the front matter holds a character that no text should have"
        reader.findings.append(_error("front-matter-yaml", message, source.span(at, at + 1)))
    return tuple(reader.entries), reader.findings


class _Reader:
    """Takes events one by one and keeps the entries of the outermost mapping."""

    def __init__(self, source: SourceText, base: int) -> None:
        self.source = source
        self.base = base
        self.entries: list[Entry] = []
        self.findings: list[Diagnostic] = []
        self.depth = 0
        self.key: yaml.ScalarEvent | None = None

    def take(self, event: yaml.Event) -> bool:
        """False when what follows cannot be front matter."""
        if isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            if self.depth == 0 and isinstance(event, yaml.SequenceStartEvent):
                return self._no_keys(event)
            if self.depth == 1:
                self._nested(event)
            self.depth += 1
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            self.depth -= 1
        elif isinstance(event, yaml.ScalarEvent):
            if self.depth == 0 and event.value:
                return self._no_keys(event)
            if self.depth == 1:
                self._scalar(event)
        elif isinstance(event, yaml.AliasEvent) and self.depth == 1:
            self._nested(event)
        return True

    def _span(self, event: yaml.Event) -> Span:
        start = event.start_mark.index if event.start_mark else 0
        end = event.end_mark.index if event.end_mark else start
        return self.source.span(self.base + start, self.base + max(end, start))

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        if self.key is None:
            self.key = event
            return
        key, self.key = self.key, None
        value = " ".join(event.value.split())
        self.entries.append(Entry(key.value, value, self._span(key), self._span(event)))

    def _nested(self, event: yaml.Event) -> None:
        if self.key is None:
            message = "a key of the front matter is one plain word"
        else:
            message = f"‘{self.key.value}’ takes one plain value"
            # Kept with an empty value, so that it is not also reported as missing.
            span = self._span(self.key)
            self.entries.append(Entry(self.key.value, "", span, span))
        span = self._span(self.key or event)
        self.findings.append(_error("front-matter-value", message, span))
        self.key = None

    def _no_keys(self, event: yaml.Event) -> bool:
        message = "the front matter is a list of lines such as ‘title: Sliding box’"
        self.findings.append(_error("front-matter-yaml", message, self._span(event)))
        return False

    def fault(self, at: int, first: int, last: int) -> None:
        """Say what is wrong with the YAML, from the lines themselves: its reader notices many
        faults only on a later line."""
        at = min(at, len(self.source.text))
        noticed = min(max(self.source.span(at, at).line - 1, first), last - 1)
        note, index = "Each line is a key, a colon, a space and a value", noticed
        for number in range(first, noticed + 1):
            fault = _fault_of(self.source.line(number))
            if fault:
                note, index = fault, number
                break
        message = "the front matter cannot be read from here on"
        span = self.source.line_span(index)
        self.findings.append(_error("front-matter-yaml", message, span, note))


def _fault_of(line: str) -> str:
    """What is wrong with one line of ``key: value``, "" where nothing strikes the eye."""
    if not line.strip() or line.lstrip().startswith("#"):
        return ""
    if line.startswith("\t"):
        return "This line begins with a tab; begin it with its key"
    if line.startswith(" "):
        return ""
    if ": " not in line and not line.rstrip().endswith(":"):
        return "This line has no ‘key: value’; put a colon and a space after the key"
    value = line.partition(":")[2].strip()
    if value[:1] in ('"', "'"):
        if len(value) == 1 or value[-1] != value[0]:
            return "A quotation mark has no partner on this line"
    elif ": " in value or value.endswith(":"):
        return "A value with a colon in it stands in quotation marks"
    elif value and value[0] in "[]{}&*!|>%@`,":
        return f"A value that begins with {value[0]} stands in quotation marks"
    return ""


def _error(code: str, message: str, span: Span, *notes: str) -> Diagnostic:
    return Diagnostic(code, "error", message, (Place(span),), notes=notes)
