"""Front matter as the model's own, its names held against what the trade knows."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.diagnostics import Diagnostic, Span
from publisher.model.findings import Refused, unknown
from publisher.model.types import Meta
from publisher.source import Document
from publisher.trade import OWN_KEYS, Trade


def read_meta(document: Document, trade: Trade) -> tuple[Meta | None, list[Diagnostic]]:
    """The front matter; None where it is missing or wrong, which the source has told."""
    front = document.front
    if front is None:
        return None, []
    findings: list[Diagnostic] = []
    for key, value, known in (
        ("licence", front.licence, trade.licences),
        ("sheet", front.sheet, trade.sheets),
        ("machine", front.cutting.machine, trade.machines),
    ):
        if value and known and value not in known:
            findings += _unknown(document, key, value, known)
    meta = Meta(
        title=front.title,
        summary=front.summary,
        version=front.version,
        date=front.date,
        edition=front.edition,
        first_unit=front.units,
        level=front.level,
        time=front.time,
        licence=front.licence,
        author=front.author,
        sheet=front.sheet,
        cutting=front.cutting,
        own=front.own,
        own_places=tuple(e.value_span for k in OWN_KEYS if (e := document.entry(k.name))),
    )
    return meta, findings


def _unknown(document: Document, key: str, value: str, known: Iterable[str]) -> list[Diagnostic]:
    entry = document.entry(key)
    if entry is None:
        return []
    choices: dict[str, Span | None] = dict.fromkeys(known)
    refused: Refused = unknown(
        f"among the {key}s", value, entry.value_span, choices, code=f"unknown-{key}"
    )
    return [refused.diagnostic] if refused.diagnostic is not None else []
