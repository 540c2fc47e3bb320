"""Expressions back in words, for messages."""

from __future__ import annotations

from publisher.language import ast
from publisher.language.ast import Expr

_BINDS = {"+": 1, "-": 1, "*": 2, "/": 2, "^": 3}


def said(expr: Expr) -> str:
    """The expression as an author would write it."""
    match expr:
        case ast.Literal():
            return expr.written
        case ast.Ref():
            return expr.text
        case ast.Binary():
            left = _inner(expr.left, _BINDS[expr.op])
            right = _inner(expr.right, _BINDS[expr.op] + 1)
            return f"{left} {expr.op} {right}"
        case ast.Negate():
            return f"-{_inner(expr.operand, 3)}"
        case ast.Call():
            return f"{expr.function.text}({', '.join(said(a) for a in expr.arguments)})"
        case ast.Join():
            return " x ".join(_inner(p, 2) for p in expr.parts)
        case ast.PointAt():
            return f"({said(expr.across)}, {said(expr.down)})"
        case ast.Several():
            return " and ".join(said(i) for i in expr.items)


def _inner(expr: Expr, needed: int) -> str:
    loose = isinstance(expr, (ast.Join, ast.Several)) or (
        isinstance(expr, ast.Binary) and _BINDS[expr.op] < needed
    )
    return f"({said(expr)})" if loose else said(expr)
