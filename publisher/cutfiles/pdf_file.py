"""PDF objects as a file (ISO 32000-2, 7.5): header, objects, cross-reference table, trailer.

A cut file has one page of lines and a handful of dictionaries. They are written here because
a library that can do everything with a PDF takes longer to load than all files take to write.
"""

from __future__ import annotations

from collections.abc import Mapping

HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
"""With four bytes over 127, so that nobody takes the file for text (7.5.2)."""


def pdf_file(
    objects: Mapping[int, str],
    root: int,
    info: int,
    streams: Mapping[int, bytes],
    identity: bytes,
    about: Mapping[int, str] | None = None,
) -> bytes:
    """The file. Objects and streams by number, from 1 without a gap; ``identity`` has 16 bytes.
    ``about`` are further entries of a stream's dictionary, such as its filter.

    Raises ValueError where a number is missing.
    """
    told = about or {}
    numbers = sorted((*objects, *streams))
    if numbers != list(range(1, len(numbers) + 1)):
        raise ValueError(f"objects are numbered {numbers}")
    data = bytearray(HEADER)
    offsets = []
    for number in numbers:
        offsets.append(len(data))
        data += b"%d 0 obj\n" % number
        if number in streams:
            stream = streams[number]
            more = told.get(number, "").encode("ascii")
            data += b"<</Length %d%s>>\nstream\n%s\nendstream" % (len(stream), more, stream)
        else:
            data += objects[number].encode("ascii")
        data += b"\nendobj\n"
    start = len(data)
    # Every line of the table is 20 bytes long (7.5.4).
    data += b"xref\n0 %d\n0000000000 65535 f \n" % (len(numbers) + 1)
    for offset in offsets:
        data += b"%010d 00000 n \n" % offset
    mark = identity.hex().upper().encode()
    data += b"trailer\n<</Size %d /Root %d 0 R /Info %d 0 R /ID [<%s> <%s>]>>\n" % (
        len(numbers) + 1,
        root,
        info,
        mark,
        mark,
    )
    data += b"startxref\n%d\n%%%%EOF\n" % start
    return bytes(data)


def pdf_text(text: str) -> str:
    """A text string: as it stands where it is plain ASCII, else UTF-16 in hex."""
    if text.isascii() and text.isprintable() and not set(text) & set("()\\"):
        return f"({text})"
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"
