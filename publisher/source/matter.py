"""The values of the front matter, checked."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import cast

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest
from publisher.source.types import Edition, Entry, FirstUnit, FormMatter, FrontMatter, Level
from publisher.trade import CUTTING_KEYS, OWN_KEYS, read_cutting, read_own

_VERSION = re.compile(r"\d{1,5}\.\d{1,5}\.\d{1,5}")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_TIME = re.compile(r"(\d{1,3} h)?\s?(\d{1,3} min)?")


class _Key(Struct, frozen=True):
    """What a key takes. ``words`` are its only values, where it has such a list."""

    name: str
    wants: str
    needed: bool = True
    words: tuple[str, ...] = ()
    fits: Callable[[str], bool] = bool

    def accepts(self, value: str) -> bool:
        return value in self.words if self.words else bool(value) and self.fits(value)


def _is_date(value: str) -> bool:
    if not _DATE.fullmatch(value):
        return False
    try:
        date.fromisoformat(value)
    except ValueError:
        return False
    return True


KEYS_OF_TRADE = (*CUTTING_KEYS, *OWN_KEYS)
PATTERN_KEYS: tuple[_Key, ...] = (
    _Key("title", "the pattern's name, such as ‘Sliding box’"),
    _Key("summary", "one sentence that says what it is"),
    _Key("version", "three numbers, such as 1.0.0", fits=lambda v: bool(_VERSION.fullmatch(v))),
    _Key("date", "a day, such as 2026-01-31", fits=_is_date),
    _Key("edition", "free or patrons", words=("free", "patrons")),
    _Key("units", "mm or in: the unit that prints first", words=("mm", "in")),
    _Key("level", "easy, medium or hard", words=("easy", "medium", "hard")),
    _Key("time", "such as ‘40 min’ or ‘1 h 30 min’", fits=lambda v: bool(_TIME.fullmatch(v))),
    _Key("licence", "the name of a licence, such as personal"),
    _Key("author", "a name", needed=False),
    *(_Key(k.name, k.wants, needed=False, words=k.words, fits=k.fits) for k in KEYS_OF_TRADE),
)
FORM_KEYS: tuple[_Key, ...] = (
    _Key("form", "the form's name"),
    _Key("summary", "one sentence that says what it is"),
)


def check_entries(
    entries: tuple[Entry, ...], opening: Span
) -> tuple[FrontMatter | None, FormMatter | None, list[Diagnostic]]:
    """The checked front matter of a pattern, or of a form where there is a ``form`` key.

    ``opening`` is where a missing key is reported.
    """
    is_form = any(e.key == "form" for e in entries)
    keys = FORM_KEYS if is_form else PATTERN_KEYS
    given = {e.key: e for e in entries}
    strange = [e for e in entries if e.key not in {k.name for k in keys}]
    findings = [_unknown(e, keys) for e in strange]
    meant = {nearest(e.key, [k.name for k in keys]) for e in strange}  # told there
    missing = [k for k in keys if k.needed and k.name not in given and k.name not in meant]
    if missing:
        findings.append(_missing(missing, opening))
    for key in keys:
        entry = given.get(key.name)
        if entry is not None and not key.accepts(entry.value):
            findings.append(_wrong(entry, key))
    if findings:
        return None, None, findings
    value = {name: entry.value for name, entry in given.items()}
    if is_form:
        return None, FormMatter(value["form"].lower(), value["summary"]), []
    front = FrontMatter(
        title=value["title"],
        summary=value["summary"],
        version=value["version"],
        date=value["date"],
        edition=cast(Edition, value["edition"]),
        units=cast(FirstUnit, value["units"]),
        level=cast(Level, value["level"]),
        time=value["time"],
        licence=value["licence"],
        author=value.get("author", ""),
        sheet=value.get("sheet", ""),
        cutting=read_cutting(value),
        own=read_own(value),
    )
    return front, None, []


def _unknown(entry: Entry, keys: tuple[_Key, ...]) -> Diagnostic:
    names = [k.name for k in keys]
    near = nearest(entry.key, names)
    message = f"the front matter knows no ‘{entry.key}’"
    ways: tuple[WayOut, ...] = ()
    if near is not None:
        message += f"; the nearest is ‘{near}’"
        ways = (WayOut(f"write ‘{near}’", Edit(entry.key_span, near)),)
    return Diagnostic(
        "front-matter-key",
        "error",
        message,
        (Place(entry.key_span),),
        notes=() if near else ("Its keys are " + ", ".join(names),),
        ways_out=ways,
    )


def _missing(missing: list[_Key], opening: Span) -> Diagnostic:
    names = [f"‘{k.name}’" for k in missing]
    said = names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
    return Diagnostic(
        "front-matter-missing-key",
        "error",
        f"the front matter lacks {said}",
        (Place(opening),),
        notes=tuple(f"{k.name}: {k.wants}" for k in missing),
    )


def _wrong(entry: Entry, key: _Key) -> Diagnostic:
    near = nearest(entry.value, key.words)
    said = f"‘{entry.value}’" if entry.value else "nothing"
    span = entry.value_span if entry.value_span.end > entry.value_span.start else entry.key_span
    return Diagnostic(
        "front-matter-value",
        "error",
        f"‘{key.name}’ is {said}; it takes {key.wants}",
        (Place(span),),
        ways_out=(WayOut(f"write ‘{near}’", Edit(span, near)),) if near else (),
    )
