"""What stays rigid while folds turn: parts of a piece, and what is glued to them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec.structs import replace

from publisher.assembly.bodies import bodies_of, carried, joined, posed
from publisher.assembly.kit import Kit
from publisher.assembly.types import Body, State

_MUCH_LARGER = 1.25


def parts_apart(kit: Kit, piece: str, turning: Iterable[str]) -> list[list[str]]:
    """The stretches of facets that stay rigid while these folds turn, in facet order."""
    loose = set(turning)
    names = [f.name for f in kit.pieces[piece].facets]
    part = {name: i for i, name in enumerate(names)}
    for hinge in kit.pieces[piece].hinges:
        if hinge.fold in loose or part[hinge.parent] == part[hinge.child]:
            continue
        low, high = sorted((part[hinge.parent], part[hinge.child]))
        part = {name: low if p == high else p for name, p in part.items()}
    return [[n for n in names if part[n] == p] for p in sorted(set(part.values()))]


def staying(kit: Kit, piece: str, turning: Iterable[str], named: Iterable[str] = ()) -> list[str]:
    """The facets that stay: of more than two parts those with the resting facet. Of two the larger
    one; where they are much alike that in which no panel is ``named``, for what is named moves:
    a cover with its spine is a little larger than the back of its folder."""
    parts = parts_apart(kit, piece, turning)
    resting = next(p for p in parts if kit.resting[piece] in p)
    if len(parts) != 2:
        return resting

    asked = set(named)
    panels = {f.name: f.panel for f in kit.pieces[piece].facets}
    spoken = [any(panels[name] in asked for name in part) for part in parts]
    sizes = [round(sum(kit.areas[piece, name] for name in part), 3) for part in parts]
    if any(spoken) and not all(spoken) and max(sizes) < _MUCH_LARGER * min(sizes):
        return parts[spoken.index(False)]
    return max(zip(sizes, (part is resting for part in parts), parts, strict=True))[2]


def resting_among(kit: Kit, piece: str, facets: list[str]) -> str:
    return kit.resting[piece] if kit.resting[piece] in facets else facets[0]


def refolded(kit: Kit, body: Body, angles: Mapping[str, float], anchor: str) -> Body:
    """The body with its folds at ``angles`` and the facet ``anchor`` where it was."""
    root = kit.hang(body.piece, angles)[anchor]
    if root == kit.hang(body.piece, dict(body.angles))[anchor]:
        return posed(kit, body, body.pose, angles)
    return posed(kit, body, body.facet_pose(anchor).after(root.inverse()), angles)


def hosts(state: State, body: str) -> dict[str, str]:
    """Other bodies that hold to this one, each with the facet of it that carries them."""
    found: dict[str, str] = {}
    for bond in state.bonds:
        for here, there in ((bond.first, bond.second), (bond.second, bond.first)):
            if here[0] == body and there[0] != body:
                found.setdefault(there[0], here[1])
    grown = True
    while grown:
        grown = False
        for bond in state.bonds:
            for one, other in ((bond.first[0], bond.second[0]), (bond.second[0], bond.first[0])):
                if one in found and other not in found and other != body:
                    found[other] = found[one]
                    grown = True
    return found


def followers(kit: Kit, state: State, before: Body, after: Body) -> list[Body]:
    """The bodies that hold to a body, carried along by the facets that they hold to."""
    old, new = dict(before.facets), dict(after.facets)
    moved_on = []
    for other, facet in hosts(state, before.id).items():
        if old[facet] != new[facet]:
            motion = new[facet].after(old[facet].inverse())
            moved_on.append(carried(state.body(other), motion))
    return moved_on


def free_folds(kit: Kit, state: State, body: Body) -> set[str]:
    """Folds that can turn: those that no glued joint bridges stiffly. Folds that run in a ring
    with others can turn if those can, and papers with folds of their own may go along."""
    free = set()
    held = [
        (bond.first[1], bond.second[1])
        for bond in state.bonds
        if bond.first[0] == bond.second[0] == body.id
    ]
    carriers: dict[str, list[str]] = {}
    for bond in state.bonds:
        for here, there in ((bond.first, bond.second), (bond.second, bond.first)):
            if here[0] == body.id and there[0] != body.id:
                carriers.setdefault(joined(_without(state, body.id), [there[0]])[0], []).append(
                    here[1]
                )
    for other, facets in carriers.items():
        if not any(kit.pieces[b.piece].folds for b in _group(state, body.id, other)):
            held += [(facets[0], facet) for facet in facets[1:]]
    for one in kit.pieces[body.piece].folds:
        parts = parts_apart(kit, body.piece, [one.name])
        where = {name: i for i, part in enumerate(parts) for name in part}
        if len(parts) == 1 or all(where[a] == where[b] for a, b in held):
            free.add(one.name)
    return free


def _group(state: State, body: str, other: str) -> list[Body]:
    """The bodies that hold to ``other`` without ``body``."""
    return bodies_of(state, joined(_without(state, body), [other]))


def _without(state: State, body: str) -> State:
    bonds = tuple(b for b in state.bonds if body not in (b.first[0], b.second[0]))
    return replace(state, bonds=bonds)
