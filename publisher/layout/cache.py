"""Layouts that were found once, kept by what they depend on."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Protocol

from publisher.layout.kinds import Put, Sheets

VERSION = 1
"""Part of every key. Count it up when the same question would now be answered otherwise."""


class LayoutCache(Protocol):
    """Given from outside; keys are 64 hexadecimal figures, texts are JSON of a few kB."""

    def get(self, key: str) -> str | None:
        """What was put there, or None."""

    def put(self, key: str, text: str) -> None:
        """Keep a text. A cache may forget it."""


@dataclass(slots=True)
class MemoryCache:
    """Keeps everything as long as it lives."""

    kept: dict[str, str] = field(default_factory=dict)

    def get(self, key: str) -> str | None:
        return self.kept.get(key)

    def put(self, key: str, text: str) -> None:
        self.kept[key] = text


def as_text(sheets: Sheets | None) -> str:
    """Sheets as JSON, or that there are none better. Figures come back as they were."""
    if sheets is None:
        return "null"
    return json.dumps([[[p.kind, p.turn_deg, p.x_mm, p.y_mm] for p in s] for s in sheets])


def from_text(text: str) -> Sheets | None:
    """The reverse of ``as_text``. Raises ValueError or TypeError for anything else."""
    read = json.loads(text)
    if read is None:
        return None
    return [[Put(int(k), float(t), float(x), float(y)) for k, t, x, y in s] for s in read]
