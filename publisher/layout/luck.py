"""Numbers that look like chance and are the same every time."""

from __future__ import annotations

_FULL = (1 << 64) - 1


class Luck:
    """Marsaglia's xorshift with Vigna's multiplier (xorshift64*), from a seed.

    Vigna 2016, "An experimental exploration of Marsaglia's xorshift generators, scrambled".
    """

    __slots__ = ("_state",)

    def __init__(self, seed: int) -> None:
        self._state = (seed * 0x9E3779B97F4A7C15 + 1) & _FULL or 1

    def below(self, count: int) -> int:
        """A whole number from 0 up to ``count``, not included."""
        x = self._state
        x ^= x >> 12
        x = (x ^ (x << 25)) & _FULL
        x ^= x >> 27
        self._state = x
        return ((x * 0x2545F4914F6CDD1D & _FULL) >> 11) * count >> 53

    def between(self, least: float, most: float) -> float:
        return least + (most - least) * self.below(1 << 30) / (1 << 30)
