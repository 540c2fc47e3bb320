"""Text that knows where it stands: a source file, and stretches cut out of it."""

from __future__ import annotations

import re
from bisect import bisect_right

from msgspec import Struct

from publisher.diagnostics import Span

_LINE_END = re.compile(r"\r\n|\n|\r")


class SourceText(Struct, frozen=True):
    """The text of one file. Lines end at CR LF, LF or CR, as in Markdown.

    ``line_starts`` and ``line_ends`` are character offsets, the ends without the line break.
    """

    text: str
    file: str
    line_starts: tuple[int, ...]
    line_ends: tuple[int, ...]

    def __repr__(self) -> str:
        return f"SourceText({self.file!r}, {len(self.line_starts)} lines)"

    @classmethod
    def of(cls, text: str, file: str) -> SourceText:
        starts, ends = [0], []
        for match in _LINE_END.finditer(text):
            ends.append(match.start())
            starts.append(match.end())
        ends.append(len(text))
        return cls(text, file, tuple(starts), tuple(ends))

    def line(self, index: int) -> str:
        """The line with that index, from 0, without its line break."""
        return self.text[self.line_starts[index] : self.line_ends[index]]

    def span(self, start: int, end: int) -> Span:
        """The span of ``text[start:end]``."""
        line = bisect_right(self.line_starts, start) - 1
        return Span(self.file, start, max(start, end), line + 1, start - self.line_starts[line] + 1)

    def line_span(self, index: int) -> Span:
        return self.span(self.line_starts[index], self.line_ends[index])


class MappedText(Struct, frozen=True):
    """A text cut out of a source, line by line, whose characters know where they came from.

    ``offsets[i]`` is the offset of ``text[i]`` in the source; one more entry stands for the
    end. Line breaks are "\\n" here, whatever they are in the source.
    """

    text: str
    offsets: tuple[int, ...]
    source: SourceText

    def __repr__(self) -> str:
        return f"MappedText({self.text!r})"

    def span(self, start: int, end: int) -> Span:
        """Where ``text[start:end]`` stands in the source."""
        # Written out: every name and figure of a pattern asks.
        offsets, source = self.offsets, self.source
        first = offsets[start]
        last = offsets[end - 1] + 1 if end > start else first
        starts = source.line_starts
        line = bisect_right(starts, first)
        return Span(source.file, first, last, line, first - starts[line - 1] + 1)

    def part(self, start: int, end: int) -> MappedText:
        """A stretch of it. ``start <= end``."""
        closing = self.offsets[end - 1] + 1 if end > start else self.offsets[start]
        return MappedText(self.text[start:end], (*self.offsets[start:end], closing), self.source)

    def trimmed(self) -> MappedText:
        """Without white space at both ends."""
        start = len(self.text) - len(self.text.lstrip())
        end = max(len(self.text.rstrip()), start)
        return self.part(start, end)


def plain_mapping(source: SourceText, start: int, end: int) -> MappedText:
    """``source.text[start:end]`` as it is."""
    return MappedText(source.text[start:end], tuple(range(start, end + 1)), source)
