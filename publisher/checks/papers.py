"""Which papers a pattern can be made of: the whole design once more in each of the list."""

from __future__ import annotations

from msgspec.structs import replace

from publisher.checks.trial import Rules, try_out
from publisher.checks.types import CheckResult
from publisher.language.program import Program
from publisher.model.types import Pattern
from publisher.trade import Trade

CODE = "papers-accepted"


def main_stock(pattern: Pattern) -> str:
    """The thickest paper of the pattern: the one that fits depend on."""
    return max((p.stock for p in pattern.pieces), key=lambda s: s.caliper_mm).name


def in_stock(program: Program, old: str, new: str) -> Program:
    """The program with one paper in place of another."""
    pieces = tuple(
        replace(p, stock=replace(p.stock, text=new))
        if p.stock is not None and p.stock.text == old
        else p
        for p in program.pieces
    )
    return replace(program, pieces=pieces)


def accepted(program: Program, pattern: Pattern, trade: Trade, rules: Rules) -> CheckResult:
    """The list's papers by caliper, those that all checks pass with and those that they do
    not. It is a statement about the pattern and never stops it."""
    main = main_stock(pattern)
    good: list[str] = []
    bad: list[str] = []
    numbers: list[tuple[str, float]] = []
    for stock in sorted(trade.stocks.values(), key=lambda s: (s.caliper_mm, s.name)):
        trial = try_out(in_stock(program, main, stock.name), trade, rules)
        holds = trial.built and not trial.failing
        (good if holds else bad).append(f"{stock.name} ({stock.caliper_mm:g} mm)")
        numbers.append((f"{stock.name.replace(' ', '_')}_accepted", float(holds)))
    sentence = f"in place of {main} these papers will do: {', '.join(good) or 'none'}"
    if bad:
        sentence += f"; these will not: {', '.join(bad)}"
    return CheckResult(CODE, pattern.name, "pass", tuple(numbers), sentence)
