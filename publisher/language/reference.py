"""The reference of the language for designers, written from the registry itself.

The chapters of ``publisher/guide/chapters`` are stitched together with what the registry knows:
every statement with its example, every function, every word that nothing builds yet. A whole
piece for a statement stands in ``publisher/guide/examples``.

``python -m publisher.language.reference`` writes the page anew; a test holds it current.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from publisher.language.functions import FUNCTIONS, Function
from publisher.language.statements import FITS, STATEMENTS, StatementSpec, VerbSpec, Where

GUIDE = Path(__file__).parents[1] / "guide"
PAGE = GUIDE / "language.md"
CHAPTERS = GUIDE / "chapters"
EXAMPLES = GUIDE / "examples"

BEFORE = (
    "front-matter",
    "lines",
    "names",
    "measures",
    "sizes",
    "places",
    "shapes",
    "folds",
    "forms",
    "prose",
    "fits",
)
"""Chapters before the statements, in their order."""
AFTER = ("known", "not-yet")

_OPENING = """# The language

Everything a pattern can say today. Nobody learns this by heart: begin with `first-pattern.md`, and
look things up here. This page is written from the language itself, and every example in it is
built when it changes."""

_FENCES: dict[Where, str] = {
    "sizes": "A name, an equals sign, a value; then, where you like, its limits and a note.",
    "piece": "What the paper is, and what is done to it before it is folded.",
    "step": "One line for one thing that the hands do.",
}


def page() -> str:
    """The whole page as Markdown."""
    return "\n".join(_lines()).rstrip() + "\n"


def example_file(where: Where, head: str) -> Path:
    """Where the whole piece that shows a statement or a verb stands."""
    return EXAMPLES / where / f"{head.replace(' ', '-')}.md"


def _lines() -> Iterator[str]:
    yield _OPENING
    for name in BEFORE:
        yield from ("", _chapter(name))
    for where, says in _FENCES.items():
        yield from ("", f"## Lines of a `{where}` fence", "", says)
        for spec in STATEMENTS[where].values():
            if spec.built:
                yield from _statement(spec)
    yield from ("", "## Lines of a `fits` fence")
    for verb in FITS.values():
        if verb.built:
            yield from _verb(verb)
    for name in AFTER:
        yield from ("", _chapter(name))


def _chapter(name: str) -> str:
    text = (CHAPTERS / f"{name}.md").read_text(encoding="utf-8").strip()
    text = text.replace("<!-- functions -->", "\n".join(_functions()))
    return text.replace("<!-- not yet -->", "\n".join(_not_yet()))


def _statement(spec: StatementSpec) -> Iterator[str]:
    yield from ("", f"### {spec.head}", "", _sentence(spec.says))
    yield from ("", "```text", spec.example, "```")
    for says, words in (
        ("Measures", spec.labels),
        ("Words", tuple(w for w in spec.words if w not in spec.later)),
        ("Leads to a place or a thing", tuple(j for j in spec.joins if j not in spec.later)),
    ):
        if words:
            yield from ("", f"{says}: {_listed(words)}.")
    yield from _example(spec.where, spec.head)


def _verb(spec: VerbSpec) -> Iterator[str]:
    yield from ("", f"### {spec.verb}", "", _sentence(spec.says))
    yield from ("", "```text", spec.example, "```")
    yield from _example("fits", spec.verb)


def _example(where: Where, head: str) -> Iterator[str]:
    file = example_file(where, head)
    if file.is_file():
        yield from ("", "Whole:", "", "````markdown")
        yield file.read_text(encoding="utf-8").strip()
        yield "````"


def _functions() -> Iterator[str]:
    yield "| function | what it gives |"
    yield "|---|---|"
    for function in FUNCTIONS.values():
        yield f"| `{_call(function)}` | {function.says} |"


def _call(function: Function) -> str:
    """``round(…, …)``: as many places as it takes."""
    places = 2 if function.most is None else function.most
    return f"{function.name}({', '.join('…' for _ in range(places))})"


def _not_yet() -> Iterator[str]:
    """Words that are known and build nothing, each under the fence it belongs to."""
    for where, specs in STATEMENTS.items():
        words = tuple(s.head for s in specs.values() if not s.built)
        if words:
            yield f"- In a `{where}` fence: {_listed(words)}."
    verbs = tuple(v.verb for v in FITS.values() if not v.built)
    if verbs:
        yield f"- In a `fits` fence: {_listed(verbs)}."
    for specs in STATEMENTS.values():
        for spec in specs.values():
            if spec.built and spec.later:
                yield f"- After `{spec.head}`: {_listed(spec.later)}."


def _listed(words: tuple[str, ...]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def _sentence(says: str) -> str:
    return says[:1].upper() + says[1:].rstrip(".") + "."


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
