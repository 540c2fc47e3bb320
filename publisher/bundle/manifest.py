"""``manifest.json``: what the bundle holds and what it was computed to be.

Lengths in mm and angles in degrees, to 0.0001; paths are relative to the bundle's folder.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any

from publisher.bundle.types import BundleFile, file_format, media_type
from publisher.checks.types import CheckResult
from publisher.cutfiles.work import Work
from publisher.layout.types import Placed, Sheet
from publisher.model.types import Pattern, Piece, Size
from publisher.trade import Cutting

NAME = "manifest.json"


def manifest(
    pattern: Pattern,
    sheets: Sequence[Sheet],
    checks: Sequence[CheckResult],
    files: Mapping[str, BundleFile],
    tool_version: str,
    work: Mapping[str, Work] | None = None,
    cutting: Cutting | None = None,
    maker: str = "",
    needed: Mapping[str, Any] | None = None,
) -> bytes:
    """The manifest as UTF-8 JSON, itself not listed in it; ``work`` by the sheet's name.

    ``cutting`` is what was chosen about sheets and cut files, ``maker`` for whom where that
    is not everybody, ``needed`` the supplies as plain data.
    """
    todo = work or {}
    content = {
        "name": pattern.name,
        "title": pattern.meta.title,
        "version": pattern.meta.version,
        "date": pattern.meta.date,
        "edition": pattern.meta.edition,
        **({"variant": pattern.variant} if pattern.variant else {}),
        **({"maker": maker} if maker else {}),
        "licence": pattern.meta.licence,
        "tool_version": tool_version,
        "copies": (cutting.copies if cutting else None) or 1,
        "machine": cutting.machine if cutting else "",
        "sizes": [_size(size) for size in pattern.sizes],
        "pieces": [_piece(piece) for piece in pattern.pieces],
        "sheets": [_sheet(sheet, files, todo.get(sheet.name)) for sheet in sheets],
        **({"supplies": needed} if needed else {}),
        "files": [_file(path, files[path]) for path in sorted(files)],
        "checks": [_check(check) for check in checks],
    }
    return (json.dumps(content, ensure_ascii=False, indent=1) + "\n").encode()


def _number(value: float) -> float:
    return round(float(value), 4) + 0.0  # no minus before a zero


def _size(size: Size) -> dict[str, Any]:
    values = [_number(value) for value in size.values]
    unit = size.unit or "number"
    return {"name": size.name, unit: values[0] if len(values) == 1 else values}


def cut_length_mm(piece: Piece) -> float:
    """The outline, its holes, and the slits that take no paper away."""
    rings = (piece.outline.outer, *piece.outline.holes)
    slits = (opening.path for opening in piece.openings if opening.kind == "slit")
    return sum(path.length_mm for path in (*rings, *slits))


def score_length_mm(piece: Piece) -> float:
    return sum(score.path.length_mm for score in piece.scores)


def _piece(piece: Piece) -> dict[str, Any]:
    left, top, right, bottom = piece.bounds
    return {
        "name": piece.name,
        "stock": piece.stock.name,
        "quantity": piece.copies,
        "width_mm": _number(right - left),
        "height_mm": _number(bottom - top),
        "cut_length_mm": _number(cut_length_mm(piece)),
        "score_length_mm": _number(score_length_mm(piece)),
    }


def _placed(placed: Placed) -> dict[str, Any]:
    return {
        "piece": placed.piece,
        "copy": placed.copy,
        "x_mm": _number(placed.x_mm),
        "y_mm": _number(placed.y_mm),
        "turn_deg": _number(placed.turn_deg),
    }


def _sheet(sheet: Sheet, files: Mapping[str, BundleFile], work: Work | None) -> dict[str, Any]:
    own = [path for path in sorted(files) if files[path].sheet == sheet.name]
    return {
        "name": sheet.name,
        "stock": sheet.stock.name,
        "width_mm": _number(sheet.size.width_mm),
        "height_mm": _number(sheet.size.height_mm),
        "placed": [_placed(placed) for placed in sheet.placed],
        "files": [{"path": path, "format": file_format(path)} for path in own],
        **_work(work),
    }


def _work(work: Work | None) -> dict[str, Any]:
    if work is None:
        return {}
    lengths = {
        "cut_length_mm": _number(work.cut_mm),
        "score_length_mm": _number(work.score_mm),
        "travel_mm": _number(work.travel_mm),
    }
    return lengths if work.time_s is None else {**lengths, "time_s": _number(work.time_s)}


def _file(path: str, file: BundleFile) -> dict[str, Any]:
    return {
        "path": path,
        "role": file.role,
        **({"piece": file.piece} if file.piece else {}),
        "media_type": media_type(path),
        "bytes": len(file.data),
        "sha256": hashlib.sha256(file.data).hexdigest(),
        **({"score_as": file.score_as} if file.score_as else {}),
        **({"units_per_inch": _number(file.units_per_inch)} if file.units_per_inch else {}),
    }


def _check(check: CheckResult) -> dict[str, Any]:
    return {
        "code": check.code,
        "subject": check.subject,
        "result": check.result,
        "numbers": {name: _number(value) for name, value in check.numbers},
    }
