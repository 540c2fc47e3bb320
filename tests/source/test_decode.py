"""Bytes to text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.source import decode
from publisher.source.decode import MAX_CHARACTERS


def test_the_byte_order_mark_is_dropped_and_line_ends_are_kept() -> None:
    assert decode(b"\xef\xbb\xbfone\r\ntwo\n", "p.md") == ("one\r\ntwo\n", [])


@pytest.mark.parametrize("data", [b"", b"  \n\t\r\n", b"\xef\xbb\xbf"])
def test_an_empty_file(data: bytes) -> None:
    text, (finding,) = decode(data, "p.md")
    assert text is None
    assert finding.code == "empty-file"
    assert finding.places[0].span.line == 1


def test_not_utf_8_is_found_at_its_byte() -> None:
    text, (finding,) = decode("title: Café\n".encode("latin-1"), "p.md")
    assert text is None
    assert finding.code == "not-utf-8"
    span = finding.places[0].span
    assert (span.file, span.line, span.column) == ("p.md", 1, len("title: Caf") + 1)
    assert "0xe9" in finding.message
    _, (finding,) = decode(b"one\r\ntwo \xff", "p.md")
    assert (finding.places[0].span.line, finding.places[0].span.column) == (2, 5)


def test_utf_16_is_named() -> None:
    for encoding in ("utf-16-le", "utf-16-be"):
        data = "\ufefftitle".encode(encoding)
        _, (finding,) = decode(data, "p.md")
        assert "UTF-16" in finding.message


def test_a_huge_file_is_refused() -> None:
    _, (finding,) = decode(b"x" * (MAX_CHARACTERS + 1), "p.md")
    assert finding.code == "file-too-long"


@given(st.binary(max_size=200))
def test_any_bytes(data: bytes) -> None:
    text, findings = decode(data, "p.md")
    assert (text is None) == bool(findings)
