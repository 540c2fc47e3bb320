"""How the model says no: one shape for a wrong name, a wrong size, a circle.

Inside this room a statement that cannot be understood is left by raising ``Refused``; it is
caught at the line, its finding is kept, and the next line is read. Nothing of it leaves the
room.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.diagnostics.near import nearest


class Refused(Exception):  # noqa: N818 - not an error of the program
    """A line that cannot be built. ``diagnostic`` is None where the reason is already told."""

    def __init__(self, diagnostic: Diagnostic | None = None) -> None:
        super().__init__(diagnostic.message if diagnostic else "told before")
        self.diagnostic = diagnostic


def refuse(
    code: str,
    message: str,
    span: Span,
    *more: Place,
    label: str = "",
    numbers: tuple[tuple[str, float], ...] = (),
    notes: tuple[str, ...] = (),
    ways_out: tuple[WayOut, ...] = (),
) -> Refused:
    """An error at ``span``, ready to be raised."""
    places = (Place(span, label), *more)
    return Refused(Diagnostic(code, "error", message, places, numbers, notes, ways_out))


def unknown(
    what: str,
    said: str,
    span: Span,
    known: Mapping[str, Span | None],
    *,
    code: str = "unknown-name",
) -> Refused:
    """There is no such name: the nearest known one and its line, else the known ones.

    ``what`` says where was looked ("in drawer", or "" for anywhere).
    """
    where = f" {what}" if what else ""
    message = f"there is no ‘{said}’{where}"
    near = nearest(said, known)
    if near is None:
        notes = (f"Known{where}: {listed(known)}",) if known else ()
        return refuse(code, message, span, notes=notes)
    home = known[near]
    line = f", line {home.line}" if home is not None else ""
    edit = WayOut(f"write ‘{near}’", Edit(span, near))
    more = (Place(home, f"‘{near}’ is named here"),) if home is not None else ()
    return refuse(code, f"{message}. Nearest: ‘{near}’{line}", span, *more, ways_out=(edit,))


def taken(name: str, span: Span, first: Span, what: str) -> Refused:
    """A name that is given twice."""
    return refuse(
        "name-taken",
        f"‘{name}’ is already the name of {what} on line {first.line}",
        span,
        Place(first, "named here first"),
        ways_out=(WayOut("give one of them another name"),),
    )


def circle(names: Iterable[str], span: Span) -> Refused:
    """Things that are each made from the other."""
    chain = " needs ".join(f"‘{n}’" for n in names)
    return refuse("goes-in-a-circle", f"this goes in a circle: {chain}", span)


def listed(names: Iterable[str], most: int = 8) -> str:
    """``a, b and c``, cut short where there are many."""
    words = [f"‘{n}’" for n in names]
    if len(words) > most:
        return ", ".join(words[:most]) + " …"
    return joined(words)


def joined(words: list[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]


def radius_alone(line: str, span: Span) -> Refused:
    """``rectangle, 60 x 40 mm, 4 mm radius``."""
    after = Span(span.file, span.end, span.end, span.line, span.column + span.end - span.start)
    way = WayOut("write ‘radius, rounded corners’", Edit(after, ", rounded corners"))
    text = f"‘radius’ says nothing by itself in {line}: of what?"
    return refuse("unknown-word", text, span, ways_out=(way,))
