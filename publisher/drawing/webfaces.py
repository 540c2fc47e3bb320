"""The packaged faces cut down to the letters of a Latin site, as WOFF2."""

from __future__ import annotations

import io
from functools import cache

import uharfbuzz as hb
from fontTools.ttLib import TTFont
from msgspec import Struct

from publisher.drawing.fonts import face_file, family_folder

# Basic Latin to Latin Extended-B, then marks, superscripts, currency, arrows, minus, fractions.
_RANGES = (
    (0x20, 0x7E),
    (0xA0, 0x24F),
    (0x300, 0x304),
    (0x2010, 0x2044),
    (0x2070, 0x209C),
    (0x20AC, 0x20AC),
    (0x2122, 0x2122),
    (0x2150, 0x215E),
    (0x2190, 0x2193),
    (0x2212, 0x2212),
)
_FEATURES = ("kern", "mark", "mkmk", "ccmp", "locl", "liga", "frac", "numr", "dnom", "tnum", "lnum")

# Name records that stay, by their numbers in the OpenType name table.
_COPYRIGHT, _LICENCE, _LICENCE_ADDRESS = 0, 13, 14


class WebFont(Struct, frozen=True):
    """One face as the style sheet names it."""

    family: str
    weight: int
    italic: bool
    file: str


def web_fonts(text_family: str, title_family: str, title_weight: int) -> tuple[WebFont, ...]:
    """The faces that a site sets: four of the text family, one for titles."""
    wanted = [
        (text_family, 400, False),
        (text_family, 400, True),
        (text_family, 500, False),
        (text_family, 700, False),
        (title_family, title_weight, False),
    ]
    return tuple(WebFont(f, w, i, _file_name(f, w, i)) for f, w, i in wanted)


def _file_name(family: str, weight: int, italic: bool) -> str:
    return f"{family.lower().replace(' ', '-')}-{weight}{'-italic' if italic else ''}.woff2"


@cache
def woff2(family: str, weight: int, italic: bool) -> bytes:
    """The face as WOFF2, the same bytes every time; raises FaceError where it is missing."""
    asked = hb.SubsetInput()
    asked.unicode_set.update({u for first, last in _RANGES for u in range(first, last + 1)})
    asked.layout_feature_tag_set.clear()
    asked.layout_feature_tag_set.update({int.from_bytes(f.encode(), "big") for f in _FEATURES})
    asked.name_id_set.update({_COPYRIGHT, _LICENCE, _LICENCE_ADDRESS})
    asked.flags = hb.SubsetFlags.NO_HINTING
    whole = hb.Face(hb.Blob.from_file_path(str(face_file(family, weight, italic))))
    cut = asked.subset(whole).blob.data
    font = TTFont(io.BytesIO(cut), recalcTimestamp=False)
    font.flavor = "woff2"
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def licence_text(family: str) -> bytes:
    """The licence that the family comes with, to lie beside its files."""
    return (family_folder(family).parent / "LICENSE").read_bytes()
