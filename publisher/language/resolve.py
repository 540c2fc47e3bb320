"""Names in expressions and places: shared ``of`` given to each, unknown names answered."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import product
from math import prod

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest
from publisher.language import ast
from publisher.language.ast import Expr, Offset, Ref, Segment, Several
from publisher.language.names import KINDS, PROPERTIES, Names

_WAYS = frozenset({"up", "down", "back", "over", "in", "out", "forward", "forwards", "under"})


MAX_SHARED = 200
"""How many things a list with shared ``of`` may stand for."""

MAX_NEAREST = 50
"""How many unknown names in one file get the nearest known one."""

_POINT, _EDGE, _PART, _THING = range(4)
"""Levels of what a place can be: a point lies on an edge, an edge on a part, a part on a thing."""


@dataclass(slots=True)
class Resolver:
    """Resolves what one fence says. ``piece`` is the piece it describes, None elsewhere;
    ``strict`` is False where names may come from outside and nothing is known of them."""

    names: Names
    piece: str | None
    strict: bool
    findings: list[Diagnostic]
    formed: bool = False
    context: frozenset[str] = frozenset()
    """In a step or a claim: the pieces that the line names, which its parts belong to first."""

    # ------------------------------------------------------------ expressions

    def expr(self, expr: Expr) -> Expr:
        """The same expression with shared ``of`` given out; its names are looked at."""
        match expr:
            case Ref():
                self.look_at(expr)
                return expr
            case ast.Binary():
                return replace(expr, left=self.expr(expr.left), right=self.expr(expr.right))
            case ast.Negate():
                return replace(expr, operand=self.expr(expr.operand))
            case ast.Call():
                return replace(expr, arguments=tuple(self.expr(a) for a in expr.arguments))
            case ast.Join():
                return replace(expr, parts=tuple(self.expr(p) for p in expr.parts))
            case ast.PointAt():
                return replace(expr, across=self.expr(expr.across), down=self.expr(expr.down))
            case Several():
                items = self.shared(expr.items)
                return replace(expr, items=tuple(self.expr(i) for i in items))
            case _:
                return expr

    def place(self, place: ast.Place) -> ast.Place:
        if not isinstance(place, Offset):
            return self.expr(place)
        return replace(place, amount=self.expr(place.amount), bases=self.places(place.bases))

    def places(self, places: tuple[ast.Place, ...]) -> tuple[ast.Place, ...]:
        if any(isinstance(p, Offset) for p in places):
            return tuple(self.place(p) for p in places)
        plain = tuple(p for p in places if not isinstance(p, Offset))
        return tuple(self.expr(p) for p in self.shared(plain))

    def condition(self, condition: ast.Condition) -> ast.Condition:
        comparisons = tuple(
            replace(c, left=self.expr(c.left), right=self.expr(c.right))
            for c in condition.comparisons
        )
        return replace(condition, comparisons=comparisons)

    # ------------------------------------------------------------ shared "of"

    def shared(self, items: tuple[Expr, ...]) -> tuple[Expr, ...]:
        """Lists whose members share what follows ``of``, each given its own.

        ``left and right of pocket`` is left of pocket, right of pocket; ``middle of left and
        right of panel 1 and panel 3`` is four places.
        """
        found: list[Expr] = []
        run: list[Ref] = []
        for item in (*items, None):
            if isinstance(item, Ref):
                run.append(item)
                continue
            found.extend(self._distributed(run))
            run = []
            if item is not None:
                found.append(item)
        return tuple(found)

    def _distributed(self, refs: list[Ref]) -> list[Ref]:
        if len(refs) < 2:
            return refs
        # "and" joins what stands on one level: sides with sides, panels with panels. Where
        # the levels differ a new chain begins.
        chains: list[list[list[Segment]]] = []
        states: list[tuple[ast.State, ...]] = []
        for ref in refs:
            first, *rest = ref.segments
            if chains and self._goes_on(chains[-1], first):
                chains[-1][-1].append(first)
            else:
                chains.append([[first]])
                states.append(())
            chains[-1].extend([segment] for segment in rest)
            states[-1] = ref.states or states[-1]
        self._take_owners(chains)
        if sum(prod(len(level) for level in chain) for chain in chains) > MAX_SHARED:
            message = f"this list stands for more than {MAX_SHARED} things"
            self.findings.append(
                Diagnostic("list-too-long", "error", message, (Place(refs[0].span),))
            )
            return refs
        return [
            Ref(segments, state, _covering(segments))
            for chain, state in zip(chains, states, strict=True)
            for segments in product(*chain)
        ]

    def _goes_on(self, chain: list[list[Segment]], segment: Segment) -> bool:
        level = self._level(segment)
        if self._level(chain[-1][-1]) != level:
            return False
        if level < _THING or len(chain) == 1:
            return True
        # "wall of tray and lid": only where the lid has a wall too.
        return all(
            part.kind != "name" or self.names.is_part(part.name, segment.name) for part in chain[-2]
        )

    def _take_owners(self, chains: list[list[list[Segment]]]) -> None:
        """``middle and top of flap``: what is no thing by itself takes the last one's owner."""
        tail = chains[-1][1:]
        for chain in chains[:-1]:
            if len(chain) == 1 and tail and all(self._level(s) < _PART for s in chain[0]):
                chain.extend(tail)

    def _level(self, segment: Segment) -> int:
        if segment.kind in ("middle", "corner"):
            return _POINT
        if segment.kind in ("side", "face") or segment.name in PROPERTIES:
            return _EDGE
        if segment.kind == "name" and (
            segment.name in self.names.sizes or self.names.is_thing(segment.name)
        ):
            own = self.piece is not None and self.names.is_part(segment.name, self.piece)
            return _PART if own and segment.name in self.names.sizes else _THING
        return _PART

    # ------------------------------------------------------------ names

    def look_at(self, ref: Ref) -> None:
        """Report what is not known in it."""
        if not self.strict:
            return
        last = len(ref.segments) - 1
        for index, segment in enumerate(ref.segments):
            if segment.kind == "each":
                self._look_at_kind(segment)
            elif segment.kind == "name" and not self._knows(ref, index, index == last):
                self.unknown(segment)
                return
        self._look_for_owner(ref)

    def _knows(self, ref: Ref, index: int, last: bool) -> bool:
        name = ref.segments[index].name
        if not last and name in PROPERTIES:
            return True
        if self.formed:
            return True
        # "panel 1 of sleeve": the name before "of" belongs to what comes after it.
        owner = ref.segments[-1].name
        if not last and self.names.is_thing(owner):
            home = owner if owner in self.names.pieces else None
            if owner in self.names.formed or home is None:
                return True
            return self.names.is_part(name, home) or self.names.is_known(name, self.piece)
        return self.names.is_known(name, self.piece)

    def _look_at_kind(self, segment: Segment) -> None:
        name = segment.name
        if self.formed or self.names.formed or self.names.is_kind(name):
            return
        known = {*KINDS, *(p for parts in self.names.parts.values() for p in parts)}
        near = self._nearest(name, known)
        if near is None and name.endswith("s") and self.names.is_kind(name[:-1]):
            near = name[:-1]
        span = Span(
            segment.span.file,
            segment.span.end - len(name),
            segment.span.end,
            segment.span.line,
            segment.span.column + segment.span.end - segment.span.start - len(name),
        )
        self._tell(f"nothing is called ‘{name}’", span, near, None)

    def unknown(self, segment: Segment) -> None:
        """Answer a name that nobody has given."""
        name, span = segment.name, segment.span
        answer = (
            self._hyphens(name, span)
            or self._possessive(name, span)
            or self._plural(name, span)
            or self._partly_known(name, span)
        )
        if answer is not None:
            self.findings.append(answer)
            return
        choices = self.names.choices(self.piece)
        near = self._nearest(name, choices)
        home = choices[near] if near is not None else None
        self._tell(f"there is no ‘{name}’", span, near, home)

    def unknown_among(self, name: ast.Name, choices: Iterable[str], what: str) -> None:
        """Answer a name that is none of a list."""
        known = sorted(choices)
        near = self._nearest(name.text, known)
        home = self.names.sizes.get(near) if near is not None and what == "size" else None
        self._tell(f"there is no {what} called ‘{name.text}’", name.span, near, home)

    def _nearest(self, name: str, choices: Iterable[str]) -> str | None:
        self.names.slips += 1
        return nearest(name, choices) if self.names.slips <= MAX_NEAREST else None

    def _tell(self, message: str, span: Span, near: str | None, home: Span | None) -> None:
        places = [Place(span)]
        ways: tuple[WayOut, ...] = ()
        if near is not None:
            message += f". Nearest: ‘{near}’"
            ways = (WayOut(f"write ‘{near}’", Edit(span, near)),)
            if home is not None:
                message += f", line {home.line}"
                places.append(Place(home, f"‘{near}’ is named here"))
        self.findings.append(
            Diagnostic("unknown-name", "error", message, tuple(places), ways_out=ways)
        )

    def _hyphens(self, name: str, span: Span) -> Diagnostic | None:
        parts = name.split("-")
        if len(parts) < 2 or not all(self._is_known(p.strip()) for p in parts):
            return None
        apart = " - ".join(p.strip() for p in parts)
        return _error(
            f"‘{name}’ is read as one name. To take away, leave spaces: {apart}",
            span,
            WayOut(f"write ‘{apart}’", Edit(span, apart)),
        )

    def _possessive(self, name: str, span: Span) -> Diagnostic | None:
        owner, sign, rest = name.partition("'s ")
        if not sign:
            return None
        mended = f"{rest} of {owner}"
        return _error(
            f"there are no possessives here: say ‘{mended}’",
            span,
            WayOut(f"write ‘{mended}’", Edit(span, mended)),
        )

    def _plural(self, name: str, span: Span) -> Diagnostic | None:
        if not name.endswith("s"):
            return None
        single = name[:-1]
        if not (self.names.is_kind(single) or self._is_known(single)):
            return None
        mended = f"each {single}" if self.names.is_kind(single) else single
        return _error(
            f"there are no plurals here: say ‘{mended}’",
            span,
            WayOut(f"write ‘{mended}’", Edit(span, mended)),
        )

    def _partly_known(self, name: str, span: Span) -> Diagnostic | None:
        words = name.split()
        for count in range(len(words) - 1, 0, -1):
            known = " ".join(words[:count])
            if self._is_known(known):
                rest = " ".join(words[count:])
                why = ": the score says which way" if rest in _WAYS else ""
                return _error(
                    f"‘{known}’ is known, ‘{name}’ is not. Leave out ‘{rest}’{why}",
                    span,
                    WayOut(f"leave out ‘{rest}’", Edit(span, known)),
                )
        return None

    def _is_known(self, name: str) -> bool:
        return self.names.is_known(name, self.piece)

    def _look_for_owner(self, ref: Ref) -> None:
        """In a step, a part that several pieces have needs its piece."""
        last = ref.segments[-1]
        if self.piece is not None or last.kind != "name":
            return
        name = last.name
        if name in self.names.sizes or self.names.is_thing(name):
            return
        owners = self.names.owners(name)
        if len(owners) < 2 or self.context & set(owners):
            return
        listed = " and of ".join(owners[:2])
        kind = self.names.kinds.get((owners[0], name), "part")
        ways = tuple(
            WayOut(f"say ‘{name} of {o}’", Edit(last.span, f"{name} of {o}")) for o in owners[:2]
        )
        self.findings.append(
            Diagnostic(
                "several-meant",
                "error",
                f"‘{name}’ is a {kind} of {listed}. Say ‘{name} of {owners[0]}’",
                (Place(last.span),),
                ways_out=ways,
            )
        )


def pieces_named(exprs: Iterable[ast.Place], names: Names) -> frozenset[str]:
    """The pieces that a line speaks of by name."""
    found: set[str] = set()
    stack = list(exprs)
    while stack:
        place = stack.pop()
        if isinstance(place, Offset):
            stack.extend(place.bases)
        elif isinstance(place, Several):
            stack.extend(place.items)
        elif isinstance(place, Ref):
            last = place.segments[-1]
            base = last.name.rsplit(" ", 1)[0]
            found.update(n for n in (last.name, base) if n in names.pieces)
    return frozenset(found)


def _error(message: str, span: Span, *ways: WayOut) -> Diagnostic:
    return Diagnostic("unknown-name", "error", message, (Place(span),), ways_out=ways)


def _covering(segments: tuple[Segment, ...]) -> Span:
    """From the first to the last of them; they may have stood apart."""
    first, last = segments[0].span, segments[-1].span
    return replace(first, end=max(first.end, last.end))
