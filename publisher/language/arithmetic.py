"""Sums with their dimensions looked after, and the answers to those that have none."""

from __future__ import annotations

import math
from collections.abc import Callable

from msgspec.structs import replace

from publisher.diagnostics import Diagnostic, Edit, Place, Span, WayOut
from publisher.language import ast
from publisher.language.ast import Expr
from publisher.language.say import said
from publisher.language.values import Angle, Length, Number, Scope, SizeValue, Value, kind_said


def _add(expr: ast.Binary, left: Value, right: Value, scope: Scope) -> Value | None:
    sign = 1.0 if expr.op == "+" else -1.0
    left, right = with_zero(left, right), with_zero(right, left)
    match left, right:
        case Length(), Length():
            return Length(left.mm + sign * right.mm, left.first or right.first)
        case Angle(), Angle():
            return Angle(left.deg + sign * right.deg)
        case Number(), Number():
            return Number(left.value + sign * right.value)
        case SizeValue(), SizeValue() if len(left.parts) == len(right.parts):
            return SizeValue(
                tuple(
                    Length(a.mm + sign * b.mm, a.first or b.first)
                    for a, b in zip(left.parts, right.parts, strict=True)
                )
            )
        case Number(), Length():
            return of_what(expr.left, left, scope)
        case Length(), Number():
            return of_what(expr.right, right, scope)
        case (SizeValue(), Length()) | (Length(), SizeValue()):
            whole = expr.left if isinstance(left, SizeValue) else expr.right
            note = f"Say which part: width, height or depth of {said(whole)}"
            message = "a size of several parts and one length do not add up"
            return refuse(scope, "wrong-unit", message, expr.span, note)
        case _:
            message = f"{kind_said(left)} and {kind_said(right)} do not add up"
            return refuse(scope, "wrong-unit", message, expr.span)


def with_zero(value: Value, other: Value) -> Value:
    """Nothing needs no unit."""
    if isinstance(value, Number) and value.value == 0 and isinstance(other, (Length, Angle)):
        return Length(0.0) if isinstance(other, Length) else Angle(0.0)
    return value


def _times(expr: ast.Binary, left: Value, right: Value, scope: Scope) -> Value | None:
    if isinstance(right, Number):
        left, right = right, left
    if isinstance(left, Number):
        match right:
            case Length():
                return replace(right, mm=right.mm * left.value)
            case Angle():
                return Angle(right.deg * left.value)
            case Number():
                return Number(right.value * left.value)
            case SizeValue():
                return SizeValue(tuple(replace(p, mm=p.mm * left.value) for p in right.parts))
            case _:
                pass
    if isinstance(left, Length) and isinstance(right, Length):
        message = "a length times a length is an area, and nothing here is measured so"
        note = "Multiply a length by a plain number"
        return refuse(scope, "wrong-unit", message, expr.span, note)
    message = f"{kind_said(left)} cannot be multiplied by {kind_said(right)}"
    return refuse(scope, "wrong-unit", message, expr.span)


def _over(expr: ast.Binary, left: Value, right: Value, scope: Scope) -> Value | None:
    divisor = figure_of(right)
    if divisor == 0:
        return refuse(scope, "number", "nothing can be divided by 0", expr.right.span)
    match left, right:
        case Length(), Length():
            return Number(left.mm / right.mm)
        case Angle(), Angle():
            return Number(left.deg / right.deg)
        case Number(), Number():
            return Number(left.value / right.value)
        case Length(), Number():
            return replace(left, mm=left.mm / right.value)
        case Angle(), Number():
            return Angle(left.deg / right.value)
        case SizeValue(), Number():
            return SizeValue(tuple(replace(p, mm=p.mm / right.value) for p in left.parts))
        case _:
            message = f"{kind_said(left)} cannot be divided by {kind_said(right)}"
            return refuse(scope, "wrong-unit", message, expr.span)


def _power(expr: ast.Binary, left: Value, right: Value, scope: Scope) -> Value | None:
    if not isinstance(left, Number) or not isinstance(right, Number):
        message = "only a plain number has a power, and the power is one too"
        return refuse(scope, "wrong-unit", message, expr.span)
    try:
        result = left.value**right.value
    except (OverflowError, ZeroDivisionError):
        result = math.inf
    if isinstance(result, complex) or not math.isfinite(result):
        return refuse(scope, "number", "this power has no value", expr.span)
    return Number(result)


BINARY: dict[str, Callable[[ast.Binary, Value, Value, Scope], Value | None]] = {
    "+": _add,
    "-": _add,
    "*": _times,
    "/": _over,
    "^": _power,
}
"""By sign. Each gives None after a fault, which it has then reported."""


def figure_of(value: Value) -> float | None:
    """The mm, degrees or plain number of a single measure."""
    match value:
        case Length():
            return value.mm
        case Angle():
            return value.deg
        case Number():
            return value.value
        case _:
            return None


def of_what(expr: Expr, number: Number, scope: Scope) -> Value | None:
    """Reports "5 of what? Write 5 mm or 5 in"; there is no value then."""
    text = said(expr)
    if isinstance(expr, ast.Literal):
        message = f"{text} of what? Write {text} mm or {text} in"
        ways = tuple(
            WayOut(f"write {text} {unit}", Edit(expr.span, f"{text} {unit}"))
            for unit in ("mm", "in")
        )
        return refuse(scope, "missing-unit", message, expr.span, ways=ways)
    message = f"‘{text}’ is a plain number, {number.value:g}; a length is wanted"
    if isinstance(expr, ast.Ref) and len(expr.segments) == 1:
        note = f"Write {number.value:g} mm or {number.value:g} in where ‘{text}’ gets its value"
        return refuse(scope, "wrong-unit", message, expr.span, note)
    return refuse(scope, "wrong-unit", message, expr.span)


def refuse(
    scope: Scope, code: str, message: str, span: Span, *notes: str, ways: tuple[WayOut, ...] = ()
) -> Value | None:
    """Reports a fault; there is no value then."""
    scope.report(Diagnostic(code, "error", message, (Place(span),), (), notes, ways))
    return None
