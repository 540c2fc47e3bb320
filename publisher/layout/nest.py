"""Irregular pieces on fewer sheets than their boxes need.

For each count of sheets from the bound on: holes are filled, what remains is spread evenly,
each sheet is asked for whether it takes its share, and what sticks out goes where there is
still room. The first count at which everything lies is taken. Everything is bounded by
events and rounds, nothing by the clock, and nothing is random but by seed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import chain, product

from shapely.geometry import Polygon, box

from publisher.layout.apart import faults
from publisher.layout.bound import load
from publisher.layout.clusters import Cluster, as_kind, clusters, spread_out
from publisher.layout.fit import Answer, Question, ask
from publisher.layout.free import Free
from publisher.layout.kinds import Kind, Put, Room, Sheets, extent, turned
from publisher.layout.luck import Luck
from publisher.layout.pack import RULES, Spot, pack
from publisher.layout.room import Box, units

FULLEST = 0.90
"""Sheets fuller than this, gaps counted, were never found to be filled in useful time."""
ATTEMPTS = 3
EFFORT = 30_000
"""Events times pieces, after which no further sheet is asked for: some 20 s on two cores."""
ROUNDS = 4
OUT_OF_REACH = 0.10
"""Where a sheet lacks more than this share of itself no other attempt is made."""


def nest(
    kinds: Sequence[Kind],
    room: Room,
    at_least: int,
    fewer_than: int,
    rough: Sequence[Kind] = (),
    accepted: Callable[[Sheets], bool] = lambda _: True,
) -> Sheets | None:
    """Every copy of every kind on ``at_least`` or more sheets, but ``fewer_than``, or None.

    ``rough`` are the same kinds with fewer points, none of them inside the shape: holes and
    gaps between pieces are looked through with these. A layout counts only when ``accepted``.
    """
    free = Free(tuple(rough) or tuple(kinds), room.gap_mm)
    made = clusters(kinds, free)
    names = sorted(set(made), key=made.index)
    items = [as_kind(name, kinds, made.count(name)) for name in names]
    filled = load(items, room.width_mm, room.height_mm, room.gap_mm)
    for count in range(at_least, fewer_than):
        ways = [_in_boxes(items, room, count)]
        if filled / count <= FULLEST:
            ways.append(_search(items, names, room, count, free))
        for found in chain.from_iterable(ways):
            sheets = [_members(sheet, names) for sheet in found]
            if accepted(sheets):
                return sheets
    return None


def _members(sheet: Sequence[Put], names: Sequence[Cluster]) -> list[Put]:
    return [member for put in sheet for member in spread_out(names[put.kind], put)]


def _in_boxes(items: Sequence[Kind], room: Room, count: int) -> Iterator[Sheets]:
    """By bounding boxes, now that what lies in holes needs no room of its own."""
    numbers = [n for n, item in enumerate(items) for _ in range(item.copies)]
    boxes = []
    for number in numbers:
        item = items[number]
        x_min, y_min, x_max, y_max = extent(turned(item.outer, item.turns[0]))
        boxes.append(Box(x_max - x_min, y_max - y_min))
    quarters = all((i.turns[0] + 90.0) % 360.0 in i.turns for i in items)
    for turn, rule in product((True, False) if quarters else (False,), RULES):
        if not all(_goes_on(box, room, turn) for box in boxes):
            continue  # it goes on the sheet slanted, or by a quarter turn alone
        spots = pack(boxes, room.width_mm, room.height_mm, room.gap_mm, turn, rule)
        if 1 + max(spot.sheet for spot in spots) <= count:
            yield _from_spots(items, numbers, spots, count)
            return


def _goes_on(box: Box, room: Room, may_turn: bool) -> bool:
    wide, high = units(box.width_mm), units(box.height_mm)
    width, height = units(room.width_mm), units(room.height_mm)
    upright = wide <= width and high <= height
    return upright or (may_turn and high <= width and wide <= height)


def _from_spots(
    items: Sequence[Kind], numbers: Sequence[int], spots: Sequence[Spot], count: int
) -> Sheets:
    sheets: Sheets = [[] for _ in range(count)]
    for number, spot in zip(numbers, spots, strict=True):
        item = items[number]
        turn = (item.turns[0] + (90.0 if spot.turned else 0.0)) % 360.0
        x_min, y_min, _, _ = extent(turned(item.outer, turn))
        sheets[spot.sheet].append(Put(number, turn, spot.x_mm - x_min, spot.y_mm - y_min))
    return sheets


# ---------------------------------------------------------------- the search


def _search(
    items: Sequence[Kind], names: Sequence[Cluster], room: Room, count: int, free: Free
) -> Iterator[Sheets]:
    effort = 0
    for attempt in range(ATTEMPTS):
        shares = _spread(items, room, count, attempt)
        known: dict[tuple[int, ...], Answer] = {}
        for _ in range(ROUNDS):
            asked = [share for share in map(_same, shares) if share not in known]
            questions = [
                Question(
                    share,
                    room.width_mm,
                    room.height_mm,
                    room.gap_mm,
                    seed=attempt + 1,
                    upended=attempt % 2 == 1,
                )
                for share in dict.fromkeys(asked)
            ]
            if not questions:
                break
            for question, answer in zip(questions, ask(items, questions), strict=True):
                known[question.members] = answer
                effort += answer.events * len(question.members)
            answers = [known[_same(share)] for share in shares]
            sheets, out = _trimmed(items, shares, answers, room)
            if not out or _squeezed_in(items, names, sheets, out, room, free):
                yield sheets
                break
            lacking = sum(_grown(items[n], room) for n in out) / _area(room)
            if lacking > OUT_OF_REACH * count or effort > EFFORT:
                return
            if count == 1:
                break
            _move_on(items, shares, answers, room)


def _same(share: Sequence[int]) -> tuple[int, ...]:
    return tuple(sorted(share))


def _area(room: Room) -> float:
    return (room.width_mm + room.gap_mm) * (room.height_mm + room.gap_mm)


def _grown(item: Kind, room: Room) -> float:
    """The area with half the gap round it."""
    return float(Polygon(item.outer).buffer(room.gap_mm / 2.0, join_style="mitre").area)


def _spread(items: Sequence[Kind], room: Room, count: int, attempt: int) -> list[list[int]]:
    """Numbers of items for each sheet, largest first to the emptiest sheet.

    Later attempts weigh them otherwise: by the hull, then with some luck, by seed.
    """
    luck = Luck(attempt)
    weighed = []
    for number, item in enumerate(items):
        weight = _grown(item, room)
        if attempt == 1:
            weight = (weight + Polygon(item.outer).convex_hull.area) / 2.0
        for _ in range(item.copies):
            by_chance = luck.between(0.8, 1.25) if attempt > 1 else 1.0
            weighed.append((weight * by_chance, weight, number))
    weighed.sort(key=lambda w: (-w[0], w[2]))
    shares: list[list[int]] = [[] for _ in range(count)]
    loads = [0.0] * count
    for _, weight, number in weighed:
        emptiest = min(range(count), key=lambda n: (loads[n], n))
        shares[emptiest].append(number)
        loads[emptiest] += weight
    return shares


def _trimmed(
    items: Sequence[Kind],
    shares: Sequence[Sequence[int]],
    answers: Sequence[Answer],
    room: Room,
) -> tuple[Sheets, list[int]]:
    """What lies well on each sheet, and what does not lie yet."""
    sheets: Sheets = []
    out: list[int] = []
    for share, answer in zip(shares, answers, strict=True):
        kept = list(answer.puts)
        wrong = True
        while kept and wrong:
            found = faults(
                [(_ring(items, put), ()) for put in kept],
                room.width_mm,
                room.height_mm,
                room.gap_mm,
            )
            wrong = bool(found)
            for number in sorted({fault.second for fault in found}, reverse=True):
                del kept[number]
        sheets.append(kept)
        missing = list(share)
        for put in kept:
            missing.remove(put.kind)
        out += missing
    return sheets, out


def _ring(items: Sequence[Kind], put: Put) -> tuple[tuple[float, float], ...]:
    return tuple(
        (x + put.x_mm, y + put.y_mm) for x, y in turned(items[put.kind].outer, put.turn_deg)
    )


def _squeezed_in(
    items: Sequence[Kind],
    names: Sequence[Cluster],
    sheets: Sheets,
    out: Sequence[int],
    room: Room,
    free: Free,
) -> bool:
    """Lay what is left into free places, the largest first; whether all of it went."""
    window = box(0.0, 0.0, room.width_mm, room.height_mm)
    trial = [list(sheet) for sheet in sheets]
    laid = [[m for put in sheet for m in spread_out(names[put.kind], put)] for sheet in sheets]
    for number in sorted(out, key=lambda n: (-_grown(items[n], room), n)):
        for sheet, members in zip(trial, laid, strict=True):
            found = free.place(names[number].base, window, members, items[number].turns)
            if found is not None:
                put = Put(number, found.turn_deg, found.x_mm, found.y_mm)
                sheet.append(put)
                members += spread_out(names[number], put)
                break
        else:
            return False
    sheets[:] = trial
    return True


def _move_on(
    items: Sequence[Kind], shares: list[list[int]], answers: Sequence[Answer], room: Room
) -> None:
    """From each sheet that is too full, the least that helps goes to the emptiest other."""
    loads = [sum(_grown(items[i], room) for i in share) for share in shares]
    for n, answer in enumerate(answers):
        if answer.fits or not shares[n]:
            continue
        over = answer.over_mm * max(room.width_mm, room.height_mm) if answer.puts else math.inf
        helps = [i for i in shares[n] if _grown(items[i], room) >= over]
        moved = (
            min(helps, key=lambda i: (_grown(items[i], room), i))
            if helps
            else max(shares[n], key=lambda i: (_grown(items[i], room), -i))
        )
        to = min((m for m in range(len(shares)) if m != n), key=lambda m: (loads[m], m))
        shares[n].remove(moved)
        shares[to].append(moved)
        loads[n] -= _grown(items[moved], room)
        loads[to] += _grown(items[moved], room)
