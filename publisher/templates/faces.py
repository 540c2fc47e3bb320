"""Type for pages that are written directly: words shaped by HarfBuzz, faces carried along.

A face goes into the file as a subset with its glyph numbers kept (a CIDFontType2 with the
encoding Identity-H, ISO 32000-2, 9.7), so that what the shaper answers is written as it is.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterable
from functools import cache
from typing import Any, Literal, TypeAlias

import uharfbuzz as hb
from msgspec import Struct

from publisher.drawing.fonts import TEXT_FAMILY, TITLE_FAMILY, face_file
from publisher.units import MM_PER_POINT

FaceName: TypeAlias = Literal["text", "strong", "title"]
FILES: dict[FaceName, tuple[str, int]] = {
    "text": (TEXT_FAMILY, 400),
    "strong": (TEXT_FAMILY, 600),
    "title": (TITLE_FAMILY, 700),
}
_FRACTION = re.compile(r"(?<![\d/])\d+/\d+(?![\d/])")


class Face(Struct, frozen=True):
    """One static face, open for shaping."""

    name: FaceName
    face: Any
    font: Any
    units_per_em: int


class Glyph(Struct, frozen=True):
    """One glyph of a line: its number, the width the face gives it and the width it takes here
    (both in thousandths of an em), and what it stands for."""

    number: int
    width: float
    advance: float
    text: str


class Line(Struct, frozen=True):
    """Shaped words in one face at one size."""

    face: FaceName
    size_pt: float
    glyphs: tuple[Glyph, ...]

    @property
    def width_mm(self) -> float:
        return sum(g.advance for g in self.glyphs) / 1000.0 * self.size_pt * MM_PER_POINT


@cache
def opened(name: FaceName) -> Face:
    """The face, opened once in a process; raises FaceError where it is not installed."""
    blob = hb.Blob.from_file_path(str(face_file(*FILES[name])))
    face = hb.Face(blob)
    return Face(name, face, hb.Font(face), face.upem)


@cache
def shaped(text: str, name: FaceName = "text", size_pt: float = 9.0) -> Line:
    """The words as a line: kerned, figures of one width, 5/16 as a fraction, no ligatures, so
    that every glyph stands for one character."""
    face = opened(name)
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    fractions = [(m.start(), m.end(), True) for m in _FRACTION.finditer(text)]
    features: dict[str, Any] = {"kern": True, "liga": False, "tnum": True}
    if fractions:
        features["frac"] = fractions
    hb.shape(face.font, buffer, features)
    em = 1000.0 / face.units_per_em
    glyphs = []
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        width = face.font.get_glyph_h_advance(info.codepoint)
        letter = text[info.cluster]
        glyphs.append(Glyph(info.codepoint, width * em, position.x_advance * em, letter))
    return Line(name, size_pt, tuple(glyphs))


def wrapped(
    text: str, width_mm: float, name: FaceName = "text", size_pt: float = 9.0
) -> list[Line]:
    """The words in lines of at most ``width_mm``; a word that is longer stands alone. A space
    that does not break (U+00A0) does not."""
    lines: list[str] = []
    space, room = shaped(" ", name, size_pt).width_mm, 0.0
    for word in text.split(" "):
        # Word by word, since words come again and lines do not. There is no kerning to a space.
        wide = shaped(word, name, size_pt).width_mm
        room -= space + wide
        if lines and room >= 0.0:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
            room = width_mm - wide
    return [shaped(line, name, size_pt) for line in lines]


# ---------------------------------------------------------------- in the file


class Embedded(Struct, frozen=True):
    """A face as objects of a PDF. Each refers to the next by its place in the list: the font,
    its descendant, its descriptor, the file (a stream), the map to Unicode (a stream)."""

    objects: tuple[str, str, str]
    file: bytes
    file_about: str
    unicode: bytes
    unicode_about: str


PARTS = 5
"""How many objects a face takes."""


def embedded(name: FaceName, lines: Iterable[Line], first: int) -> Embedded:
    """The part of the face that these lines use, as objects numbered from ``first``."""
    face = opened(name)
    used: dict[int, Glyph] = {}
    for line in lines:
        if line.face == name:
            used.update((g.number, g) for g in line.glyphs)
    asked = hb.SubsetInput()
    asked.glyph_set.update(used)
    asked.flags = hb.SubsetFlags.RETAIN_GIDS | hb.SubsetFlags.NO_HINTING
    data = hb.subset(face.face, asked).blob.data
    file = zlib.compress(data, 9)
    unicode = zlib.compress(_to_unicode(used).encode("ascii"), 9)
    base = f"{_tag(used)}+{face_file(*FILES[name]).stem}"
    widths = " ".join(f"{n} [{_short(used[n].width)}]" for n in sorted(used))
    packed = " /Filter /FlateDecode"
    return Embedded(
        (
            f"<</Type /Font /Subtype /Type0 /BaseFont /{base} /Encoding /Identity-H "
            f"/DescendantFonts [{first + 1} 0 R] /ToUnicode {first + 4} 0 R>>",
            f"<</Type /Font /Subtype /CIDFontType2 /BaseFont /{base} "
            "/CIDSystemInfo <</Registry (Publisher) /Ordering (Identity) /Supplement 0>> "
            f"/FontDescriptor {first + 2} 0 R /CIDToGIDMap /Identity /DW 0 /W [{widths}]>>",
            _descriptor(face, base, first + 3),
        ),
        file,
        f" /Length1 {len(data)}{packed}",
        unicode,
        packed,
    )


def _descriptor(face: Face, base: str, file: int) -> str:
    em = 1000.0 / face.units_per_em
    head = bytes(face.face.reference_table("head").data)
    os2 = bytes(face.face.reference_table("OS/2").data)
    box = " ".join(_short(v * em) for v in struct.unpack_from(">4h", head, 36))
    ascent, descent = struct.unpack_from(">2h", os2, 68)
    (capitals,) = struct.unpack_from(">h", os2, 88)
    (weight,) = struct.unpack_from(">H", os2, 4)
    return (
        f"<</Type /FontDescriptor /FontName /{base} /Flags 4 /FontBBox [{box}] /ItalicAngle 0 "
        f"/Ascent {_short(ascent * em)} /Descent {_short(descent * em)} "
        f"/CapHeight {_short(capitals * em)} /StemV {_short(10 + weight * 0.2)} "
        f"/FontFile2 {file} 0 R>>"
    )


def _tag(used: dict[int, Glyph]) -> str:
    """Six capitals that tell one subset from another (ISO 32000-2, 9.9.2)."""
    mark = zlib.crc32(",".join(str(n) for n in sorted(used)).encode("ascii"))
    letters = ""
    for _ in range(6):
        mark, rest = divmod(mark, 26)
        letters += chr(ord("A") + rest)
    return letters


def _to_unicode(used: dict[int, Glyph]) -> str:
    rows = [
        f"<{number:04X}> <{glyph.text.encode('utf-16-be').hex().upper()}>"
        for number, glyph in sorted(used.items())
    ]
    blocks = []
    for start in range(0, len(rows), 100):
        part = rows[start : start + 100]
        blocks.append(f"{len(part)} beginbfchar\n" + "\n".join(part) + "\nendbfchar")
    return "\n".join(
        (
            "/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
            "/CIDSystemInfo <</Registry (Publisher) /Ordering (UCS) /Supplement 0>> def",
            "/CMapName /Publisher-Identity-UCS def /CMapType 2 def",
            "1 begincodespacerange <0000> <FFFF> endcodespacerange",
            *blocks,
            "endcmap CMapName currentdict /CMap defineresource pop end end",
        )
    )


def _short(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"
