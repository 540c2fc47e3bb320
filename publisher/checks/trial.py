"""The whole design once more with other sizes: built, assembled and checked as it would be.

Nothing is estimated here. A trial takes a parsed program with some of its figures replaced
through the model, the assembly and the checks, and says how far from failing everything is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from publisher.assembly import assemble
from publisher.assembly.types import Story
from publisher.checks.given import given, walked
from publisher.checks.types import CheckResult
from publisher.diagnostics import Span, has_errors
from publisher.language.ast import Expr, Join, Literal, PieceDesign
from publisher.language.program import Program
from publisher.language.values import MM_PER_UNIT
from publisher.model import build_pattern
from publisher.model.types import Pattern
from publisher.trade import Trade

Key: TypeAlias = tuple[str, str]
"""(subject, way): one length that a check looks at, by whatever code it may fail."""
Rules: TypeAlias = Callable[[Pattern, Story, Trade], tuple[CheckResult, ...]]


class Knob(Struct, frozen=True):
    """One figure of the design. ``said`` is the size that it is the figure of ("depth", "width
    of stack"), "" for one that is typed in a piece; ``limits`` are the stated range in mm;
    ``given`` where it is the size of contents, or what they are worked out from."""

    said: str
    literal: Literal
    limits: tuple[float, float] | None
    given: bool = False

    @property
    def mm(self) -> float:
        return self.literal.value * MM_PER_UNIT[self.literal.unit]


class Trial(Struct, frozen=True):
    """What came of it. ``slack`` is in mm by what was looked at, ``failing`` every check that
    does not hold; ``built`` is False where no pattern came of the figures at all."""

    built: bool
    slack: Mapping[Key, float]
    failing: frozenset[tuple[str, str]]
    results: tuple[CheckResult, ...] = ()
    work: int = 0
    """What building and checking it takes, by its size; no clock, so that the same is found on
    every machine. 0 where nothing could be built."""

    @property
    def worst(self) -> float:
        """The least slack; far below 0 where nothing could be built."""
        if not self.built:
            return -1e6
        short = min(self.slack.values(), default=0.0)
        return min(short, -1e-3) if self.failing else max(short, 0.0)


def knobs(program: Program, pattern: Pattern) -> tuple[Knob, ...]:
    """Every length in a ``sizes`` fence that stands there as a figure, in the file's order."""
    ranges = {s.name: s.range for s in pattern.sizes}
    contents = given(program, pattern)
    found: list[Knob] = []
    for size in program.sizes:
        name = size.name.text
        value = size.value
        fixed = name in contents
        if isinstance(value, Join):
            for part, word in zip(value.parts, ("width", "height", "depth"), strict=False):
                found += [Knob(f"{word} of {name}", f, None, fixed) for f in _figures(part)]
        elif value is not None:
            figures = list(_figures(value))
            alone = isinstance(value, Literal)
            limits = ranges.get(name) if alone else None
            found += [Knob(name, f, limits, fixed) for f in figures]
    return tuple(found)


def typed(program: Program) -> tuple[Knob, ...]:
    """Every length that is typed in a ``piece`` fence as a figure, in the file's order."""
    return tuple(Knob("", f, None) for piece in program.pieces for f in _figures(piece))


def _figures(expr: Expr | PieceDesign) -> Iterator[Literal]:
    for node in walked(expr):
        if isinstance(node, Literal) and node.unit in MM_PER_UNIT and node.value:
            yield node


def changed(program: Program, figures: Mapping[Span, float]) -> Program:
    """The program with figures (mm) in place of the literals at these places."""
    sizes = tuple(_changed(size, figures) for size in program.sizes)
    pieces = tuple(_changed(piece, figures) for piece in program.pieces)
    return replace(program, sizes=sizes, pieces=pieces)


def set_sizes(program: Program, values: Mapping[str, float]) -> Program:
    """The program with these sizes (mm), whatever their lines say."""
    sizes = []
    for size in program.sizes:
        if size.name.text in values:
            figure = Literal(values[size.name.text], "mm", "", size.name.span)
            sizes.append(replace(size, value=figure, alternatives=()))
        else:
            sizes.append(size)
    return replace(program, sizes=tuple(sizes))


def _changed(node: Any, figures: Mapping[Span, float]) -> Any:
    if isinstance(node, Literal):
        if node.span in figures:
            return replace(node, value=figures[node.span] / MM_PER_UNIT[node.unit])
        return node
    if isinstance(node, tuple):
        return tuple(_changed(item, figures) for item in node)
    if isinstance(node, Struct) and not isinstance(node, Span):
        new = {name: getattr(node, name) for name in node.__struct_fields__}
        made = {k: _changed(v, figures) for k, v in new.items()}
        if any(made[k] is not new[k] for k in new):
            return replace(node, **{k: v for k, v in made.items() if v is not new[k]})
    return node


def try_out(program: Program, trade: Trade, rules: Rules) -> Trial:
    """Build, assemble and check it."""
    pattern, found = build_pattern(program, trade, "trial")
    if pattern is None or has_errors(found):
        return Trial(False, {}, frozenset(("not built", f.code) for f in found))
    story, found = assemble(pattern)
    if has_errors(found):
        return Trial(False, {}, frozenset(("not assembled", f.code) for f in found))
    results = rules(pattern, story, trade)
    return judged(results, work_of(pattern, results, story.handled))


def work_of(
    pattern: Pattern, results: tuple[CheckResult, ...], handled: Pattern | None = None
) -> int:
    """How much there is to build and to check: lines and arcs are cut out of each other, facets
    are tried against each other, strips of bent panels and what opens are followed on the way.
    The shares are measured, a unit is about a thousandth of a second."""
    rings = [r for p in pattern.pieces for r in (p.outline.outer, *p.outline.holes)]
    segments = sum(len(ring.segments) for ring in rings)
    facets = sum(len(piece.facets) for piece in pattern.pieces)
    scores = sum(len(piece.scores) for piece in pattern.pieces)
    strips = sum(len(piece.facets) for piece in (handled or pattern).pieces)
    opened = sum(claim.verb == "opens to" for claim in pattern.claims)
    bent = max(0, strips - facets)
    drawn = 0.7 * segments + facets * (1 + 30 * opened) + scores * (0.5 + opened) + 3 * bent
    return round(8 + len(results) / 2 + drawn)


def judged(results: tuple[CheckResult, ...], work: int = 0) -> Trial:
    """A trial of results that are there already, and what they took."""
    slack = {(r.subject, way): mm for r in results for way, mm in r.slack}
    failing = frozenset((r.code, r.subject) for r in results if r.result == "fail")
    return Trial(True, slack, failing, results, work)
