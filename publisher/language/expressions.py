"""Parse tree to expressions and places."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import cast

from msgspec.structs import replace

from publisher.diagnostics import Span
from publisher.language import ast, numbers
from publisher.language.ast import Expr, Name, Offset, Place, Ref, Segment
from publisher.language.parser import Node, Part, Token
from publisher.source import MappedText


class Expressions:
    """Builds from trees whose positions are offsets into ``body``."""

    def __init__(self, body: MappedText) -> None:
        self.body = body

    # ------------------------------------------------------------ places and names

    def span(self, part: Part) -> Span:
        return self.body.span(part.start, part.end)

    def name(self, token: Part) -> Name:
        assert isinstance(token, Token)
        return Name(words_of(token.text), self.span(token))

    # ------------------------------------------------------------ expressions

    def expr(self, part: Part) -> Expr:
        assert isinstance(part, Node)
        return _EXPRESSIONS[part.name](self, part)

    def literal(self, node: Node) -> Expr:
        (token,) = node.parts
        assert isinstance(token, Token)
        return ast.Literal(*_measured(token.text), self.span(node))

    def _ref(self, node: Node) -> Expr:
        if len(node.parts) == 1 and isinstance(node.parts[0], Node):
            only = self._segment(node.parts[0])
            return Ref((only,), (), only.span)
        segments = tuple(self._segment(n) for n in nodes_of(node))
        states: tuple[ast.State, ...] = ()
        last = node.parts[-1]
        if isinstance(last, Token) and last.kind == "STATE":
            said = last.text.lower().split()
            states = cast("tuple[ast.State, ...]", tuple(w for w in said[1:] if w != "and"))
        return Ref(segments, states, self.span(node))

    def _segment(self, node: Node) -> Segment:
        first = node.parts[0]
        assert isinstance(first, Token)
        kind = cast("ast.SegmentKind", first.kind.lower())
        said = node.parts[-1]
        assert isinstance(said, Token)
        return Segment(kind, words_of(said.text), self.span(node))

    def _binary(self, node: Node) -> Expr:
        left, sign, right = node.parts
        assert isinstance(sign, Token)
        op = cast("ast.Operator", "-" if sign.kind == "MINUS" else sign.text)
        return ast.Binary(op, self.expr(left), self.expr(right), self.span(node))

    def _negate(self, node: Node) -> Expr:
        return ast.Negate(self.expr(node.parts[1]), self.span(node))

    def _call(self, node: Node) -> Expr:
        arguments = tuple(self.expr(n) for n in nodes_of(node))
        return ast.Call(self.name(node.parts[0]), arguments, self.span(node))

    def _join(self, node: Node) -> Expr:
        return ast.Join(share_unit(tuple(self.expr(n) for n in nodes_of(node))), self.span(node))

    def _several(self, node: Node) -> Expr:
        return ast.Several(tuple(self.expr(n) for n in nodes_of(node)), self.span(node))

    def _point(self, node: Node) -> Expr:
        across, down = share_unit(tuple(self.expr(n) for n in nodes_of(node)))
        return ast.PointAt(across, down, self.span(node))

    def _grouped(self, node: Node) -> Expr:
        return self.expr(node.parts[1])

    # ------------------------------------------------------------ places

    def places(self, node: Node) -> tuple[Place, ...]:
        if node.name == "offset_places":
            return (self.offset(node),)
        return tuple(self.expr(n) for n in nodes_of(node))

    def place(self, node: Part) -> Place:
        assert isinstance(node, Node)
        if node.name in ("offset", "offset_places"):
            return self.offset(node)
        if node.name in ("place", "object"):
            return self.expr(node.parts[0])
        return self.expr(node)

    def offset(self, node: Node) -> Offset:
        amount, direction, base = nodes_of(node)
        bases = self.places(base) if base.name.endswith("places") else (self.place(base),)
        return Offset(self.expr(amount), _direction(direction), bases, self.span(node))


_EXPRESSIONS: dict[str, Callable[[Expressions, Node], Expr]] = {
    "literal": Expressions.literal,
    "ref": Expressions._ref,
    "binary": Expressions._binary,
    "negate": Expressions._negate,
    "call": Expressions._call,
    "join": Expressions._join,
    "several": Expressions._several,
    "point": Expressions._point,
    "grouped": Expressions._grouped,
}


def nodes_of(node: Node) -> Iterator[Node]:
    return (p for p in node.parts if isinstance(p, Node))


def tokens_of(node: Node) -> Iterator[Token]:
    return (p for p in node.parts if isinstance(p, Token))


@lru_cache(maxsize=4096)
def _measured(text: str) -> tuple[float, ast.Unit, str]:
    """A number as written: its value, its unit, and its text with single spaces."""
    number, unit = numbers.split_measure(text)
    value = numbers.amount(number)
    return value if value is not None else 0.0, unit, " ".join(text.split())


def words_of(text: str) -> str:
    """Lower case with single spaces."""
    return " ".join(text.lower().replace("’", "'").split())


def share_unit(parts: tuple[Expr, ...]) -> tuple[Expr, ...]:
    """``80 x 120 mm``: plain numbers take the unit of the last part."""
    last = parts[-1]
    if not isinstance(last, ast.Literal) or not last.unit:
        return parts
    return tuple(_with_unit(p, last.unit) for p in parts)


def _with_unit(part: Expr, unit: ast.Unit) -> Expr:
    if isinstance(part, ast.Negate):
        return replace(part, operand=_with_unit(part.operand, unit))
    if isinstance(part, ast.Literal) and not part.unit:
        return replace(part, unit=unit)
    return part


def _direction(node: Node) -> ast.Direction:
    said = " ".join(words_of(t.text) for t in tokens_of(node))
    said = re.sub(r"\bof (?:the |a |an )?way along\b", "of the way along", said)
    return cast("ast.Direction", said)
