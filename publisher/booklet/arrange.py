"""The author's document put in a maker's order: what to know, the pieces, the steps, the rest.

A section is a heading and what follows it up to the next one. A section with step fences is
steps; a heading above such sections is a chapter; the others come before or after.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from publisher.booklet.nodes import nodes_of
from publisher.booklet.types import Node
from publisher.model.types import Block, Pattern, Step

CHAPTER = "Make it"
"""The chapter's name where the author gives none."""


@dataclass(frozen=True, slots=True)
class StepWords:
    """A step with the words that belong to it."""

    step: Step
    words: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Chapter:
    """Steps under one heading, with what stands before the first of them."""

    title: str
    words: tuple[Node, ...]
    steps: tuple[StepWords, ...]


@dataclass(frozen=True, slots=True)
class Arrangement:
    """``cautions`` are the author's own from outside the steps; those in a step stay there."""

    opening: tuple[Node, ...]
    pieces: tuple[Node, ...]
    cautions: tuple[Node, ...]
    chapters: tuple[Chapter, ...]
    closing: tuple[Node, ...]


@dataclass(slots=True)
class _Section:
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

    def with_heading(self) -> list[Block]:
        return [self.heading, *self.prose] if self.heading and self.prose else self.prose


@dataclass(slots=True)
class _Draft:
    title: str
    words: list[Block]
    steps: list[StepWords] = field(default_factory=list)


def arrange(pattern: Pattern) -> Arrangement:
    """The pattern's document in the order in which it is printed."""
    steps = {str(step.number): step for step in pattern.steps}
    opening: list[Block] = []
    pieces: list[Block] = []
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
                (pieces if other.heading and other.has("piece") else opening).extend(
                    other.with_heading()
                )
        waiting = []
        if chapter is not None:
            drafts.append(_Draft(chapter.title, chapter.prose))
        elif not drafts:
            drafts.append(_Draft(CHAPTER, []))
        drafts[-1].steps.extend(_steps(section, steps))
    closing = [block for section in waiting for block in section.with_heading()]
    if not drafts:
        opening, closing = closing, []
    cautions = [b for b in (*opening, *pieces, *closing) if b.kind == "caution"]
    cautions += [b for draft in drafts for b in draft.words if b.kind == "caution"]
    return Arrangement(
        opening=_without_cautions(opening),
        pieces=_without_cautions(pieces),
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
