"""A second pair of hands: work done in one more process while this one goes on.

What is handed over and what comes back is pickled; results are asked for where they are
needed, so that the order of everything written stays the same with and without. The process
is forked: work handed over must not use a library that keeps threads of its own, such as the
typesetter, or it would wait for threads that were left behind.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import ParamSpec, Protocol, TypeVar

P = ParamSpec("P")
T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)


class Later(Protocol[T_co]):
    """Gives the result, waiting for it if need be; raises what the work raised."""

    def __call__(self) -> T_co: ...


class Hands(Protocol):
    """Takes a function of a module and its arguments, begins, and says where the result is."""

    def __call__(self, work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Later[T]: ...


def _own(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Later[T]:
    return lambda: work(*args, **kwargs)


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
        return pool.submit(work, *args, **kwargs).result

    if ready is not None:
        pool.submit(ready)
    try:
        yield handed
    finally:
        pool.shutdown(cancel_futures=True)
