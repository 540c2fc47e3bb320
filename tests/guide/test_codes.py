"""Every finding has a page, and what the pages show is so.

An example is a pattern's body; front matter is put before it, except on the pages that speak
of the front matter itself. Where it shows pieces and no step, a step that takes them up
is put after it, so that a page can show the lines that it is about and no others.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from publisher.diagnostics import Diagnostic
from publisher.pipeline import check_text
from tests.compiled import HEAD, ROOT, workshop
from tests.guide.emitted import Emitted, Sources, Unread, read_sources, said_in
from tests.guide.provoked import PROVOKED

PACKAGE = ROOT / "publisher"
CODES = PACKAGE / "guide" / "codes"
FILE = "content/trial/pattern.md"
ABOUT_FRONT_MATTER = (
    "front-matter",
    "sheet-larger-than-bed",
    "unknown-licence",
    "unknown-machine",
    "unknown-sheet",
)
MOST_LINES = 25
"""A page's own words; what it shows is not counted."""

SHAPE = re.compile(
    r"# (?P<code>[a-z0-9-]+)\n\n"
    r"(?P<meaning>[^#`\n].*?)\n\n"
    r"## Why it matters\n\n(?P<why>.+?)\n"
    r"(?:\n## How to mend it\n\n(?P<mend>.+?)\n)?"
    r"(?:\n## This fails\n\n````markdown\n(?P<fails>.+?)\n````\n"
    r"\n## This is right\n\n````markdown\n(?P<right>.+?)\n````\n)?\Z",
    re.DOTALL,
)


@dataclass(frozen=True)
class Page:
    code: str
    fails: str | None
    right: str | None
    words: str


@cache
def sources() -> Sources:
    return read_sources(PACKAGE)


@cache
def emitted() -> tuple[Emitted, ...]:
    return tuple(sources().emitted())


def paths() -> list[Path]:
    return sorted(CODES.glob("*.md"))


def read_page(path: Path) -> Page:
    found = SHAPE.fullmatch(path.read_text(encoding="utf-8"))
    assert found is not None, f"{path.name} has not the shape of the other pages"
    words = "\n".join(found[part] for part in ("meaning", "why", "mend") if found[part])
    return Page(found["code"], found["fails"], found["right"], words)


def pages(*, shown: bool) -> list[Page]:
    """The pages that show examples, or those that do not."""
    return [p for p in map(read_page, paths()) if (p.fails is not None) == shown]


def findings(page: Page, example: str) -> tuple[str, int, tuple[Diagnostic, ...]]:
    """The text as it was checked, where the example begins in it, and what was found."""
    head = "" if page.code.startswith(ABOUT_FRONT_MATTER) else HEAD.replace("{units}", "mm") + "\n"
    text = f"{head}{example}\n"
    named = re.findall(r"^```piece ([^,\n]+)", example, re.MULTILINE)
    if named and "```step" not in example:
        text += "\n```step\n" + "".join(f"lay {name.strip()}\n" for name in named) + "```\n"
    outcome = check_text(text.encode(), FILE, "trial", workshop().trade, forms=workshop().forms)
    return text, len(head), outcome.diagnostics


# ---------------------------------------------------------------- a page for every code


def test_every_code_can_be_read_from_the_sources() -> None:
    assert emitted()
    assert sources().unread == []


def test_every_code_has_a_page_and_every_page_a_code() -> None:
    codes = {e.code: f"{e.module}, line {e.line}" for e in emitted()}
    for room in rooms():
        codes |= dict.fromkeys(said_in(docstring(room)), f"said by {room}")
    known = {path.stem for path in paths()}
    assert {code: where for code, where in codes.items() if code not in known} == {}
    assert sorted(known - set(codes)) == []


def rooms() -> list[str]:
    """The packages straight under the package itself."""
    return sorted(path.parent.name for path in PACKAGE.glob("*/__init__.py"))


def docstring(room: str) -> str:
    return ast.get_docstring(sources().trees[f"publisher.{room}"]) or ""


@pytest.mark.parametrize("room", rooms())
def test_a_room_says_which_codes_it_reports(room: str) -> None:
    own = {e.code for e in emitted() if e.module.split(".")[1] == room}
    said = said_in(docstring(room))
    assert sorted(own - said) == [], "emitted and not said"
    assert sorted(said - own) == [], "said and not emitted"


# ---------------------------------------------------------------- the pages


@pytest.mark.parametrize("path", paths(), ids=lambda p: p.stem)
def test_a_page_is_short_and_has_the_common_shape(path: Path) -> None:
    page = read_page(path)
    assert page.code == path.stem
    lines = [line for line in page.words.splitlines() if line.strip()]
    assert 2 <= len(lines) <= MOST_LINES
    assert all(len(line) <= 100 for line in lines)
    assert page.words == page.words.strip()


def only_this(found: Iterable[Diagnostic], code: str) -> None:
    said = [(d.code, d.message) for d in found]
    assert code in [c for c, _ in said], f"not found: {said}"
    assert [(c, m) for c, m in said if c != code] == [], "an example shows one mistake"


@pytest.mark.parametrize("page", pages(shown=True), ids=lambda p: p.code)
def test_the_failing_example_fails_by_its_code_and_there(page: Page) -> None:
    assert page.fails is not None
    text, start, found = findings(page, page.fails)
    only_this(found, page.code)
    for finding in found:
        assert finding.places
        for place in finding.places:
            span = place.span
            assert span.file == FILE
            assert start <= span.start < span.end <= start + len(page.fails) + 1
            before = text[: span.start]
            assert span.line == before.count("\n") + 1
            assert span.column == span.start - before.rfind("\n")


@pytest.mark.parametrize("page", pages(shown=True), ids=lambda p: p.code)
def test_the_mended_example_is_right(page: Page) -> None:
    assert page.right is not None
    _, _, found = findings(page, page.right)
    assert [(d.code, d.message) for d in found if d.severity == "error"] == []
    assert page.code not in [d.code for d in found]


def test_what_cannot_be_shown_is_brought_about() -> None:
    assert sorted(PROVOKED) == [page.code for page in pages(shown=False)]


@pytest.mark.parametrize("code", PROVOKED)
def test_what_is_brought_about_has_its_code(code: str) -> None:
    only_this(PROVOKED[code](), code)


# ---------------------------------------------------------------- the reader of sources


def read(**modules: str) -> tuple[list[str], list[Unread]]:
    made = Sources({name: ast.parse(text) for name, text in modules.items()})
    return [e.code for e in made.emitted()], made.unread


def test_codes_are_followed_through_names_loops_and_functions() -> None:
    helper = """
def refuse(code, message, span):
    return Diagnostic(code, "error", message, (span,))

class Reader:
    def say(self, message, *, code="by-default"):
        return Diagnostic(code=code, severity="error", message=message)
"""
    caller = """
from helper import Reader, refuse
CODE = "of-the-module"

def rule(bad):
    code, span = "of-a-pair", 1
    if bad:
        code = "of-one" if bad > 1 else "of-two"
    refuse(code, "m", span)
    refuse(CODE, "m", 1)
    Reader().say("m", code="by-keyword")
    for key in ("licence", "sheet"):
        refuse(f"unknown-{key}", "m", 1)
"""
    found, unread = read(helper=helper, caller=caller)
    assert unread == []
    assert found == [
        "by-default",
        "by-keyword",
        "of-a-pair",
        "of-one",
        "of-the-module",
        "of-two",
        "unknown-licence",
        "unknown-sheet",
    ]


def test_another_function_of_the_same_name_is_no_caller() -> None:
    one = 'def _say(code):\n    Diagnostic(code, "error", "m")\n\n_say("mine")\n'
    other = 'def _say(word):\n    pass\n\n_say("not-a-code")\n'
    assert read(one=one, other=other) == (["mine"], [])


def test_a_code_that_cannot_be_followed_is_named() -> None:
    found, unread = read(one='def rule(x):\n    return Diagnostic(x.code.lower(), "error", "m")\n')
    assert found == []
    assert unread == [Unread("one", 2, "x.code.lower()")]


@pytest.mark.parametrize(
    ("docstring", "codes"),
    [
        ("Takes x, gives y. Reports\n``one-two`` and ``three``.", {"one-two", "three"}),
        ("Gives y. Reports: brace, empty-file,\nnot-utf-8.", {"brace", "empty-file", "not-utf-8"}),
        ("Gives y. Reports ``one`` and what is wrong with ``shared/x.toml``.", {"one"}),
        ("Gives y. Reports nothing: what is wrong was found before.", set()),
        ("Gives y. Reports no codes: it is drawn as well as it can be.", set()),
        ("Gives y.", set()),
    ],
)
def test_a_docstring_is_read_for_its_codes(docstring: str, codes: set[str]) -> None:
    assert said_in(docstring) == codes
