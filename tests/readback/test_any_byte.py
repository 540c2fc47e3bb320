"""One byte of a written file changed at random: what alters the drawing is found.

Whether it does is decided by parsers that the read-back does not use (ElementTree, pairs of
lines, pikepdf): the same words in the same order, and every number as near as a hair, is the
same drawing. Changes on the edge of the tolerance are drawn again.
"""

from __future__ import annotations

import io
import random
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable

import pikepdf
import pytest

from publisher.cutfiles import CutOptions
from publisher.readback import TOLERANCE_MM, measure_written
from tests.readback.test_measure import WINDOW, WINDOW_FILES, WINDOW_SHEETS, path_of

Words = list[str | tuple[float, float]]
"""Words as they are, numbers with how much of one is a millimetre."""
CHANGES = 250
ALPHABET = b"0123456789.-+eE /<>()\"'=ACLMZTSacmlzSs\n"
PX, PT = 25.4 / 96, 25.4 / 72
LONGEST_MM = 300.0


def numbered(text: str, unit_mm: float) -> Words:
    """A path's or a box's letters and numbers."""
    return [
        (float(word), unit_mm) if re.fullmatch(r"[-+]?[\d.]+(?:[eE][-+]?\d+)?", word) else word
        for word in re.findall(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|[^\s,]", text)
    ]


def in_svg(data: bytes) -> Words:
    found: Words = []
    for element in ElementTree.fromstring(data).iter():
        tag = element.tag.rpartition("}")[2]
        if tag == "title":
            continue
        found.append(tag)
        for name in ("id", "width", "height", "transform"):
            if tag in ("svg", "g", "path") and name in element.attrib:
                found += [name, element.attrib[name]]
        for name in ("viewBox", "d"):
            if name in element.attrib:
                found += [name, *circles(numbered(element.attrib[name], PX))]
    return found


def circles(words: Words) -> Words:
    """How a circle is turned, and the sign of its radius, are nothing that can be seen."""
    found: Words = []
    for i, word in enumerate(words):
        radii = [abs(w[0]) for w in words[i - 2 : i] if isinstance(w, tuple)]
        turned = i > 2 and words[i - 3] == "A" and len(radii) == 2
        if turned and abs(radii[0] - radii[1]) < 0.05:
            continue
        if i > 0 and "A" in words[max(0, i - 2) : i] and isinstance(word, tuple):
            word = (abs(word[0]), word[1])
        found.append(word)
    return found


ENDS = ("SECTION", "ENDSEC")
UNITS = ("$INSUNITS", "$MEASUREMENT")
POINTS = ("10", "20")
BULGE = "42"


def in_dxf(data: bytes) -> Words:
    lines = data.decode("utf-8").split("\n")
    pairs = list(zip(lines[::2], lines[1::2], strict=False))
    found: Words = []
    section, header = "", ""
    for code, value in pairs:
        code = str(int(code))
        if (code == "2" and section == "SECTION") or (code == "0" and value in ENDS):
            section = value
        elif section == "HEADER":
            header = value if code == "9" else header
            if header in UNITS:
                found += [header, value.strip()]
        elif section == "ENTITIES":
            if code in (*POINTS, BULGE):
                # A bulge b on a chord c makes an arc b c / 2 high.
                found += [code, (float(value), 1.0 if code in POINTS else LONGEST_MM / 2)]
            elif code in ("0", "8", "70", "90"):
                found += [code, value.strip()]
    return found


PAINT = ("m", "l", "c", "h", "re", "S", "s", "cm", "q", "Q", "BDC", "EMC", "f", "B", "v", "y", "n")


def in_pdf(data: bytes) -> Words:
    found: Words = []
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            found += [(float(v), PT) for v in page.obj["/MediaBox"]]
            layers = {str(k): str(v["/Name"]) for k, v in page.Resources["/Properties"].items()}
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) not in PAINT:
                    continue
                found.append(str(operator))
                for operand in operands:
                    if isinstance(operand, pikepdf.Name):
                        found.append(layers.get(str(operand), str(operand)))
                    elif isinstance(operand, pikepdf.Dictionary):
                        found.append(str(operand.get("/Id")))
                    else:
                        found.append((float(operand), PT))
    return found


PARSERS: dict[str, Callable[[bytes], Words]] = {"svg": in_svg, "dxf": in_dxf, "pdf": in_pdf}


def altered(before: Words, after: Words) -> bool | None:
    """Whether the drawing is another one; None where it is so by about the tolerance."""
    if len(before) != len(after):
        return True
    most = 0.0
    for a, b in zip(before, after, strict=True):
        if isinstance(a, str) or isinstance(b, str):
            if a != b:
                return True
        else:
            most = max(most, abs(a[0] - b[0]) * a[1])
    if TOLERANCE_MM / 5 < most < 5 * TOLERANCE_MM:
        return None
    return most >= 5 * TOLERANCE_MM


def spoilt(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data))
    by = chance.choice([b for b in ALPHABET if b != data[at]])
    return data[:at] + bytes([by]) + data[at + 1 :]


@pytest.mark.parametrize("file_format", sorted(PARSERS))
def test_whatever_byte_alters_the_drawing_is_found(file_format: str) -> None:
    chance = random.Random(f"any byte of {file_format}")
    path = path_of(file_format)
    parse = PARSERS[file_format]
    before = parse(WINDOW_FILES[path])
    options = CutOptions(formats=(file_format,))
    mattered, escaped = 0, []
    for _ in range(CHANGES):
        data = spoilt(WINDOW_FILES[path], chance)
        try:
            other = altered(before, parse(data))
        except Exception:  # a parser that cannot read it any more has found it out
            other = True
        if other:
            mattered += 1
            if not measure_written({path: data}, WINDOW, WINDOW_SHEETS, options):
                at = next(i for i, b in enumerate(data) if b != WINDOW_FILES[path][i])
                escaped.append(data[max(0, at - 30) : at + 30])
    assert mattered > 40
    assert escaped == []
