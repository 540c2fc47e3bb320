"""Everything of one pattern in one zip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from publisher.bundle.archive import archive
from publisher.bundle.manifest import NAME, manifest
from publisher.bundle.types import BundleFile
from publisher.bundle.words import licence_text, start_here
from publisher.checks.types import CheckResult
from publisher.cutfiles.work import Work
from publisher.layout.types import Sheet
from publisher.model.types import Pattern
from publisher.trade import Cutting, Licence

FIRST = ("START-HERE.txt", "LICENCE.txt")


def folder_name(pattern: Pattern, maker: str = "") -> str:
    """The one folder inside the zip, and the zip's own name without its ending; a bundle for
    one kind of maker says so ("sliding-box-1.0.0-a4-maker"), and so does one of a variant
    ("sliding-box-1.0.0-mini")."""
    ending = "-".join(["", *pattern.variant.lower().split(), *maker.lower().split()])
    return f"{pattern.name}-{pattern.meta.version}{ending}"


def pack(
    pattern: Pattern,
    sheets: Sequence[Sheet],
    checks: Sequence[CheckResult],
    files: Mapping[str, BundleFile],
    licence: Licence | None,
    tool_version: str,
    work: Mapping[str, Work] | None = None,
    cutting: Cutting | None = None,
    maker: str = "",
    needed: Mapping[str, Any] | None = None,
) -> bytes:
    """The zip, the same bytes for the same input.

    ``files`` are what the earlier stages wrote, by path inside the bundle's folder;
    START-HERE.txt, LICENCE.txt and manifest.json are added here. The front matter's date is
    the time of every file; ``work`` by a sheet's name and what was chosen in ``cutting`` go
    into the manifest, and so do the supplies in ``needed``. ``maker`` names the kind of maker
    that the bundle is for, where it is not for everybody. Raises ValueError where a path is
    taken twice.
    """
    whole = dict(files)
    added = {
        FIRST[0]: BundleFile("start-here", start_here(pattern, sheets, files, cutting, maker)),
        FIRST[1]: BundleFile("licence", licence_text(pattern, licence)),
    }
    for path, file in added.items():
        if path in whole or NAME in whole:
            raise ValueError(f"{path} and {NAME} are written here")
        whole[path] = file
    listing = manifest(pattern, sheets, checks, whole, tool_version, work, cutting, maker, needed)
    order = [*FIRST, *sorted(path for path in files), NAME]
    data = {path: listing if path == NAME else whole[path].data for path in order}
    top = folder_name(pattern, maker)
    return archive({f"{top}/{path}": data[path] for path in order}, pattern.meta.date)
