"""The ranges that sizes state, and values that lie outside them."""

from __future__ import annotations

from publisher.diagnostics import Diagnostic, Place, Span
from publisher.language.ast import Expr, SizeDefinition
from publisher.language.evaluate import evaluate
from publisher.language.say import said
from publisher.language.values import (
    PARTS,
    Angle,
    Length,
    Number,
    Scope,
    SizeValue,
    Value,
    kind_said,
)


def with_unit_of_range(
    value: Number, expr: Expr, size: SizeDefinition, scope: Scope
) -> Value | None:
    """A plain number whose range is in mm lacks its unit."""
    least = None if size.least is None else evaluate(size.least, scope)
    if isinstance(least, Length) and value.value != 0:
        text = said(expr)
        message = f"{text} of what? Write {text} mm or {text} in"
        return _complain(scope, "missing-unit", message, expr.span)
    return Length(0.0) if isinstance(least, Length) else value


def range_of(
    size: SizeDefinition, value: Value, expr: Expr, scope: Scope
) -> tuple[float | None, float | None] | None:
    """The ends of a range in mm, degrees or as plain numbers; no ends where none is stated, or
    where each part of a size has its own. None where the value is of another kind."""
    if size.least is None or size.most is None:
        return None, None
    if isinstance(value, SizeValue):
        return (None, None) if _look_at_parts(size, value, expr, scope) else None
    if not isinstance(value, (Length, Angle, Number)):
        message = f"only a single measure has a range; this is {kind_said(value)}"
        _complain(scope, "wrong-unit", message, size.least.span)
        return None, None
    ends: list[float] = []
    for end in (size.least, size.most):
        limit = evaluate(end, scope)
        if isinstance(limit, Number) and limit.value == 0 and isinstance(value, Length):
            limit = Length(0.0)
        if limit is None:
            return None, None
        if type(limit) is not type(value):
            message = f"this is {kind_said(limit)}, and ‘{size.name.text}’ is {kind_said(value)}"
            _complain(scope, "wrong-unit", message, end.span)
            return None, None
        ends.append(_figure(limit))
    least, most = ends
    if least > most:
        message = f"this range runs backwards: {said(size.least)} is more than {said(size.most)}"
        _complain(scope, "range-backwards", message, size.least.span)
        return None, None
    _look_inside(size, _figure(value), least, most, expr, scope)
    return least, most


def _look_at_parts(size: SizeDefinition, value: SizeValue, expr: Expr, scope: Scope) -> bool:
    """``from 20 x 20 x 10 mm to 200 x 200 x 90 mm``: each part within its own limits. False
    where the value has not as many parts."""
    assert size.least is not None
    assert size.most is not None
    ends: list[SizeValue] = []
    for end in (size.least, size.most):
        limit = evaluate(end, scope)
        if limit is None:
            return True
        if not isinstance(limit, SizeValue) or len(limit.parts) != len(value.parts):
            name = size.name.text
            message = f"‘{name}’ is {kind_said(value)}, and its range is {kind_said(limit)}"
            places = (Place(expr.span), Place(end.span, "the range"))
            scope.report(Diagnostic("wrong-unit", "error", message, places))
            return False
        ends.append(limit)
    low, high = ends
    for word, part, least, most in zip(PARTS, value.parts, low.parts, high.parts, strict=False):
        if least.mm > most.mm:
            message = f"this range runs backwards in its {word}"
            _complain(scope, "range-backwards", message, size.least.span)
            return True
        _look_inside(size, part.mm, least.mm, most.mm, expr, scope, word)
    return True


def _look_inside(
    size: SizeDefinition,
    figure: float,
    least: float,
    most: float,
    expr: Expr,
    scope: Scope,
    part: str = "",
) -> None:
    if least - 1e-6 <= figure <= most + 1e-6:
        return
    assert size.least is not None
    assert size.most is not None
    name = f"{part} of {size.name.text}" if part else size.name.text
    side = "below" if figure < least else "above"
    written = f"{figure:g} mm" if part else said(expr)
    scope.report(
        Diagnostic(
            "out-of-range",
            "error",
            f"‘{name}’ is {written}, {side} its own range of "
            f"{said(size.least)} to {said(size.most)}",
            (
                Place(expr.span),
                Place(size.least.span, "the range"),
            ),
            numbers=(("value", figure), ("least", least), ("most", most)),
        )
    )


def _complain(scope: Scope, code: str, message: str, span: Span) -> Value | None:
    """Reports a fault; there is no value then."""
    scope.report(Diagnostic(code, "error", message, (Place(span),)))
    return None


def _figure(value: Value) -> float:
    match value:
        case Length():
            return value.mm
        case Angle():
            return value.deg
        case Number():
            return value.value
        case _:
            return 0.0
