"""The guide's pages of forms, written from the forms themselves and their examples.

``python -m tests.guide.form_pages`` writes the pages and draws their pictures anew; ``make
pictures`` does too.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from publisher.booklet import draw_finished
from publisher.drawing.piece_drawing import draw_piece
from publisher.drawing.svg import to_svg
from publisher.drawing.theme import Theme, parse_theme
from publisher.language import Library, Outside
from publisher.language.ast import SizeDefinition
from publisher.language.program import Form
from publisher.language.say import said
from publisher.pipeline import Outcome
from publisher.source.types import Paragraph
from tests.compiled import HEAD, ROOT, compile_text, workshop

GUIDE = ROOT / "publisher" / "guide"
FORMS = GUIDE / "forms"
EXAMPLES = FORMS / "examples"


@cache
def library() -> Library:
    trade = workshop().trade
    shared = {f: t for f, t in workshop().forms.items() if f.startswith("shared/")}
    return Library(shared, Outside(frozenset(trade.stocks), frozenset(trade.objects)))


@cache
def theme() -> Theme:
    return parse_theme((ROOT / "themes/potting-shed/theme.toml").read_text(encoding="utf-8"))


def file_of(form: Form) -> str:
    return Path(form.file).stem


def example_of(form: Form) -> str:
    return (EXAMPLES / f"{file_of(form)}.md").read_text(encoding="utf-8")


@cache
def built(example: str, head: str = HEAD) -> Outcome:
    """The example as a pattern of its own."""
    return compile_text("\n" + example, head=head)


def page(form: Form) -> str:
    """The page of a form as Markdown."""
    program = form.program
    assert program is not None
    assert program.document.form is not None
    words = [_text(form, b) for b in program.document.blocks if isinstance(b, Paragraph)]
    name = file_of(form)
    rows = [_row(size) for size in form.asked.values()]
    return "\n".join(
        [
            "<!-- written by tests/guide/form_pages.py from the form and its example -->",
            "",
            f"# {form.name}",
            "",
            program.document.form.summary,
            "",
            f"![{form.name}, finished]({name}.svg)",
            "",
            *[line for text in words for line in (text, "")],
            "## What it asks for",
            "",
            "| size | without it | from | to | what it is |",
            "|---|---|---|---|---|",
            *rows,
            "",
            "## A whole example",
            "",
            "````markdown",
            example_of(form).strip(),
            "````",
            "",
        ]
    )


def _text(form: Form, block: Paragraph) -> str:
    program = form.program
    assert program is not None
    return program.document.source.text[block.span.start : block.span.end].strip()


def _row(size: SizeDefinition) -> str:
    default = said(size.value) if size.value is not None else "must be given"
    least = said(size.least) if size.least is not None else ""
    most = said(size.most) if size.most is not None else ""
    note = size.note.text if size.note is not None else ""
    return f"| `{size.name.text}` | {default} | {least} | {most} | {note} |"


def index() -> str:
    """The page that lists them all."""
    rows = []
    for form in library().values():
        assert form.program is not None
        assert form.program.document.form is not None
        rows.append(f"| [{form.name}]({file_of(form)}.md) | {form.program.document.form.summary} |")
    return "\n".join(
        [
            "# Forms",
            "",
            "Ready-made pieces and details, each written in the pattern language. How to call",
            "for one and how to write your own stands in `language.md`.",
            "",
            "| form | what it makes |",
            "|---|---|",
            *rows,
            "",
        ]
    )


def picture(form: Form) -> str:
    """The example when it is finished, as SVG."""
    outcome = built(example_of(form))
    assert outcome.pattern is not None
    assert outcome.story is not None
    return draw_finished(outcome.pattern, outcome.story, theme()).svg


def rows_picture() -> str:
    """The shelf front of the chapter on places, flat, as SVG."""
    chapter = (GUIDE / "chapters" / "places.md").read_text(encoding="utf-8")
    fence = re.search(r"```piece shelf.*?```", chapter, re.DOTALL)
    assert fence is not None
    outcome = built(f"{fence[0]}\n\n```step\nlay shelf\n```\n")
    assert outcome.pattern is not None
    drawn = draw_piece(outcome.pattern, outcome.pattern.pieces[0])
    return to_svg(drawn, theme(), workshop().trade.stocks)


def write() -> None:
    (GUIDE / "rows.svg").write_text(rows_picture(), encoding="utf-8")
    for form in library().values():
        (FORMS / f"{file_of(form)}.md").write_text(page(form), encoding="utf-8")
        (FORMS / f"{file_of(form)}.svg").write_text(picture(form), encoding="utf-8")
    (FORMS / "index.md").write_text(index(), encoding="utf-8")


if __name__ == "__main__":
    write()
