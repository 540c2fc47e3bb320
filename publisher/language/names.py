"""The names that a file gives: collected before anything is resolved, so that order is free."""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec import Struct, field

from publisher.diagnostics import Diagnostic, Place, Span, WayOut
from publisher.language.ast import (
    Called,
    Literal,
    Name,
    PieceDesign,
    Ref,
    SizeDefinition,
    Statement,
    StepDesign,
)
from publisher.language.program import Outside

KINDS = frozenset(
    {
        "panel",
        "tab",
        "notch",
        "slit",
        "window",
        "score",
        "fold",
        "glue",
        "corner",
        "edge",
        "tip",
        "island",
        "bridge",
    }
)
"""What ``each`` may take, and what is counted where it has no name: ``panel 1``."""

PROPERTIES = frozenset(
    {"width", "height", "depth", "length", "caliper", "border", "ease", "overlap", "loop"}
)
"""What can be asked of a thing: ``width of drawer``."""

MOST_PARTS = 2000
"""Parts of a piece that are known by name, those of its forms counted."""

_NUMBERED = re.compile(r"(.+) \d+")


class Names(Struct):
    """Every name and where it is given. ``parts`` is by piece; ``formed`` are the pieces whose
    parts come from a form and are not known here."""

    outside: Outside
    sizes: dict[str, Span] = field(default_factory=dict)
    pieces: dict[str, Span] = field(default_factory=dict)
    parts: dict[str, dict[str, Span]] = field(default_factory=dict)
    made: dict[str, Span] = field(default_factory=dict)
    formed: set[str] = field(default_factory=set)
    lost: set[str] = field(default_factory=set)
    """Names that refused lines would have given; nobody is told that they are unknown."""
    slips: int = 0
    """Names answered with the nearest one; looking for it is dear, so not without end."""
    kinds: dict[tuple[str, str], str] = field(default_factory=dict)
    """What a part is, by piece and part: "panel", "tab"."""
    findings: list[Diagnostic] = field(default_factory=list)

    # ------------------------------------------------------------ asking

    def is_part(self, name: str, piece: str) -> bool:
        """Whether ``name`` is a part of ``piece``, a numbered one counted."""
        known = self.parts.get(piece, {})
        if name in known or name in ("overlap", piece):
            return True
        base = _base(name)
        return base is not None and (base in known or base in KINDS)

    def is_thing(self, name: str) -> bool:
        """A piece, one copy of it, something made in a step, or something from outside."""
        base = _base(name)
        return (
            name in self.lost
            or name in self.pieces
            or name in self.made
            or name in self.outside.objects
            or name in self.outside.stocks
            or (base is not None and (base in self.pieces or base in self.lost))
        )

    def is_known(self, name: str, piece: str | None) -> bool:
        """Whether ``name`` means something, seen from ``piece`` (None: from a step)."""
        if name in self.sizes or self.is_thing(name):
            return True
        if piece is not None:
            return self.is_part(name, piece)
        return any(self.is_part(name, p) for p in self.pieces)

    def is_kind(self, name: str) -> bool:
        """Whether ``each name`` takes anything: a kind, or names that end so."""
        return (
            name in KINDS
            or name in self.lost
            or any(
                part == name or part.endswith(f" {name}") or _base(part) == name
                for parts in self.parts.values()
                for part in parts
            )
        )

    def owners(self, name: str) -> list[str]:
        """The pieces that have a part of exactly this name."""
        return [piece for piece, parts in self.parts.items() if name in parts]

    def choices(self, piece: str | None) -> dict[str, Span | None]:
        """What a slip may have meant, with where it is named."""
        found: dict[str, Span | None] = dict.fromkeys(self.outside.objects)
        found.update(dict.fromkeys(self.outside.stocks))
        for home, parts in self.parts.items():
            if piece is None or home == piece:
                found.update(parts)
        found.update(self.made)
        found.update(self.pieces)
        found.update(self.sizes)
        return found

    # ------------------------------------------------------------ collecting

    def add_sizes(self, sizes: Iterable[SizeDefinition]) -> list[SizeDefinition]:
        kept: list[SizeDefinition] = []
        for size in sizes:
            if self._new(size.name, self.sizes, "a size"):
                kept.append(size)
        return kept

    def add_pieces(self, pieces: Iterable[PieceDesign]) -> list[PieceDesign]:
        kept: list[PieceDesign] = []
        for piece in pieces:
            if self._new(piece.name, self.pieces, "a piece"):
                kept.append(piece)
        for piece in kept:
            if piece.name.text in self.sizes:
                name = piece.name.text
                so = f", such as ‘{name} size’ for the size"
                self._clash(piece.name, self.sizes[name], "a size", so)
            self.parts[piece.name.text] = {}
            for statement in piece.statements:
                self._add_parts(piece.name.text, statement)
        return kept

    def add_made(self, steps: Iterable[StepDesign]) -> None:
        for step in steps:
            for statement in step.statements:
                for joining in statement.joinings():
                    if not isinstance(joining, Called):
                        continue
                    name = joining.name
                    if name.text in self.pieces:
                        self._clash(name, self.pieces[name.text], "a piece")
                    else:
                        self._new(name, self.made, "something made")

    def _add_parts(self, piece: str, statement: Statement) -> None:
        if statement.head == "form":
            self._add_form(piece, statement)
            return
        kind = "panel" if statement.head == "panels" else statement.head
        if statement.name is not None:
            self._part(piece, statement.name, kind)
            if kind == "window" and any(_has_inside(p.value) for p in statement.phrases):
                # The inside of a ring is an island, and so is that of a letter.
                inside = Name(f"{statement.name.text} inside", statement.name.span)
                self._part(piece, inside, "island")
        for item in statement.items:
            if item.count is None:
                self._part(piece, item.name, kind)
            elif not isinstance(item.count, Literal):
                # How many is not known here: any number of them is.
                self._part(piece, item.name, kind)
            elif 0 < item.count.value <= 100:
                for number in range(1, int(item.count.value) + 1):
                    part = Name(f"{item.name.text} {number}", item.name.span)
                    self._part(piece, part, kind)

    def _add_form(self, piece: str, statement: Statement) -> None:
        """The parts that a form gives; ``foot`` of one that is called ``step`` is
        ``step foot``."""
        called = statement.form
        form = self.outside.forms.get(called.text) if called is not None else None
        if called is None or form is None or form.piece is None:
            self.formed.add(piece)
            return
        group = statement.name or called
        if group.text in self.parts[piece]:
            self._clash(group, self.parts[piece][group.text], f"a part of {piece}")
            return
        if len(self.parts[piece]) + len(form.parts) > MOST_PARTS:
            self.formed.add(piece)
            return
        if group.text not in self.pieces:
            self._part(piece, group, "form")
        for part, kind in form.parts.items():
            text = part if statement.name is None else f"{group.text} {part}"
            if text != group.text and not (kind == "form" and text in self.pieces):
                self._part(piece, Name(text, group.span), kind)

    def _part(self, piece: str, name: Name, kind: str) -> None:
        self.kinds.setdefault((piece, name.text), kind)
        other = self.pieces.get(name.text)
        if other is not None and name.text != piece:
            self._clash(name, other, "a piece")
        self._new(name, self.parts[piece], f"a part of {piece}")

    def _new(self, name: Name, known: dict[str, Span], what: str) -> bool:
        if name.text in known:
            self._clash(name, known[name.text], what)
            return False
        known[name.text] = name.span
        return True

    def _clash(self, name: Name, first: Span, what: str, so: str = "") -> None:
        message = f"‘{name.text}’ is already {what}"
        places = (Place(name.span, "again here"), Place(first, "first here"))
        ways = (WayOut(f"give one of them another name{so}"),)
        self.findings.append(Diagnostic("name-taken", "error", message, places, ways_out=ways))


def _has_inside(value: object) -> bool:
    names = [s.name for s in value.segments] if isinstance(value, Ref) else []
    return names in (["ring"], ["letters"], ["artwork"])


def _base(name: str) -> str | None:
    match = _NUMBERED.fullmatch(name)
    return match.group(1) if match else None
