"""Which patterns lead the site: those that the settings name first, then the others."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.diagnostics import Diagnostic, Place, WayOut, nearest
from publisher.workshop.find import Workshop, pattern_names
from publisher.workshop.settings import FILE, key_span


def in_front_order(
    workshop: Workshop, names: Sequence[str]
) -> tuple[tuple[str, ...], tuple[Diagnostic, ...]]:
    """The names, those of ``first`` in ``site/site.toml`` before the rest, in its order; and
    what is wrong with it: names that no folder of ``content/`` has."""
    wanted = [name.strip() for name in workshop.settings.first.split(",") if name.strip()]
    known = pattern_names(workshop)
    leading = [name for name in dict.fromkeys(wanted) if name in names]
    rest = [name for name in names if name not in leading]
    wrong = tuple(_unknown(workshop, name, known) for name in wanted if name not in known)
    return (*leading, *rest), wrong


def _unknown(workshop: Workshop, name: str, known: Sequence[str]) -> Diagnostic:
    near = nearest(name, known)
    ways = (WayOut(f"write ‘{near}’"),) if near else ()
    text = dict(workshop.texts).get(FILE, "")
    message = f"there is no pattern ‘{name}’ that could come first"
    return Diagnostic(
        "settings-wrong", "error", message, (Place(key_span(text, "first")),), ways_out=ways
    )
