"""The values of a bundle."""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import Literal, TypeAlias

from msgspec import Struct

Role: TypeAlias = Literal[
    "start-here",
    "licence",
    "instructions",
    "cut-file",
    "template",
    "printed",
    "diagram",
    "picture",
    "proof",
    "other",
]

_MEDIA_TYPES = {
    # IANA media types registry.
    ".dxf": "image/vnd.dxf",
    ".html": "text/html",
    ".jpg": "image/jpeg",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".zip": "application/zip",
}


class BundleFile(Struct, frozen=True):
    """One file: its bytes, what it is for, and for a cut file the name of its sheet or of its
    piece, how its scores are worked ("groups", "dashes", "drawn") and how many of its units
    make an inch."""

    role: Role
    data: bytes
    sheet: str = ""
    score_as: str = ""
    units_per_inch: float = 0.0
    piece: str = ""


def media_type(path: str) -> str:
    """By the path's ending; "application/octet-stream" for one that is not known."""
    return _MEDIA_TYPES.get(PurePosixPath(path).suffix.lower(), "application/octet-stream")


def file_format(path: str) -> str:
    """The path's ending without its dot: "svg", "dxf", "pdf"."""
    return PurePosixPath(path).suffix.lower().removeprefix(".")
