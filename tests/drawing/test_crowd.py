"""What is asked of many at once is what is asked of one, for ends that touch and lines that lie
level, too."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from publisher.drawing.flat import crowd
from publisher.drawing.flat.board import overlap, pulled, span_meets_box, spans_meet

COORDINATES = st.integers(-4, 4).map(lambda n: n / 2)
ROWS = st.lists(st.tuples(*[COORDINATES] * 4), min_size=1, max_size=8)


def boxes(found):
    return [(min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in found]


def span(row):
    return (row[:2], row[2:])


@given(ROWS, ROWS)
def test_boxes_overlap(first, second) -> None:
    first, second = boxes(first), boxes(second)
    told = crowd.boxes_overlap(crowd.rows(first), crowd.rows(second))
    assert told.tolist() == [any(overlap(a, b) for b in second) for a in first]


@given(ROWS, ROWS)
def test_spans_and_boxes(spans, found) -> None:
    found = boxes(found)
    in_boxes = crowd.spans_in_boxes(crowd.rows(spans), crowd.rows(found))
    assert in_boxes.tolist() == [any(span_meets_box(span(s), b) for b in found) for s in spans]
    met = crowd.boxes_with_spans(crowd.rows(found), crowd.rows(spans))
    assert met.tolist() == [any(span_meets_box(span(s), b) for s in spans) for b in found]


@given(ROWS, ROWS)
def test_spans_cross(spans, others) -> None:
    told = crowd.spans_cross(crowd.rows(spans), crowd.rows(others))
    assert told.tolist() == [any(spans_meet(span(a), span(b)) for b in others) for a in spans]


@given(ROWS)
def test_pulled(spans) -> None:
    shorter = crowd.pulled(crowd.rows(spans), 0.2).tolist()
    for row, made in zip(spans, shorter, strict=True):
        one = [value for point in pulled(span(row)) for value in point]
        assert all(abs(a - b) < 1e-12 for a, b in zip(one, made, strict=True))


def test_nothing_is_met_by_nothing() -> None:
    one = crowd.rows([(0.0, 0.0, 1.0, 1.0)])
    none = crowd.rows([])
    for ask in (crowd.boxes_overlap, crowd.spans_in_boxes, crowd.boxes_with_spans):
        assert ask(one, none).tolist() == [False]
    assert crowd.spans_cross(one, none).tolist() == [False]
