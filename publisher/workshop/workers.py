"""A second pair of hands: work done in one more process while this one goes on.

What is handed over and what comes back is pickled; results are asked for where they are
needed, so that the order of everything written stays the same with and without. The process
is forked: work handed over must not use a library that keeps threads of its own, such as the
typesetter, or it would wait for threads that were left behind.
"""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Generic, ParamSpec, Protocol, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future

P = ParamSpec("P")
T = TypeVar("T")
R = TypeVar("R")
T_co = TypeVar("T_co", covariant=True)


class Later(Protocol[T_co]):
    """Gives the result, waiting for it if need be; raises what the work raised."""

    def __call__(self) -> T_co: ...

    def taken_back(self) -> bool:
        """True where the work was not begun: from then on it is never done, and there is no
        result to ask for."""
        ...


class Hands(Protocol):
    """Takes a function of a module and its arguments, begins, and says where the result is."""

    def __call__(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Later[T]: ...


class _Own(Generic[T]):
    """Work that is done when its result is asked for."""

    def __init__(self, work: Callable[[], T]) -> None:
        self._work = work

    def __call__(self) -> T:
        return self._work()

    def taken_back(self) -> bool:
        return True


class _Handed(Generic[T]):
    """Work that another process does."""

    def __init__(self, future: Future[T]) -> None:
        self._future = future

    def __call__(self) -> T:
        return self._future.result()

    def taken_back(self) -> bool:
        return self._future.cancel()


def _own(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Later[T]:
    return _Own(lambda: work(*args, **kwargs))


def shared(hands: Hands, work: Callable[[T], R], items: Sequence[T]) -> Later[list[R]]:
    """``work`` on each item, in their order. The other hands begin at the front; who asks for
    the results takes what was not begun, from the end, while they go on."""
    packed = pickle.dumps(work)
    begun: list[Later[R]] = [hands(_unpacked, packed, item) for item in items]

    def gathered() -> list[R]:
        mine: list[R] = []
        while len(mine) < len(begun) and begun[-1 - len(mine)].taken_back():
            mine.append(work(items[-1 - len(mine)]))
        theirs = [later() for later in begun[: len(begun) - len(mine)]]
        return [*theirs, *reversed(mine)]

    return _Own(gathered)


def _unpacked(packed: bytes, item: Any) -> Any:
    return _work(packed)(item)


@lru_cache(maxsize=2)
def _work(packed: bytes) -> Callable[[Any], Any]:
    """The same work on many items is handed over with each, and unpacked once."""
    work: Callable[[Any], Any] = pickle.loads(packed)  # from the other process
    return work


@contextmanager
def second_hands(ready: Callable[[], None] | None = None) -> Iterator[Hands]:
    """One process more where the system can fork and has a second core; else everything is
    done in this one, when it is asked for.

    The process begins with ``ready``, while this one goes on: it imports there what the work
    will need.
    """
    # Not every system that can fork can say on which cores it works, and where it cannot, its
    # own libraries may not be forked safely.
    if not hasattr(os, "sched_getaffinity") or len(os.sched_getaffinity(0)) < 2:
        yield _own
        return
    # These two take a moment to import, and only a build has use for them.
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    pool = ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("fork"))

    def handed(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Later[T]:
        return _Handed(pool.submit(work, *args, **kwargs))

    if ready is not None:
        pool.submit(ready)
    try:
        yield handed
    finally:
        pool.shutdown(cancel_futures=True)
