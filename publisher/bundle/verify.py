"""The written zip opened again and held against its own manifest."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import PurePosixPath
from typing import Any

from publisher.bundle.manifest import NAME
from publisher.diagnostics import Diagnostic

CODE = "bundle-damaged"
_UNREADABLE = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, OSError, ValueError)


def verify(zip_bytes: bytes) -> list[Diagnostic]:
    """Everything that is not as the manifest says: checksums, hashes, sizes, paths.

    Empty where the bundle is sound. Every file is unpacked in full, which tests its CRC.
    """
    return [Diagnostic(CODE, "error", message) for message in _faults(zip_bytes)]


def _faults(zip_bytes: bytes) -> Iterator[str]:
    try:
        zipped = zipfile.ZipFile(io.BytesIO(zip_bytes))
    except _UNREADABLE as error:
        yield f"the zip cannot be opened: {error}"
        return
    with zipped:
        names = zipped.namelist()
        yield from _bad_paths(names)
        contents: dict[str, bytes] = {}
        for name in names:
            try:
                contents[name] = zipped.read(name)
            except (*_UNREADABLE, RuntimeError) as error:
                yield f"‘{name}’ cannot be unpacked: {error}"
    tops = sorted({name.split("/")[0] for name in names})
    if len(tops) != 1:
        yield f"the zip must hold one folder and holds {len(tops)}"
        return
    inside = {name.partition("/")[2]: data for name, data in contents.items()}
    yield from _against_manifest(inside)


def _bad_paths(names: list[str]) -> Iterator[str]:
    for name in sorted(set(names)):
        if names.count(name) > 1:
            yield f"‘{name}’ stands in the zip twice"
        path = PurePosixPath(name)
        if path.is_absolute() or ".." in path.parts or "\\" in name or ":" in name:
            yield f"‘{name}’ leads out of the bundle's folder"


def _against_manifest(inside: dict[str, bytes]) -> Iterator[str]:
    if NAME not in inside:
        yield f"{NAME} is missing"
        return
    try:
        listing: dict[str, Any] = json.loads(inside[NAME])
        files = {entry["path"]: (entry["bytes"], entry["sha256"]) for entry in listing["files"]}
        cut = [file["path"] for sheet in listing["sheets"] for file in sheet["files"]]
    except (ValueError, KeyError, TypeError) as error:
        yield f"{NAME} cannot be read: {error!r}"
        return
    if len(files) != len(listing["files"]):
        yield f"{NAME} lists a file twice"
    for path in sorted(set(files) - set(inside)):
        yield f"‘{path}’ is listed and not there"
    for path in sorted(set(inside) - set(files) - {NAME}):
        yield f"‘{path}’ is there and not listed"
    for path in sorted(set(cut) - set(files)):
        yield f"‘{path}’ belongs to a sheet and is not listed"
    for path in sorted(set(files) & set(inside)):
        size, digest = files[path]
        if size != len(inside[path]):
            yield f"‘{path}’ has {len(inside[path])} bytes, listed are {size}"
        if digest != hashlib.sha256(inside[path]).hexdigest():
            yield f"‘{path}’ is not the file that was listed: its hash differs"
