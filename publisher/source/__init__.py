"""Source: the bytes of one Markdown file become a document whose every node knows its place.

Takes bytes (``decode``) and text (``read_document``); gives a frozen ``Document``.
Reports: brace, empty-file, fence-not-closed, file-too-long, front-matter-key,
front-matter-missing, front-matter-missing-key, front-matter-not-closed, front-matter-twice,
front-matter-value, front-matter-yaml, nested-too-deep, not-utf-8.
"""

from publisher.source.decode import decode
from publisher.source.read import read_document
from publisher.source.text import MappedText, SourceText
from publisher.source.types import Document

__all__ = ["Document", "MappedText", "SourceText", "decode", "read_document"]
