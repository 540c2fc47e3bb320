"""Words of a form as one call has them: every place knows the line that called for it."""

from __future__ import annotations

from typing import TypeVar

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Span

T = TypeVar("T")


def called_from(node: T, call: Span) -> T:
    """The same tree with every span in it called from ``call``."""
    if isinstance(node, Span):
        return replace(node, call=call)
    if isinstance(node, tuple):
        return tuple(called_from(n, call) for n in node)  # type: ignore[return-value]
    if isinstance(node, Struct):
        parts = (getattr(node, name) for name in node.__struct_fields__)
        return type(node)(*(called_from(p, call) for p in parts))
    return node
