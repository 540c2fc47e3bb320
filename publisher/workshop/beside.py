"""The files beside a pattern, read when they are asked for, and the font of the theme."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

WEIGHT = 600
"""Letters to be cut are heavy enough to be cut: their stems hold, and their counters open."""


class Beside(Mapping[str, bytes]):
    """By path inside the pattern's folder, with forward slashes; under "" the theme's font.

    Each file is read once. Names that start with a dot are passed over, and so are links that
    lead out of the folder.
    """

    def __init__(self, folder: Path | None = None, theme: Path | None = None) -> None:
        self._folder = folder
        self._theme = theme
        self._read: dict[str, bytes] = {}
        self._names: frozenset[str] | None = None

    def _paths(self) -> frozenset[str]:
        if self._names is None:
            self._names = frozenset(_files(self._folder)) if self._folder else frozenset()
        return self._names

    def __getitem__(self, path: str) -> bytes:
        if path not in self._read:
            if path == "":
                self._read[path] = _face(self._theme).read_bytes()
            elif self._folder is not None and path in self._paths():
                self._read[path] = (self._folder / path).read_bytes()
            else:
                raise KeyError(path)
        return self._read[path]

    def __contains__(self, path: object) -> bool:
        return path == "" or path in self._paths()

    def __iter__(self) -> Iterator[str]:
        return iter(sorted(self._paths()))

    def __len__(self) -> int:
        return len(self._paths())


def _files(folder: Path) -> Iterator[str]:
    home = folder.resolve()
    for path in folder.rglob("*"):
        parts = path.relative_to(folder).parts
        if any(part.startswith(".") for part in parts) or not path.is_file():
            continue
        if path.resolve().is_relative_to(home):
            yield "/".join(parts)


def _face(theme: Path | None) -> Path:
    """The file of the theme's face for text, or of the house's."""
    from publisher.drawing.fonts import TEXT_FAMILY, face_file

    family = TEXT_FAMILY
    if theme is not None:
        import tomli

        family = tomli.loads(theme.read_text("utf-8")).get("type", {}).get("text", family)
    return face_file(family, WEIGHT)
