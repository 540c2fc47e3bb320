"""Bodies in space: taken up, posed, moved, joined to others."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from msgspec.structs import replace

from publisher.assembly.kit import Kit, body_id, landed
from publisher.assembly.types import Body, Bond, FacetId, State
from publisher.geometry.space import Pose, Vector, add, dot, moved, scaled
from publisher.model.folding import outward

BESIDE_MM = 20.0
"""Free between a body that is taken up and what lies on the table; our own choice."""

_BACK_UP = Pose(((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0)))


def posed(kit: Kit, body: Body, pose: Pose, angles: Mapping[str, float]) -> Body:
    """The body with its first facet's frame at ``pose`` and its folds at ``angles``; a thing
    that is no paper keeps its own."""
    angles = kit.solid.get(body.piece, angles)
    facets = tuple((n, pose.after(p)) for n, p in kit.hang(body.piece, angles).items())
    kept = tuple((f.name, angles.get(f.name, 0.0)) for f in kit.pieces[body.piece].folds)
    return replace(body, pose=pose, angles=kept, facets=facets, placed=True)


def carried(body: Body, motion: Pose) -> Body:
    """The body after a rigid motion in the world."""
    facets = tuple((name, motion.after(pose)) for name, pose in body.facets)
    return replace(body, pose=motion.after(body.pose), facets=facets)


def first_state(kit: Kit) -> State:
    """Nothing placed: every copy of every piece waits."""
    bodies = []
    for piece in kit.pattern.pieces:
        for copy in range(1, piece.copies + 1):
            waiting = Body(body_id(piece.name, copy), piece.name, copy, Pose(), (), (), False)
            bodies.append(replace(posed(kit, waiting, Pose(), {}), placed=False))
    return State(tuple(bodies), (), ())


def with_bodies(state: State, changed: Iterable[Body]) -> State:
    """The state with these bodies in place of those of the same id."""
    new = {body.id: body for body in changed}
    return replace(state, bodies=tuple(new.get(b.id, b) for b in state.bodies))


def joined(state: State, ids: Iterable[str]) -> tuple[str, ...]:
    """These bodies and all that hold to them, in the order of the state."""
    found = set(ids)
    return tuple(b.id for b in state.bodies if b.id in _grown(found, state.bonds))


def _grown(found: set[str], bonds: Iterable[Bond]) -> set[str]:
    links = [{bond.first[0], bond.second[0]} for bond in bonds]
    grown = True
    while grown:
        grown = False
        for ends in links:
            if ends & found and not ends <= found:
                found |= ends
                grown = True
    return found


def bodies_of(state: State, ids: Iterable[str]) -> list[Body]:
    wanted = set(ids)
    return [b for b in state.bodies if b.id in wanted]


def facet_ids(bodies: Iterable[Body]) -> Iterator[tuple[FacetId, Pose]]:
    for body in bodies:
        for name, pose in body.facets:
            yield (body.id, name), pose


def corners(kit: Kit, bodies: Iterable[Body], calipers: bool = False) -> Iterator[Vector]:
    """Corners of the facets in the world; with ``calipers`` also those of the paper's other
    face, which lies outside the fold plane."""
    for body in bodies:
        piece = kit.pieces[body.piece]
        for name, pose in body.facets:
            sides = outward(piece, name) if calipers else ()
            thick = [scaled(pose.normal, side * piece.stock.caliper_mm) for side in sides]
            points = landed(pose, kit.shapes[body.piece, name].outer)
            yield from points
            for reach in thick:
                yield from (add(point, reach) for point in points)


def box(
    kit: Kit, bodies: Iterable[Body], calipers: bool = False, seen_from: Pose | None = None
) -> tuple[Vector, Vector]:
    """Least and greatest corner, in the world or in the frame of ``seen_from``."""
    if seen_from is not None:
        into = seen_from.inverse()
        bodies = [carried(body, into) for body in bodies]
    xs, ys, zs = zip(*corners(kit, bodies, calipers), strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def middle(ends: tuple[Vector, Vector]) -> Vector:
    return scaled(add(*ends), 0.5)


def extent(ends: tuple[Vector, Vector], along: Vector) -> float:
    """Length of a box along one of its own axes."""
    return abs(
        dot((ends[1][0] - ends[0][0], ends[1][1] - ends[0][1], ends[1][2] - ends[0][2]), along)
    )


def laid_flat(kit: Kit, state: State, body: Body) -> Body:
    """The waiting body flat on the table, good side up unless the piece says otherwise: in
    the middle of an empty table, else to the right of everything that lies there."""
    rotation = _BACK_UP if kit.pieces[body.piece].back_up else Pose()
    flat = posed(kit, body, rotation, {})
    least, greatest = box(kit, [flat])
    x, y, z = middle((least, greatest))
    placed = [b for b in state.bodies if b.placed]
    right = 0.0
    if placed:
        right = box(kit, placed)[1][0] + BESIDE_MM + (greatest[0] - least[0]) / 2.0
    return carried(flat, moved((right - x, -y, -z)))


def taken_up(kit: Kit, state: State, ids: Iterable[str]) -> State:
    """The state with every one of these bodies on the table."""
    for body in bodies_of(state, ids):
        if not body.placed:
            state = with_bodies(state, [laid_flat(kit, state, body)])
    return state
