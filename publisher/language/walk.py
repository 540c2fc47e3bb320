"""Walking through expressions."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.language import ast
from publisher.language.ast import Expr, Ref


def refs_in(expr: Expr) -> Iterator[Ref]:
    """Every reference in an expression, in reading order."""
    match expr:
        case Ref():
            yield expr
        case ast.Binary():
            yield from refs_in(expr.left)
            yield from refs_in(expr.right)
        case ast.Negate():
            yield from refs_in(expr.operand)
        case ast.Call():
            for argument in expr.arguments:
                yield from refs_in(argument)
        case ast.Join():
            for part in expr.parts:
                yield from refs_in(part)
        case ast.Several():
            for item in expr.items:
                yield from refs_in(item)
        case ast.PointAt():
            yield from refs_in(expr.across)
            yield from refs_in(expr.down)
        case _:
            return
