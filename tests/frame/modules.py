"""What the frame's tests read: every module of the package, as text and as a tree."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "publisher"


@dataclass(frozen=True)
class Module:
    """One file: ``name`` is dotted, ``room`` its folder under publisher/ ("" at the top)."""

    path: Path

    @property
    def name(self) -> str:
        parts = self.path.relative_to(PACKAGE.parent).with_suffix("").parts
        return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    @property
    def shown(self) -> str:
        return self.path.relative_to(ROOT).as_posix()

    @property
    def room(self) -> str:
        parts = self.path.relative_to(PACKAGE).parts
        return parts[0] if len(parts) > 1 else ""

    @cached_property
    def text(self) -> str:
        return self.path.read_text(encoding="utf-8")

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text)


def modules() -> list[Module]:
    return [
        Module(path)
        for path in sorted(PACKAGE.rglob("*.py"))
        if "_data" not in path.relative_to(PACKAGE).parts
    ]
