"""How well sheets are filled and how far the tool travels, as JSON.

Twenty-four made-up sets, the patterns of content/, published instances where they lie beside
this project, and travel beside OR-tools where that is installed (`pip install ortools`; the
project itself does not need it). Each part also tells its time, which decides nothing.
"""

from __future__ import annotations

import json
import math
import os
import random
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path as FilePath

from publisher.cutfiles import sheet_lines, sheet_work
from publisher.geometry.measure import area, path_bounds
from publisher.geometry.path import Region
from publisher.layout import CopyPaths, cut_order, lay_out, travel_mm
from publisher.layout.bound import fewest, load
from publisher.layout.fit import WORKER, Question, ask
from publisher.layout.kinds import Kind, Put, Room, Sheets, kind_of
from publisher.layout.nested import Demand, fewer_sheets, in_place, sound
from publisher.layout.pack import Spot, pack
from publisher.layout.room import Box
from publisher.layout.tour import tour
from publisher.layout.walk import Stop
from publisher.pipeline import check_pattern
from publisher.trade import FILES, SheetSize, read_trade
from publisher.workshop import open_workshop

ROOT = FilePath(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.bench.sets import GAP_MM, Case, cases  # noqa: E402
from tests.outside import test_nesting as published  # noqa: E402

QUARTERS = (0.0, 90.0, 180.0, 270.0)
TRADE, _ = read_trade({n: (ROOT / "shared" / n).read_text(encoding="utf-8") for n in FILES})
EVENTS = 400


def room_of(size: SheetSize) -> Room:
    return Room(size.width_mm - 2 * size.margin_mm, size.height_mm - 2 * size.margin_mm, GAP_MM)


# ---------------------------------------------------------------- made-up sets


def in_boxes(regions: Sequence[Region], room: Room) -> tuple[list[Spot], list[bool]]:
    """rectpack alone, each box lying so that it fits."""
    boxes, across = [], []
    for region in regions:
        x_min, y_min, x_max, y_max = path_bounds(region.outer)
        box = Box(x_max - x_min, y_max - y_min)
        turn = box.width_mm > room.width_mm or box.height_mm > room.height_mm
        boxes.append(Box(box.height_mm, box.width_mm) if turn else box)
        across.append(turn)
    return pack(boxes, room.width_mm, room.height_mm, room.gap_mm, may_turn=True), across


def boxed(regions: Sequence[Region], room: Room) -> Sheets:
    spots, across = in_boxes(regions, room)
    sheets: Sheets = [[] for _ in range(1 + max(spot.sheet for spot in spots))]
    for number, (region, spot, lying) in enumerate(zip(regions, spots, across, strict=True)):
        turn = 90.0 if lying != spot.turned else 0.0
        box = path_bounds(in_place(region.outer, Put(number, turn, 0.0, 0.0)))
        sheets[spot.sheet].append(Put(number, turn, spot.x_mm - box[0], spot.y_mm - box[1]))
    return sheets


def one_spread(kinds: Sequence[Kind], room: Room, at_least: int, fewer_than: int) -> int:
    """Sheets by the plain recipe: spread by area, each sheet asked once, holes not used."""
    plain = [Kind(kind.outer, (), kind.turns) for kind in kinds]
    size = (room.width_mm, room.height_mm, room.gap_mm)
    for count in range(at_least, fewer_than):
        if load(plain, *size) / count > 0.88:
            continue
        shares: list[list[int]] = [[] for _ in range(count)]
        full = [0.0] * count
        for number in sorted(range(len(plain)), key=lambda n: -plain[n].area):
            emptiest = full.index(min(full))
            shares[emptiest].append(number)
            full[emptiest] += plain[number].area
        questions = [Question(tuple(share), *size, patience=1) for share in shares]
        if all(answer.fits for answer in ask(plain, questions)):
            return count
    return fewer_than


def travel_of(regions: Sequence[Region], sheets: Sheets) -> float:
    total = 0.0
    for sheet in sheets:
        laid = [in_place(regions[put.kind], put) for put in sheet]
        total += travel_mm(cut_order([CopyPaths(r.outer, r.holes) for r in laid]))
    return total


def of_case(case: Case) -> dict[str, object]:
    regions = case.regions()
    size = TRADE.sheets[case.sheet]
    room = room_of(size)
    started = time.perf_counter()
    kinds = [kind_of(region, QUARTERS) for region in regions]
    demands = [Demand(region, QUARTERS) for region in regions]
    bound = fewest(kinds, room.width_mm, room.height_mm, room.gap_mm)
    boxes = boxed(regions, room)
    sheets = fewer_sheets(demands, room, len(boxes)) if len(boxes) > bound else None
    taken = time.perf_counter() - started
    sheets = sheets or boxes
    assert sound(demands, sheets, room)
    plain = one_spread(kinds, room, bound, len(boxes)) if len(boxes) > bound else len(boxes)
    paper = sum(area(region) for region in regions)
    return {
        "set": case.name,
        "bound": bound,
        "load": round(load(kinds, room.width_mm, room.height_mm, room.gap_mm), 3),
        "boxes_alone": len(boxes),
        "one_spread": plain,
        "sheets": len(sheets),
        "density": round(paper / (len(sheets) * room.width_mm * room.height_mm), 3),
        "travel_mm": round(travel_of(regions, sheets)),
        "seconds": round(taken, 2),
    }


def of_sets() -> dict[str, object]:
    rows = [of_case(case) for case in cases()]
    names = ("bound", "boxes_alone", "one_spread", "sheets", "seconds", "travel_mm")
    over = max(int(str(r["sheets"])) - int(str(r["bound"])) for r in rows)
    sums = {name: round(sum(float(str(r[name])) for r in rows), 2) for name in names}
    return {"sets": rows, "sums": sums, "most_over_the_bound": over}


# ---------------------------------------------------------------- content


def of_content() -> list[dict[str, object]]:
    workshop, _ = open_workshop(ROOT)
    rows = []
    for folder in sorted((ROOT / "content").iterdir()):
        pattern = check_pattern(workshop, folder.name).pattern
        if pattern is None:
            continue
        started = time.perf_counter()
        sheets, _ = lay_out(pattern, workshop.trade)
        taken = time.perf_counter() - started
        bound = 0
        paper = sum(area(p.outline) * p.copies for p in pattern.pieces)
        free = sum(
            room.width_mm * room.height_mm for room in map(room_of, (s.size for s in sheets))
        )
        travel = sum(sheet_work(sheet_lines(pattern, sheet)).travel_mm for sheet in sheets)
        for name, size in {s.stock.name: s.size for s in sheets}.items():
            room = room_of(size)
            pieces = [p for p in pattern.pieces if p.stock.name == name]
            kinds = [kind_of(p.outline, QUARTERS, p.copies) for p in pieces]
            bound += fewest(kinds, room.width_mm, room.height_mm, room.gap_mm)
        rows.append(
            {
                "pattern": folder.name,
                "sheets": len(sheets),
                "bound": bound,
                "density": round(paper / free, 3),
                "travel_mm": round(travel),
                "seconds": round(taken, 4),
            }
        )
    return rows


# ---------------------------------------------------------------- travel


def stops_of(count: int, seed: int) -> list[Stop]:
    """Boxes with four corners to begin at, and lines with two ends."""
    luck = random.Random(seed)
    side = 39.0 * math.sqrt(count)
    stops = []
    for _ in range(count):
        x, y = luck.uniform(0, side), luck.uniform(0, side)
        w, h = luck.uniform(5, 40), luck.uniform(5, 40)
        if luck.random() < 0.6:
            corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
            stops.append(Stop(tuple((p, p) for p in corners)))
        else:
            a, b = (x, y), (x + w, y + h * luck.choice((0, 1, -1)))
            stops.append(Stop(((a, b), (b, a))))
    return stops


def length(stops: Sequence[Stop], order: Sequence[tuple[int, int]]) -> float:
    here, total = (0.0, 0.0), 0.0
    for stop, way in order:
        enter, leave = stops[stop].ways[way]
        total += math.dist(here, enter)
        here = leave
    return total


def lower_bound(stops: Sequence[Stop]) -> float:
    """No way through all stops is shorter: it spans them and the start, and between two stops
    it goes at least from the nearest way out of either to the nearest way into the other. So
    the least tree that spans them (Prim 1957) is no longer."""
    ends = [((0.0, 0.0),), *(tuple(p for way in stop.ways for p in way) for stop in stops)]

    def apart(a: int, b: int) -> float:
        return min(math.dist(p, q) for p in ends[a] for q in ends[b])

    waiting = {number: apart(0, number) for number in range(1, len(ends))}
    total = 0.0
    while waiting:
        nearest = min(waiting, key=lambda n: (waiting[n], n))
        total += waiting.pop(nearest)
        for other, far in waiting.items():
            waiting[other] = min(far, apart(nearest, other))
    return total


def by_routing(stops: Sequence[Stop], seconds: int) -> float | None:
    """What OR-tools finds on the same paths; None where it is not installed."""
    try:
        from ortools.constraint_solver import pywrapcp, routing_enums_pb2
    except ImportError:
        return None
    nodes = [((0.0, 0.0), (0.0, 0.0)), *(way for stop in stops for way in stop.ways)]
    manager = pywrapcp.RoutingIndexManager(len(nodes), 1, 0)
    model = pywrapcp.RoutingModel(manager)
    # In thousandths; the way back to the start costs nothing.
    matrix = [
        [0 if j == 0 else round(1000 * math.dist(a[1], b[0])) for j, b in enumerate(nodes)]
        for a in nodes
    ]
    model.SetArcCostEvaluatorOfAllVehicles(model.RegisterTransitMatrix(matrix))
    first = 1
    for stop in stops:
        ways = [manager.NodeToIndex(first + n) for n in range(len(stop.ways))]
        model.AddDisjunction(ways, 10**9, 1)
        first += len(stop.ways)
    how = pywrapcp.DefaultRoutingSearchParameters()
    how.first_solution_strategy = routing_enums_pb2.FirstSolutionStrategy.PATH_CHEAPEST_ARC
    search = routing_enums_pb2.LocalSearchMetaheuristic
    how.local_search_metaheuristic = search.GUIDED_LOCAL_SEARCH
    how.time_limit.seconds = seconds
    return float(model.SolveWithParameters(how).ObjectiveValue()) / 1000.0


def of_travel() -> list[dict[str, object]]:
    rows = []
    for count, seeds in ((60, (5, 6, 7, 8)), (600, (5, 6))):
        for seed in seeds:
            stops = stops_of(count, seed)
            started = time.perf_counter()
            ours = length(stops, tour(stops, (0.0, 0.0)))
            taken = time.perf_counter() - started
            theirs = by_routing(stops, 20)
            rows.append(
                {
                    "paths": count,
                    "seed": seed,
                    "travel_mm": round(ours),
                    "lower_bound_mm": round(lower_bound(stops)),
                    "seconds": round(taken, 2),
                    "or_tools_20_s_mm": round(theirs) if theirs else "OR-tools is not installed",
                    "ratio": round(ours / theirs, 3) if theirs else None,
                }
            )
    return rows


# ---------------------------------------------------------------- published instances


def of_instances() -> list[dict[str, object]] | str:
    """Density after so many events, by way of this project and of the library alone."""
    if not published.FOLDER.is_dir():
        return "the published instances are not beside this project"
    rows = []
    for name, record in sorted({**published.PUBLISHED, "shapes0": 70.0}.items()):
        kinds, height = published.instance(name)
        scale = 200.0 / height
        large = [
            Kind(tuple((x * scale, y * scale) for x, y in k.outer), (), k.turns, k.copies)
            for k in kinds
        ]
        paper = sum(kind.area * kind.copies for kind in large)
        members = tuple(n for n, kind in enumerate(large) for _ in range(kind.copies))
        # The least width there can be: never reached, so that events decide.
        width = paper / 200.0
        started = time.perf_counter()
        (answer,) = ask(large, [Question(members, width, 200.0, 0.0, events=EVENTS)])
        taken = time.perf_counter() - started
        alone = bare(large, answer.events)
        rows.append(
            {
                "instance": name,
                "events": answer.events,
                "density": round(100.0 * paper / 200.0 / (width + answer.over_mm), 2),
                "library_alone": round(100.0 * paper / 200.0 / alone, 2),
                "record": record,
                "seconds": round(taken, 2),
            }
        )
    return rows


def bare(kinds: Sequence[Kind], events: int) -> float:
    """The strip's width by the library alone after so many events."""
    asked = {
        "items": [(kind.outer, kind.copies, list(kind.turns)) for kind in kinds],
        "strip": 200.0,
        "reach": 0.0,
        "close": math.inf,
        "apart": None,
        "seed": 1,
        "patience": math.inf,
        "events": events,
    }
    command = (sys.executable, "-P", str(WORKER))
    done = subprocess.run(command, input=json.dumps(asked).encode(), stdout=-1, check=True)
    return float(json.loads(done.stdout)["width"])


PARTS = {
    "content": of_content,
    "travel": of_travel,
    "instances": of_instances,
    "made_up": of_sets,
}

if __name__ == "__main__":
    wanted = os.environ.get("BENCH_PARTS", " ".join(PARTS)).split()
    sys.stdout.write(json.dumps({part: PARTS[part]() for part in wanted}, indent=2) + "\n")
