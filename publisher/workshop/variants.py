"""Every variant of a pattern is looked at as the pattern itself is."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, has_errors
from publisher.workshop.outcome import Outcome

if TYPE_CHECKING:
    from publisher.language.program import Program


def in_variants(
    begun: Outcome, program: Program, name: str, judge: Callable[[Program], Outcome]
) -> Outcome:
    """What ``judge`` makes of the program: as it is written, and of each of its variants what
    is new; or of the one variant called ``name`` alone. What cannot be read is judged once."""
    if not name and (not program.variants or has_errors(begun.diagnostics)):
        return judge(program)
    from publisher.language.variants import beyond, said, set_variant, told_of, variant_named

    if name:
        variant = variant_named(program, name)
        if isinstance(variant, Diagnostic):
            return begun.told([variant])
        return judge(set_variant(program, variant))
    whole = judge(program)
    for variant in program.variants:
        found = judge(set_variant(program, variant)).diagnostics
        called = said(program, variant)
        whole = whole.told(told_of(called, beyond(found, whole.diagnostics)))
        whole = replace(whole, variants=(*whole.variants, called))
    return whole
