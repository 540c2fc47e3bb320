"""What earlier stages wrote as files of a bundle."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.bundle.types import BundleFile
from publisher.cutfiles import CutFile


def cut_entries(files: Iterable[CutFile]) -> dict[str, BundleFile]:
    """Cut files by their paths in a bundle."""
    return {
        f"cut-files/{file.path}": BundleFile(
            "cut-file", file.data, file.sheet, file.score_as, file.units_per_inch, file.piece
        )
        for file in files
    }
