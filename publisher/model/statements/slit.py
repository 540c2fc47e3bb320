"""``slit 40 mm long, across, at middle of pocket``, ``slit along 9 mm above fold``, ``slit half
round, 40 mm wide, facing top, at middle``, ``slit from A to B by 5 mm``; and ``perforate``, which
draws its lines likewise."""

from __future__ import annotations

from typing import Literal

from publisher.geometry.booleans import clip_path
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.statements.kinds import Phase, StatementKind
from publisher.model.statements.phrases import Phrases
from publisher.model.statements.strokes import read_strokes
from publisher.model.types import Opening


def run_slit(bench: Bench, phrases: Phrases) -> None:
    _run(bench, phrases, "slit")


def run_perforate(bench: Bench, phrases: Phrases) -> None:
    _run(bench, phrases, "perforation")


def _run(bench: Bench, phrases: Phrases, kind: Literal["slit", "perforation"]) -> None:
    draft = bench.draft
    strokes = read_strokes(bench, phrases)
    names = bench.numbered(kind, len(strokes), phrases.statement.name)
    assert draft.paper is not None
    found: list[Opening] = []
    for name, stroke in zip(names, strokes, strict=True):
        inside = sum(p.length_mm for p in clip_path(stroke.path, draft.paper))
        if abs(inside - stroke.path.length_mm) > 1e-6:
            raise refuse("slit-leaves-paper", f"the {kind} runs beyond the paper", stroke.span)
        size = (stroke.width_mm, stroke.depth_mm)
        shape, panel = stroke.shape, stroke.panel
        found.append(Opening(name, kind, shape, stroke.path, panel, *size, phrases.span))
    draft.openings.extend(found)


KIND = StatementKind("slit", Phase.LINES, run_slit)
PERFORATE = StatementKind("perforate", Phase.LINES, run_perforate)
