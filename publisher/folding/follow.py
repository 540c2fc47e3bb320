"""Folds that follow when others are turned: the angles for which every loop closes.

A linkage can often close in more than one way (a pop-up step stands out or hangs back). Which
one is taken is told by ``senses``: +1 for a fold that shall go the way it is scored, -1 for
one that shall go the other way, 0 where it does not matter.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from msgspec import Struct

from publisher.folding.linkage import Angles, Key, Linkage, closing_gap
from publisher.folding.newton import CLOSED_MM, FLAT_DEG, closed, within_half_turn

if TYPE_CHECKING:
    from publisher.folding.rounds import Rounds

_STRIDE_DEG = 18.0
_AGAINST_DEG = 1e-4
_PART = 0.25
_NEARLY_FLAT_DEG = 5.0
_SHARES = (1.0, 0.6, 0.3, 1.4)


class Followed(Struct, frozen=True):
    """``angles`` of all folds after the driven ones were turned. ``gap_mm`` is how far the
    loops then fail to close. ``stuck`` are the folds that cannot all hold, and ``against``
    those that had to go another way than wanted, or to open again."""

    angles: Mapping[Key, float]
    gap_mm: float
    stuck: tuple[Key, ...] = ()
    against: tuple[Key, ...] = ()

    @property
    def closes(self) -> bool:
        return not self.stuck


def follow(
    whole: Linkage,
    now: Angles,
    driven: Angles,
    senses: Mapping[Key, int],
    held: Sequence[Key] = (),
    before: Angles | None = None,
) -> Followed:
    """Turn the driven folds to their angles, and let the folds follow that loops join to them.

    ``held`` folds keep the angle that they have. Loops that no driven fold has a part in stay
    as they are. ``before`` is how the folds stood as far before ``now`` as they are to go: each
    is guessed to go on so.
    """
    ready = _ready(whole, tuple(driven))
    work = ready.work
    keys = work.folds()
    free = [k for k in keys if k not in driven and k not in held]
    now = {**dict.fromkeys((*keys, *driven), 0.0), **now}
    goal = {**now, **driven}
    gap = closing_gap(work.loops, goal)
    if gap < CLOSED_MM and _as_wanted(goal, free, senses):
        return Followed(goal, gap)
    best: Followed | None = None
    rounds = ready.rounds
    # Who folds on does not mean to open what is folded already.
    onwards = all(abs(a) >= abs(now[k]) for k, a in driven.items())
    # A way that leads here from paper that is not flat leaves no choice, to open it or not.
    led = not all(_lies_flat(now[k]) for k in (*free, *driven))
    for start in _starts(rounds, now, driven, free, senses, before):
        angles, gap = _laid_flat(rounds, now, start, driven, free) if led else (start, math.inf)
        if gap >= CLOSED_MM:
            angles, gap = closed(rounds, start, free)
            angles, gap = _tidied(rounds, angles, free, gap)
        wrong = tuple(
            k
            for k in free
            if angles[k] * senses.get(k, 0) < -_AGAINST_DEG
            or (onwards and not led and abs(angles[k]) < FLAT_DEG < abs(now[k]))
        )
        led = False
        found = Followed(angles, gap, (), wrong)
        if gap < CLOSED_MM and not wrong:
            return found
        if best is None or _rank(found) < _rank(best):
            best = found
    assert best is not None
    if best.gap_mm < CLOSED_MM:
        return best
    return Followed(best.angles, best.gap_mm, _stuck(work, best.angles, driven, held))


class _Ready:
    """A linkage with the folds that are driven, made ready; kept, for most motions ask for the
    same again stride after stride."""

    def __init__(self, whole: Linkage, driven: tuple[Key, ...]) -> None:
        self.whole, self.driven = whole, driven
        self.work = whole.joined_to(driven)

    @cached_property
    def rounds(self) -> Rounds:
        from publisher.folding.rounds import Rounds  # it loads numpy

        return Rounds(self.work.loops)


_KEPT: deque[_Ready] = deque(maxlen=8)


def _ready(whole: Linkage, driven: tuple[Key, ...]) -> _Ready:
    for known in _KEPT:
        if known.whole is whole and known.driven == driven:
            return known
    _KEPT.appendleft(_Ready(whole, driven))
    return _KEPT[0]


def _rank(found: Followed) -> tuple[bool, int, float]:
    return found.gap_mm >= CLOSED_MM, len(found.against), found.gap_mm


def _as_wanted(angles: Angles, free: Sequence[Key], senses: Mapping[Key, int]) -> bool:
    return not any(angles[k] * senses.get(k, 0) < -_AGAINST_DEG for k in free)


def _starts(
    rounds: Rounds,
    now: Angles,
    driven: Angles,
    free: Sequence[Key],
    senses: Mapping[Key, int],
    before: Angles | None,
) -> Iterator[dict[Key, float]]:
    """Where to begin: along the way from here in small strides, on which what need not move
    stays. Flat paper has every way open: so then from part of the way on, all folds a share of
    the driven ones, each in its sense; then all of the way so; at last all of them in step
    with the driven ones."""
    if _as_wanted(now, free, senses):
        yield from _along(rounds, now, driven, free, before)
    for share in _SHARES:
        part = {k: now[k] + _PART * (a - now[k]) for k, a in driven.items()}
        guess = {**now, **_guessed(free, senses, part, share), **part}
        yield from _along(rounds, closed(rounds, guess, free)[0], driven, free)
        yield {**now, **_guessed(free, senses, driven, share), **driven}
    yield {**now, **driven, **dict.fromkeys(free, 0.0)}
    # Where two folds come to lie on each other, any turn about both closes: all in step.
    ratios = [a / now[k] for k, a in driven.items() if abs(now[k]) > FLAT_DEG]
    if ratios:
        ratio = sum(ratios) / len(ratios)
        yield {**now, **{k: ratio * now[k] for k in free}, **driven}


def _guessed(
    free: Sequence[Key], senses: Mapping[Key, int], driven: Angles, share: float
) -> dict[Key, float]:
    sizes = [abs(a) for a in driven.values() if abs(a) > FLAT_DEG]
    turn = min(share * sum(sizes) / len(sizes), 179.0) if sizes else 0.0
    return {k: senses.get(k, 0) * turn for k in free}


def _along(
    rounds: Rounds,
    here: Angles,
    driven: Angles,
    free: Sequence[Key],
    before: Angles | None = None,
) -> Iterator[dict[Key, float]]:
    if rounds.gap_mm(rounds.angles(here)) > CLOSED_MM:
        return
    way = {k: a - here[k] for k, a in driven.items()}
    strides = math.ceil(max(abs(w) for w in way.values()) / _STRIDE_DEG)
    now = here
    last = before if before is not None and strides == 1 else here
    for i in range(1, strides + 1):
        # Guess that each fold goes on as it went in the last stride: where paper comes to lie
        # flat, a guess that is off would turn folds that need not move.
        guess = {k: 2.0 * now[k] - last[k] for k in free}
        if i == strides:
            yield {**now, **guess, **driven}
            return
        turned = {k: here[k] + w * i / strides for k, w in way.items()}
        last = now
        now, gap = closed(rounds, {**now, **guess, **turned}, free)
        if gap > CLOSED_MM:
            return


def _lies_flat(angle: float) -> bool:
    return abs(angle - 180.0 * round(angle / 180.0)) < FLAT_DEG


def _laid_flat(
    rounds: Rounds, now: Angles, start: Angles, driven: Angles, free: Sequence[Key]
) -> tuple[dict[Key, float], float]:
    """Where all that is driven comes to lie flat, what moves and nearly lies so lies flat too:
    papers that lie on each other turn freely about their line, and a solution that is looked
    for there could be any of them."""
    angles = dict(start)
    if all(_lies_flat(a) for a in driven.values()):
        for key in free:
            near = 180.0 * round(start[key] / 180.0)
            if start[key] != now[key] and abs(start[key] - near) < _NEARLY_FLAT_DEG:
                angles[key] = near
        return angles, rounds.gap_mm(rounds.angles(angles))
    return angles, math.inf


def _tidied(
    rounds: Rounds, angles: dict[Key, float], free: Sequence[Key], gap: float
) -> tuple[dict[Key, float], float]:
    """Angles within half a turn; quarter turns exact where the loops close as well so: a flat
    state is found only to the root of the gap."""
    tidy = angles | {k: within_half_turn(angles[k]) for k in free}
    exact = tidy | {k: _quarter(tidy[k]) for k in free}
    exact_gap = rounds.gap_mm(rounds.angles(exact))
    return (exact, exact_gap) if exact_gap < max(CLOSED_MM, gap) else (tidy, gap)


def _quarter(angle: float) -> float:
    near = 90.0 * round(angle / 90.0)
    return near if abs(angle - near) < FLAT_DEG else angle


def _stuck(work: Linkage, angles: Angles, driven: Angles, held: Sequence[Key]) -> tuple[Key, ...]:
    """The folds that were to hold, of the loops that do not close."""
    open_loops = [loop for loop in work.loops if closing_gap([loop], angles) >= CLOSED_MM]
    keys = {link.fold: None for loop in open_loops for link in loop if link.fold is not None}
    named = tuple(k for k in dict.fromkeys((*driven, *held)) if k in keys)
    return named or tuple(keys)
