"""A mapping that knows its keys from the start and imports a value when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib import import_module
from typing import TypeVar, cast

T = TypeVar("T")


class OnDemand(Mapping[str, T]):
    """Values of modules of one package, by key, in the order of ``places``.

    A place is a module's name in the package and the name of the value in it:
    ``"window:KIND"``. A place that does not exist is found when it is asked for, so that a
    test should ask for all.
    """

    def __init__(self, package: str, places: Mapping[str, str]) -> None:
        self._package = package
        self._places = dict(places)
        self._loaded: dict[str, T] = {}

    def __getitem__(self, key: str) -> T:
        if key not in self._loaded:
            module, _, name = self._places[key].partition(":")
            self._loaded[key] = cast(T, getattr(import_module(f"{self._package}.{module}"), name))
        return self._loaded[key]

    def __contains__(self, key: object) -> bool:
        return key in self._places

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)
