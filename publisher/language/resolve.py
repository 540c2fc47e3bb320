"""Names in expressions and places: shared ``of`` given to each, unknown names answered."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Edit, Place, WayOut
from publisher.language import ast
from publisher.language.ast import Expr, Offset, Ref, Several
from publisher.language.names import PROPERTIES, Names
from publisher.language.shared import Sharing
from publisher.language.strangers import Strangers


class Resolver:
    """Resolves what one fence says. ``piece`` is the piece it describes, None elsewhere;
    ``strict`` is False where names may come from outside and nothing is known of them."""

    def __init__(
        self,
        names: Names,
        piece: str | None,
        strict: bool,
        findings: list[Diagnostic],
        formed: bool = False,
        context: frozenset[str] = frozenset(),
    ) -> None:
        self.names = names
        self.piece = piece
        self.strict = strict
        self.findings = findings
        self.formed = formed
        # In a step or a claim: the pieces that the line names, which its parts belong to first.
        self.context = context
        self.strangers = Strangers(names, piece, findings)
        self.sharing = Sharing(names, piece, findings)

    # ------------------------------------------------------------ expressions

    def expr(self, expr: Expr) -> Expr:
        """The same expression with shared ``of`` given out; its names are looked at."""
        match expr:
            case Ref():
                self.look_at(expr)
                return expr
            case ast.Binary():
                left, right = self.expr(expr.left), self.expr(expr.right)
                if left is expr.left and right is expr.right:
                    return expr
                return replace(expr, left=left, right=right)
            case ast.Negate():
                return replace(expr, operand=self.expr(expr.operand))
            case ast.Call():
                return replace(expr, arguments=tuple(self.expr(a) for a in expr.arguments))
            case ast.Join():
                return replace(expr, parts=tuple(self.expr(p) for p in expr.parts))
            case ast.PointAt():
                return replace(expr, across=self.expr(expr.across), down=self.expr(expr.down))
            case Several():
                items = self.sharing.shared(expr.items)
                return replace(expr, items=tuple(self.expr(i) for i in items))
            case _:
                return expr

    def place(self, place: ast.Place) -> ast.Place:
        if not isinstance(place, Offset):
            return self.expr(place)
        return replace(place, amount=self.expr(place.amount), bases=self.places(place.bases))

    def places(self, places: tuple[ast.Place, ...]) -> tuple[ast.Place, ...]:
        if len(places) == 1 or any(isinstance(p, Offset) for p in places):
            return tuple([self.place(p) for p in places])
        plain = tuple(p for p in places if not isinstance(p, Offset))
        return tuple(self.expr(p) for p in self.sharing.shared(plain))

    def condition(self, condition: ast.Condition) -> ast.Condition:
        comparisons = tuple(
            replace(c, left=self.expr(c.left), right=self.expr(c.right))
            for c in condition.comparisons
        )
        return replace(condition, comparisons=comparisons)

    # ------------------------------------------------------------ names

    def look_at(self, ref: Ref) -> None:
        """Report what is not known in it."""
        if not self.strict:
            return
        last = len(ref.segments) - 1
        for index, segment in enumerate(ref.segments):
            if segment.kind == "each":
                known = self.formed or self.names.formed or self.names.is_kind(segment.name)
                if not (known or ref.segments[-1].name in self.names.lost):
                    self.strangers.kind(segment)
            elif segment.kind == "name" and not self._knows(ref, index, index == last):
                owner = ref.segments[-1].name
                if index < last and self.names.is_thing(owner):
                    self.strangers.asked(segment, owner)
                else:
                    self.strangers.name(segment)
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
            if owner in self.names.formed or home is None or self._of_form(ref, index, home):
                return True
            return self.names.is_part(name, home) or self.names.is_known(name, self.piece)
        if not last and self._of_form(ref, index, self.piece):
            return True
        return self.names.is_known(name, self.piece)

    def _of_form(self, ref: Ref, index: int, home: str | None) -> bool:
        """``foot of step``, where ``step`` is what a form was called."""
        full = f"{ref.segments[index + 1].name} {ref.segments[index].name}"
        homes = self.names.pieces if home is None else (home,)
        return any(self.names.is_part(full, piece) for piece in homes)

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
