"""A line that calls for a form, as the lines of that form.

The form's sizes are worked out from what the caller gives; what is given as a place (an edge,
a fold, a piece) takes the place of the name that the form has for it.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language import ast
from publisher.language.ast import Expr, Item, Name, Ref, Segment, Several, Statement
from publisher.language.program import Form
from publisher.language.sizes import Sizes
from publisher.model import measures
from publisher.model.bench import Bench, Shop
from publisher.model.findings import Refused, circle, refuse
from publisher.model.forms.renaming import Renaming
from publisher.model.forms.respan import called_from
from publisher.model.forms.shop import Caller, FormShop

MOST_CALLS = 8
"""How many forms may call for each other in a row."""
MOST_TOLD = 3
"""How many mistakes of a form's own file are told at one call."""


class Expanded(Struct, frozen=True):
    """The lines that came of a call, the bench to run them on, and the name of the group that
    their parts belong to. ``sizes`` are still to be worked out where no line asked for them."""

    statements: tuple[Statement, ...]
    bench: Bench
    group: str
    group_span: Span
    sizes: Sizes


def expand(statement: Statement, bench: Bench) -> Expanded:
    """The lines of the form; raises ``Refused`` where it cannot be called for."""
    called = statement.form
    form = bench.shop.forms().get(called.text) if called is not None else None
    if called is None or form is None:
        raise Refused  # the language has told it
    chain = bench.shop.chain
    if form.name in chain:
        raise circle([*chain[chain.index(form.name) :], form.name], called.span)
    if len(chain) >= MOST_CALLS:
        raise refuse("goes-in-a-circle", "too many forms call for each other in a row", called.span)
    _tell_mistakes(form, called.span, bench)
    program = form.program
    piece = form.piece
    if program is None or piece is None:
        raise Refused
    call = called.span
    sizes = called_from(program.sizes, call)
    piece = called_from(piece, call)
    values = _given(statement, form)
    things = {n: _places(v) for n, v in values.items() if _is_thing(v, bench.shop)}
    group = statement.name or called
    renaming = Renaming(
        things,
        frozenset(form.parts),
        statement.name.text if statement.name is not None else "",
        piece.name.text,
        bench.draft.name,
    )
    caller = Caller(bench.scope, renaming)
    own = Sizes(
        replace(program, sizes=sizes),
        caller,
        values,
        bench.scope,
        frozenset(things),
    )
    shop = FormShop(bench.shop, own, caller, (*chain, form.name))
    inner = Bench(bench.draft, shop, bench.coming, bench.tabs, bench.reports)
    lines = tuple(_rewritten(s, inner) for s in piece.statements)
    return Expanded(lines, inner, bench.shop.name(group.text), group.span, own)


def _tell_mistakes(form: Form, call: Span, bench: Bench) -> None:
    for finding in form.findings[:MOST_TOLD]:
        bench.scope.report(_at(finding, call))


def _at(finding: Diagnostic, call: Span) -> Diagnostic:
    places = finding.places or (Place(Span(call.file, 0, 0, 1, 1)),)
    return replace(finding, places=called_from(places, call), ways_out=())


def _given(statement: Statement, form: Form) -> dict[str, Expr]:
    """What the caller gives of what the form asks for."""
    given: dict[str, Expr] = {}
    for phrase in statement.phrases:
        name, value = phrase.setting, phrase.value
        if name is None or value is None or isinstance(value, ast.Offset):
            continue
        if name.text in form.asked:
            given.setdefault(name.text, value)
    return given


# ---------------------------------------------------------------- what is given


def _is_thing(value: Expr, shop: Shop) -> bool:
    """Whether an expression speaks of an edge, a fold, a piece and not of a measure."""
    if isinstance(value, Several):
        return all(_is_thing(item, shop) for item in value.items)
    if not isinstance(value, Ref) or value.states:
        return False
    first = value.segments[0]
    if first.kind != "name":
        return True
    if len(value.segments) > 1:
        return first.name not in measures.WORDS
    return not shop.is_measure(first.name)


def _places(value: Expr) -> tuple[ast.Place, ...]:
    return value.items if isinstance(value, Several) else (value,)


# ---------------------------------------------------------------- lines


def _rewritten(statement: Statement, bench: Bench) -> Statement:
    """The line with its places in the words of the piece that is being built."""
    shop = bench.shop
    return replace(
        statement,
        name=_renamed(statement.name, shop),
        phrases=tuple(_phrase(p, shop) for p in statement.phrases),
        items=tuple(i for item in statement.items for i in _items(item, bench)),
    )


def _renamed(name: Name | None, shop: Shop) -> Name | None:
    return None if name is None else replace(name, text=shop.name(name.text))


def _phrase(phrase: ast.Phrase, shop: Shop) -> ast.Phrase:
    value = phrase.value
    if isinstance(value, ast.Offset):
        (value,) = shop.places([value])
    joinings = tuple(_joining(j, shop) for j in phrase.joinings)
    return replace(phrase, value=value, joinings=joinings)


def _joining(joining: ast.Joining, shop: Shop) -> ast.Joining:
    match joining:
        case ast.Prep():
            return replace(joining, places=shop.places(joining.places))
        case ast.FromTo():
            return replace(joining, start=_only(joining.start, shop), end=_only(joining.end, shop))
        case ast.Called():
            return replace(joining, name=replace(joining.name, text=shop.name(joining.name.text)))
        case _:
            return joining


def _only(place: ast.Place, shop: Shop) -> ast.Place:
    places = shop.places([place])
    if len(places) != 1:
        raise refuse("several-meant", "one place is wanted here", place.span)
    return places[0]


def _items(item: Item, bench: Bench) -> Iterator[Item]:
    """A panel of a chain under its new name, with the size that it had its old one from."""
    name = bench.shop.name(item.name.text)
    if name == item.name.text:
        yield item
        return
    value = item.value or Ref(
        (Segment("name", item.name.text, item.name.span),), (), item.name.span
    )
    if item.count is None:
        yield replace(item, name=Name(name, item.name.span), value=value)
        return
    count = int(bench.share(item.count))
    for number in range(1, min(count, 200) + 1):
        text = f"{name} {number}"
        yield Item(Name(text, item.name.span), value, None, item.span)
