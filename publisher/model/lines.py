"""The lines of a piece that hold, calls of forms unfolded to the lines of the form."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, field

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.diagnostics.near import nearest
from publisher.language.ast import PieceDesign, Statement, When
from publisher.language.sizes import Sizes
from publisher.model.bench import Bench
from publisher.model.draft import FormGroup
from publisher.model.findings import Refused, listed, refuse
from publisher.model.forms.expand import Expanded, expand
from publisher.model.order import Line
from publisher.model.statements import STATEMENTS

MOST_CALLS = 100
"""More forms than any piece needs; forms that call forms could ask for them without end."""


class Lines(Struct):
    """Gathers the lines of one piece. ``sizes`` are those of its forms."""

    bench: Bench
    findings: list[Diagnostic]
    found: list[Line] = field(default_factory=list)
    sizes: list[Sizes] = field(default_factory=list)
    calls: int = 0
    refused: bool = False
    """Whether a form could not be called for: its paper is missing, and that is told."""

    def gather(self, design: PieceDesign) -> list[Line]:
        self._add(design.statements, self.bench, ())
        return self.found

    def finish(self) -> None:
        """Works out the sizes of forms that no line has asked for: their ranges count too."""
        for sizes in self.sizes:
            sizes.results()

    def _add(self, statements: Sequence[Statement], bench: Bench, groups: tuple[str, ...]) -> None:
        for statement in statements:
            if self.calls > MOST_CALLS:
                return
            try:
                self._add_one(statement, bench, groups)
            except Refused as refused:
                self.refused = self.refused or statement.head == "form"
                if refused.diagnostic is not None:
                    self.findings.append(refused.diagnostic)

    def _add_one(self, statement: Statement, bench: Bench, groups: tuple[str, ...]) -> None:
        is_form = statement.head == "form"
        kind = STATEMENTS.get(statement.head)
        if kind is None and not is_form:
            self.findings.append(_unknown_head(statement))
            return
        whens = [j for j in statement.joinings() if isinstance(j, When)]
        if not all(bench.holds(w.condition) for w in whens):
            return
        if kind is not None:
            self.found.append(Line(kind, statement, bench, groups))
            return
        self.calls += 1
        if self.calls > MOST_CALLS:
            raise _too_many(statement)
        expanded = expand(statement, bench)
        self.sizes.append(expanded.sizes)
        if expanded.group != self.bench.draft.name:
            self._name_group(expanded)
            groups = (*groups, expanded.group)
        self._add(expanded.statements, expanded.bench, groups)

    def _name_group(self, expanded: Expanded) -> None:
        draft, name, span = self.bench.draft, expanded.group, expanded.group_span
        first = draft.forms.get(name)
        if first is not None:
            raise refuse(
                "name-taken",
                f"‘{name}’ is already the name of a form here",
                span,
                Place(first.span, "called for here first"),
                notes=("Give each its own name: ‘called …’",),
            )
        draft.forms[name] = FormGroup(span)


def _too_many(statement: Statement) -> Refused:
    return refuse(
        "too-many-parts",
        f"this piece calls for more than {MOST_CALLS} forms, those that forms call for counted",
        statement.head_span,
        numbers=(("most", float(MOST_CALLS)),),
    )


def _unknown_head(statement: Statement) -> Diagnostic:
    near = nearest(statement.head, STATEMENTS)
    span: Span = statement.head_span
    hint = f". Nearest: ‘{near}’" if near else ""
    ways = (WayOut(f"write ‘{near}’", Edit(span, near)),) if near else ()
    return Diagnostic(
        "unknown-statement",
        "error",
        f"there is no ‘{statement.head}’ line in a piece{hint}",
        (Place(span),),
        notes=() if near else (f"Known: {listed(STATEMENTS, 20)}",),
        ways_out=ways,
    )
