"""What a check says, whether it passed or not."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from publisher.diagnostics import Diagnostic


class CheckResult(Struct, frozen=True):
    """One check on one subject.

    ``numbers`` are the figures behind the verdict, unit in the name, the same keys whether it
    passed or failed. ``sentence`` is the verdict in a maker's words. ``finding`` is set when
    it did not pass. ``slack`` says how far from failing it is, each way on its own: (way, mm),
    below 0 where it fails that way; empty where the verdict is no matter of lengths.
    """

    code: str
    subject: str
    result: Literal["pass", "warning", "fail"]
    numbers: tuple[tuple[str, float], ...]
    sentence: str
    finding: Diagnostic | None = None
    slack: tuple[tuple[str, float], ...] = ()
