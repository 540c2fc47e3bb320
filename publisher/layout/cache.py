"""Layouts that were found once, kept by what they depend on."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from typing import Protocol

from msgspec import Struct, field

from publisher.geometry.path import Region
from publisher.layout.types import Placed

VERSION = 1
"""Part of every key. Count it up when the same question would now be answered otherwise."""


class LayoutCache(Protocol):
    """Given from outside; keys are 64 hexadecimal figures, texts are ASCII of a few kB."""

    def get(self, key: str) -> str | None:
        """What was put there, or None."""

    def put(self, key: str, text: str) -> None:
        """Keep a text. A cache may forget it."""


class MemoryCache(Struct):
    """Keeps everything as long as it lives."""

    kept: dict[str, str] = field(default_factory=dict)

    def get(self, key: str) -> str | None:
        return self.kept.get(key)

    def put(self, key: str, text: str) -> None:
        self.kept[key] = text


def content_key(pieces: Sequence[tuple[str, Region, int]], *more: object) -> str:
    """A hash of everything a layout depends on: (name, outline, copies) of each piece in
    order, and ``more``, of values whose ``repr`` says all: figures, words, tuples of them."""
    said = repr((VERSION, tuple(pieces), more))
    return hashlib.sha256(said.encode()).hexdigest()


def as_text(sheets: Sequence[Sequence[Placed]]) -> str:
    """What lies on each sheet, with a hash of itself before it."""
    said = json.dumps(
        [[[p.piece, p.copy, p.x_mm, p.y_mm, p.turn_deg] for p in sheet] for sheet in sheets]
    )
    return hashlib.sha256(said.encode()).hexdigest() + said


def from_text(text: str) -> list[list[Placed]] | None:
    """The reverse of ``as_text``; None where the text is not as it was written."""
    told, said = text[:64], text[64:]
    if hashlib.sha256(said.encode()).hexdigest() != told:
        return None
    return [[Placed(*figures) for figures in sheet] for sheet in json.loads(said)]
