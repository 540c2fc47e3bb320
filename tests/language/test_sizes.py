"""Sizes: worked out when asked for, in any order, with ranges and without circles."""

from __future__ import annotations

import pytest

from publisher.language import Sizes, evaluate_sizes
from publisher.language.ast import Ref
from publisher.language.values import Length, Number, SizeValue, Value
from tests.language.reading import SHELF, Shelf, quoted, read, sizes


def worked(*lines: str) -> tuple[Sizes, Shelf, str]:
    program, findings, text = read(sizes(*lines), None)
    assert findings == []
    shelf = Shelf(dict(SHELF))
    return evaluate_sizes(program, shelf), shelf, text


def values(*lines: str) -> dict[str, Value]:
    found, shelf, _ = worked(*lines)
    assert shelf.reports == [], [f.message for f in shelf.reports]
    return {r.definition.name.text: r.value for r in found.results()}


def complaint(*lines: str) -> tuple[str, str, str]:
    _, shelf, text = worked(*lines)
    (finding,) = shelf.reports
    return finding.code, quoted(text, finding), finding.message


def test_sizes_in_any_order() -> None:
    assert values("c = b + 1 mm", "b = 2 * tab", "tab = 3 mm") == {
        "c": Length(7),
        "b": Length(6),
        "tab": Length(3),
    }


def test_parts_of_a_size() -> None:
    found = values(
        "box = 80 x 120 x 20 mm", "w = width of box", "d = depth of box / 2", "box 2 = box"
    )
    assert (found["w"], found["d"]) == (Length(80), Length(10))
    assert isinstance(found["box 2"], SizeValue)


def test_sizes_of_things() -> None:
    found = values("slot = caliper of card + 0.2 mm", "wide = width of drawer when closed")
    assert found["slot"] == Length(pytest.approx(0.6))  # type: ignore[arg-type]
    assert found["wide"] == Length(124.8)


def test_ranges() -> None:
    found, shelf, _ = worked(
        "depth = 22 mm, from 12 to 40 mm", "n = 3, from 1 to 5", "z = 0, from 0 mm to 3 mm"
    )
    assert shelf.reports == []
    assert [(r.least, r.most) for r in found.results()] == [(12, 40), (1, 5), (0, 3)]
    assert [r.value for r in found.results()] == [Length(22), Number(3), Length(0)]
    assert found.results()[0].written == "22 mm"
    assert found.results()[0].first == "mm"


def test_range_faults() -> None:
    assert complaint("d = 50 mm, from 12 mm to 40 mm") == (
        "out-of-range",
        "50 mm",
        "‘d’ is 50 mm, above its own range of 12 mm to 40 mm",
    )
    assert complaint("d = 3 mm, from 40 mm to 12 mm")[0] == "range-backwards"
    assert complaint("d = 5, from 3 mm to 9 mm") == (
        "missing-unit",
        "5",
        "5 of what? Write 5 mm or 5 in",
    )
    assert complaint("d = 5 mm, from 3 degrees to 9 degrees")[0] == "wrong-unit"
    assert complaint("d = 1 x 2 mm, from 3 mm to 9 mm")[0] == "wrong-unit"


def test_alternatives() -> None:
    lines = (
        "n = 3",
        "tab = 12 mm, or 9 mm when n is under 3, or 6 mm when n is at least 3 and n is 3",
    )
    assert values(*lines)["tab"] == Length(6)
    assert values("n = 2", lines[1])["tab"] == Length(9)
    assert values("tab = 12 mm, or 9 mm when width of drawer when closed is over 200 mm")[
        "tab"
    ] == Length(12)
    code, word, _ = complaint("n = 3", "tab = 12 mm, or 9 mm when n is over 3 mm")
    assert (code, word) == ("wrong-unit", "n")


@pytest.mark.parametrize(
    ("lines", "chain"),
    [
        (["w = w + 1 mm"], ["w"]),
        (["a1 = b1", "b1 = c1 * 2", "c1 = a1"], ["a1", "b1", "c1"]),
        (["b1 = 1 mm, from 1 mm to c1", "c1 = b1"], ["b1", "c1"]),
        (["b1 = 1 mm, or 2 mm when c1 is 3 mm", "c1 = b1"], ["b1", "c1"]),
        (["b1 = width of c1", "c1 = b1 x b1"], ["b1", "c1"]),
    ],
)
def test_circles_are_named_once(lines: list[str], chain: list[str]) -> None:
    found, shelf, text = worked(*lines, "other = 3 mm", "user = " + chain[0])
    (finding,) = shelf.reports
    assert finding.code == "goes-in-a-circle"
    assert {quoted(text, finding, i) for i in range(len(finding.places))} == set(chain)
    assert [r.definition.name.text for r in found.results()] == ["other"]


class Pieces(Shelf):
    """A scope whose pieces are made from sizes, as the model's are."""

    sizes: Sizes

    def lookup(self, ref: Ref) -> Value | None:
        owner = ref.segments[-1].name
        value = self.sizes.value(f"{owner} side")
        return None if value is None else value


def test_a_circle_through_a_piece_is_found() -> None:
    program, _, text = read(
        sizes("box side = width of box + 1 mm", "lid side = 3 mm", "q = width of lid"), None
    )
    shelf = Pieces()
    shelf.sizes = Sizes(program, shelf)
    found = shelf.sizes.results()
    assert [r.definition.name.text for r in found] == ["lid side", "q"]
    (finding,) = shelf.reports
    assert finding.code == "goes-in-a-circle"
    assert quoted(text, finding) == "box side"


def test_long_chains_cost_no_stack() -> None:
    lines = [f"s{n} = s{n + 1} + 1 mm" for n in range(3000)] + ["s3000 = 0 mm"]
    assert values(*lines)["s0"] == Length(3000)
    circle = [f"s{n} = s{n + 1} + 1 mm" for n in range(3000)] + ["s3000 = s0"]
    _, shelf, _ = worked(*circle)
    assert [f.code for f in shelf.reports] == ["goes-in-a-circle"]
    assert len(shelf.reports[0].message) < 400


def test_chains_through_pieces_are_bounded() -> None:
    lines = [f"p{n} side = width of p{n + 1}" for n in range(200)] + ["p200 side = 1 mm"]
    program, _, _ = read(sizes(*lines), None)
    shelf = Pieces()
    shelf.sizes = Sizes(program, shelf)
    shelf.sizes.results()
    assert {f.code for f in shelf.reports} == {"goes-in-a-circle"}


def test_given_values_replace_the_authors() -> None:
    program, _, _ = read(
        sizes(
            "depth = 22 mm, from 12 mm to 40 mm", "half = depth / 2", "variant mini: depth = 12 mm"
        ),
        None,
    )
    (variant,) = program.variants
    given = {s.name.text: s.value for s in variant.settings}
    found = evaluate_sizes(program, Shelf(), given)
    assert found.value("half") == Length(6)


def test_parts_that_are_not_there() -> None:
    assert complaint("box = 1 x 2 mm", "d = depth of box")[2] == (
        "‘box’ has two parts, width and height, and no depth"
    )
    assert complaint("box = 1 mm", "d = width of box")[2] == "‘box’ is a length and has no width"
