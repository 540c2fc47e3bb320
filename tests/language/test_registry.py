"""The registry: every statement has an example that parses and says what it takes."""

from __future__ import annotations

from pathlib import Path

import pytest

import publisher.language.statements as registry
from publisher.language import words
from publisher.language.meant import HEADS, JOININGS, MEANT
from publisher.language.statements import FITS, LABELS, STATEMENTS, StatementSpec, VerbSpec
from tests.language.reading import fence, piece, read, sizes

SPECS = [spec for known in STATEMENTS.values() for spec in known.values()]


def findings_of(spec: StatementSpec) -> list[str]:
    if spec.where == "sizes":
        body = sizes("depth = 3 mm", "border = 1 mm") if spec.head == "variant" else ""
        body += sizes(spec.example)
    elif spec.where == "piece":
        body = piece(spec.example)
    else:
        body = fence("step", spec.example)
    _, found, _ = read(body, None)
    return [f.code for f in found]


@pytest.mark.parametrize("spec", SPECS, ids=lambda s: f"{s.where}-{s.head}")
def test_the_example_parses(spec: StatementSpec) -> None:
    assert findings_of(spec) == ([] if spec.built else ["not-yet"])
    assert spec.head in spec.example or spec.where == "sizes"


@pytest.mark.parametrize("spec", FITS.values(), ids=lambda s: s.verb)
def test_the_example_of_a_verb_parses(spec: VerbSpec) -> None:
    found, findings, _ = read(fence("fits", spec.example), None)
    assert [f.code for f in findings] == ([] if spec.built else ["not-yet"])
    (claim,) = found.claims
    assert claim.verb == spec.verb
    assert (claim.margin is not None) <= spec.margin


@pytest.mark.parametrize("spec", SPECS, ids=lambda s: f"{s.where}-{s.head}")
def test_what_a_statement_takes_is_known(spec: StatementSpec) -> None:
    assert spec.says.endswith(".")
    joins = {*words.JOINING, "out from", "to", "with", "from", "by", "when", "saying", "from file"}
    assert set(spec.joins) <= joins
    assert set(spec.labels) <= set(LABELS)
    assert not set(spec.later) & {*spec.words, *spec.labels, *spec.joins}


def test_verbs_and_registry_agree() -> None:
    assert set(FITS) == set(words.VERBS)


def test_meant_words_lead_to_words_of_the_language() -> None:
    known = {*LABELS, *words.SINGLE}
    for spec in SPECS:
        known |= {*spec.words, *spec.labels, *spec.later}
    assert set(MEANT.values()) <= known
    joins = {join for spec in SPECS for join in spec.joins}
    assert {join for joinings in JOININGS.values() for join in joinings} <= joins
    for (where, _), head in HEADS.items():
        assert head.split()[0] in STATEMENTS[where]


def test_one_file_for_each_statement() -> None:
    """Those that are built have a file of their own name."""
    root = Path(registry.__file__).parent
    for spec in SPECS:
        if spec.built:
            assert (root / spec.where / f"{spec.head}.py").is_file()
    for verb in FITS.values():
        if verb.built:
            assert (root / "fits" / f"{verb.verb.replace(' ', '_')}.py").is_file()


@pytest.mark.parametrize("where", [*STATEMENTS, "fits"])
def test_every_file_is_in_the_registry_by_its_head(where: str) -> None:
    known = {**STATEMENTS, "fits": FITS}[where]
    files = {p.stem.replace("_", " ") for p in Path(registry.__file__).parent.glob(f"{where}/*.py")}
    assert files - {"  init  ", "later"} <= set(known)
    for head, spec in known.items():
        assert (spec.verb if isinstance(spec, VerbSpec) else spec.head) == head
