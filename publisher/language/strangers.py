"""Names that nobody has given, answered: the nearest one, or what was meant by its form."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut, nearest
from publisher.language import ast
from publisher.language.ast import Segment
from publisher.language.names import KINDS, PROPERTIES, Names
from publisher.language.statements import LABELS

MAX_NEAREST = 50
"""How many unknown names in one file get the nearest known one."""

_WAYS = frozenset({"up", "down", "back", "over", "in", "out", "forward", "forwards", "under"})


class Strangers(Struct):
    """Answers unknown names, seen from ``piece`` (None: from a step)."""

    names: Names
    piece: str | None
    findings: list[Diagnostic]

    def name(self, segment: Segment) -> None:
        """Answer a name that nobody has given."""
        name, span = segment.name, segment.span
        answer = (
            _side(name, span)
            or self._hyphens(name, span)
            or self._possessive(name, span)
            or self._plural(name, span)
            or self._measure(name, span)
            or self._partly_known(name, span)
        )
        if answer is not None:
            self.findings.append(answer)
            return
        choices = self.names.choices(self.piece)
        near = self._nearest(name, choices)
        home = choices[near] if near is not None else None
        self._tell(f"there is no ‘{name}’", span, near, home)

    def asked(self, segment: Segment, owner: str) -> None:
        """Answer ``lenght`` in ``lenght of tray``: something that can be asked, or a part."""
        near = self._nearest(segment.name, PROPERTIES)
        if near is None:
            self.name(segment)
            return
        self._tell(f"‘{segment.name}’ cannot be asked of {owner}", segment.span, near, None)

    def among(self, name: ast.Name, choices: Iterable[str], what: str) -> None:
        """Answer a name that is none of a list."""
        known = sorted(choices)
        words = name.text.split()
        leading = (" ".join(words[:count]) for count in range(len(words) - 1, 0, -1))
        near = next((w for w in leading if w in known), None) or self._nearest(name.text, known)
        home = self.names.sizes.get(near) if near is not None and what == "size" else None
        notes: tuple[str, ...] = ()
        if near is None and what == "stock" and known:
            notes = ("The papers are " + ", ".join(known) + "; yours go into shared/stocks.toml",)
        self._tell(f"there is no {what} called ‘{name.text}’", name.span, near, home, notes)

    def _nearest(self, name: str, choices: Iterable[str]) -> str | None:
        self.names.slips += 1
        if self.names.slips > MAX_NEAREST:
            return None
        known = list(choices)
        ending = [c for c in known if c.endswith(f" {name}")]
        return nearest(name, known) or (ending[0] if len(ending) == 1 else None)

    def _tell(
        self,
        message: str,
        span: Span,
        near: str | None,
        home: Span | None,
        notes: tuple[str, ...] = (),
    ) -> None:
        places = [Place(span)]
        ways: tuple[WayOut, ...] = ()
        if near is not None:
            message += f". Nearest: ‘{near}’"
            ways = (WayOut(f"write ‘{near}’", Edit(span, near)),)
            if home is not None:
                message += f", line {home.line}"
                places.append(Place(home, f"‘{near}’ is named here"))
        self.findings.append(
            Diagnostic("unknown-name", "error", message, tuple(places), notes=notes, ways_out=ways)
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

    def _measure(self, name: str, span: Span) -> Diagnostic | None:
        """``height`` or ``high`` alone, where a size is wanted."""
        noun = next(iter(LABELS.get(name, ())), name)
        if noun not in PROPERTIES:
            return None
        thing = next(iter(self.names.pieces), "tray")
        return _error(
            f"there is no size called ‘{name}’. "
            f"What can be measured is asked of a thing: ‘{noun} of {thing}’",
            span,
        )

    def _partly_known(self, name: str, span: Span) -> Diagnostic | None:
        words = name.split()
        for count in range(len(words) - 1, 0, -1):
            known = " ".join(words[:count])
            if self._is_known(known):
                rest = " ".join(words[count:])
                if known in self.names.pieces and self.names.is_part(rest, known):
                    better = f"{rest} of {known}"
                    return _error(
                        f"a part is said before its piece: ‘{better}’",
                        span,
                        WayOut(f"write ‘{better}’", Edit(span, better)),
                    )
                why = ": the score says which way" if rest in _WAYS else ""
                return _error(
                    f"‘{known}’ is known, ‘{name}’ is not. Leave out ‘{rest}’{why}",
                    span,
                    WayOut(f"leave out ‘{rest}’", Edit(span, known)),
                )
        return None

    def _is_known(self, name: str) -> bool:
        return self.names.is_known(name, self.piece)

    def kind(self, segment: Segment) -> None:
        """Answer ``each flop`` where nothing is called so."""
        name = segment.name
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


_SIDES = {
    **{word: word for word in ("top", "bottom", "left", "right")},
    "upper": "top",
    "lower": "bottom",
    "left-hand": "left",
    "right-hand": "right",
}


def _side(name: str, span: Span) -> Diagnostic | None:
    """``left edge``, ``upper side``: a side is said by one word."""
    word, _, what = name.rpartition(" ")
    if name in ("side", "edge"):
        return _error(
            f"‘{name}’ alone is no name of a side: "
            "say top, bottom, left or right, as it lies on the flat paper",
            span,
        )
    side = _SIDES.get(word)
    if side is None or what not in ("side", "edge"):
        return None
    return _error(
        f"a side is called ‘{side}’ alone", span, WayOut(f"write ‘{side}’", Edit(span, side))
    )


def _error(message: str, span: Span, *ways: WayOut) -> Diagnostic:
    return Diagnostic("unknown-name", "error", message, (Place(span),), ways_out=ways)
