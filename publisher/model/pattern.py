"""A program to a pattern: pieces, steps, claims and document, all worked out."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language.evaluate import evaluate
from publisher.language.program import Program
from publisher.language.sizes import SizeResult
from publisher.language.values import Thing
from publisher.model.claims import read_claims
from publisher.model.conditions import claims_that_hold, steps_that_hold
from publisher.model.document import Reader, plain_text
from publisher.model.findings import Refused
from publisher.model.formatting import spoken
from publisher.model.meta import read_meta
from publisher.model.prose import Block
from publisher.model.steps import read_steps
from publisher.model.targets import Words
from publisher.model.types import Claim, Meta, Pattern, Size, Step
from publisher.model.world import World, parts_of
from publisher.source import types as source
from publisher.trade import Trade
from publisher.units import FirstUnit, Ruler


def build_pattern(
    program: Program,
    trade: Trade,
    name: str,
    told: Iterable[Diagnostic] = (),
    printed: tuple[tuple[FirstUnit, float, float], ...] = (),
) -> tuple[Pattern | None, list[Diagnostic]]:
    """The pattern that a program describes, and every fault found on the way.

    ``name`` is the pattern's folder. ``told`` are findings of earlier stages: a word that was
    answered there is not answered again. ``printed`` are lengths that are printed otherwise than
    by rounding (``Ruler.chosen``). There is a pattern, if need be without what could
    not be built, wherever the front matter is whole; with findings that are errors it is not
    to be built on.
    """
    world = World(program, trade)
    results = world.sizes.results()
    for piece in program.pieces:
        world.built(piece.name.text)
    words = Words(world)
    program = replace(
        program,
        steps=steps_that_hold(program.steps, world.sizes),
        claims=claims_that_hold(program.claims, world.sizes),
    )
    steps, faults = read_steps(program.steps, words)
    world.findings.extend(faults)
    claims, faults = read_claims(program.claims, words)
    world.findings.extend(faults)
    meta, faults = read_meta(program.document, trade)
    world.findings.extend(faults)
    if meta is not None and printed:
        meta = replace(meta, chosen=printed)
    body = _body(world, steps, meta.ruler if meta is not None else Ruler())
    findings = _once(world.findings, told)
    if meta is None:
        return None, findings
    if program.variant:
        meta = replace(meta, title=f"{meta.title}, {program.variant}")
    return _pattern(
        world, name, meta, results, _titled(program, steps, body), claims, body
    ), findings


def _pattern(
    world: World,
    name: str,
    meta: Meta,
    results: tuple[SizeResult, ...],
    steps: tuple[Step, ...],
    claims: tuple[Claim, ...],
    body: tuple[Block, ...],
) -> Pattern:
    pieces = []
    for design in world.program.pieces:
        built = world.built(design.name.text)
        if built.piece is not None:
            pieces.append(built.piece)
    return Pattern(
        name=name,
        file=world.program.document.source.file,
        meta=meta,
        sizes=tuple(_size(r) for r in results if not isinstance(r.value, Thing)),
        pieces=tuple(pieces),
        steps=steps,
        claims=claims,
        body=body,
        objects=_objects(steps, claims),
        variant=world.program.variant,
    )


def _size(result: SizeResult) -> Size:
    definition = result.definition
    parts, unit = parts_of(result.value, definition.span)
    limits = None
    if result.least is not None and result.most is not None:
        limits = (result.least, result.most)
    return Size(
        name=definition.name.text,
        values=parts,
        unit="mm" if unit == "mm" else "deg" if unit == "deg" else "",
        written=result.written,
        note=definition.note.text if definition.note is not None else "",
        range=limits,
        span=definition.span,
    )


def _objects(
    steps: tuple[Step, ...], claims: tuple[Claim, ...]
) -> dict[str, tuple[float, float, float]]:
    """Every object that a step or a claim speaks of, by name in alphabetical order."""
    found: dict[str, tuple[float, float, float]] = {}
    targets = [t for s in steps for a in s.actions for t in (*a.subjects, *a.objects)]
    targets += [t for c in claims for t in (c.subject, c.object) if t is not None]
    for target in targets:
        if target.kind == "object" and target.size_mm is not None:
            found[target.piece] = target.size_mm
    return dict(sorted(found.items()))


# ---------------------------------------------------------------- the document


def _body(world: World, steps: tuple[Step, ...], ruler: Ruler) -> tuple[Block, ...]:
    program = world.program

    def speak(node: source.Spoken) -> tuple[str, tuple[float, ...], str] | None:
        expr = program.spoken.get(node.span)
        value = evaluate(expr, world.sizes) if expr is not None else None
        if expr is None or value is None:
            return None
        try:
            parts, unit = parts_of(value, node.span)
        except Refused as refused:
            if refused.diagnostic is not None:
                world.report(refused.diagnostic)
            return None
        return spoken(expr, parts, unit, world.trade, ruler), parts, unit

    reader = Reader(
        speak,
        {p.fence: p.name.text for p in program.pieces},
        {s.span: str(s.number) for s in steps},
    )
    return reader.blocks(program.document.blocks)


def _titled(program: Program, steps: tuple[Step, ...], body: tuple[Block, ...]) -> tuple[Step, ...]:
    """Steps with the headings they stand under, spoken sizes said."""
    headings = {b.span: plain_text(b.runs) for b in _every(body) if b.kind == "heading"}
    titled = []
    for step, design in zip(steps, program.steps, strict=True):
        title = headings.get(design.heading_span, "") if design.heading_span else ""
        titled.append(Step(step.number, title or f"Step {step.number}", step.actions, step.span))
    return tuple(titled)


def _every(blocks: Iterable[Block]) -> Iterable[Block]:
    for block in blocks:
        yield block
        yield from _every(block.children)


# ---------------------------------------------------------------- findings


def _once(findings: Iterable[Diagnostic], told: Iterable[Diagnostic]) -> list[Diagnostic]:
    """In the order of the file, each once, and none at a place that was answered before."""
    answered = [f.places[0].span for f in told if f.places]
    kept: dict[tuple[str, Span | None], Diagnostic] = {}
    for finding in findings:
        span = finding.places[0].span if finding.places else None
        if span is not None and any(_meet(span, other) for other in answered):
            continue
        if finding.code == "no-paper" and any(_meet(finding.places[1].span, o) for o in answered):
            continue  # the line that was to give the paper has been answered
        kept.setdefault((finding.message, span), finding)
    return sorted(kept.values(), key=lambda f: _where(f.places))


def _where(places: tuple[Place, ...]) -> tuple[int, int]:
    return (places[0].span.start, places[0].span.end) if places else (0, 0)


def _meet(a: Span, b: Span) -> bool:
    """Whether two spans share a character, or the line that they begin on."""
    return a.file == b.file and (a.line == b.line or (a.start < b.end and b.start < a.end))
