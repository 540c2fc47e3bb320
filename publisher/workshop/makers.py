"""Kinds of makers that get bundles of their own."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Diagnostic
from publisher.layout import chosen_misfits
from publisher.model.types import Pattern
from publisher.trade import Cutting, chosen
from publisher.workshop.find import Workshop


class Maker(Struct, frozen=True):
    """What is chosen for one kind of maker. ``misfits`` say, as warnings, why there can be no
    bundle for it."""

    name: str
    cutting: Cutting
    misfits: tuple[Diagnostic, ...]


def makers_of(workshop: Workshop, pattern: Pattern, cutting: Cutting) -> tuple[Maker, ...]:
    """Those of the settings, each with what it says over ``cutting``, the usual choice."""
    found = []
    for name, own in workshop.settings.makers:
        choice = chosen(cutting, own)
        misfits = tuple(
            replace(finding, severity="warning", message=f"no bundle for {name}: {finding.message}")
            for finding in chosen_misfits(pattern, workshop.trade, choice)
        )
        found.append(Maker(name, choice, misfits))
    return tuple(found)
