"""Files of a workshop that most commands can do without."""

from __future__ import annotations

from publisher.workshop.find import Workshop


def read_own(workshop: Workshop, file: str) -> str:
    """The text of a file of the workshop by its path in it, "" where there is none. A byte that
    is not UTF-8 becomes the sign for that."""
    path = workshop.root / file
    if not path.is_file():
        return ""
    return path.read_bytes().decode("utf-8-sig", errors="replace").replace("\r\n", "\n")
