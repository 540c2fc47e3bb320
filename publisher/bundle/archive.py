"""A zip whose bytes depend on nothing but what is in it."""

from __future__ import annotations

import datetime
import io
import zipfile
from collections.abc import Mapping

_FIRST = (1980, 1, 1)
"""A zip's clock begins here (APPNOTE 4.4.6)."""
_MODE = 0o100644 << 16
_UNIX = 3
_LEVEL = 9


def archive(files: Mapping[str, bytes], date: str) -> bytes:
    """The files in the order given, all with the same time and permissions.

    ``date`` is ISO 8601; an earlier one than the zip's clock knows becomes its first day.
    """
    day = datetime.date.fromisoformat(date[:10])
    stamp = max((day.year, day.month, day.day), _FIRST)
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as zipped:
        for path, data in files.items():
            entry = zipfile.ZipInfo(path, (*stamp, 0, 0, 0))
            entry.create_system = _UNIX
            entry.external_attr = _MODE
            entry.compress_type = zipfile.ZIP_DEFLATED
            zipped.writestr(entry, data, compresslevel=_LEVEL)
    return target.getvalue()
