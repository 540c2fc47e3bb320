"""The outside of what stands there, papers that lie on each other counted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.assembly.bodies import bodies_of
from publisher.assembly.cavity import reference_facet
from publisher.assembly.kit import Kit, kit_of, landed
from publisher.assembly.layering import Leaf, leaf
from publisher.assembly.rigid import hosts
from publisher.assembly.types import Body, State
from publisher.geometry.space import Vector, add, scaled
from publisher.model.folding import outward
from publisher.model.types import Pattern

Interval = tuple[float, float]


def finished_size(pattern: Pattern, state: State, bodies: Iterable[str] = ()) -> Vector:
    """Across, down and deep of the bodies (all that are placed, where none is named), in mm.

    The axes are those of the first body's resting facet. The paper lies outside its fold
    planes; facets of one body that lie on each other are stacked, from the one nearest to its
    resting facet.
    """
    kit = kit_of(pattern)
    named = set(bodies) or {b.id for b in state.bodies}
    chosen = [b for b in bodies_of(state, named) if b.placed]
    if not chosen:
        return (0.0, 0.0, 0.0)
    into = chosen[0].facet_pose(reference_facet(kit, chosen[0])).inverse()
    points = [into.apply(p) for p in _paper(kit, state, chosen)]
    xs, ys, zs = zip(*points, strict=True)
    return (max(xs) - min(xs), max(ys) - min(ys), max(zs) - min(zs))


def _paper(kit: Kit, state: State, bodies: Iterable[Body]) -> Iterable[Vector]:
    """Corners of both faces of every facet, as the papers really lie."""
    stacks = {b.id: stacked(kit, state, b) for b in state.bodies if b.placed}
    for body in bodies:
        lifted = _lifted(kit, state, body, stacks)
        for name, pose in body.facets:
            paper = leaf(kit, body, name, pose)
            for level in stacks[body.id][name]:
                reach = add(lifted, scaled(paper.up, level))
                yield from (add(point, reach) for point in landed(pose, paper.shape.outer))


def _lifted(
    kit: Kit, state: State, body: Body, stacks: Mapping[str, Mapping[str, Interval]]
) -> Vector:
    """How far the facet that a body is glued to is pushed off its own plane by what lies
    under it: the body goes with it."""
    for other in state.bodies:
        facet = hosts(state, other.id).get(body.id)
        if facet is None:
            continue
        paper = leaf(kit, other, facet, other.facet_pose(facet))
        pushed = stacks[other.id][facet][0] - _natural(kit, other, facet, paper)[0]
        return scaled(paper.up, pushed)
    return (0.0, 0.0, 0.0)


def _own_pairs(state: State, body: str) -> list[tuple[str, str]]:
    """(lower, upper) facets of one body."""
    return [(a[1], b[1]) for a, b, _ in state.above if a[0] == b[0] == body]


def _natural(kit: Kit, body: Body, facet: str, paper: Leaf) -> Interval:
    """Where a facet's paper lies off its plane along ``paper.up`` when nothing is under it."""
    caliper = kit.pieces[body.piece].stock.caliper_mm
    sides = [side * paper.faces_up * caliper for side in outward(kit.pieces[body.piece], facet)]
    return (min(0.0, *sides), max(0.0, *sides))


def stacked(kit: Kit, state: State, body: Body) -> dict[str, Interval]:
    """Where each facet's paper lies along its ``up``, from its plane, mm.

    In each stack the facet nearest to the resting one (a panel before a tab) keeps its plane;
    the others lie over or under it in their order.
    """
    caliper = kit.pieces[body.piece].stock.caliper_mm
    papers = {name: leaf(kit, body, name, pose) for name, pose in body.facets}
    levels = {name: _natural(kit, body, name, paper) for name, paper in papers.items()}
    over = _overs(state, body)
    under = {name: {n for n in papers if name in over.get(n, ())} for name in papers}
    rank = _ranks(kit, body)
    for host in sorted(papers, key=lambda name: rank[name]):
        above, below = over.get(host, set()), under[host]
        if not above | below or any(rank[n] < rank[host] for n in above | below):
            continue
        if levels[host][1] - levels[host][0] > caliper:  # folds of both kinds: its own front
            levels[host] = (0.0, caliper) if papers[host].faces_up > 0 else (-caliper, 0.0)
        for name in sorted(above, key=lambda n: (len(under[n]), n)):
            low = max(levels[n][1] for n in under[name] if n == host or n in above)
            levels[name] = (low, low + caliper)
        for name in sorted(below, key=lambda n: (len(over[n]), n)):
            high = min(levels[n][0] for n in over[name] if n == host or n in below)
            levels[name] = (high - caliper, high)
    return levels


def _overs(state: State, body: Body) -> dict[str, set[str]]:
    """For each facet all that lie over it, also by way of others."""
    graph: dict[str, set[str]] = {}
    for lower, upper in _own_pairs(state, body.id):
        graph.setdefault(lower, set()).add(upper)
    found: dict[str, set[str]] = {}
    for name in graph:
        waiting, seen = [name], set[str]()
        while waiting:
            fresh = graph.get(waiting.pop(), set()) - seen
            seen |= fresh
            waiting += sorted(fresh)
        found[name] = seen
    return found


def _ranks(kit: Kit, body: Body) -> dict[str, tuple[bool, int, int]]:
    """Panels before tabs, then by the number of folds from the resting facet, then as
    declared."""
    piece = kit.pieces[body.piece]
    steps = {kit.resting[body.piece]: 0}
    waiting = [kit.resting[body.piece]]
    for here in waiting:
        for hinge in piece.hinges:
            if here in (hinge.parent, hinge.child):
                there = hinge.child if here == hinge.parent else hinge.parent
                if there not in steps:
                    steps[there] = steps[here] + 1
                    waiting.append(there)
    tabs = {p.name for p in piece.panels if p.kind == "tab"}
    facets = enumerate(piece.facets)
    return {f.name: (f.panel in tabs, steps.get(f.name, len(steps)), i) for i, f in facets}
