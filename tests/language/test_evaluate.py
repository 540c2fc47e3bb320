"""Values: dimensions, units, functions, conditions."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.language import angle_deg, evaluate, length_mm, plain_number
from publisher.language.ast import Expr
from publisher.language.say import said
from publisher.language.values import Angle, Length, Number, PointValue, SizeValue, Value
from tests.language.reading import SHELF, Shelf, quoted, read


def expr_of(text: str) -> tuple[Expr, str]:
    program, findings, whole = read(f"\nx {{{text}}} y\n", None)
    assert findings == []
    (expr,) = program.spoken.values()
    return expr, whole


def value_of(text: str) -> Value | None:
    shelf = Shelf(dict(SHELF))
    value = evaluate(expr_of(text)[0], shelf)
    assert shelf.reports == [], [f.message for f in shelf.reports]
    return value


def refusal(text: str) -> tuple[str, str, str]:
    """Code, what is underlined, message."""
    expr, whole = expr_of(text)
    shelf = Shelf(dict(SHELF))
    assert evaluate(expr, shelf) is None
    (finding,) = shelf.reports
    return finding.code, quoted(whole, finding), finding.message


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("5 1/4 in", Length(133.35)),
        ("2 cm + 5 mm", Length(25)),
        ("72 pt", Length(25.4)),
        ("2 * 3 mm + 1 mm", Length(7)),
        ("2 + 3 * 4", Number(14)),
        ("(2 + 3) * 4", Number(20)),
        ("8 - 3 - 2", Number(3)),
        ("12 / 3 / 2", Number(2)),
        ("2 ^ 3 * 2", Number(16)),
        ("-2 * 3 mm", Length(-6)),
        ("- - 3 mm", Length(3)),
        ("90 degrees / 2", Angle(45)),
        ("10 mm / 4 mm", Number(2.5)),
        ("0 + 3 mm", Length(3)),
        ("3 mm - 0", Length(3)),
        ("80 x 120 mm", SizeValue((Length(80), Length(120)))),
        ("1 x 2 x 3 in", SizeValue((Length(25.4), Length(50.8), Length(76.2)))),
        ("(1 x 2 mm) + (3 x 4 mm)", SizeValue((Length(4), Length(6)))),
        ("(1 x 2 mm) * 2", SizeValue((Length(2), Length(4)))),
        ("(10 mm, 1 in)", PointValue(Length(10), Length(25.4))),
        ("caliper of card * 2", Length(0.8)),
        ("width of drawer when closed", Length(124.8)),
        ("min(3 mm, 1/4 in)", Length(3)),
        ("max(1, 2.5, 2)", Number(2.5)),
        ("round(12.3 mm, 0.5 mm)", Length(12.5)),
        ("round(1 in, 1/16 in)", Length(25.4)),
        ("round up(12.1 mm, 0.5 mm)", Length(12.5)),
        ("round down(12.4 mm, 0.5 mm)", Length(12)),
        ("round(2.5)", Number(3)),
        ("square root(2.25)", Number(1.5)),
        ("absolute(-3 mm)", Length(3)),
        ("sine(30 degrees)", Number(0.5)),
        ("cosine(90 degrees)", Number(0)),
        ("tangent(45 degrees)", Number(1)),
        ("arc tangent(1)", Angle(45)),
        ("arc sine(0.5)", Angle(30)),
    ],
)
def test_values(text: str, value: Value) -> None:
    found = value_of(text)
    assert type(found) is type(value)
    assert figures(found) == pytest.approx(figures(value), abs=1e-9)


def figures(value: Value | None) -> list[float]:
    match value:
        case Length():
            return [value.mm]
        case Angle():
            return [value.deg]
        case Number():
            return [value.value]
        case SizeValue():
            return [p.mm for p in value.parts]
        case PointValue():
            return [value.across.mm, value.down.mm]
        case _:
            return []


@pytest.mark.parametrize(
    ("text", "code", "word", "part"),
    [
        ("3 mm + 5", "missing-unit", "5", "5 of what? Write 5 mm or 5 in"),
        ("5 - 3 mm", "missing-unit", "5", "5 of what?"),
        ("3 mm + (2 * 5)", "wrong-unit", "2 * 5", "‘2 * 5’ is a plain number, 10"),
        ("3 mm * 4 mm", "wrong-unit", "3 mm * 4 mm", "a length times a length is an area"),
        ("3 / 4 mm", "wrong-unit", "3 / 4 mm", "a plain number cannot be divided by a length"),
        ("3 mm + 90 degrees", "wrong-unit", "3 mm + 90 degrees", "a length and an angle do not"),
        ("(1 x 2 mm) + 3 mm", "wrong-unit", "(1 x 2 mm) + 3 mm", "several parts and one length"),
        ("-(1 x 2 mm)", "wrong-unit", "-(1 x 2 mm)", "no minus of a size of two parts"),
        ("3 mm ^ 2", "wrong-unit", "3 mm ^ 2", "only a plain number has a power"),
        ("3 / (2 - 2)", "number", "2 - 2", "nothing can be divided by 0"),
        ("10 ^ 400", "number", "10 ^ 400", "this power has no value"),
        ("(0 - 8) ^ 0.5", "number", "(0 - 8) ^ 0.5", "this power has no value"),
        ("10 ^ 300", "number", "10 ^ 300", "more than paper can be"),
        ("2 x caliper of card", "wrong-unit", "2", "To multiply write 2 * caliper of card"),
        ("80 x 120", "missing-unit", "80", "80 of what?"),
        ("80 mm x 90 degrees", "wrong-unit", "90 degrees", "the parts of a size are lengths"),
        ("min(3 mm, 4)", "wrong-unit", "4", "all lengths"),
        ("min()", None, "", ""),
        ("square root(1, 2)", "wrong-count", "square root", "takes 1 value, not 2"),
        ("square root(0 - 1)", "wrong-unit", "0 - 1", "less than nothing"),
        ("sine(0.5)", "wrong-unit", "0.5", "it takes an angle"),
        ("arc sine(2)", "wrong-unit", "2", "from -1 to 1"),
        ("round(3 mm)", "wrong-unit", "3 mm", "to what?"),
        ("round(3 mm, 0 mm)", "wrong-unit", "0 mm", "more than nothing"),
        ("2 mm and 3 mm", "wrong-unit", "2 mm and 3 mm", "several things"),
        ("side(3)", "unknown-name", "side", "there is no function ‘side’"),
    ],
)
def test_refusals(text: str, code: str | None, word: str, part: str) -> None:
    if code is None:
        assert [f.code for f in read(f"\nx {{{text}}} y\n", None)[1]] == ["syntax"]
        return
    found_code, underlined, message = refusal(text)
    assert found_code == code
    assert underlined.strip("()") == word.strip("()")
    assert part in message


def test_what_is_not_known_is_reported_by_its_scope_alone() -> None:
    shelf = Shelf()
    for text in ("nobody + 3", "min(nobody, 3)", "nobody x 3 mm", "-nobody", "nobody ^ 2"):
        assert evaluate(expr_of(text)[0], shelf) is None
    assert shelf.reports == []


def test_the_unit_written_first_is_kept() -> None:
    for text, first in (
        ("1 in + 3 mm", "in"),
        ("3 mm + 1 in", "mm"),
        ("2 * 1/4 in", "in"),
        ("min(3 in, 1 cm)", "mm"),
        ("0 + 3 in", "in"),
    ):
        found = value_of(text)
        assert isinstance(found, Length)
        assert found.first == first


def wanted(text: str) -> list[str]:
    expr, _ = expr_of(text)
    shelf = Shelf(dict(SHELF))
    results = [length_mm(expr, shelf), angle_deg(expr, shelf), plain_number(expr, shelf)]
    assert sum(r is not None for r in results) <= 2
    return [f.message for f in shelf.reports]


def test_what_is_wanted() -> None:
    assert wanted("3") == ["3 of what? Write 3 mm or 3 in", "3 of what? Write 3 degrees"]
    assert wanted("0") == ["0 of what? Write 0 degrees"]
    assert wanted("3 mm") == [
        "this is a length; an angle is wanted",
        "this is a length; a plain number is wanted",
    ]
    assert wanted("1 x 2 mm")[0] == "this is a size of two parts; a length is wanted"


# ---------------------------------------------------------------- against Python


numbers = st.integers(1, 40).map(str) | st.sampled_from(["0.5", "2.25", "1/4"])


def sums(leaves: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.recursive(
        leaves,
        lambda inner: st.one_of(
            st.tuples(inner, st.sampled_from("+-*/"), inner).map(" ".join),
            inner.map(lambda s: f"({s})"),
            inner.map(lambda s: f"-({s})"),
        ),
        max_leaves=12,
    )


@given(sums(numbers))
def test_plain_sums_agree_with_python(text: str) -> None:
    try:
        expected = eval(text.replace("1/4", "0.25"))
    except ZeroDivisionError:
        return
    shelf = Shelf()
    found = evaluate(expr_of(text)[0], shelf)
    if abs(expected) > 1e6:
        assert found is None
    elif found is None:
        assert "divided by 0" in shelf.reports[0].message
    else:
        assert isinstance(found, Number)
        assert math.isclose(found.value, expected, rel_tol=1e-9, abs_tol=1e-9)


@given(sums(numbers))
def test_sums_said_again_are_the_same(text: str) -> None:
    expr, _ = expr_of(text)
    again, _ = expr_of(said(expr))
    assert said(again) == said(expr)
    first, second = evaluate(expr, Shelf()), evaluate(again, Shelf())
    assert figures(first) == pytest.approx(figures(second))
