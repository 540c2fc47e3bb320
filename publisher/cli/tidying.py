"""``tidy``: the fences of patterns and forms in one way of writing."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.cli.place import chosen, open_here
from publisher.cli.speech import Speech


def tidy(speech: Speech, names: Sequence[str], only: bool) -> None:
    """Set the named patterns, or all of them and the workshop's own forms; with ``only`` nothing
    is written, and what is not tidy is trouble."""
    workshop = open_here(speech)
    if workshop is None:
        return
    from publisher.diagnostics import Diagnostic
    from publisher.language.tidy import tidied
    from publisher.source import decode, read_document
    from publisher.workshop import (
        missing_pattern,
        own_forms,
        pattern_file,
        read_pattern,
        write_file,
    )

    patterns = chosen(workshop, names)
    found: list[Diagnostic] = [
        missing_pattern(workshop, n) for n in patterns if read_pattern(workshop, n) is None
    ]
    speech.findings(found, {})
    files = [pattern_file(n) for n in patterns if read_pattern(workshop, n) is not None]
    files += [] if names else own_forms(workshop)
    for shown in files:
        data = (workshop.root / shown).read_bytes()
        text, unread = decode(data, shown)
        speech.findings(unread, {})
        document = None if text is None else read_document(text, shown)[0]
        if text is None or document is None:
            continue
        after = tidied(document)
        if after == text:
            speech.result(f"{shown}: tidy")
        elif only:
            speech.trouble(f"{shown}: not tidy; ‘publisher tidy’ sets it")
        else:
            mark = data[:3] if data.startswith(b"\xef\xbb\xbf") else b""
            write_file(workshop.root / shown, mark + after.encode("utf-8"))
            speech.result(f"{shown}: set")
