"""All actions of all steps, one frame each."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field
from msgspec.structs import replace

from publisher.assembly.bodies import first_state
from publisher.assembly.change import Approach, Change, Wet, not_yet
from publisher.assembly.contact import Reach, caught, reaches
from publisher.assembly.flatness import lying_flat
from publisher.assembly.handled import handled
from publisher.assembly.kit import Kit, kit_of
from publisher.assembly.layering import Papers, ordered
from publisher.assembly.missed import circling, missed
from publisher.assembly.passing import Passing
from publisher.assembly.series import Verb, in_turn
from publisher.assembly.targets import target_bodies
from publisher.assembly.types import Bond, Frame, State, Story
from publisher.assembly.verdicts import known_sides, sides_from_motion
from publisher.diagnostics import Diagnostic
from publisher.model.types import Action, Pattern
from publisher.registry import OnDemand

VERBS: Mapping[str, Verb] = OnDemand(
    "publisher.assembly",
    {
        "close": "fold:close_or_open",
        "colour": "marks:mark",
        "crease": "marks:mark",
        "curl": "curl:curl",
        "cut": "marks:mark",
        "dry": "marks:mark",
        "fold": "fold:fold",
        "glue": "glue:glue",
        "hold": "marks:mark",
        "lay": "slide:lay",
        "mount": "mount:mount",
        "open": "fold:close_or_open",
        "press": "marks:mark",
        "pull": "pull:pull",
        "push": "push:push",
        "score": "marks:mark",
        "slide": "slide:slide",
        "stamp": "marks:mark",
        "tape": "glue:glue",
        "tuck": "tuck:tuck",
        "turn": "turn:turn",
        "wrap": "wrap:wrap",
    },
)
ONE_AT_A_TIME = {"lay", "mount", "pull", "slide", "wrap"}
"""Verbs that speak of one thing; several things are taken one after another."""


def assemble(pattern: Pattern) -> tuple[Story, list[Diagnostic]]:
    """Carry out every action of every step, in order, and say what does not work."""
    made = handled(pattern)
    kit = kit_of(made.pattern, made.things)
    papers = Papers(kit)
    bench = _Bench(kit, papers, Passing(kit, papers), first_state(kit))
    for step in pattern.steps:
        for action in step.actions:
            bench.act(step.number, action)
    bench.finish()
    body_pieces = {body.id: body.piece for body in bench.state.bodies}
    story = Story(tuple(bench.frames), bench.state, body_pieces)
    if made.pattern is not pattern:
        story = replace(story, handled=made.pattern, things=made.things, smooth=made.smooth)
    return story, bench.findings


class _Bench(Struct):
    """What grows while a story is told: the state, the frames, glue that still waits."""

    kit: Kit
    papers: Papers
    passing: Passing
    state: State
    frames: list[Frame] = field(default_factory=list)
    findings: list[Diagnostic] = field(default_factory=list)
    wet: list[tuple[int, Wet]] = field(default_factory=list)

    def act(self, step: int, action: Action) -> None:
        if action.verb in VERBS:
            verb = VERBS[action.verb]
            verb = in_turn(verb) if action.verb in ONE_AT_A_TIME else verb
            change = verb(self.kit, self.state, action)
        else:
            said = not_yet(action, f"‘{action.verb}’")
            change = Change(self.state, self.state, findings=(said,))
        self.findings += change.findings
        start = self._layered(self.state, change.start, None, action)
        end = self._layered(start, change.end, change.approach, action)
        if not change.findings:
            let_through = replace(end, bonds=(*end.bonds, *change.bonds))
            self.findings += self.passing.found(start, let_through, action)
        self.wet += [(len(self.frames), one) for one in change.wet]
        bonds, gap = self._dried(end, change.bonds)
        end = _named(replace(end, bonds=bonds), action)
        residual = max(change.residual_mm, gap)
        self.frames.append(Frame(step, action, start, change.motions, end, residual))
        self.state = end

    def _layered(
        self, before: State, after: State, approach: Approach | None, action: Action
    ) -> State:
        """The state after with its layer order, from that before and from the motion."""
        if after is before:
            return after
        papers = self.papers.leaves(after.bodies)
        contacts = self.papers.contacts(papers)
        known = known_sides(self.kit, before, after)
        above, unsaid = ordered(papers, contacts, known, sides_from_motion(after, approach))
        self.findings += [circling(self.kit, after, c, action) for c in unsaid]
        settled, more = lying_flat(self.kit, before, replace(after, above=above), action)
        self.findings += more
        return settled

    def _dried(self, end: State, made: tuple[Bond, ...]) -> tuple[tuple[Bond, ...], float]:
        """All bonds, with those that wet glue makes now; and the worst of their residuals."""
        bonds = list(end.bonds)
        bonds += [_joined(end, b) for b in made if not any(b.same(k) for k in bonds)]
        waiting: list[tuple[int, Wet]] = []
        worst = 0.0
        for frame, wet in self.wet:
            if wet.partners:
                best = next(iter(reaches(self.papers, end, wet)), None)
                found = [_bond(best, wet)] if best is not None and best.holds else []
                if found and best is not None:
                    worst = max(worst, best.residual_mm)
            else:
                found = caught(self.papers, end, wet)
            bonds += [_joined(end, b) for b in found if not any(b.same(k) for k in bonds)]
            if not found:
                waiting.append((frame, wet))
        self.wet = waiting
        return tuple(bonds), worst

    def finish(self) -> None:
        """Glue that never met anything is a finding, and the residual of its frame."""
        for index, wet in self.wet:
            best = next(iter(reaches(self.papers, self.state, wet)), None)
            frame = self.frames[index]
            self.findings.append(missed(self.kit, self.state, wet, best, frame.action))
            if best is not None:
                worst = max(frame.residual_mm, best.residual_mm)
                self.frames[index] = replace(frame, residual_mm=worst)


def _joined(state: State, bond: Bond) -> Bond:
    first, second = (state.body(b).facet_pose(f) for b, f in (bond.first, bond.second))
    return replace(bond, rest=first.inverse().after(second))


def _bond(reach: Reach, wet: Wet) -> Bond:
    return Bond(reach.first, reach.second, wet.by, wet.zone)


def _named(state: State, action: Action) -> State:
    """The state with what the action ``called``."""
    if not action.called:
        return state
    targets = (*action.subjects, *action.objects)
    wanted = {b for t in targets for b in target_bodies(state, t)}
    bodies = tuple(b.id for b in state.bodies if b.id in wanted)
    return replace(state, made=(*state.made, (action.called, bodies)))
