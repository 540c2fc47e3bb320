"""From where facets came to lie on each other: what the layer order reads from a motion."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from publisher.assembly.change import Approach
from publisher.assembly.kit import Kit
from publisher.assembly.rigid import hosts
from publisher.assembly.types import Body, FacetId, State
from publisher.geometry.space import Pose, Vector, moved
from publisher.model.hinges import way_up

_MOST_BACK_DEG = 45.0


def fold_approach(
    kit: Kit, end: State, before: Body, after: Body, anchor: str, order: Sequence[str]
) -> Approach:
    """Facets shortly before a folding ended.

    The folds of ``order`` count as turned one after the other. The last one that lies between
    two facets is taken back half its way, 45 degrees at most, and all else stays as it ends.
    Bodies that hold to the folded one go with their facets; others stand with ``anchor``.
    """
    tree = {joint.facet: joint for joint in kit.trees[after.piece]}
    carriers = hosts(end, after.id)
    old, final = dict(before.angles), dict(after.angles)
    turn = {name: i for i, name in enumerate(order)}
    hung: dict[str, dict[str, Pose]] = {}

    def host(facet: FacetId) -> str:
        return facet[1] if facet[0] == after.id else carriers.get(facet[0], anchor)

    def turned_between(a: str, b: str) -> list[str]:
        one, two = way_up(tree, a), way_up(tree, b)
        apart = set(one) ^ set(two)
        return [tree[f].fold for f in (*one, *two) if f in apart and tree[f].fold in turn]

    def taken_back(name: str) -> dict[str, Pose]:
        if name not in hung:
            half = (final[name] - old[name]) / 2.0
            back = max(-_MOST_BACK_DEG, min(_MOST_BACK_DEG, half))
            hung[name] = kit.hang(after.piece, {**final, name: final[name] - back})
        return hung[name]

    def pose(facet: FacetId, poses: Mapping[str, Pose]) -> Pose:
        if facet[0] == after.id:
            return poses[facet[1]]
        held = after.facet_pose(host(facet)).inverse()
        return poses[host(facet)].after(held).after(end.body(facet[0]).facet_pose(facet[1]))

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        folds = turned_between(host(first), host(second))
        if not folds:
            return None
        poses = taken_back(max(folds, key=lambda name: turn[name]))
        return pose(first, poses), pose(second, poses)

    return approach


def move_approach(end: State, moving: Sequence[str], from_offset: Vector) -> Approach:
    """Facets shortly before a straight move ended: the moving bodies that far away."""
    return parted_approach(end, moving, lambda _: from_offset)


def parted_approach(
    end: State, moving: Sequence[str], from_offset: Callable[[FacetId], Vector]
) -> Approach:
    """The same where it depends on the facet that does not move how far the others were away,
    and which way."""
    names = set(moving)

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        if (first[0] in names) == (second[0] in names):
            return None
        away = moved(from_offset(second if first[0] in names else first))
        poses = []
        for body, facet in (first, second):
            pose = end.body(body).facet_pose(facet)
            poses.append(away.after(pose) if body in names else pose)
        return poses[0], poses[1]

    return approach


def first_of(approaches: Sequence[Approach]) -> Approach | None:
    """What the first of them that tells has to say."""

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        for one in approaches:
            found = one(first, second)
            if found is not None:
                return found
        return None

    return approach if approaches else None
