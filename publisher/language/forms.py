"""Forms by name: each file is read once, when a piece first asks for it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import PurePosixPath

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language.ast import PieceDesign
from publisher.language.parse import parse_with_parts
from publisher.language.program import Form, Outside
from publisher.source import read_document


class Library(Mapping[str, Form]):
    """The forms of a workshop. ``texts`` are the decoded files by shown path; of two forms with
    one name the first counts."""

    def __init__(self, texts: Mapping[str, str], outside: Outside) -> None:
        self._files: dict[str, str] = {}
        for file in texts:
            self._files.setdefault(_name_of(file, texts[file]), file)
        self._texts = texts
        self._outside = replace(outside, forms=self)
        self._read: dict[str, Form] = {}
        self._kept = _kept(tuple(texts.items()), outside.stocks, outside.objects)
        self._in_itself = False

    def __getitem__(self, name: str) -> Form:
        form = self._read.get(name)
        if form is None:
            file = self._files[name]
            form = self._kept.get(name)
            if form is None:
                # While it is read, a form that asks for itself finds it without parts.
                self._read[name] = Form(name, file, None)
                form = _read(name, file, self._texts[file], self._outside)
                if not self._in_itself:
                    self._kept[name] = form
            elif form.program is not None:
                program = replace(form.program, forms=self, beside=self._outside.beside)
                form = replace(form, program=program)
            self._read[name] = form
        elif form.program is None:
            self._in_itself = True
        return form

    def __iter__(self) -> Iterator[str]:
        return iter(sorted(self._files))

    def __len__(self) -> int:
        return len(self._files)


@lru_cache(maxsize=8)
def _kept(
    texts: tuple[tuple[str, str], ...], stocks: frozenset[str], objects: frozenset[str]
) -> dict[str, Form]:
    """Forms that were read already, of the same texts in the same trade: who checks one pattern
    after another reads them once. None is kept of forms that ask for themselves."""
    return {}


_NAME = re.compile(r"^form:[ \t]*(\S.*?)[ \t]*$", re.MULTILINE)
_HEAD = 2000
"""Within so many characters the front matter gives the name."""


def _name_of(file: str, text: str) -> str:
    """What the front matter says, else the file's name with spaces for hyphens."""
    said = _NAME.search(text, 0, _HEAD)
    if said is not None:
        return " ".join(said.group(1).lower().split())
    return PurePosixPath(file).stem.replace("-", " ").lower()


def _read(name: str, file: str, text: str, outside: Outside) -> Form:
    document, findings = read_document(text, file)
    if document is None:
        place = Place(Span(file, 0, 0, 1, 1))
        empty = Diagnostic("empty-file", "error", "there is nothing in this file", (place,))
        return Form(name, file, None, findings=(*findings, empty))
    program, parts, more = parse_with_parts(document, outside)
    findings = [*findings, *more]
    if document.form is None and document.front is not None:
        message = "this is a pattern, not a form: its front matter begins with ‘form: NAME’"
        findings.append(_error("front-matter-missing-key", message, None, file))
    findings += _one_piece(program.pieces, file)
    own = parts.get(program.pieces[0].name.text, {}) if program.pieces else {}
    return Form(name, file, program, own, tuple(findings))


def _one_piece(pieces: tuple[PieceDesign, ...], file: str) -> list[Diagnostic]:
    if not pieces:
        return [_error("no-paper", "this form describes no piece", None, file)]
    if len(pieces) > 1:
        message = "a form describes one piece, and this is a second one"
        return [_error("two-outlines", message, pieces[1].name.span, file)]
    return []


def _error(code: str, message: str, span: Span | None, file: str) -> Diagnostic:
    return Diagnostic(code, "error", message, (Place(span or Span(file, 0, 0, 1, 1)),))
