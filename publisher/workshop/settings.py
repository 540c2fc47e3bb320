"""``site/site.toml``: what a workshop says about itself."""

from __future__ import annotations

import re

import tomli
from msgspec import Struct
from msgspec.structs import fields

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest
from publisher.trade import Cutting
from publisher.workshop.choices import Choices

FILE = "site/site.toml"


class Settings(Struct, frozen=True):
    """What stands in ``site/site.toml``; ``language`` is a BCP 47 tag such as "en".

    ``title`` is the workshop's name, ``line`` one sentence under it, ``maker`` who signs,
    ``theme`` a folder of ``themes/``, ``address`` where the site will live ("" while unknown),
    ``first`` the patterns that lead the front page, with commas between them. ``cutting`` is
    what holds for every pattern that does not say otherwise; ``makers`` are further bundles, by
    their names, and what each is to be otherwise than the usual one.
    """

    title: str = "A paper workshop"
    line: str = ""
    maker: str = ""
    theme: str = "potting-shed"
    language: str = "en"
    address: str = ""
    first: str = ""
    cutting: Cutting = Cutting()
    makers: tuple[tuple[str, Cutting], ...] = ()


_KEYS = tuple(field.name for field in fields(Settings))
_WHERE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")


def read_settings(text: str) -> tuple[Settings, tuple[Diagnostic, ...]]:
    """The settings, with the usual ones where something is wrong, and what is wrong."""
    try:
        table = tomli.loads(text)
    except tomli.TOMLDecodeError as error:
        found = _WHERE.search(str(error))
        cause = str(error)[: found.start()] if found else str(error)
        line, column = 1, 1
        if found and found.group(1):
            line, column = int(found.group(1)), int(found.group(2))
        start = min(
            sum(len(row) + 1 for row in text.split("\n")[: line - 1]) + column - 1, len(text)
        )
        span = Span(FILE, start, min(start + 1, len(text)), line, column)
        message = f"this is not TOML: {cause[:1].lower()}{cause[1:]}"
        return Settings(), (Diagnostic("settings-wrong", "error", message, (Place(span),)),)
    good: dict[str, str] = {}
    wrong = []
    choices = Choices(FILE, text)
    cutting = Cutting()
    makers: tuple[tuple[str, Cutting], ...] = ()
    for key, value in table.items():
        span = key_span(text, key)
        if key not in _KEYS:
            near = nearest(key, _KEYS)
            ways = (WayOut(f"write ‘{near}’", Edit(span, near)),) if near else ()
            message = f"‘{key}’ is not known here"
            known = f"Known are {', '.join(_KEYS)}."
            wrong.append(
                Diagnostic(
                    "settings-wrong",
                    "error",
                    message,
                    (Place(span),),
                    notes=(known,),
                    ways_out=ways,
                )
            )
        elif key == "cutting":
            cutting = choices.cutting(value)
        elif key == "makers":
            makers = choices.makers(value)
        elif not isinstance(value, str):
            message = f"‘{key}’ must be words in quotes"
            wrong.append(Diagnostic("settings-wrong", "error", message, (Place(span),)))
        else:
            good[key] = value.strip()
    return Settings(**good, cutting=cutting, makers=makers), (*wrong, *choices.wrong)


def key_span(text: str, key: str) -> Span:
    """Where ``key`` stands in the settings; their beginning where it does not."""
    found = re.search(rf'^[ \t]*\[?\[?[ \t]*("?{re.escape(key)}"?)[ \t]*[=\].]', text, re.MULTILINE)
    start, end = found.span(1) if found else (0, 0)
    line = text.count("\n", 0, start) + 1
    return Span(FILE, start, end, line, start - (text.rfind("\n", 0, start) + 1) + 1)
