"""The front matter: YAML between two lines of three hyphens at the top of the file.

Only ``key: value`` lines count. Where all of them are plain they are read here; anything else
goes to YAML's own reader.
"""

from __future__ import annotations

import re

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.source.text import SourceText
from publisher.source.types import Entry

MAX_CHARACTERS = 20_000
_PLAIN = re.compile(r"([a-z][a-z-]*): +([^\s\-?:,\[\]{}#&*!|>'\"%@`].*?) *")
_SPECIAL = re.compile(r": |:$| #")


class FrontMatterText(Struct, frozen=True):
    """Where the front matter stands: lines ``first`` to ``last`` are between the hyphens, and
    the document begins at line ``body``. All count from 0, ``last`` exclusive."""

    first: int
    last: int
    body: int


def find_front_matter(source: SourceText) -> tuple[FrontMatterText | None, list[Diagnostic]]:
    """The lines of the front matter, None where there is none."""
    if not _is_fence(source.line(0)):
        message = "this pattern has no front matter"
        note = (
            "Put it at the very top: a line of three hyphens, ‘title: …’ and so on, three hyphens"
        )
        return None, [_error("front-matter-missing", message, source.line_span(0), note)]
    for index in range(1, len(source.line_starts)):
        line = source.line(index)
        if _is_fence(line):
            return FrontMatterText(1, index, index + 1), []
        is_title = line.startswith("# ") and not source.line(index - 1).strip()
        if is_title or line.startswith(("## ", "```")):
            break
    message = "the front matter is not closed"
    note = "Put a line of three hyphens after its last line"
    return None, [_error("front-matter-not-closed", message, source.line_span(0), note)]


def read_entries(
    source: SourceText, where: FrontMatterText
) -> tuple[tuple[Entry, ...], list[Diagnostic]]:
    """Every key with its value, each once; the first of two counts."""
    start, end = source.line_starts[where.first], source.line_starts[where.last]
    if end - start > MAX_CHARACTERS:
        message = f"the front matter is longer than {MAX_CHARACTERS} characters"
        return (), [_error("front-matter-yaml", message, source.line_span(0))]
    entries = plain_entries(source, where)
    findings: list[Diagnostic] = []
    if entries is None:
        # PyYAML takes 0.06 s to load, which a plain pattern need not wait for.
        from publisher.source.yamlmatter import read_yaml

        entries, findings = read_yaml(source, where.first, where.last)
    once: dict[str, Entry] = {}
    for entry in entries:
        known = once.setdefault(entry.key, entry)
        if known is not entry:
            message = f"‘{entry.key}’ stands twice in the front matter"
            places = (Place(entry.key_span, "again here"), Place(known.key_span, "first here"))
            findings.append(Diagnostic("front-matter-twice", "error", message, places))
    return tuple(once.values()), findings


def plain_entries(source: SourceText, where: FrontMatterText) -> tuple[Entry, ...] | None:
    """Lines of ``key: value`` that mean to YAML just what they seem to; None where any line
    needs YAML's own reader."""
    found: list[Entry] = []
    for index in range(where.first, where.last):
        line = source.line(index)
        if not line.strip(" ") or line.startswith("#"):
            continue
        match = _PLAIN.fullmatch(line)
        if match is None or not line.isprintable() or _SPECIAL.search(match.group(2)):
            return None
        start = source.line_starts[index]
        key_span = source.span(start, start + match.end(1))
        value_span = source.span(start + match.start(2), start + match.end(2))
        value = " ".join(match.group(2).split())
        found.append(Entry(match.group(1), value, key_span, value_span))
    return tuple(found) if found else None


def _is_fence(line: str) -> bool:
    return line.rstrip() == "---"


def _error(code: str, message: str, span: Span, *notes: str) -> Diagnostic:
    return Diagnostic(code, "error", message, (Place(span),), notes=notes)
