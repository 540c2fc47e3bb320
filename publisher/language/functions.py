"""The functions of sizes: ``min``, ``max``, ``round``, roots and the angle functions."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from msgspec import Struct

from publisher.language.values import Angle, Length, Number, Value, first_unit


class Wrong(Exception):  # noqa: N818 - an answer to the author, caught where the call stands
    """What is wrong with a call; ``argument`` counts from 0, None for the call as a whole."""

    def __init__(self, message: str, argument: int | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.argument = argument


class Function(Struct, frozen=True):
    """``least`` and ``most`` are how many values it takes (``most`` None: any number); with
    ``each`` also lists: ``sum(height of each panel)``."""

    name: str
    least: int
    most: int | None
    says: str
    run: Callable[[Sequence[Value]], Value]
    each: bool = False


def _alike(values: Sequence[Value]) -> list[float]:
    """The figures of values that are all lengths, all angles or all numbers."""
    figures: list[float] = []
    for index, value in enumerate(values):
        if type(value) is not type(values[0]) or not isinstance(value, (Length, Angle, Number)):
            raise Wrong("its values are all lengths, all angles or all plain numbers", index)
        figures.append(_figure(value))
    return figures


def _figure(value: Length | Angle | Number) -> float:
    match value:
        case Length():
            return value.mm
        case Angle():
            return value.deg
        case Number():
            return value.value


def _like(model: Value, figure: float, first: Value | None = None) -> Value:
    match model:
        case Length():
            return Length(figure, model.first or ("" if first is None else first_unit(first)))
        case Angle():
            return Angle(figure)
        case _:
            return Number(figure)


def _least(values: Sequence[Value]) -> Value:
    figures = _alike(values)
    return values[figures.index(min(figures))]


def _greatest(values: Sequence[Value]) -> Value:
    figures = _alike(values)
    return values[figures.index(max(figures))]


def _sum(values: Sequence[Value]) -> Value:
    first = next((v for v in values if first_unit(v)), values[0])
    return _like(values[0], sum(_alike(values)), first)


def _diagonal(values: Sequence[Value]) -> Value:
    for index, value in enumerate(values):
        if not isinstance(value, Length):
            raise Wrong("it takes lengths", index)
    return _like(values[0], math.hypot(*_alike(values)), values[1])


def _rounding(to_whole: Callable[[float], float]) -> Callable[[Sequence[Value]], Value]:
    def run(values: Sequence[Value]) -> Value:
        if len(values) == 1:
            if not isinstance(values[0], Number):
                raise Wrong("to what? Write for example round(a, 0.5 mm)", 0)
            return Number(to_whole(values[0].value))
        figure, step = _alike(values)
        if step <= 0:
            raise Wrong("the step to round to is more than nothing", 1)
        return _like(values[0], to_whole(figure / step) * step, values[1])

    return run


def _half_up(figure: float) -> float:
    return math.floor(figure + 0.5 + 1e-9)


def _up(figure: float) -> float:
    return math.ceil(figure - 1e-9)


def _down(figure: float) -> float:
    return math.floor(figure + 1e-9)


def _root(values: Sequence[Value]) -> Value:
    figure = _plain(values[0], 0)
    if figure < 0:
        raise Wrong("there is no square root of less than nothing", 0)
    return Number(math.sqrt(figure))


def _absolute(values: Sequence[Value]) -> Value:
    (figure,) = _alike(values)
    return _like(values[0], abs(figure))


def _of_angle(function: Callable[[float], float]) -> Callable[[Sequence[Value]], Value]:
    def run(values: Sequence[Value]) -> Value:
        (angle,) = values
        if not isinstance(angle, Angle):
            raise Wrong("it takes an angle, such as 30 degrees", 0)
        return Number(_neat(function(math.radians(angle.deg))))

    return run


def _to_angle(function: Callable[[float], float]) -> Callable[[Sequence[Value]], Value]:
    def run(values: Sequence[Value]) -> Value:
        figure = _plain(values[0], 0)
        try:
            return Angle(math.degrees(function(figure)))
        except ValueError:
            raise Wrong("no angle has that value; it lies from -1 to 1", 0) from None

    return run


def _plain(value: Value, index: int) -> float:
    if not isinstance(value, Number):
        raise Wrong("it takes a plain number", index)
    return value.value


def _neat(figure: float) -> float:
    """Without the dust that binary angles leave: the cosine of 90 degrees is 0."""
    return 0.0 if abs(figure) < 1e-15 else figure


FUNCTIONS: dict[str, Function] = {
    f.name: f
    for f in (
        Function("min", 1, None, "the smallest of several", _least, each=True),
        Function("max", 1, None, "the largest of several", _greatest, each=True),
        Function("sum", 1, None, "several put together", _sum, each=True),
        Function("diagonal", 2, 3, "from corner to corner, of sides at right angles", _diagonal),
        Function("round", 1, 2, "to the nearest step", _rounding(_half_up)),
        Function("round up", 1, 2, "to the next step above", _rounding(_up)),
        Function("round down", 1, 2, "to the next step below", _rounding(_down)),
        Function("square root", 1, 1, "of a plain number", _root),
        Function("absolute", 1, 1, "without its sign", _absolute),
        Function("sine", 1, 1, "of an angle", _of_angle(math.sin)),
        Function("cosine", 1, 1, "of an angle", _of_angle(math.cos)),
        Function("tangent", 1, 1, "of an angle", _of_angle(math.tan)),
        Function("arc sine", 1, 1, "the angle with that sine", _to_angle(math.asin)),
        Function("arc cosine", 1, 1, "the angle with that cosine", _to_angle(math.acos)),
        Function("arc tangent", 1, 1, "the angle with that tangent", _to_angle(math.atan)),
    )
}
"""By name. Angles in degrees."""
