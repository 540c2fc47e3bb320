"""The document: every node at its exact place in the text as written."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from publisher.source import MappedText, read_document
from publisher.source.types import (
    Break,
    Code,
    CodeBlock,
    Emph,
    Fence,
    Heading,
    Image,
    ItemList,
    Link,
    ListItem,
    Paragraph,
    Picture,
    Quote,
    Row,
    Spoken,
    Strong,
    Table,
    Text,
)
from tests.source.walk import FRONT, all_of, as_html, codes, document, nodes, written

FILE = "content/tray/pattern.md"


def check_places(text: str) -> None:
    """Every node lies in the text, and verbatim text is what stands there."""
    found, _ = read_document(text, FILE)
    if found is None:
        return
    for node in nodes(found):
        if isinstance(node, Text) and not node.escaped:
            assert written(found, node) == node.text
        if isinstance(node, Spoken):
            whole = written(found, node)
            assert whole[0] == "{"
            assert whole[-1] == "}"
            check_mapping(node.expression)
        if isinstance(node, Fence):
            assert written(found, node)[:3] in ("```", "~~~")
            check_mapping(node.body)
            check_mapping(node.header)
        if hasattr(node, "span"):
            span = node.span
            assert 0 <= span.start <= span.end <= len(text)
            before = text[: span.start].replace("\r\n", "\n").replace("\r", "\n")
            if text[span.start - 1 : span.start + 1] != "\r\n":
                assert span.line == before.count("\n") + 1
                assert span.column == len(before) - before.rfind("\n")


def check_mapping(mapped: MappedText) -> None:
    assert len(mapped.offsets) == len(mapped.text) + 1
    source = mapped.source.text
    for char, at in zip(mapped.text, mapped.offsets, strict=False):
        if char not in " \n\ufffd":
            assert source[at] == char


# ---------------------------------------------------------------- fences


def test_a_fence_keeps_kind_header_and_body() -> None:
    found = document("\n```Piece  seed tray, in card  \noutline rectangle\n```\n")
    (fence,) = all_of(found, Fence)
    assert fence.kind == "piece"
    assert fence.header.text == "seed tray, in card"
    assert fence.body.text == "outline rectangle\n"
    where = fence.header.span(5, 9)
    assert found.source.text[where.start : where.end] == "tray"
    where = fence.body.span(8, 17)
    assert found.source.text[where.start : where.end] == "rectangle"
    assert (where.line, where.column) == (14, 9)
    assert found.source.text[fence.kind_span.start : fence.kind_span.end] == "Piece"
    assert written(found, fence) == "```Piece  seed tray, in card  \noutline rectangle\n```"


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize(
    ("body", "column"),
    [
        ("\n> ```sizes\n> tab = 12 mm\n> ```\n", 3),
        ("\n> > ```sizes\n> > tab = 12 mm\n> > ```\n", 5),
        ("\n>```sizes\n>tab = 12 mm\n>```\n", 2),
        ("\n- words\n\n  ```sizes\n  tab = 12 mm\n  ```\n", 3),
        ("\n10. words\n\n    ~~~~ sizes\n    tab = 12 mm\n    ~~~~\n", 5),
        ("\n- > ```sizes\n  > tab = 12 mm\n  > ```\n", 5),
        ("\n   ```sizes\n   tab = 12 mm\n   ```\n", 4),
        ("\n-\t```sizes\n\ttab = 12 mm\n\t```\n", 2),
        (">\t```sizes\n>\ttab = 12 mm\n>\t```\n", 3),
    ],
)
def test_fences_in_lists_and_quotes(body: str, column: int, end: str) -> None:
    found = document(body.replace("\n", end), FRONT.replace("\n", end))
    (fence,) = all_of(found, Fence)
    solid = fence.body.text.lstrip(" ")
    assert solid == "tab = 12 mm\n"
    lead = len(fence.body.text) - len(solid)
    where = fence.body.span(lead, lead + 3)
    assert found.source.text[where.start : where.end] == "tab"
    assert where.column == column
    check_places(found.source.text)


def test_an_open_fence_is_reported_at_its_marks() -> None:
    text = FRONT + "\n```sizes\ntab = 12 mm\n\nSome words.\n"
    found, (finding,) = read_document(text, FILE)
    assert finding.code == "fence-not-closed"
    span = finding.places[0].span
    assert text[span.start : span.end] == "```"
    assert found is not None
    check_places(text)
    check_places(text.removesuffix("\n"))


def test_an_empty_fence_and_one_without_a_word() -> None:
    found = document("\n```fits\n```\n\n```\ncode\n```\n\n    indented\n")
    (fence,) = all_of(found, Fence)
    assert fence.body.text == ""
    assert [b.text for b in all_of(found, CodeBlock)] == ["code\n", "indented\n"]


def test_a_fence_ends_with_its_list() -> None:
    text = FRONT + "\n- ```sizes\n  tab = 12 mm\n\nwords\n"
    assert codes(text) == ["fence-not-closed"]


# ---------------------------------------------------------------- inlines


def test_inlines_at_their_places() -> None:
    found = document(
        "\nA *soft* and **strong** `code` [link **in**](https://example.org 't') ***both***\n"
    )
    assert [written(found, n) for n in all_of(found, Emph)] == ["*soft*", "***both***"]
    assert [written(found, n) for n in all_of(found, Strong)] == [
        "**strong**",
        "**in**",
        "**both**",
    ]
    (code,) = all_of(found, Code)
    assert written(found, code) == "`code`"
    (link,) = all_of(found, Link)
    assert link.href == "https://example.org"
    assert link.title == "t"
    assert written(found, link) == "[link **in**](https://example.org 't')"


def test_spoken_sizes() -> None:
    found = document(
        "\n# Tray of {width}\n\nCut **{tab}** and {depth +\n  2 * tab} deep, not `{x}`.\n"
    )
    spoken = all_of(found, Spoken)
    assert [s.expression.text for s in spoken] == ["width", "tab", "depth +\n  2 * tab"]
    assert [written(found, s) for s in spoken][1:] == ["{tab}", "{depth +\n  2 * tab}"]
    where = spoken[2].expression.span(10, 11)
    assert found.source.text[where.start : where.end] == "2"
    assert where.column == 3


def test_braces_as_signs_and_left_open() -> None:
    found = document("\nWrite \\{tab\\} so.\n")
    assert all_of(found, Spoken) == []
    text = FRONT + "\nA {tab deep and {} too, {a}.\n"
    read, findings = read_document(text, FILE)
    assert read is not None
    assert [written(read, s) for s in all_of(read, Spoken)] == ["{a}"]
    assert [f.code for f in findings] == ["brace", "brace"]
    assert sorted(f.message for f in findings) == [
        "nothing stands between { and }",
        "this { has no } after it",
    ]


def test_escapes_and_entities() -> None:
    found = document("\n5&nbsp;mm \\* 2 &lt; 3 &unknown; \\q\n")
    escaped = [(t.text, written(found, t)) for t in all_of(found, Text) if t.escaped]
    assert escaped == [("\xa0", "&nbsp;"), ("*", "\\*"), ("<", "&lt;"), ("\\q", "\\q")]
    check_places(found.source.text)


def test_breaks() -> None:
    found = document("\none  \ntwo\\\nthree\nfour\n")
    assert [b.hard for b in all_of(found, Break)] == [True, True, False]
    assert [t.text for t in all_of(found, Text)] == ["one", "two", "three", "four"]


def test_pictures_and_images() -> None:
    found = document("\n![A tray, {tab} *deep*](tray.png 'The tray')\n\nSee ![it](a.png) here.\n")
    (picture,) = all_of(found, Picture)
    assert picture.image.src == "tray.png"
    assert picture.image.title == "The tray"
    assert [type(n) for n in picture.image.alt] == [Text, Spoken, Text, Emph]
    assert written(found, picture.image.alt[1]) == "{tab}"
    assert len(all_of(found, Image)) == 2


def test_raw_html_is_text_and_comments_are_nothing() -> None:
    found = document("\na <b>b</b> <!-- not for print -->c\n\n<!-- alone -->\n\nend\n")
    paragraphs = all_of(found, Paragraph)
    assert len(paragraphs) == 2
    assert "".join(t.text for t in all_of(paragraphs[0], Text)) == "a <b>b</b> c"


def test_autolinks() -> None:
    found = document("\n<https://example.org/a>\n")
    (link,) = all_of(found, Link)
    assert written(found, link) == "<https://example.org/a>"
    assert written(found, link.inlines[0]) == "https://example.org/a"


# ---------------------------------------------------------------- blocks


def test_headings() -> None:
    found = document("\n# One #\n\n> ##  Two ##\n\nThree\n=====\n\n#\n\n- ### Four \\#\n")
    said = [(h.level, "".join(t.text for t in all_of(h, Text))) for h in all_of(found, Heading)]
    assert said == [(1, "One"), (2, "Two"), (1, "Three"), (1, ""), (3, "Four #")]
    check_places(found.source.text)
    assert written(found, all_of(found, Heading)[1]) == "##  Two ##"


def test_lists_and_quotes() -> None:
    found = document("\n- one\n- two\n  - inner\n\n> a\n> > b\nlazy\n\n3. c\n\n4. d\n")
    bullets, inner, numbered = all_of(found, ItemList)
    assert (bullets.tight, numbered.numbered, numbered.first, numbered.tight) == (
        True,
        True,
        3,
        False,
    )
    assert written(found, bullets.items[1]) == "- two\n  - inner"
    assert written(found, inner) == "- inner"
    assert [written(found, i) for i in all_of(numbered, ListItem)] == ["3. c", "4. d"]
    outer, deeper = all_of(found, Quote)
    assert written(found, outer) == "> a\n> > b\nlazy"
    assert written(found, deeper) == "> b\nlazy"


def test_tables() -> None:
    found = document("\n> | a | `x\\|y` | {tab} |\n> |---|:-:|--:|\n> | *d* | e\\|f |\n> g | h\n")
    (table,) = all_of(found, Table)
    assert table.aligns == ("", "center", "right")
    rows = all_of(table, Row)
    assert [written(found, c) for c in rows[0].cells] == ["a", "`x\\|y`", "{tab}"]
    assert [written(found, c) for c in rows[1].cells] == ["*d*", "e\\|f", ""]
    assert [written(found, c) for c in rows[2].cells] == ["g", "h", ""]
    assert all_of(table, Code)[0].text == "x|y"
    assert written(found, all_of(table, Spoken)[0]) == "{tab}"
    check_places(found.source.text)


def test_reference_links() -> None:
    found = document("\nSee [the form].\n\n[the form]: https://example.org/form\n")
    (link,) = all_of(found, Link)
    assert link.href == "https://example.org/form"
    assert written(found, link) == "[the form]"


# ---------------------------------------------------------------- against markdown-it itself


def reference_html(text: str) -> str:
    """The same document through markdown-it's own chain of rules."""
    md = MarkdownIt("commonmark", {"html": False, "maxNesting": 40}).enable("table")
    out: list[str] = []
    tags = {"p", "blockquote", "ul", "ol", "li", "table", "tr", "em", "strong"}

    def walk(tokens: list[Token]) -> None:
        for token in tokens:
            tag = {"th": "td"}.get(token.tag, token.tag)
            if token.type == "inline":
                walk(token.children or [])
            elif token.type in ("text", "text_special"):
                out.append(token.content)
            elif token.type == "code_inline":
                out.append(f"<code>{token.content}</code>")
            elif token.type in ("fence", "code_block"):
                out.append(f"<pre>{token.content}</pre>")
            elif token.type == "softbreak":
                out.append("\n")
            elif token.type == "hardbreak":
                out.append("<br>")
            elif token.type == "hr":
                out.append("<hr>")
            elif token.type == "image":
                out.append(f"<img {token.attrs['src']} ")
                walk(token.children or [])
                out.append(">")
            elif token.type == "link_open":
                out.append(f"<a {token.attrs['href']}>")
            elif token.type == "link_close":
                out.append("</a>")
            elif tag in tags or tag == "td" or (tag[:1] == "h" and tag[1:].isdigit()):
                out.append(f"<{tag}>" if token.nesting == 1 else f"</{tag}>")

    walk(md.parse(text))
    return "".join(out).replace("<p></p>", "")


SIGNS = st.sampled_from(
    [
        *"*_`[]()!<>#-+=~|&\\\t 1.abé\0",
        "\n",
        "\n\n",
        "\r\n",
        "> ",
        "- ",
        "1. ",
        "    ",
        "```",
        "~~~",
        "**",
        "![",
        "](u)",
        "|-|-|",
        "|a|b|",
        "&amp;",
        "\\|",
        "# ",
        "<http://a.b>",
    ]
)


@settings(max_examples=400, deadline=None)
@given(st.lists(SIGNS, max_size=40).map("".join))
def test_the_same_document_as_markdown_it(body: str) -> None:
    text = FRONT + body
    found, _ = read_document(text, FILE)
    assert found is not None
    assert as_html(found.blocks).replace("<p></p>", "") == reference_html(body)
    check_places(text)


@settings(max_examples=200, deadline=None)
@given(st.lists(st.one_of(SIGNS, st.sampled_from(["{", "}", "{tab}", "<!--", "-->"]))).map("".join))
def test_places_hold_in_any_document(body: str) -> None:
    check_places(FRONT + body)


# ---------------------------------------------------------------- bounds


@pytest.mark.parametrize(
    "body",
    [
        "> " * 3000 + "x",
        "- " * 3000 + "x",
        "*" * 5000,
        "[" * 5000,
        "![" * 2000 + "](a)" * 2000,
        "{" * 3000,
        "**a " * 3000,
        "<!--" * 3000,
        "|" * 3000 + "\n" + "|-" * 2999 + "|",
        "`" * 3001 + "a",
    ],
    ids=range(10),
)
def test_deep_and_long_documents_end(body: str) -> None:
    read_document(FRONT + "\n" + body + "\n", FILE)


def test_lists_too_deep_are_a_finding() -> None:
    assert "nested-too-deep" in codes(FRONT + "\n" + "> " * 100 + "x\n")
