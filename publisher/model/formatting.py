"""How a spoken measure prints: ruled unless it is a thin kind, published sizes as published."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.language.ast import Binary, Call, Expr, Join, Negate, Ref, Several
from publisher.trade import Trade
from publisher.units import Kind, Ruler, angle, both, both_sizes, kind_for, number, time_words

THIN_WORDS = frozenset({"caliper", "slot", "ease", "play", "tolerance"})
"""A measure named by one of these words is thinner than a ruler shows."""


def spoken(expr: Expr, parts: tuple[float, ...], unit: str, trade: Trade, ruler: Ruler) -> str:
    """The text of a figure in prose, in both units where it is a length."""
    if unit == "deg":
        return angle(parts[0])
    if unit == "s":
        return time_words(parts[0])
    if unit != "mm":
        return " × ".join(number(p) for p in parts)
    kind = kind_of_measure(expr, parts, trade)
    if len(parts) > 1:
        return both_sizes(parts, kind=kind, first=ruler)
    return both(parts[0], kind=kind, first=ruler)


def kind_of_measure(expr: Expr, parts: tuple[float, ...], trade: Trade) -> Kind:
    """Thin for calipers, slots, ease, play and tolerance; standard for an object of the trade;
    else as its size wants it (no ruler shows less than 2 mm)."""
    names = list(names_in(expr))
    if any(word in THIN_WORDS for name in names for word in name.split(" ")):
        return "thin"
    if isinstance(expr, Ref) and names[-1] in trade.objects:
        return "standard"
    return kind_for(min(parts, key=abs))


def names_in(expr: Expr) -> Iterator[str]:
    """Every name that an expression speaks of, in reading order."""
    if isinstance(expr, Ref):
        for segment in expr.segments:
            yield segment.name
    elif isinstance(expr, Binary):
        yield from names_in(expr.left)
        yield from names_in(expr.right)
    elif isinstance(expr, Negate):
        yield from names_in(expr.operand)
    elif isinstance(expr, Call):
        for argument in expr.arguments:
            yield from names_in(argument)
    elif isinstance(expr, Join):
        for part in expr.parts:
            yield from names_in(part)
    elif isinstance(expr, Several):
        for item in expr.items:
            yield from names_in(item)
