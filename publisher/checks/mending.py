"""Ways out: the nearest change of one size that makes a failing design hold and breaks none.

Found on the real design, never guessed: what is offered was built, assembled and checked. Where
no size will do, the figures that are typed in pieces are looked at. A size that no designer can
change, that of the contents, is named last and only where no other figure will do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from msgspec.structs import replace

from publisher.assembly.types import Story
from publisher.checks.searching import Bench, Goal, Way, followed, tried_farther
from publisher.checks.trial import Knob, Rules, judged, knobs, typed, work_of
from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic, Edit, WayOut
from publisher.language.program import Program
from publisher.model.types import Pattern
from publisher.trade import Trade

MOST_TRIALS = 90
LEAST_TRIALS = 30
MOST_SEGMENTS = 9_000
"""Lines and arcs that all trials together may have: what one takes grows with them."""
PLAIN_WORK = 900
"""What all trials of a plain check may take together (``Trial.work``, about milliseconds): nobody
waits long for an answer. A thorough check looks as far as the numbers above let it."""
FARTHER_NOTE = "‘publisher check NAME --thorough’ looks longer for a size that mends it"
MOST_WAYS = 3
TEXT = ("figure-differs", "figure-unknown", "piece-not-used")
"""What is mended in the text."""
NO_SIZE = ("claim-not-proven", "unknown-practice")
"""What fails whatever the sizes are: where one of them does, no figure makes everything hold."""


def mended(
    program: Program,
    pattern: Pattern,
    trade: Trade,
    results: tuple[CheckResult, ...],
    rules: Rules,
    also: Callable[[Pattern], Iterable[Diagnostic]] = lambda _: (),
    thorough: bool = True,
) -> tuple[CheckResult, ...]:
    """The results, those that fail with what was found put before their own ways out.

    ``also`` finds what else must hold of a pattern, like that its pieces go on their sheets.
    Where only the text is wrong, no size is to be changed for it. What is not ``thorough`` looks
    only as far as ``PLAIN_WORK`` lets it, and says so where it found nothing.
    """
    if not any(_of_the_thing(r) for r in results):
        return results

    def every(pattern: Pattern, story: Story, trade: Trade) -> tuple[CheckResult, ...]:
        return (*rules(pattern, story, trade), *_as_results(also(pattern)))

    work = work_of(pattern, results)
    base = judged((*results, *_as_results(also(pattern))), work)
    most_work = None if thorough else PLAIN_WORK
    bench = Bench(program, trade, every, base, most_trials(pattern), most_work)
    turnable = knobs(program, pattern)
    own = whole_ways(bench, [k for k in turnable if not k.given])
    own = own or whole_ways(bench, typed(program))
    offered = tuple(_way_out(way) for way in own)
    if not own:
        contents = whole_ways(bench, [k for k in turnable if k.given])[:1]
        offered = tuple(_way_out(way) for way in contents)
    if bench.spent and not offered and not thorough:
        results = tuple(_with_note(r) if _of_the_thing(r) else r for r in results)
    return tuple(
        _told(r, offered if own else (*_alone(bench, turnable, r), *offered))
        if _of_the_thing(r)
        else r
        for r in results
    )


def _with_note(result: CheckResult) -> CheckResult:
    if result.finding is None:
        return result
    finding = replace(result.finding, notes=(*result.finding.notes, FARTHER_NOTE))
    return replace(result, finding=finding)


def _of_the_thing(result: CheckResult) -> bool:
    return result.result == "fail" and result.code not in TEXT


def _as_results(found: Iterable[Diagnostic]) -> Iterable[CheckResult]:
    """Findings as checks that failed; by where they stand, as their words hold figures."""
    for finding in found:
        if finding.severity == "error":
            where = f"at {finding.places[0].span.start}" if finding.places else "anywhere"
            yield CheckResult(finding.code, where, "fail", (), finding.message, finding)


def most_trials(pattern: Pattern) -> int:
    """How many trials may be made of a pattern."""
    rings = (r for p in pattern.pieces for r in (p.outline.outer, *p.outline.holes))
    segments = sum(len(ring.segments) for ring in rings)
    return min(MOST_TRIALS, max(LEAST_TRIALS, MOST_SEGMENTS // max(1, segments)))


def whole_ways(bench: Bench, turnable: Sequence[Knob]) -> tuple[Way, ...]:
    """Figures each of which alone makes everything hold, the smallest change first; those that
    bring warnings only where no other will do."""
    goal = bench.base.failing
    if any(code in NO_SIZE for code, _ in goal):
        return ()
    lengths = any(mm < 0 for mm in bench.base.slack.values())
    found = followed(bench, turnable, goal) if lengths else ()
    if not found:
        farther = tried_farther(bench, turnable, goal)
        found = (farther,) if farther is not None else ()
    clean = tuple(way for way in found if not way.more)
    return (clean or found)[:MOST_WAYS]


def _alone(bench: Bench, turnable: Sequence[Knob], result: CheckResult) -> tuple[WayOut, ...]:
    """Where no figure mends everything: those that mend this, and leave the rest to be mended."""
    goal: Goal = frozenset({(result.code, result.subject)})
    if len(bench.base.failing) < 2 or not result.slack:
        return ()
    own = followed(bench, [k for k in turnable if not k.given], goal)
    return tuple(_way_out(way, alone=True) for way in own[:MOST_WAYS])


def _told(result: CheckResult, offered: tuple[WayOut, ...]) -> CheckResult:
    if result.finding is None or not offered:
        return result
    finding = replace(result.finding, ways_out=(*offered, *result.finding.ways_out))
    return replace(result, finding=finding)


def _way_out(way: Way, *, alone: bool = False) -> WayOut:
    literal = way.knob.literal
    figure = _figure(way.value, literal.unit)
    written = literal.written
    shared = not written.endswith(literal.unit)
    text = figure if shared else f"{figure} {literal.unit}"
    now = f"{written} {literal.unit}" if shared else written
    said = f"make {way.knob.said} {figure} {literal.unit}, where it is {now}"
    if not way.knob.said:
        said = f"in line {literal.span.line} write {figure} {literal.unit} in place of {now}"
    if way.knob.given:
        said = f"with other contents only: {said}"
    if alone:
        said += "; that mends this and leaves the other findings"
    return WayOut(said, Edit(literal.span, text))


def _figure(value: float, unit: str) -> str:
    if unit != "in":
        return f"{round(value, 4):g}"
    part = Fraction(value).limit_denominator(64)
    if abs(float(part) - value) > 1e-9:
        return f"{round(value, 4):g}"
    whole, rest = divmod(part.numerator, part.denominator)
    if not rest:
        return str(whole)
    return f"{whole} {rest}/{part.denominator}" if whole else f"{rest}/{part.denominator}"
