"""``form tray, inside = 80 x 80 x 40 mm``: a call against what the form asks for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest
from publisher.language.ast import Name, SizeDefinition, Statement
from publisher.language.phrases import plain_word
from publisher.language.program import Form


def with_form(statement: Statement) -> Statement:
    """The line with the form's name taken from its first phrase."""
    if not statement.phrases:
        return statement
    first = statement.phrases[0]
    name = None if first.value is None or first.setting is not None else plain_word(first.value)
    if first.value is None or name is None or first.label is not None:
        return statement
    form = Name(name, first.value.span)
    rest = statement.phrases[1:]
    if first.joinings:
        rest = (replace(first, value=None), *rest)
    return replace(statement, form=form, phrases=rest)


def check_call(statement: Statement, forms: Mapping[str, Form]) -> Iterator[Diagnostic]:
    """What is wrong with the line: the form's name, what is given and what is not."""
    called = statement.form
    if called is None:
        message = "a ‘form’ line begins with the form's name: ‘form tray, inside = …’"
        yield Diagnostic("syntax", "error", message, (Place(statement.head_span),))
        return
    form = forms.get(called.text)
    if form is None:
        yield _unknown(called, forms)
        return
    given: dict[str, Span] = {}
    meant: set[str] = set()  # given by another name: told there, and not missed too
    for phrase in statement.phrases:
        name = phrase.setting
        if name is None:
            continue
        if name.text in given:
            message = f"‘{name.text}’ is given twice"
            places = (Place(name.span), Place(given[name.text], "here first"))
            yield Diagnostic("said-twice", "error", message, places)
        given.setdefault(name.text, name.span)
        if form.piece is not None and name.text not in form.asked:
            meant.add(_near(name, form) or "")
            yield _not_asked(name, form)
    for size in form.asked.values() if form.piece is not None else ():
        if size.value is None and size.name.text not in (*given, *meant):
            yield _not_given(statement, form, size)


def _unknown(called: Name, forms: Mapping[str, Form]) -> Diagnostic:
    words = called.text.split()
    leading = (" ".join(words[:count]) for count in range(len(words) - 1, 0, -1))
    near = next((w for w in leading if w in forms), None) or nearest(called.text, forms)
    message = f"there is no form called ‘{called.text}’"
    if near is None:
        notes = (f"The forms are {', '.join(forms)}",) if forms else ()
        return Diagnostic("unknown-form", "error", message, (Place(called.span),), notes=notes)
    ways = (WayOut(f"write ‘{near}’", Edit(called.span, near)),)
    message += f". Nearest: ‘{near}’"
    return Diagnostic("unknown-form", "error", message, (Place(called.span),), ways_out=ways)


def _near(name: Name, form: Form) -> str | None:
    """The size of the form that is meant by another name."""
    from publisher.language.meant import meant_by  # only a call that fails waits

    return meant_by(name.text, form.asked) or nearest(name.text, form.asked)


def _not_asked(name: Name, form: Form) -> Diagnostic:
    asked = form.asked
    near = _near(name, form)
    message = f"the form ‘{form.name}’ does not ask for ‘{name.text}’"
    own = form.program.size(name.text) if form.program is not None else None
    if own is not None:
        message += "; it works that out by itself"
        known = Place(own.name.span, "in the form")
        return _unknown_setting(message, name, form, known)
    if near is None:
        return _unknown_setting(message, name, form)
    message += f". Nearest: ‘{near}’"
    places = (Place(name.span), Place(asked[near].name.span, "asked for here"))
    ways = (WayOut(f"write ‘{near}’", Edit(name.span, near)),)
    return Diagnostic("unknown-name", "error", message, places, ways_out=ways)


def _unknown_setting(message: str, name: Name, form: Form, *more: Place) -> Diagnostic:
    places = (Place(name.span), *more)
    return Diagnostic("unknown-name", "error", message, places, notes=(_asks(form),))


def _asks(form: Form) -> str:
    return (
        f"It asks for {', '.join(f'‘{n}’' for n in form.asked)}"
        if form.asked
        else ("It asks for nothing")
    )


def _not_given(statement: Statement, form: Form, size: SizeDefinition) -> Diagnostic:
    name = size.name.text
    says = f": {size.note.text}" if size.note is not None else ""
    assert statement.form is not None
    return Diagnostic(
        "missing-phrase",
        "error",
        f"the form ‘{form.name}’ asks for ‘{name}’{says}",
        (Place(statement.form.span), Place(size.name.span, "asked for here")),
        notes=(f"Add ‘, {name} = …’ to the line",),
    )
