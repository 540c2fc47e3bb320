"""Lines of one phase, each run as soon as what it stands on is there."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from publisher.diagnostics import Diagnostic
from publisher.geometry.rings import OpenRingError
from publisher.language.ast import Statement
from publisher.model.bench import Bench, NotYet
from publisher.model.findings import Refused, circle, refuse
from publisher.model.statements.kinds import StatementKind
from publisher.model.statements.phrases import Phrases


class Line(Struct, frozen=True):
    """A line and the bench it is run on. ``groups`` are the names of the calls of forms that it
    came from, the outermost first."""

    kind: StatementKind
    statement: Statement
    bench: Bench
    groups: tuple[str, ...] = ()

    def run(self, phrases: Phrases) -> None:
        """Adds what the line says, and notes which form the new parts came from."""
        draft = self.bench.draft
        before = draft.named() if self.groups else {}
        try:
            self.kind.run(self.bench, phrases)
        except OpenRingError:
            text = "no shape comes of this: one of its measures is far too large for the others"
            raise refuse("too-large", text, self.statement.span) from None
        if self.groups:
            new = [n for n in draft.named() if n not in before and n not in draft.forms]
            for group in self.groups:
                draft.forms[group].parts.extend(new)


def run_in_any_order(lines: Sequence[Line]) -> list[Diagnostic]:
    """Runs each line as soon as what it stands on is there.

    A line that fails while others still wait is tried again, as it may speak of a panel that
    comes later. What is left when nothing moves any more is reported.
    """
    pending = list(lines)
    while pending:
        stuck: list[Line] = []
        refusals: list[Refused] = []
        waits: list[NotYet] = []
        for line in pending:
            phrases = Phrases(line.statement)
            try:
                line.run(phrases)
            except NotYet as wait:
                waits.append(wait)
                stuck.append(line)
            except Refused as refused:
                refusals.append(refused)
                stuck.append(line)
            else:
                leftover = _leftover(phrases)
                if leftover is not None:
                    line.bench.reports.append(leftover)
        if len(stuck) == len(pending):
            for line in stuck:
                name = line.statement.name
                line.bench.draft.lost.add(line.statement.head if name is None else name.text)
            told = [r.diagnostic for r in refusals if r.diagnostic is not None]
            if waits and not refusals:
                # Every line left waits for another one of them.
                told.append(
                    told_by(circle([*(w.name for w in waits), waits[0].name], waits[0].span))
                )
            return told
        pending = stuck
    return []


def _leftover(phrases: Phrases) -> Diagnostic | None:
    try:
        phrases.finish()
    except Refused as refused:
        return refused.diagnostic
    return None


def told_by(refused: Refused) -> Diagnostic:
    """The finding of a refusal that has one."""
    assert refused.diagnostic is not None
    return refused.diagnostic
