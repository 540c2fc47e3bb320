"""Figures typed in prose agree with the design.

A figure is compared with the measure that its sentence names (border, overlap, height, ...)
of the piece or panel named there, else of the pieces that the section's step takes up. That
the same figure occurs elsewhere in the design does not excuse it. A sentence that names no
measure is only asked whether the figure occurs at all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct

from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.measures import WORDS, Measure, measures
from publisher.checks.types import CheckResult
from publisher.diagnostics import Edit, Span, WayOut
from publisher.model.prose import Block, Run
from publisher.units import Figure, figures_in

CODE = "figure-differs"
UNKNOWN = "figure-unknown"
SENTENCE_END = re.compile(r"(?<=[.!?:;])\s+")
PROSE = ("paragraph", "heading", "quote", "caution", "tip", "item", "cell")


class Sentence(Struct, frozen=True):
    """A sentence of a block's ``runs``, and at which of their letters it begins."""

    text: str
    runs: tuple[Run, ...]
    begins: int
    subjects: tuple[str, ...]
    title: str

    def at(self, index: int) -> Span | None:
        """Where a letter of the sentence stands in the file; None: it comes from the design."""
        letter = self.begins + index
        for run in self.runs:
            if letter < len(run.text):
                return _where(run, letter)
            letter -= len(run.text)
        raise IndexError(index)


class Words(Struct, frozen=True):
    """Measure words of a sentence, from where to where and of which kind, and the names in it."""

    places: tuple[tuple[int, int, str], ...]
    named: tuple[str, ...]


def check(context: Context) -> Results:
    known: tuple[Measure, ...] = ()
    names: tuple[str, ...] = ()
    for sentence in _sentences(context):
        words: Words | None = None
        for figure in figures_in(sentence.text):
            span = sentence.at(figure.start)
            if span is not None:
                # Most patterns speak their figures and type none: only then is all measured.
                known = known or measures(context)
                names = names or _names(context)
                words = words or _words(context, names, sentence)
                last = sentence.at(figure.end - 1) or span
                place = Span(span.file, span.start, last.end, span.line, span.column)
                yield _verdict(context, known, words, sentence, figure, place)


def _agrees(context: Context, figure: Figure, mm: float) -> bool:
    """Within half of what a ruler shows in the figure's unit."""
    name = "figure_inch_tolerance_mm" if figure.unit == "in" else "figure_tolerance_mm"
    return abs(figure.mm - mm) <= context.practice(name) + 1e-6


def _verdict(
    context: Context,
    known: tuple[Measure, ...],
    words: Words,
    sentence: Sentence,
    figure: Figure,
    place: Span,
) -> CheckResult:
    written = sentence.text[figure.start : figure.end]
    kind, named = _kind(words, figure), words.named
    numbers: tuple[tuple[str, float], ...] = (("written_mm", figure.mm),)
    subject = f"‘{written}’ under “{sentence.title}”" if sentence.title else f"‘{written}’"
    of_kind = [m for m in known if m.kind == kind]
    candidates = [m for m in of_kind if not m.of or set(m.of) & set(named)] or of_kind
    if kind and candidates:
        nearest = min(candidates, key=lambda m: (abs(m.mm - figure.mm), m.mm))
        numbers = (*numbers, ("design_mm", nearest.mm))
        if _agrees(context, figure, nearest.mm):
            return passed(CODE, subject, numbers, f"{written} agrees with the design")
        whose = f" of {nearest.of[0]}" if nearest.of else ""
        size = next((m.kind for m in known if not m.of and abs(m.mm - nearest.mm) < 1e-6), "")
        return failed(
            CODE,
            subject,
            numbers,
            f"the text says {written}, but the {_noun(kind)}{whose} is {context.say(nearest.mm)}",
            place,
            ways_out=(WayOut(f"write {{{size}}}", Edit(place, f"{{{size}}}")),) if size else (),
        )
    if any(_agrees(context, figure, m.mm) for m in known) or _is_trade(context, figure):
        return passed(CODE, subject, numbers, f"{written} occurs in the design")
    return failed(
        UNKNOWN,
        subject,
        numbers,
        f"nothing in the design measures {written}",
        place,
        severity="warning",
        notes=("A figure that the design knows can be spoken: {name}.",),
    )


def _noun(kind: str) -> str:
    return {
        "wide": "width",
        "high": "height",
        "long": "length",
        "deep": "depth",
        "thick": "thickness",
        "across": "measure across",
        "glue": "width of the glue",
        "score": "distance of a score from the edge",
    }.get(kind, kind)


def _is_trade(context: Context, figure: Figure) -> bool:
    sheets = [v for s in context.trade.sheets.values() for v in (s.width_mm, s.height_mm)]
    things = [v for o in context.pattern.objects.values() for v in o]
    return any(_agrees(context, figure, v) for v in (*sheets, *things))


def _said(name: str, text: str) -> bool:
    return re.search(rf"\b{re.escape(name)}s?\b", text, re.IGNORECASE) is not None


def _words(context: Context, names: tuple[str, ...], sentence: Sentence) -> Words:
    """What a sentence speaks of; a size's own name counts as a measure word."""
    text = sentence.text
    words = [(word, kind) for kind, several in WORDS.items() for word in several]
    words += [(s.name, s.name) for s in context.pattern.sizes if s.unit == "mm"]
    places = tuple(
        (match.start(), match.end(), kind)
        for word, kind in words
        for match in re.finditer(rf"\b{re.escape(word)}\b", text, re.IGNORECASE)
    )
    return Words(places, tuple(n for n in names if _said(n, text)) or sentence.subjects)


def _kind(words: Words, figure: Figure) -> str:
    """The measure word nearest to the figure."""
    best: tuple[int, int, str] | None = None
    for start, end, kind in words.places:
        gap = start - figure.end if start >= figure.end else max(0, figure.start - end)
        rank = (gap, start - end, kind)
        if best is None or rank < best:
            best = rank
    return best[2] if best else ""


def _names(context: Context) -> tuple[str, ...]:
    """Pieces, panels and openings by name, longest first."""
    found: set[str] = set()
    for piece in context.pattern.pieces:
        found.add(piece.name)
        found.update(p.name for p in piece.panels)
        found.update(o.name for o in piece.openings)
        found.update(o.kind for o in piece.openings)
    return tuple(sorted(found, key=lambda n: (-len(n), n)))


def _sentences(context: Context) -> Iterator[Sentence]:
    steps = {str(s.number): s for s in context.pattern.steps}
    sections: list[list[Block]] = [[]]
    for block in context.pattern.body:
        if block.kind == "heading":
            sections.append([])
        sections[-1].append(block)
    for section in sections:
        subjects: list[str] = []
        for block in section:
            if block.kind == "step" and block.name in steps:
                for action in steps[block.name].actions:
                    for target in (*action.subjects, *action.objects):
                        subjects += [n for n in (target.part, target.piece) if n]
            if block.kind == "piece":
                subjects.append(block.name)
        title = "".join(r.text for r in section[0].runs) if section else ""
        if section and section[0].kind != "heading":
            title = ""
        for block in section:
            yield from _of_block(block, tuple(dict.fromkeys(subjects)), title)


def _of_block(block: Block, subjects: tuple[str, ...], title: str) -> Iterator[Sentence]:
    if block.kind in PROSE and block.runs:
        text = "".join(r.text for r in block.runs)
        start = 0
        for end in [m.start() for m in SENTENCE_END.finditer(text)] + [len(text)]:
            yield Sentence(text[start:end], block.runs, start, subjects, title)
            start = end
    for child in block.children:
        yield from _of_block(child, subjects, title)


def _where(run: Run, letter: int) -> Span | None:
    """Where a letter of a run stands; the whole run where its text was changed."""
    if run.spoken or "code" in run.style:
        return None
    s = run.span
    if s.end - s.start != len(run.text) or "\n" in run.text:
        return s
    return Span(s.file, s.start + letter, s.start + letter + 1, s.line, s.column + letter)
