"""The author's document put in a maker's order: what to know, the pieces, the steps, the rest.

A section is a heading and what follows it up to the next one. A section with step fences is
steps; a heading above such sections is a chapter; one with the sizes or with pieces flows into
the booklet's own section; the others come before or after.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct, field

from publisher.booklet.nodes import nodes_of
from publisher.booklet.types import Node
from publisher.model.prose import Block
from publisher.model.types import Pattern, Step

CHAPTER = "Make it"
"""The chapter's name where the author gives none."""

SIZES, PIECES = "Sizes", "Pieces"
"""The booklet's own sections; a heading of the author's that says the same is not repeated."""


class StepWords(Struct, frozen=True):
    """A step with the words that belong to it."""

    step: Step
    words: tuple[Node, ...]


class Chapter(Struct, frozen=True):
    """Steps under one heading, with what stands before the first of them."""

    title: str
    words: tuple[Node, ...]
    steps: tuple[StepWords, ...]


class Arrangement(Struct, frozen=True):
    """``sizes`` and ``pieces`` are the author's words to the booklet's own sections;
    ``by_piece`` has the latter again, by the piece that they lead up to ("" for none).
    ``cautions`` are the author's own from outside the steps; those in a step stay there."""

    opening: tuple[Node, ...]
    sizes: tuple[Node, ...]
    pieces: tuple[Node, ...]
    by_piece: tuple[tuple[str, tuple[Node, ...]], ...]
    cautions: tuple[Node, ...]
    chapters: tuple[Chapter, ...]
    closing: tuple[Node, ...]


class _Section(Struct):
    heading: Block | None
    blocks: list[Block] = field(default_factory=list)

    @property
    def level(self) -> int:
        return self.heading.level if self.heading else 0

    @property
    def title(self) -> str:
        return "".join(run.text for run in self.heading.runs) if self.heading else ""

    def has(self, kind: str) -> bool:
        return any(block.kind == kind for block in self.blocks)

    @property
    def prose(self) -> list[Block]:
        return [b for b in self.blocks if b.kind not in ("sizes", "piece", "step", "fits")]

    def says(self, title: str) -> bool:
        """Whether the heading says no more than ``title``."""
        return self.title.strip().casefold() == title.casefold()

    def with_heading(self) -> list[Block]:
        return [self.heading, *self.prose] if self.heading and self.prose else self.prose


class _Draft(Struct):
    title: str
    words: list[Block]
    steps: list[StepWords] = field(default_factory=list)


class _Before(Struct):
    """What stands before the steps, by where it is printed."""

    opening: list[Block] = field(default_factory=list)
    sizes: list[Block] = field(default_factory=list)
    pieces: dict[str, list[Block]] = field(default_factory=dict)

    def take(self, section: _Section) -> None:
        """Words between fences lead up to the next one, or follow the last. What comes before
        the first is the opening's where no heading says that it belongs here."""
        fences = [b for b in section.blocks if b.kind in ("sizes", "piece")]
        if not fences:
            self.opening.extend(section.with_heading())
            return
        said = PIECES if any(b.kind == "piece" for b in fences) else SIZES
        words: list[Block] = []
        goal = self.opening
        if section.heading and section.prose and not section.says(said):
            words.append(section.heading)
        opened = section.heading is not None
        for block in section.blocks:
            if block.kind in ("sizes", "piece"):
                goal = self._of(block)
                (goal if opened else self.opening).extend(words)
                words, opened = [], True
            elif block.kind not in ("step", "fits"):
                words.append(block)
        goal.extend(words)

    def _of(self, fence: Block) -> list[Block]:
        if fence.kind == "sizes":
            return self.sizes
        return self.pieces.setdefault(fence.name, [])


def arrange(pattern: Pattern) -> Arrangement:
    """The pattern's document in the order in which it is printed."""
    steps = {str(step.number): step for step in pattern.steps}
    before = _Before()
    drafts: list[_Draft] = []
    waiting: list[_Section] = []
    for section in _sections(pattern.body):
        if not section.has("step"):
            waiting.append(section)
            continue
        chapter = _chapter_of(waiting, section)
        for other in waiting:
            if other is chapter:
                continue
            if drafts:
                drafts[-1].words.extend(other.with_heading())
            else:
                before.take(other)
        waiting = []
        if chapter is not None:
            drafts.append(_Draft(chapter.title, chapter.prose))
        elif not drafts:
            drafts.append(_Draft(CHAPTER, []))
        drafts[-1].steps.extend(_steps(section, steps))
    closing = [block for section in waiting if drafts for block in section.with_heading()]
    for section in waiting if not drafts else ():
        before.take(section)
    opening, sizes = before.opening, before.sizes
    pieces = [block for words in before.pieces.values() for block in words]
    cautions = [b for b in (*opening, *sizes, *pieces, *closing) if b.kind == "caution"]
    cautions += [b for draft in drafts for b in draft.words if b.kind == "caution"]
    return Arrangement(
        opening=_without_cautions(opening),
        sizes=_without_cautions(sizes),
        pieces=_without_cautions(pieces),
        by_piece=tuple((n, _without_cautions(words)) for n, words in before.pieces.items()),
        cautions=nodes_of(cautions),
        chapters=tuple(
            Chapter(d.title, _without_cautions(d.words), tuple(d.steps)) for d in drafts
        ),
        closing=_without_cautions(closing),
    )


def _sections(body: Iterable[Block]) -> list[_Section]:
    sections = [_Section(None)]
    for block in body:
        if block.kind == "heading":
            sections.append(_Section(block))
        else:
            sections[-1].blocks.append(block)
    return sections


def _chapter_of(waiting: list[_Section], section: _Section) -> _Section | None:
    """The nearest heading that the section stands under."""
    if not waiting or waiting[-1].heading is None or waiting[-1].has("piece"):
        return None
    return waiting[-1] if waiting[-1].level < section.level else None


def _steps(section: _Section, steps: dict[str, Step]) -> list[StepWords]:
    """Each step with the prose before its fence; what comes after the last goes to the last."""
    found: list[tuple[Step, list[Block]]] = []
    words: list[Block] = []
    for block in section.blocks:
        if block.kind == "step" and block.name in steps:
            found.append((steps[block.name], words))
            words = []
        else:
            words.append(block)
    found[-1][1].extend(words)
    return [StepWords(step, nodes_of(blocks)) for step, blocks in found]


def _without_cautions(blocks: Iterable[Block]) -> tuple[Node, ...]:
    return nodes_of(b for b in blocks if b.kind != "caution")
