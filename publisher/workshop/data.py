"""Where shared data and themes are found: in the workshop, in the package, in a checkout."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1]
"""The folder of the package ``publisher`` itself."""


def places(root: Path | None, package: Path = PACKAGE) -> tuple[Path, ...]:
    """The folders to look in, first one first.

    A workshop's own data wins. An installed wheel carries the rest in ``publisher/_data``;
    in a checkout it lies beside the package.
    """
    found = [] if root is None else [root]
    found.append(package / "_data")
    checkout = package.parent
    if (checkout / "pyproject.toml").is_file() and checkout != root:
        found.append(checkout)
    return tuple(found)


def locate(name: str, root: Path | None, package: Path = PACKAGE) -> Path | None:
    """The first place that has ``name`` (with forward slashes), a file or a folder."""
    for place in places(root, package):
        path = place / name
        if path.exists():
            return path
    return None


def folder_files(folder: Path) -> dict[str, bytes]:
    """Every file under ``folder`` by its path inside it (forward slashes), sorted.

    Names that start with a dot are passed over, and so are links that lead out of the folder.
    """
    home = folder.resolve()
    files = {}
    for path in sorted(folder.rglob("*")):
        parts = path.relative_to(folder).parts
        if any(part.startswith(".") for part in parts) or not path.is_file():
            continue
        if path.resolve().is_relative_to(home):
            files["/".join(parts)] = path.read_bytes()
    return files
