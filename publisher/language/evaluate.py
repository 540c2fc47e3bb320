"""Expressions to values, with their dimensions looked after.

Depth is bounded by the lexer (``MAX_OPERATORS``, ``MAX_BRACKETS``), so that recursion here is.
"""

from __future__ import annotations

import math

from msgspec.structs import replace

from publisher.diagnostics import Edit, WayOut, nearest
from publisher.language import ast
from publisher.language.arithmetic import BINARY, figure_of, of_what, refuse, with_zero
from publisher.language.ast import Expr
from publisher.language.functions import FUNCTIONS, Wrong
from publisher.language.say import said
from publisher.language.values import (
    MM_PER_UNIT,
    SECONDS_PER_UNIT,
    Angle,
    Duration,
    Length,
    ListValue,
    Number,
    PointValue,
    Scope,
    SizeValue,
    Value,
    kind_said,
)

LARGEST = 1e6
"""A kilometre in mm: nothing made of paper is larger."""


def evaluate(expr: Expr, scope: Scope) -> Value | None:
    """What an expression comes to; None after a fault, which is then reported to ``scope``."""
    value = _evaluate(expr, scope)
    return None if value is None else _bounded(value, expr, scope)


def length_mm(expr: Expr, scope: Scope) -> float | None:
    """The mm of an expression that must be a single length; 0 needs no unit."""
    value = evaluate(expr, scope)
    if value is None:
        return None
    if isinstance(value, Length):
        return value.mm
    if isinstance(value, Number):
        if value.value == 0:
            return 0.0
        of_what(expr, value, scope)
    else:
        refuse(scope, "wrong-unit", f"this is {kind_said(value)}; a length is wanted", expr.span)
    return None


def angle_deg(expr: Expr, scope: Scope) -> float | None:
    """The degrees of an expression that must be an angle."""
    value = evaluate(expr, scope)
    if value is None or isinstance(value, Angle):
        return None if value is None else value.deg
    if isinstance(value, Number):
        message = f"{said(expr)} of what? Write {said(expr)} degrees"
        refuse(scope, "missing-unit", message, expr.span)
    else:
        refuse(scope, "wrong-unit", f"this is {kind_said(value)}; an angle is wanted", expr.span)
    return None


def plain_number(expr: Expr, scope: Scope) -> float | None:
    """An expression that must be a plain number."""
    value = evaluate(expr, scope)
    if value is None or isinstance(value, Number):
        return None if value is None else value.value
    message = f"this is {kind_said(value)}; a plain number is wanted"
    refuse(scope, "wrong-unit", message, expr.span)
    return None


def holds(condition: ast.Condition, scope: Scope) -> bool | None:
    """Whether every comparison is true, equal within 0.000001; None after a fault."""
    result: bool | None = True
    for comparison in condition.comparisons:
        one = _compare(comparison, scope)
        result = None if one is None or result is None else result and one
    return result


# ---------------------------------------------------------------- parts of an expression


def _evaluate(expr: Expr, scope: Scope) -> Value | None:
    match expr:
        case ast.Literal():
            return _literal(expr)
        case ast.Ref():
            return scope.lookup(expr)
        case ast.Binary():
            left, right = _evaluate(expr.left, scope), _evaluate(expr.right, scope)
            if left is None or right is None:
                return None
            return BINARY[expr.op](expr, left, right, scope)
        case ast.Negate():
            return _negate(expr, scope)
        case ast.Call():
            return _call(expr, scope)
        case ast.Join():
            return _join(expr, scope)
        case ast.PointAt():
            across, down = length_mm(expr.across, scope), length_mm(expr.down, scope)
            if across is None or down is None:
                return None
            return PointValue(Length(across), Length(down))
        case ast.Several():
            message = "several things stand here where one measure is wanted"
            return refuse(scope, "wrong-unit", message, expr.span)


def _literal(expr: ast.Literal) -> Value:
    if expr.unit == "":
        return Number(expr.value)
    if expr.unit == "degrees":
        return Angle(expr.value)
    if expr.unit in SECONDS_PER_UNIT:
        return Duration(expr.value * SECONDS_PER_UNIT[expr.unit])
    return Length(expr.value * MM_PER_UNIT[expr.unit], "in" if expr.unit == "in" else "mm")


def _negate(expr: ast.Negate, scope: Scope) -> Value | None:
    value = _evaluate(expr.operand, scope)
    match value:
        case None:
            return None
        case Length():
            return replace(value, mm=-value.mm)
        case Angle():
            return Angle(-value.deg)
        case Number():
            return Number(-value.value)
        case _:
            message = f"there is no minus of {kind_said(value)}"
            return refuse(scope, "wrong-unit", message, expr.span)


def _call(expr: ast.Call, scope: Scope) -> Value | None:
    name, span = expr.function.text, expr.function.span
    function = FUNCTIONS.get(name)
    if function is None:
        return _unknown_function(expr, scope)
    given = _given(expr, function.each, scope)
    if given is None:
        return None
    arguments = [a for a, _ in given]
    count = len(arguments)
    if count < function.least or (function.most is not None and count > function.most):
        many = function.least if count < function.least else function.most
        message = f"‘{name}’ takes {many} {'value' if many == 1 else 'values'}, not {count}"
        return refuse(scope, "wrong-count", message, span)
    try:
        return function.run([v for _, v in given])
    except Wrong as fault:
        where = span if fault.argument is None else arguments[fault.argument].span
        return refuse(scope, "wrong-unit", f"‘{name}’: {fault.message}", where)


def _given(expr: ast.Call, each: bool, scope: Scope) -> list[tuple[Expr, Value]] | None:
    """What a function is given, with where it stands; a list member by member where the
    function takes lists. None after a fault."""
    found: list[tuple[Expr, Value]] = []
    whole = True
    for argument in expr.arguments:
        for one in argument.items if each and isinstance(argument, ast.Several) else (argument,):
            value = _evaluate(one, scope)
            if value is None:
                whole = False
            elif each and isinstance(value, ListValue):
                found.extend((one, item) for item in value.items)
            else:
                found.append((one, value))
    return found if whole else None


def _unknown_function(expr: ast.Call, scope: Scope) -> Value | None:
    name, span = expr.function.text, expr.function.span
    near = nearest(name, FUNCTIONS)
    message = f"there is no function ‘{name}’"
    ways: tuple[WayOut, ...] = ()
    notes: tuple[str, ...] = ()
    if near is not None:
        message += f". Nearest: ‘{near}’"
        ways = (WayOut(f"write ‘{near}’", Edit(span, near)),)
    elif len(expr.arguments) == 1:
        notes = (f"To multiply write {name} * ({said(expr.arguments[0])})",)
    return refuse(scope, "unknown-name", message, span, *notes, ways=ways)


def _join(expr: ast.Join, scope: Scope) -> Value | None:
    values = [_evaluate(p, scope) for p in expr.parts]
    if any(v is None for v in values):
        return None
    numbers = [
        (p, v) for p, v in zip(expr.parts, values, strict=True) if isinstance(v, Number) and v.value
    ]
    if numbers:
        part, number = numbers[0]
        if len(numbers) == len(values) or len(values) > 2:
            return of_what(part, number, scope)
        others = [p for p in expr.parts if p is not part]
        message = (
            "x joins the parts of a size. To multiply write "
            f"{said(part)} * {' * '.join(said(o) for o in others)}"
        )
        edit = Edit(expr.span, f"{said(part)} * {' * '.join(said(o) for o in others)}")
        way = WayOut("write * for x", edit)
        return refuse(scope, "wrong-unit", message, part.span, ways=(way,))
    parts: list[Length] = []
    for part, value in zip(expr.parts, values, strict=True):
        if isinstance(value, Number):
            value = Length(0.0)
        if not isinstance(value, Length):
            assert value is not None
            message = f"this is {kind_said(value)}; the parts of a size are lengths"
            return refuse(scope, "wrong-unit", message, part.span)
        parts.append(value)
    return SizeValue(tuple(parts))


# ---------------------------------------------------------------- comparisons


def _compare(comparison: ast.Comparison, scope: Scope) -> bool | None:
    left, right = evaluate(comparison.left, scope), evaluate(comparison.right, scope)
    if left is None or right is None:
        return None
    left, right = with_zero(left, right), with_zero(right, left)
    a, b = figure_of(left), figure_of(right)
    if type(left) is not type(right) or a is None or b is None:
        for value, expr, other in (
            (left, comparison.left, right),
            (right, comparison.right, left),
        ):
            if isinstance(value, Number) and isinstance(other, Length):
                of_what(expr, value, scope)
                return None
        message = f"{kind_said(left)} and {kind_said(right)} cannot be compared"
        refuse(scope, "wrong-unit", message, comparison.span)
        return None
    near = abs(a - b) <= 1e-6
    match comparison.op:
        case "is":
            return near
        case "is over":
            return a > b and not near
        case "is under":
            return a < b and not near
        case "is at least":
            return a > b or near
        case "is at most":
            return a < b or near


# ---------------------------------------------------------------- reports


def _bounded(value: Value, expr: Expr, scope: Scope) -> Value | None:
    match value:
        case SizeValue():
            figures = [p.mm for p in value.parts]
        case PointValue():
            figures = [value.across.mm, value.down.mm]
        case ListValue():
            several = "a list of measures; ‘sum’, ‘min’ and ‘max’ make one of it"
            return refuse(scope, "wrong-unit", f"this is {several}", expr.span)
        case _:
            figure = figure_of(value)
            figures = [] if figure is None else [figure]
    if any(not math.isfinite(f) or abs(f) > LARGEST for f in figures):
        return refuse(scope, "number", "this comes to more than paper can be", expr.span)
    return value
