"""Text to document."""

from __future__ import annotations

from publisher.diagnostics import Diagnostic
from publisher.source.blocks import read_blocks
from publisher.source.frontmatter import find_front_matter, read_entries
from publisher.source.matter import check_entries
from publisher.source.text import SourceText
from publisher.source.types import Document, Entry, FormMatter, FrontMatter


def read_document(text: str, shown_path: str) -> tuple[Document | None, list[Diagnostic]]:
    """The document in ``text``, which ``decode`` gave; every fault that was met.

    A document comes back also where the front matter is wrong, so that one run reports the
    faults of the fences too. None only for a text of nothing but white space.
    """
    if not text.strip():
        return None, []
    source = SourceText.of(text, shown_path)
    where, findings = find_front_matter(source)
    entries: tuple[Entry, ...] = ()
    front: FrontMatter | None = None
    form: FormMatter | None = None
    if where is not None:
        entries, faults = read_entries(source, where)
        findings.extend(faults)
        unread = any(f.code == "front-matter-yaml" for f in faults)
        if not unread:
            said = {f.places[0].span for f in faults}
            front, form, faults = check_entries(entries, source.line_span(0))
            findings.extend(f for f in faults if f.places[0].span not in said)
    blocks, faults = read_blocks(source, where.body if where is not None else 0)
    return Document(source, entries, front, form, blocks), [*findings, *faults]
