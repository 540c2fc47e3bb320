"""What the words of a step or a claim speak of.

Takes references, gives Targets: whole pieces, their panels, folds, edges, openings and glue
zones, things made in an earlier step, sizes of three parts and objects of the trade.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from typing import Protocol

from msgspec import Struct, field
from msgspec.structs import replace

from publisher.diagnostics import Span
from publisher.language.ast import Expr, Offset, Place, Ref, Segment, Several
from publisher.model.bench import SMALLEST_MM
from publisher.model.draft import Draft
from publisher.model.findings import Refused, listed, refuse, unknown
from publisher.model.places.parts import find, things_of
from publisher.model.places.things import (
    AtEdge,
    AtForm,
    AtGlue,
    AtIsland,
    AtLine,
    AtOpening,
    AtPanel,
    Thing,
    Whole,
    kind_of,
)
from publisher.model.types import Face, Target
from publisher.units import both


class Known(Protocol):
    """All names that steps and claims may speak of."""

    def draft(self, name: str) -> Draft | None:
        """A piece's parts; ``Refused`` where the piece could not be built, None for no piece."""

    def pieces(self) -> Mapping[str, Span]: ...

    def object_size(self, name: str) -> tuple[float, float, float] | None:
        """A size of several parts or an object of the trade, depth 0 where it has none."""

    def other_names(self) -> Mapping[str, Span | None]:
        """Sizes and objects, for the nearest known name."""

    def lost_names(self) -> Set[str]:
        """What lines would have named that were refused, which has been told."""

    def numbers(self, expr: Expr) -> tuple[tuple[float, ...], str]:
        """Parts of a value and their unit."""

    def posts(self) -> Iterable[str]:
        """Kinds of post by name."""


class Words(Struct):
    """Reads references of one step (or one claim) after another.

    ``first`` is the piece that the step named first: bare part names are looked for there
    before anywhere else. ``made`` are results that earlier steps called by a name.
    """

    known: Known
    made: dict[str, Span] = field(default_factory=dict)
    first: str | None = None

    def targets(self, places: Iterable[Place], lines: bool = False) -> list[Target]:
        """``lines`` where a drawn line will do: a tab is glued to one."""
        found: list[Target] = []
        for place in _flat(places):
            found.extend(self.one(place, lines))
        return found

    def one(self, place: Place, lines: bool = False) -> list[Target]:
        found = self._meant(place)
        if not lines and any(t.line_mm is not None for t in found):
            raise refuse("wrong-place", "a step cannot act on a line", place.span)
        return found

    def _meant(self, place: Place) -> list[Target]:
        if isinstance(place, Offset) or not isinstance(place, Ref):
            raise refuse("wrong-place", "a piece or a part of one is wanted here", place.span)
        ref = place
        if ref.segments[0].kind == "face" and len(ref.segments) > 1:
            ref = Ref(ref.segments[1:], ref.states, ref.span)
        owner = ref.segments[-1]
        piece, copy = self._piece(owner)
        if piece is not None:
            self.first = self.first or piece
            draft = self.known.draft(piece)
            assert draft is not None
            inner = ref.segments[:-1]
            if not inner:
                return [Target("piece", piece, copy=copy, state=ref.states, span=ref.span)]
            things = find(draft, Ref(inner, (), ref.span))
            return self._targets(draft, things, copy, ref)
        if len(ref.segments) == 1 and owner.kind == "name":
            if owner.name in self.made:
                return [Target("made", owner.name, state=ref.states, span=ref.span)]
            size = self.known.object_size(owner.name)
            if size is not None and self._home(owner) is None:
                _can_be_handled(owner, size)
                return [Target("object", owner.name, state=ref.states, size_mm=size, span=ref.span)]
        home = self._home(owner)
        if home is None:
            raise self._unknown(owner)
        return self._targets(home, find(home, ref), 0, ref)

    def _piece(self, owner: Segment) -> tuple[str | None, int]:
        """The piece a name means, and which copy (``divider 2``; 0 for every copy)."""
        pieces = self.known.pieces()
        if owner.kind != "name":
            return None, 0
        if owner.name in pieces:
            return owner.name, 0
        stem, _, number = owner.name.rpartition(" ")
        if stem in pieces and number.isdigit():
            draft = self.known.draft(stem)
            assert draft is not None
            if not 1 <= int(number) <= draft.copies:
                raise refuse(
                    "unknown-copy",
                    f"there is no {owner.name}: {stem} has {draft.copies} "
                    f"{'copy' if draft.copies == 1 else 'copies'}",
                    owner.span,
                    numbers=(("copies", float(draft.copies)),),
                )
            return stem, int(number)
        return None, 0

    def _home(self, owner: Segment) -> Draft | None:
        """The piece that a bare part name belongs to: the step's first, else the only one."""
        homes: list[Draft] = []
        if self.first is not None:
            draft = self.known.draft(self.first)
            if draft is not None and _has(draft, owner):
                return draft
        for name in self.known.pieces():
            try:
                draft = self.known.draft(name)
            except Refused:
                continue
            if draft is not None and _has(draft, owner):
                homes.append(draft)
        if len(homes) > 1:
            names = [d.name for d in homes]
            raise refuse(
                "several-meant",
                f"‘{owner.name}’ is a part of {' and of '.join(names)}. "
                f"Say ‘{owner.name} of {names[0]}’",
                owner.span,
            )
        return homes[0] if homes else None

    def _unknown(self, owner: Segment) -> Refused:
        if owner.name in self.known.lost_names():
            return Refused()
        names: dict[str, Span | None] = dict(self.known.other_names())
        for piece in self.known.pieces():
            try:
                draft = self.known.draft(piece)
            except Refused:
                continue
            if draft is not None:
                names |= draft.named()
                if owner.name in draft.lost:
                    return Refused()
        names |= dict(self.made) | dict(self.known.pieces())
        return unknown("", owner.name, owner.span, names)

    def _targets(self, draft: Draft, things: Iterable[Thing], copy: int, ref: Ref) -> list[Target]:
        found = []
        for thing in things:
            said = thing.name if isinstance(thing, AtForm) else ""
            for part in things_of(draft, thing):
                made = self._target(draft, part, copy, ref)
                found.append(replace(made, said=said) if said else made)
        return found

    def _target(self, draft: Draft, thing: Thing, copy: int, ref: Ref) -> Target:
        made = Target("piece", draft.name, copy=copy, state=ref.states, span=ref.span)
        if isinstance(thing, Whole):
            return made
        if isinstance(thing, AtPanel):
            if len(draft.panels) == 1:
                return made
            return replace(made, kind="panel", part=thing.panel.name)
        if isinstance(thing, AtEdge):
            part = thing.edge.name
            if thing.panel is not None and len(draft.panels) > 1:
                part = f"{part} of {thing.panel}"
            return replace(made, kind="edge", part=part)
        if isinstance(thing, AtOpening):
            return replace(made, kind="opening", part=thing.opening.name)
        if isinstance(thing, AtIsland):
            return replace(made, kind="island", part=thing.island.name)
        if isinstance(thing, AtGlue):
            return replace(made, kind="glue", part=thing.zone.name)
        if isinstance(thing, AtLine):
            for fold in draft.folds.values():
                if (fold.start, fold.end) == (thing.start, thing.end):
                    return replace(made, kind="fold", part=fold.name)
            for curve in draft.curves:
                if (curve.path.start, curve.path.end) == (thing.start, thing.end):
                    return replace(made, kind="fold", part=curve.name)
            line = (thing.start, thing.end)
            whose = f" of {thing.panel}" if thing.panel and len(draft.panels) > 1 else ""
            said = ref.segments[0].name
            return replace(made, kind="edge", part=f"{said}{whose}", said=said, line_mm=line)
        raise refuse("wrong-place", f"a step cannot act on {kind_of(thing)}", ref.span)

    def folds(self, places: Iterable[Place]) -> list[Target]:
        """Targets of a folding action: a panel stands for the fold that carries it."""
        found: list[Target] = []
        for place in _flat(places):
            some = any(isinstance(place, Ref) and s.kind == "each" for s in _segments(place))
            for target in self.one(place):
                turned = self._as_fold(target, skip=some)
                if turned is not None:
                    found.append(turned)
        return found

    def _as_fold(self, target: Target, skip: bool) -> Target | None:
        if target.kind != "panel":
            return target
        draft = self.known.draft(target.piece)
        assert draft is not None
        if target.part in draft.folds:
            return replace(target, kind="fold")
        hanging = [f.name for f in draft.folds.values() if f.parent == target.part]
        if skip:
            return None
        if len(hanging) == 1:
            return replace(target, kind="fold", part=hanging[0], said=target.part)
        raise refuse(
            "no-fold",
            f"{target.part} of {target.piece} hangs on no fold of its own",
            target.span or draft.span,
            notes=(f"What can be folded: {listed(draft.folds)}",) if draft.folds else (),
        )


def face_said(places: Iterable[Place]) -> Face | None:
    """The face in ``to front face of cover``."""
    for place in _flat(places):
        if isinstance(place, Ref) and place.segments[0].kind == "face":
            return "front" if place.segments[0].name.startswith("front") else "back"
    return None


def _can_be_handled(owner: Segment, size: tuple[float, float, float]) -> None:
    across, down, deep = size
    if min(across, down) < SMALLEST_MM or deep < 0:
        raise refuse(
            "not-positive",
            f"{owner.name} is {both(min(size), kind='thin')} one way; what is handled has to be"
            " more than nothing",
            owner.span,
            numbers=(("least_mm", min(size)),),
        )


def _flat(places: Iterable[Place]) -> list[Place]:
    flat: list[Place] = []
    for place in places:
        flat.extend(place.items if isinstance(place, Several) else (place,))
    return flat


def _segments(place: Place) -> tuple[Segment, ...]:
    return place.segments if isinstance(place, Ref) else ()


def _has(draft: Draft, owner: Segment) -> bool:
    try:
        return bool(find(draft, Ref((owner,), (), owner.span)))
    except Refused:
        return False
