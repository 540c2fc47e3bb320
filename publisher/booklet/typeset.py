"""The booklet as PDF, through Typst: one compilation, no disk, no clock, no system font."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from functools import cache
from typing import cast

import typst

from publisher.booklet.document import document
from publisher.booklet.types import Attachment, BookletInput, PaperName
from publisher.drawing.fonts import family_folders
from publisher.drawing.theme import Theme

STANDARDS = ["ua-1", "a-3a"]
"""PDF/UA-1 (ISO 14289-1) and PDF/A-3a (ISO 19005-3), both in one file."""

_IMPORT = re.compile(r"\b(?:import|include)\b(?!\s*\"(?!@)[^\"]*\")")
_NO_COMMENT = re.compile(r"//[^\n]*|/\*.*?\*/", re.DOTALL)


class TemplateError(ValueError):
    """A theme's booklet.typ that will not be run, or that failed on this booklet."""


def typeset(book: BookletInput, paper: PaperName, attachments: Iterable[Attachment] = ()) -> bytes:
    """The booklet as the bytes of a PDF, the same for the same input.

    The words reach the template as data, so that nothing in them can act as markup. The
    date in the file is that of the pattern's front matter. ``attachments`` are carried in
    the file as PDF/A-3 allows.

    Raises:
        TemplateError: the template asks for a package or for code from a string, or Typst
            refuses what it makes of this booklet.
        FaceError: the theme asks for a family that is not installed.
    """
    carried = sorted(attachments, key=lambda a: a.name)
    data = document(book, paper, carried)
    return set_in_type(book.template, {"book": data}, book.theme, book.pattern.meta.date)


def set_in_type(template: str, said: Mapping[str, object], theme: Theme, day: str) -> bytes:
    """A template with its data, each as JSON under its name in ``sys.inputs``, as a PDF of that
    day. Raises as ``typeset`` does."""
    refuse_reaching_out(template)
    families = (str(theme.tables["type"]["text"]), str(theme.tables["type"]["title"]))
    try:
        # Typst's stubs want template and root of one type; its code takes bytes and a path.
        pdf, warnings = typst.compile_with_warnings(  # type: ignore[call-overload]
            template.encode("utf-8"),
            # The root of a compilation without a disk: nothing can lie below a device.
            root="/dev/null",
            font_paths=_fonts(families),
            format="pdf",
            sys_inputs={
                name: json.dumps(data, ensure_ascii=False, sort_keys=True)
                for name, data in said.items()
            },
            pdf_standards=STANDARDS,
            timestamp=_timestamp(day),
        )
    except typst.TypstError as error:
        raise TemplateError(_told(error)) from error
    if warnings:
        raise TemplateError("; ".join(_told(warning) for warning in warnings))
    return cast(bytes, pdf)


def refuse_reaching_out(template: str) -> None:
    """Refuse a template that would load a package or run text as code.

    Raises:
        TemplateError: it imports anything but a file named in plain, or calls ``eval``.
    """
    code = _NO_COMMENT.sub("", template)
    if _IMPORT.search(code):
        raise TemplateError("a booklet template may not import packages")
    if re.search(r"\beval\b", code):
        raise TemplateError("a booklet template may not run text as code")


@cache
def _fonts(families: tuple[str, ...]) -> typst.Fonts:
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(folder) for folder in family_folders(families)],
    )


def _timestamp(day: str) -> int:
    """Noon of the day in seconds of Unix time, so that no time zone moves it."""
    moment = datetime.combine(date.fromisoformat(day), datetime.min.time(), UTC)
    return int(moment.timestamp()) + 12 * 3600


def _told(problem: object) -> str:
    hints = getattr(problem, "hints", None) or ()
    message = getattr(problem, "message", None) or str(problem)
    return " ".join([str(message), *(str(hint) for hint in hints)])
