"""What a statement of a piece is: its head, when it runs, what it names, what it does."""

from __future__ import annotations

from collections.abc import Callable
from enum import IntEnum

from msgspec import Struct

from publisher.language.ast import Name, Statement
from publisher.model.bench import Bench
from publisher.model.statements.phrases import Phrases


class Phase(IntEnum):
    """The order inside a piece, whatever the order of its lines."""

    PAPER = 1
    TABS = 2
    NAMES = 3
    SHAPING = 4
    TRIMMING = 5
    CORNERS = 6
    CUTS = 7
    ISLANDS = 8
    BRIDGES = 9
    LINES = 10
    GAPS = 11
    GLUE = 12


def _names_nothing(statement: Statement) -> tuple[Name, ...]:
    return ()


class StatementKind(Struct, frozen=True):
    """``names`` gives the panels that a line will add, known before anything is measured."""

    head: str
    phase: Phase
    run: Callable[[Bench, Phrases], None]
    names: Callable[[Statement], tuple[Name, ...]] = _names_nothing
