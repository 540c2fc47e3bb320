"""The first stages, up to the checks: everything that is known before anything is laid."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from publisher.assembly import assemble
from publisher.checks import run_checks
from publisher.diagnostics import at_calls, has_errors, told_once
from publisher.language import Library, Outside, parse
from publisher.layout import chosen_misfits
from publisher.model import build_pattern
from publisher.source import decode, read_document
from publisher.trade import Cutting, Trade, chosen
from publisher.workshop.beside import Beside
from publisher.workshop.outcome import Outcome
from publisher.workshop.variants import in_variants

if TYPE_CHECKING:
    from publisher.language.program import Program


def check_text(
    data: bytes,
    shown: str,
    name: str,
    trade: Trade,
    usual: Cutting | None = None,
    forms: Mapping[str, str] | None = None,
    variant: str = "",
    beside: Mapping[str, bytes] | None = None,
    thorough: bool = False,
) -> Outcome:
    """Source, language, model, assembly and checks of one file's bytes; nothing is laid yet.
    ``usual`` is what is chosen about cutting where the pattern does not say otherwise;
    ``forms`` are the texts of the forms that it may call for, by shown path. With ``variant``
    that one alone is looked at, without it the pattern and each of its variants. ``beside`` are
    the files in the pattern's folder, and under "" the font of the theme. A ``thorough``
    check looks longer for sizes that mend what fails."""
    near = beside if beside is not None else Beside()
    cutting = usual or Cutting()
    outcome = _checked(data, shown, name, trade, cutting, forms or {}, variant, near, thorough)
    return replace(outcome, diagnostics=tuple(told_once(at_calls(outcome.diagnostics))))


def _checked(
    data: bytes,
    shown: str,
    name: str,
    trade: Trade,
    usual: Cutting,
    forms: Mapping[str, str],
    variant: str,
    beside: Mapping[str, bytes],
    thorough: bool,
) -> Outcome:
    text, found = decode(data, shown)
    if text is None:
        return Outcome(name, tuple(found), {})
    sources = {shown: text, **forms}
    document, more = read_document(text, shown)
    found += more
    if document is None:
        return Outcome(name, tuple(found), sources)
    known = Outside(frozenset(trade.stocks), frozenset(trade.objects), beside=beside)
    known = replace(known, forms=Library(forms, known))
    program, more = parse(document, known)
    begun = Outcome(name, (*found, *more), sources)
    return in_variants(begun, program, variant, lambda p: _judged(begun, p, trade, usual, thorough))


def _judged(
    begun: Outcome, program: Program, trade: Trade, usual: Cutting, thorough: bool
) -> Outcome:
    name, sources, found = begun.name, begun.sources, list(begun.diagnostics)
    pattern, more = build_pattern(program, trade, name, found)
    found += more
    if pattern is None or has_errors(found):
        return Outcome(name, tuple(found), sources, pattern)
    story, more = assemble(pattern)
    found += more
    if has_errors(found):
        return Outcome(name, tuple(found), sources, pattern, story)
    results = run_checks(pattern, story, trade)
    cutting = chosen(usual, pattern.meta.cutting)
    if any(r.result == "fail" for r in results):
        from publisher.checks.mending import mended  # takes a second: only who needs it waits

        off_sheet = partial(chosen_misfits, trade=trade, cutting=cutting)
        results = mended(program, pattern, trade, results, run_checks, off_sheet, thorough)
    found += [r.finding for r in results if r.finding is not None]
    found += chosen_misfits(pattern, trade, cutting)
    made = Outcome(name, tuple(found), sources, pattern, story, checks=results, program=program)
    return replace(made, cutting=cutting)
