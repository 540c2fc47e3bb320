"""Folds that loops of paper join to each other: turn some, and the others follow.

Loops are in one piece (a pop-up step, a corner that folds in), or come from glue: two papers
that hold to each other on both sides of a fold.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from publisher.assembly.bodies import bodies_of, box, joined, posed, with_bodies
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.rigid import parts_apart
from publisher.assembly.types import Body, Bond, FacetId, FoldMotion, State
from publisher.diagnostics import Diagnostic
from publisher.folding.follow import Followed, follow
from publisher.folding.linkage import Angles, Key, Link, Linkage, linkage, links_of, weld
from publisher.geometry.space import Pose, lift
from publisher.model.types import Action

MOST_FOLDS = 40
_CHANGED_DEG = 1e-9
_BACK_SHARE = 0.5
_MOST_BACK_DEG = 30.0
_PARALLEL = 1.0 - 1e-9
_TABLE_MM = 0.01


class Joined(Struct, frozen=True):
    """Bodies that hold together, as a linkage whose root is the facet that stays."""

    state: State
    bodies: tuple[str, ...]
    whole: Linkage
    now: Mapping[Key, float]

    def pose(self, kit: Kit, angles: Angles) -> list[Body]:
        """The bodies with their folds at these angles, the root where it was."""
        world = self.state.body(self.whole.root[0]).facet_pose(self.whole.root[1])
        entries: dict[str, tuple[str, Pose]] = {}
        for (body, facet), pose in self.whole.poses(angles).items():
            entries.setdefault(body, (facet, world.after(pose)))
        found = []
        for moved in bodies_of(self.state, entries):
            own = dict(moved.angles) | {f: a for (b, f), a in angles.items() if b == moved.id}
            facet, pose = entries[moved.id]
            hung = kit.hang(moved.piece, own)[facet]
            found.append(posed(kit, moved, pose.after(hung.inverse()), own))
        return found


def holding(kit: Kit, state: State, body: str, root: str = "") -> Joined:
    """A body with all that holds to it; ``root`` is the facet of it that stays."""
    group = joined(state, [body])
    bodies = bodies_of(state, group)
    links = [link for b in bodies for link in links_of(kit.pieces[b.piece], b.id)]
    links += [_held(state, b) for b in state.bonds if b.by != "tuck" and b.first[0] in group]
    start = (body, root or kit.resting[state.body(body).piece])
    now = {(b.id, fold): angle for b in bodies for fold, angle in b.angles}
    return Joined(state, group, linkage(links, start), now)


def _held(state: State, bond: Bond) -> Link:
    rest = bond.rest
    if rest is None:
        first, second = (state.body(b).facet_pose(f) for b, f in (bond.first, bond.second))
        rest = first.inverse().after(second)
    x, y, z = rest.shift
    flat = abs(rest.normal[2]) > _PARALLEL
    return weld(bond.first, bond.second, rest, Pose(rest.rotation, (x, y, 0.0 if flat else z)))


def in_loops(kit: Kit, state: State, body: str, folds: Iterable[str]) -> Joined | None:
    """The body with what holds to it, where loops join these folds to others; else None."""
    if kit.looped[state.body(body).piece] or any(
        body in (b.first[0], b.second[0]) for b in state.bonds
    ):
        found = holding(kit, state, body)
        if found.whole.joined_to((body, fold) for fold in folds).loops:
            return found
    return None


def too_many(together: Joined, driven: Iterable[Key]) -> bool:
    """Whether more folds hang on the driven ones than can be followed in a moment: those between
    the strips of paper that is bent and glued round."""
    return len(together.whole.joined_to(driven).folds()) > MOST_FOLDS


def linked_turn(
    kit: Kit, together: Joined, action: Action, driven: Angles, senses: Mapping[Key, int]
) -> Change:
    """Turn the driven folds, with all that follows."""
    if too_many(together, driven):
        note = "Fold it before it is bent or glued round."
        said = not_yet(action, "Folding what so many bends hang on", note)
        return Change(together.state, together.state, findings=(said,))
    done = follow(together.whole, together.now, driven, senses)
    start = together.state
    findings = _findings(together, action, done, senses)
    if not done.closes:
        return Change(start, start, residual_mm=done.gap_mm, findings=findings)
    turned = {k: a for k, a in done.angles.items() if _changed(together.now, k, a)}
    root = _staying(kit, start, together, driven, turned)
    rooted = holding(kit, start, *root)
    bodies = rooted.pose(kit, done.angles)
    end = with_bodies(start, bodies)
    motions = []
    for body in bodies:
        own = {f: a for (b, f), a in turned.items() if b == body.id}
        if own:
            stays = _stretch(kit, start, body.id, own, root)
            steps = tuple((f, together.now[body.id, f], a) for f, a in own.items())
            names = (f.name for f in kit.pieces[body.piece].facets)
            moving = tuple(n for n in names if n not in stays)
            motions.append(FoldMotion(body.id, steps, moving))
    approach = _approach(kit, rooted, done.angles, driven, senses)
    return Change(start, end, tuple(motions), findings=findings, approach=approach)


def _changed(now: Angles, key: Key, angle: float) -> bool:
    return abs(angle - now.get(key, 0.0)) > _CHANGED_DEG


def _staying(
    kit: Kit, state: State, together: Joined, driven: Angles, turned: Angles
) -> tuple[str, str]:
    """The facet that stays: where one fold is named, the one that it hangs on; else that on
    which the first body lies on the table, or on which it rests."""
    moved = [k for k in driven if k in turned]
    if len(moved) == 1:
        body, fold = moved[0]
        hinges = kit.pieces[state.body(body).piece].hinges
        return body, next(h.parent for h in hinges if h.fold == fold)
    body = together.whole.root[0]
    return body, _lying(kit, state.body(body)) or together.whole.root[1]


def _lying(kit: Kit, body: Body) -> str:
    """The largest of the facets that lie flat at the bottom of a body; "" where none does."""
    if not body.facets:
        return ""
    low = box(kit, [body])[0][2]
    flat = [
        name
        for name, pose in body.facets
        if abs(pose.normal[2]) > _PARALLEL
        and abs(pose.apply(lift(kit.shapes[body.piece, name].outer[0]))[2] - low) < _TABLE_MM
    ]
    return max(flat, key=lambda name: kit.areas[body.piece, name], default="")


def _stretch(
    kit: Kit, state: State, body: str, own: Iterable[str], root: tuple[str, str]
) -> list[str]:
    """The facets of a body that stay with its part of the root."""
    piece = state.body(body).piece
    facet = root[1] if root[0] == body else kit.resting[piece]
    return next(p for p in parts_apart(kit, piece, own) if facet in p)


def _findings(
    together: Joined, action: Action, done: Followed, senses: Mapping[Key, int]
) -> tuple[Diagnostic, ...]:
    def named(keys: Iterable[Key]) -> str:
        return " and ".join(f"{f} of {together.state.body(b).piece}" for b, f in keys)

    if not done.closes and together.whole.joined_to(done.stuck).glued:
        parts = named(done.stuck)
        text = f"{parts} cannot turn: what is glued there would be torn apart"
        ways = ("fold before you glue",)
        numbers = (("gap_mm", done.gap_mm),)
        return (finding("glued-parts-move", action, text, None, numbers, ways_out=ways),)
    if not done.closes:
        text = f"these folds cannot all hold: {named(done.stuck)}"
        note = "The paper between them goes round in a ring that does not close."
        numbers = (("gap_mm", done.gap_mm),)
        return (finding("folds-do-not-close", action, text, None, numbers, (note,)),)
    wrong = [k for k in done.against if senses.get(k, 0) > 0]
    if wrong:
        text = f"{named(wrong)} would have to go the other way than it is scored"
        return (finding("folds-against-score", action, text),)
    return ()


def _approach(
    kit: Kit, rooted: Joined, final: Angles, driven: Angles, senses: Mapping[Key, int]
) -> Approach | None:
    """Where facets are shortly before: the driven folds taken back half their way, 30 degrees
    at most, and all else as it then closes."""
    back: dict[Key, float] = {}
    for key, angle in driven.items():
        way = (angle - rooted.now.get(key, 0.0)) * _BACK_SHARE
        back[key] = angle - max(-_MOST_BACK_DEG, min(_MOST_BACK_DEG, way))
    before = _shortly_before(rooted, final, back, senses)
    if before is None:
        return None
    poses = {(b.id, n): p for b in rooted.pose(kit, before.angles) for n, p in b.facets}
    others = {(b.id, n): p for b in rooted.state.bodies for n, p in b.facets}

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        if first not in poses and second not in poses:
            return None
        return poses.get(first, others[first]), poses.get(second, others[second])

    return approach


def _shortly_before(
    rooted: Joined, final: Angles, back: Angles, senses: Mapping[Key, int]
) -> Followed | None:
    """All driven folds on their way back at once. Folds that loops join do not turn alike, so
    where that does not close, each of them leads in turn and the others follow: from the end,
    or from where it began, for a flat state has several ways out of it."""
    leads = [back, *({key: angle} for key, angle in back.items() if len(back) > 1)]
    second_best: Followed | None = None
    for lead in leads:
        for start in (final, rooted.now):
            found = follow(rooted.whole, start, lead, senses)
            if found.closes and not found.against:
                return found
            if found.closes and second_best is None:
                second_best = found
    return second_best


def senses_of(
    kit: Kit, together: Joined, unpushed: Iterable[Key], driven: Angles
) -> dict[Key, int]:
    """Each fold goes the way it is scored. A mechanism that a later step pushes out hangs back
    till then: its folds that are scored against the driven one go with it."""
    senses = dict.fromkeys(together.now, 1)
    bends = {k: kit.pieces[together.state.body(k[0]).piece].fold(k[1]).bend for k in together.now}
    driving = {bends[k] for k in driven}
    for key in unpushed:
        senses[key] = 0 if bends[key] in driving else -1
    return senses
