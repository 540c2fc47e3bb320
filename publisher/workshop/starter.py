"""A new workshop, from the files that the package carries for it."""

from __future__ import annotations

from pathlib import Path

from publisher.workshop.data import PACKAGE, folder_files
from publisher.workshop.writing import write_file

STARTER = PACKAGE / "workshop" / "starter"
_RENAMED = {"gitignore": ".gitignore"}
_TITLE = "A paper workshop"


def start_workshop(folder: Path) -> tuple[str, ...] | None:
    """Make ``folder`` a workshop with a first pattern; returns what was written, sorted.

    None where there is something in the folder already, or it is a file: then nothing is
    written. The workshop is titled after the folder. Raises OSError where the disk says no.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        return None
    title = " ".join(folder.resolve().name.replace("-", " ").replace("_", " ").split())
    quoted = (title[:1].upper() + title[1:]).replace("\\", "").replace('"', "")
    written = []
    for name, data in folder_files(STARTER).items():
        path = _RENAMED.get(name, name)
        if path == "site/site.toml" and quoted.isprintable() and quoted:
            data = data.replace(_TITLE.encode(), quoted.encode())
        write_file(folder / path, data)
        written.append(path)
    return tuple(sorted(written))
