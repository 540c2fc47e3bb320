"""Layouts kept from one build to the next, each in a file named after what it was found for."""

from __future__ import annotations

import re
from pathlib import Path

from publisher.workshop.writing import write_file

MOST = 500
"""More are not kept: the oldest go."""
_KEY = re.compile(r"[0-9a-f]{64}")


class FolderCache:
    """A folder of texts by their keys (64 hexadecimal figures).

    It may be deleted at any time, whole or in part, and a disk that says no makes it forget:
    what is asked for is then found anew. Whether a text is as it was written its owner tells,
    by the hash that it carries.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def get(self, key: str) -> str | None:
        """What was put there, or None."""
        try:
            return self._path(key).read_bytes().decode("ascii")
        except (OSError, UnicodeDecodeError):
            return None

    def put(self, key: str, text: str) -> None:
        """Keep a text, the file whole or not at all."""
        try:
            write_file(self._path(key), text.encode("ascii"))
            self._tidy()
        except OSError:
            return

    def _path(self, key: str) -> Path:
        if not _KEY.fullmatch(key):
            raise ValueError(f"{key!r} is no key")
        return self.folder / f"{key}.txt"

    def _tidy(self) -> None:
        kept = [path for path in self.folder.glob("*.txt") if _KEY.fullmatch(path.stem)]
        if len(kept) > MOST:
            kept.sort(key=lambda path: (path.stat().st_mtime_ns, path.name))
            for path in kept[: len(kept) - MOST]:
                path.unlink(missing_ok=True)
