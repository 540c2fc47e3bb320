"""Variants: a program with the sizes that one of its variants chooses."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place, Span, WayOut, nearest
from publisher.language.ast import Variant
from publisher.language.program import Program


def clashes(variants: Iterable[Variant]) -> list[Diagnostic]:
    """Two variants of one name, and a size that one variant sets twice."""
    found: list[Diagnostic] = []
    seen: dict[str, Span] = {}
    for variant in variants:
        name = variant.name
        if name.text in seen:
            found.append(_twice(name.text, "a variant", name.span, seen[name.text]))
        seen.setdefault(name.text, name.span)
        sizes: dict[str, Span] = {}
        for setting in variant.settings:
            size = setting.name
            if size.text in sizes:
                what = f"set in ‘{name.text}’"
                found.append(_twice(size.text, what, size.span, sizes[size.text]))
            sizes.setdefault(size.text, size.span)
    return found


def _twice(name: str, what: str, again: Span, first: Span) -> Diagnostic:
    places = (Place(again, "again here"), Place(first, "first here"))
    return Diagnostic("name-taken", "error", f"‘{name}’ is already {what}", places)


def variant_named(program: Program, name: str) -> Variant | Diagnostic:
    """The variant of that name, however its letters and spaces are written; else a finding with
    the nearest one."""
    wanted = " ".join(name.lower().replace("-", " ").split())
    for variant in program.variants:
        if variant.name.text.replace("-", " ") == wanted:
            return variant
    known = [v.name.text for v in program.variants]
    near = nearest(wanted, known)
    span = Span(program.document.source.file, 0, 0, 1, 1)
    message = f"there is no variant ‘{name}’"
    if near is not None:
        message += f". Nearest: ‘{near}’"
        span = program.variants[known.index(near)].name.span
    notes = (f"There is {', '.join(known)}.",) if known else ("This pattern has none.",)
    ways = (WayOut(f"write ‘{near}’"),) if near is not None else ()
    return Diagnostic("unknown-variant", "error", message, (Place(span),), (), notes, ways)


def set_variant(program: Program, variant: Variant) -> Program:
    """The program with the variant's choices in place of what the lines of their sizes say.

    A choice stands whatever the size's own conditions say; its range holds for it too.
    """
    chosen = {s.name.text: s.value for s in variant.settings}
    sizes = tuple(
        replace(s, value=chosen[s.name.text], alternatives=()) if s.name.text in chosen else s
        for s in program.sizes
    )
    return replace(program, sizes=sizes, variant=said(program, variant))


def said(program: Program, variant: Variant) -> str:
    """The variant's name with the letters that the author wrote."""
    span = variant.name.span
    return " ".join(program.document.source.text[span.start : span.end].split())


def told_of(variant: str, findings: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Findings that say which variant they are about."""
    return [replace(f, message=f"variant ‘{variant}’: {f.message}") for f in findings]


def beyond(findings: Iterable[Diagnostic], told: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Findings that are not what is told already: the same code at the same place, as grave."""
    known = {(f.code, f.severity, f.places[:1]) for f in told}
    known |= {(f.code, "warning", f.places[:1]) for f in told}
    return [f for f in findings if (f.code, f.severity, f.places[:1]) not in known]
