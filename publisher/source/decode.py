"""Bytes to text."""

from __future__ import annotations

from publisher.diagnostics import Diagnostic, Place
from publisher.source.text import SourceText

MAX_CHARACTERS = 1_000_000
"""Our own bound: some twenty thousand lines, far more than a pattern needs."""

_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def decode(data: bytes, shown_path: str) -> tuple[str | None, list[Diagnostic]]:
    """The text of a file, without its byte order mark; None where it is no text.

    ``shown_path`` is the path as the designer sees it. Line breaks stay as they are.
    """
    if data.startswith(_UTF16_MARKS):
        return None, [
            _finding("not-utf-8", "this file is saved as UTF-16, not as UTF-8", shown_path, "")
        ]
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", errors="replace").removeprefix("\ufeff")
        return None, [
            _finding(
                "not-utf-8",
                f"this file is not saved as UTF-8: byte {data[error.start]:#04x} is no part of it",
                shown_path,
                before,
            )
        ]
    text = text.removeprefix("\ufeff")
    if not text.strip():
        return None, [
            _finding(
                "empty-file",
                "this file is empty",
                shown_path,
                "",
                "A pattern begins with its front matter: a line of three hyphens, then ‘title: …’",
            )
        ]
    if len(text) > MAX_CHARACTERS:
        message = f"this file has {len(text)} characters; a pattern has at most {MAX_CHARACTERS}"
        return None, [_finding("file-too-long", message, shown_path, "")]
    return text, []


def _finding(code: str, message: str, shown_path: str, before: str, *notes: str) -> Diagnostic:
    source = SourceText.of(before, shown_path)
    if code == "not-utf-8":
        notes = ("Save it again as UTF-8: in most editors that is a choice in ‘save as’.",)
    span = source.span(len(before), len(before) + (1 if before else 0))
    return Diagnostic(code, "error", message, (Place(span),), notes=notes)
