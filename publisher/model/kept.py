"""What follows from a piece alone is worked out once and kept with the piece."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from publisher.model.types import Piece

Found = TypeVar("Found")


def kept(find: Callable[[Piece], Found]) -> Callable[[Piece], Found]:
    """``find``, asked once for each piece. The answer lives as long as the piece does, is no
    part of its value (two pieces are alike without it) and must not be changed."""
    name = f"{find.__module__}.{find.__qualname__}"

    @wraps(find)
    def once(piece: Piece) -> Found:
        own = piece.__dict__
        if name not in own:
            own[name] = find(piece)
        answer: Found = own[name]
        return answer

    return once
