"""Mechanisms that wait: folds that a later action of the story pushes out."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.assembly.kit import Kit
from publisher.assembly.targets import acted_on, folds_of, target_bodies
from publisher.assembly.types import State
from publisher.folding.linkage import Key
from publisher.model.types import Action, Target


def keys_of(kit: Kit, state: State, target: Target) -> list[Key]:
    """The folds that a target names, of each of its bodies."""
    return [(b, f.name) for b in target_bodies(state, target) for f in folds_of(kit, target)]


def unpushed(kit: Kit, state: State, action: Action) -> tuple[Key, ...]:
    """The folds that a later action pushes out."""
    return tuple(
        key
        for later in _after(kit, action)
        if later.verb == "push"
        for target in acted_on(later)
        for key in keys_of(kit, state, target)
    )


def _after(kit: Kit, action: Action) -> Iterable[Action]:
    actions = [a for step in kit.pattern.steps for a in step.actions]
    at = next((i for i, a in enumerate(actions) if a is action), len(actions))
    return actions[at + 1 :]
