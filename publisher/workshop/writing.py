"""The one door to the disk: every file whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

RECORD = ".written"
"""In a folder that is kept by ``write_folder``: the files it wrote last, one on a line."""


def write_file(path: Path, data: bytes) -> None:
    """Put ``data`` at ``path``: the old file stays until the new one is whole on the disk.

    Folders on the way are made. A file that already has these bytes is left alone. Raises
    OSError where the disk says no; the old file is then as it was.
    """
    try:
        if path.stat().st_size == len(data) and path.read_bytes() == data:
            return
    except OSError:
        pass
    path.parent.mkdir(parents=True, exist_ok=True)
    partial = path.with_name(f".{path.name}.{os.getpid()}.partial")
    try:
        with open(partial, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(partial, path)
    except BaseException:
        partial.unlink(missing_ok=True)
        raise
    _settle(path.parent)


def _settle(folder: Path) -> None:
    """Make a rename last through a power cut, where the system can."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Bring ``folder`` to hold ``files`` (paths with forward slashes).

    What an earlier call wrote and this one does not is taken away, with folders left empty by
    that; whatever else lies there is not touched. Raises ValueError for a path that leads out
    of the folder, OSError where the disk says no.
    """
    for name in files:
        _inside(folder, name)
    before = _recorded(folder)
    # The record first names old and new files, so that nothing is forgotten if this stops
    # half way.
    write_file(folder / RECORD, _record({*before, *files}))
    stale = before - set(files)
    # An old file in the way of a new folder, or the other way round, must go first.
    for name in sorted(stale, reverse=True):
        if name in _folders_of(files) or _folders_of([name]) & set(files):
            _take_away(folder, name)
    for name in sorted(files):
        write_file(_inside(folder, name), files[name])
    for name in sorted(stale, reverse=True):
        _take_away(folder, name)
    write_file(folder / RECORD, _record(set(files)))


def _folders_of(names: Iterable[str]) -> set[str]:
    return {str(parent) for name in names for parent in PurePosixPath(name).parents}


def _record(names: set[str]) -> bytes:
    return "".join(f"{name}\n" for name in sorted(names)).encode()


def _recorded(folder: Path) -> set[str]:
    try:
        lines = (folder / RECORD).read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return set()
    return {line for line in lines if line}


def _inside(folder: Path, name: str) -> Path:
    """The path of ``name``, if it stays inside the folder also when links are followed."""
    parts = PurePosixPath(name).parts
    path = folder.joinpath(*parts)
    plain = parts and not PurePosixPath(name).is_absolute() and ".." not in parts
    if not plain or "\\" in name or "\n" in name or name == RECORD:
        raise ValueError(f"{name!r} is no path for an output")
    if not path.parent.resolve().is_relative_to(folder.resolve()):
        raise ValueError(f"{name!r} leads out of {folder}")
    return path


def _take_away(folder: Path, name: str) -> None:
    """Remove one recorded file and the folders that it leaves empty."""
    try:
        path = _inside(folder, name)
    except ValueError:
        return
    if path.is_symlink() or not path.is_file():
        return
    path.unlink()
    for parent in path.parents:
        if parent == folder or any(parent.iterdir()):
            break
        parent.rmdir()
