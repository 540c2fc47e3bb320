"""No input ends in a traceback or hangs: every fault is a finding with its place."""

from __future__ import annotations

import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from publisher.diagnostics.render import render
from publisher.language import evaluate_sizes, parse
from publisher.source import decode, read_document
from tests.language.reading import FILE, FRONT, OUTSIDE, SHELF, Shelf, fence

WORDS_OF_ALL_KINDS = """
    panel panels tab notch glue score slit window mat band outline form fold turn slide wrap
    body lid flap pocket wall tab width height depth middle top bottom left right each all x
    at on into in along between around over under behind from to with by when called is closed
    full open of and or else asked variant goes covers closes 3 12 1/4 5 mm in cm degrees wide
    deep high border mountain valley down across half round = : , ( ) + - * / ^ " # the a an
    least spare above below clear way face front back min max square root 0 1,5 5-1/4 inches
"""
WORDS = st.sampled_from(WORDS_OF_ALL_KINDS.split())
SPACES = st.sampled_from([" ", " ", " ", "  ", "\n", "\n  ", "\t"])
JUMBLE = st.lists(st.tuples(WORDS, SPACES).map("".join), max_size=40).map("".join)
KINDS = st.sampled_from(
    ["sizes", "piece body, in card", "piece", "step", "fits", "size", "piece x"]
)


def check(text: str) -> None:
    """The whole way from bytes to sizes and findings on the screen."""
    decoded, findings = decode(text.encode(errors="surrogatepass"), FILE)
    if decoded is None:
        assert findings
        return
    document, found = read_document(decoded, FILE)
    findings.extend(found)
    if document is None:
        return
    program, found = parse(document, OUTSIDE)
    findings.extend(found)
    shelf = Shelf(dict(SHELF))
    evaluate_sizes(program, shelf)
    findings.extend(shelf.reports)
    for finding in findings:
        span = finding.places[0].span
        assert 0 <= span.start <= span.end <= len(decoded)
        assert finding.message
        assert not finding.message.endswith(".")
    for form in ("full", "concise", "json"):
        render(findings, {FILE: decoded}, form)  # type: ignore[arg-type]


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.tuples(KINDS, JUMBLE), min_size=1, max_size=4))
def test_jumbled_words(fences: list[tuple[str, str]]) -> None:
    check(FRONT + "".join(fence(kind, body) for kind, body in fences))


@settings(max_examples=200, deadline=None)
@given(KINDS, st.text(max_size=80))
def test_any_text_in_a_fence(kind: str, body: str) -> None:
    check(FRONT + fence(kind, body))


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60))
def test_any_text_in_braces(body: str) -> None:
    check(FRONT + f"\nSay {{{body}}} here.\n")


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=200))
def test_any_text_at_all(body: str) -> None:
    check(body)


LONG = {
    "brackets": fence("sizes", "tab = " + "(" * 5000 + "1" + ")" * 5000),
    "signs": fence("sizes", "tab = 1" + " + 1" * 20_000),
    "minus": fence("sizes", "tab = " + "-" * 20_000 + "1"),
    "commas": fence("sizes", "tab = 1" + "," * 20_000),
    "words": fence("piece body, in card", "panel " + "wall " * 20_000),
    "of": fence("step", "fold wall" + " of wall" * 1900),
    "and": fence("step", "fold wall" + " and wall" * 1900),
    "lists": fence("step", "fold " + " of ".join(["left and right"] * 60)),
    "digits": fence("sizes", "tab = " + "9" * 50_000 + " mm"),
    "lines": fence("sizes", *[f"s{n} = {n} mm" for n in range(3000)]),
    "bad lines": fence("sizes", *["tab = = 3"] * 3000),
    "items": fence("piece body, in card", "panels down: " + "side, " * 1900 + "side"),
    "strangers": fence(
        "piece body, in card", "panels down: " + ", ".join(f"side{n} wall" for n in range(900))
    ),
    "calls": fence("sizes", "tab = " + "min(1, " * 23 + "1" + ")" * 23),
    "count": fence("piece body, in card", "panels down: 999999999999 of side"),
    "note": fence("sizes", 'tab = 3 mm "' + "x" * 50_000 + '"'),
    "power": fence("sizes", "tab = 9 ^ 9 ^ 9", "t = 9 ^ 999", "s = 0 ^ -1", "r = (0 - 2) ^ 0.5"),
    "quotes": fence("sizes", *['"' * n for n in range(200)]),
}


@pytest.mark.parametrize("name", LONG)
def test_long_lines_end(name: str) -> None:
    started = time.process_time()
    check(FRONT + LONG[name])
    assert time.process_time() - started < 5


def test_time_grows_with_length_alone() -> None:
    """A pattern twice as long takes about twice as long to parse."""

    def seconds(copies: int) -> float:
        body = "".join(
            fence("sizes", f"depth {n} = 22 mm, from 12 mm to 40 mm")
            + fence(
                f"piece box {n}, in card",
                f"panel base {n}, 60 x 40 mm",
                *(
                    f"panel wall {k}, on bottom of base {n}, depth {n} deep, mountain by 90 degrees"
                    for k in range(8)
                ),
            )
            for n in range(copies)
        )
        document, _ = read_document(FRONT + body, FILE)
        assert document is not None
        started = time.process_time()
        _, findings = parse(document, OUTSIDE)
        assert findings == []
        return time.process_time() - started

    seconds(2)
    short = min(seconds(20) for _ in range(3))
    long = min(seconds(80) for _ in range(3))
    assert long < 4 * short * 2
