"""Front matter: every key with its place, every fault in plain words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.diagnostics import Diagnostic
from publisher.source import SourceText, read_document
from publisher.source.frontmatter import find_front_matter, plain_entries
from publisher.source.yamlmatter import read_yaml
from tests.source.walk import FRONT, document

FILE = "content/tray/pattern.md"


def findings(front: str) -> list[Diagnostic]:
    return read_document(front + "\nSome words.\n", FILE)[1]


def said_at(front: str, finding: Diagnostic) -> str:
    span = finding.places[0].span
    return (front + "\nSome words.\n")[span.start : span.end]


def changed(old: str, new: str) -> str:
    assert old in FRONT
    return FRONT.replace(old, new)


def test_all_values() -> None:
    front = document("\nx\n", changed("licence: personal\n", "licence: personal\nauthor: 'A: B'\n"))
    assert front.front is not None
    assert front.front.title == "Seed tray"
    assert front.front.version == "1.0.0"
    assert front.front.date == "2026-03-01"
    assert front.front.edition == "free"
    assert front.front.units == "mm"
    assert front.front.author == "A: B"
    assert front.front.sheet == ""
    entry = front.entry("date")
    assert entry is not None
    assert front.source.text[entry.value_span.start : entry.value_span.end] == "2026-03-01"
    assert front.source.text[entry.key_span.start : entry.key_span.end] == "date"
    assert (entry.value_span.line, entry.value_span.column) == (5, 7)


def test_values_stand_at_their_places_with_any_line_end() -> None:
    for end in ("\n", "\r\n", "\r"):
        front = document("\nx\n".replace("\n", end), FRONT.replace("\n", end))
        entry = front.entry("licence")
        assert entry is not None
        span = entry.value_span
        assert front.source.text[span.start : span.end] == "personal"
        assert (span.line, span.column) == (10, 10)


def test_an_unknown_key_gets_the_nearest() -> None:
    front = changed("edition: free", "editoin: free")
    (unknown,) = findings(front)  # what is misspelt is not missed too
    assert unknown.code == "front-matter-key"
    assert said_at(front, unknown) == "editoin"
    assert "‘edition’" in unknown.message
    way = unknown.ways_out[0].edit
    assert way is not None
    assert way.text == "edition"


def test_missing_keys_are_named_together() -> None:
    front = "---\ntitle: Seed tray\nsummary: A tray.\n---\n"
    (finding,) = findings(front)
    assert finding.code == "front-matter-missing-key"
    assert "‘version’, ‘date’, ‘edition’, ‘units’, ‘level’, ‘time’ and ‘licence’" in finding.message


@pytest.mark.parametrize(
    ("old", "new", "value"),
    [
        ("edition: free", "edition: paid", "paid"),
        ("units: mm", "units: cm", "cm"),
        ("level: easy", "level: esay", "esay"),
        ("version: 1.0.0", "version: 1.0", "1.0"),
        ("date: 2026-03-01", "date: 2026-02-30", "2026-02-30"),
        ("date: 2026-03-01", "date: 20260301", "20260301"),
        ("time: 40 min", "time: soon", "soon"),
        ("title: Seed tray", 'title: ""', '""'),
        ("title: Seed tray", "title:", "title"),
        ("title: Seed tray", "title: [a, b]", "title"),
        ("title: Seed tray", "title: {a: {b: c}}", "title"),
    ],
)
def test_wrong_values(old: str, new: str, value: str) -> None:
    front = changed(old, new)
    (finding,) = findings(front)
    assert finding.code == "front-matter-value"
    assert said_at(front, finding) == value


def test_a_near_value_is_offered() -> None:
    (finding,) = findings(changed("level: easy", "level: esay"))
    assert finding.ways_out[0].text == "write ‘easy’"


def test_a_key_twice() -> None:
    (finding,) = findings(changed("units: mm", "units: mm\ntitle: Again"))
    assert finding.code == "front-matter-twice"
    assert [p.span.line for p in finding.places] == [8, 2]


@pytest.mark.parametrize(
    ("old", "new", "line", "note"),
    [
        ("summary: A tray for seed packets.", "summary: A tray: for packets", 3, "colon"),
        ("summary: A tray for seed packets.", "summary A tray", 3, "key: value"),
        ("summary: A tray for seed packets.", "\tsummary: A tray", 3, "tab"),
        ("summary: A tray for seed packets.", 'summary: "A tray', 3, "quotation mark"),
        ("summary: A tray for seed packets.", "summary: @tray", 3, "begins with @"),
    ],
)
def test_yaml_faults_in_plain_words(old: str, new: str, line: int, note: str) -> None:
    front = changed(old, new)
    (finding,) = findings(front)
    assert finding.code == "front-matter-yaml"
    assert finding.places[0].span.line == line
    assert note in finding.notes[0]


def test_no_front_matter_and_an_open_one() -> None:
    (finding,) = findings("# Seed tray\n")
    assert finding.code == "front-matter-missing"
    (finding,) = findings(FRONT.removesuffix("---\n") + "\n# Seed tray\n")
    assert finding.code == "front-matter-not-closed"


def test_no_keys_at_all() -> None:
    for inside in ("just words\n", "- a\n- b\n", "!!binary x\n"):
        (finding,) = findings(f"---\n{inside}---\n")
        assert finding.code == "front-matter-yaml"
    (finding,) = findings("---\n---\n")
    assert finding.code == "front-matter-missing-key"


def test_a_form() -> None:
    form = "---\nform: Tray\nsummary: An open tray.\n---\n"
    found, none = read_document(form + "\nx\n", FILE)
    assert none == []
    assert found is not None
    assert found.form is not None
    assert found.form.form == "tray"
    (finding,) = findings("---\nform: tray\ntitle: x\nsummary: y\n---\n")
    assert finding.code == "front-matter-key"


def test_nothing_hidden_makes_trouble() -> None:
    for inside in (
        "a: &x [*x, *x]\n",
        "a: *nobody\n",
        "[" * 9000 + "\n",
        "{" * 9000 + "\n",
        "? " * 3000 + "\n",
        "a: \x07\n",
        "%YAML 9.9\n",
        "a: |\n  long\n  text\n",
    ):
        assert findings(f"---\n{inside}---\n")


@given(st.text(max_size=120))
def test_any_text_between_the_hyphens(inside: str) -> None:
    read_document(f"---\n{inside}\n---\nwords\n", FILE)


@given(st.text(alphabet=":- \n'\"[]{}#&*!|>%@,?abc\t\r", max_size=60))
def test_yaml_signs_between_the_hyphens(inside: str) -> None:
    for finding in read_document(f"---\n{inside}\n---\nwords\n", FILE)[1]:
        assert finding.places


PLAIN = st.lists(
    st.tuples(
        st.sampled_from(["title", "a", "b-c", "Title", " title", "#x", "", "a b"]),
        st.sampled_from([": ", ":  ", ":", " : ", ""]),
        st.text(alphabet="ab 1:#-'\"[{&!|>%@`,?.\t\xa0é\u2028", max_size=8),
    ).map("".join),
    max_size=4,
).map("\n".join)


@given(PLAIN)
def test_plain_lines_mean_to_yaml_what_they_seem_to(inside: str) -> None:
    """Oracle: PyYAML, for every front matter that is read without it."""
    source = SourceText.of(f"---\n{inside}\n---\n", FILE)
    where, _ = find_front_matter(source)
    assert where is not None
    plain = plain_entries(source, where)
    if plain is not None:
        assert (plain, []) == read_yaml(source, where.first, where.last)


def test_the_usual_front_matter_is_plain() -> None:
    source = SourceText.of(FRONT, FILE)
    where, _ = find_front_matter(source)
    assert where is not None
    assert plain_entries(source, where) is not None
