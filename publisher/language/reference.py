"""The page of all statements, written from the registry itself.

``python -m publisher.language.reference`` writes it anew; a test holds it current.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from publisher.language.statements import FITS, STATEMENTS, StatementSpec, Where

PAGE = Path(__file__).parents[1] / "guide" / "statements.md"
_FENCES: dict[Where, str] = {
    "sizes": "Sizes: a name, a value, and where you like its limits and a note.",
    "piece": "A piece: what its paper is, and what is done to it before it is folded.",
    "step": "A step: one line for one thing that the hands do.",
}


def page() -> str:
    """The whole page as Markdown."""
    return "\n".join(_lines()).rstrip() + "\n"


def _lines() -> Iterator[str]:
    yield "# All statements"
    yield ""
    yield (
        "Each line begins with a word from this page; after it come phrases between commas. "
        "This page is written from the language itself."
    )
    for where, says in _FENCES.items():
        yield from ("", f"## In a `{where}` fence", "", says)
        for spec in STATEMENTS[where].values():
            if spec.built:
                yield from _statement(spec)
    yield from ("", "## In a `fits` fence", "", "A fit: what must go together, and how closely.")
    for verb in FITS.values():
        if verb.built:
            yield from ("", f"### {verb.verb}", "", _sentence(verb.says))
            yield from ("", "```text", verb.example, "```")
    waiting = [s.head for specs in STATEMENTS.values() for s in specs.values() if not s.built]
    waiting += [v.verb for v in FITS.values() if not v.built]
    if waiting:
        yield from ("", "## Not yet", "", "Known words that nothing builds yet: ")
        yield ", ".join(f"‘{word}’" for word in waiting) + "."


def _statement(spec: StatementSpec) -> Iterator[str]:
    yield from ("", f"### {spec.head}", "", _sentence(spec.says), "")
    yield from ("```text", spec.example, "```")
    for says, words in (
        ("Measures", spec.labels),
        ("Words", tuple(w for w in spec.words if w not in spec.later)),
        ("Places and joins", tuple(j for j in spec.joins if j not in spec.later)),
    ):
        if words:
            yield from ("", f"{says}: " + ", ".join(f"`{word}`" for word in words) + ".")


def _sentence(says: str) -> str:
    return says[:1].upper() + says[1:].rstrip(".") + "."


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
