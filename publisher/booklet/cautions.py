"""Safety messages: those that a pattern's tools and glues call for.

The signal words are used as in ANSI Z535.6-2011 and ISO 3864-2:2016: danger and warning for
death or serious injury, caution for minor or moderate injury, notice where only things are
harmed. The grave ones come first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import cast

from msgspec.structs import replace

from publisher.assembly.types import Story
from publisher.booklet.types import Caution, Signal, Supply
from publisher.checks.context import Context
from publisher.checks.small_parts import small_parts
from publisher.diagnostics import Diagnostic
from publisher.model.types import Pattern
from publisher.trade import Trade
from publisher.trade.entries import EntryFile

FILE = "cautions.toml"
SMALL = "small part"

SIGNALS: tuple[Signal, ...] = ("danger", "warning", "caution", "notice")


def read_cautions(text: str) -> tuple[tuple[Caution, ...], tuple[Diagnostic, ...]]:
    """The messages in the text of ``shared/cautions.toml``, in the order of the file."""
    source = EntryFile(f"shared/{FILE}", text)
    cautions = []
    for entry in source.entries():
        signal = cast(Signal, entry.one_of("signal", SIGNALS))
        hazard, avoid = entry.words("hazard"), entry.words("avoid")
        cautions.append(Caution(entry.name, signal, hazard, avoid, entry.words("when")))
    return tuple(cautions), tuple(source.diagnostics)


def cautions_for(
    cautions: Iterable[Caution], supplies: Iterable[Supply], small: Sequence[str] = ()
) -> tuple[Caution, ...]:
    """Those that apply to what the maker lays ready, by signal word, grave ones first. ``small``
    names what a small child could swallow."""
    used = {supply.name for supply in supplies} | {"always"}
    if small:
        used.add(SMALL)
    found = [
        replace(caution, hazard=caution.hazard.replace("{parts}", ", ".join(small)))
        for caution in cautions
        if caution.when in used
    ]
    return tuple(sorted(found, key=lambda caution: SIGNALS.index(caution.signal)))


def small_in(pattern: Pattern, story: Story, trade: Trade) -> tuple[str, ...]:
    """What lies loose at the end or is put in, and fits the cylinder for small parts."""
    context = Context(pattern, story, trade)
    return tuple(r.subject for r in small_parts(context) if r.result != "pass")
