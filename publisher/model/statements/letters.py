"""``letters, saying "Garden", 20 mm high``: words as shapes, from a font."""

from __future__ import annotations

from msgspec import Struct

from publisher.geometry.path import Region
from publisher.geometry.transform import translated
from publisher.language.ast import Quoted
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.shaping.lettering import (
    MOST_LETTERS,
    Lettering,
    NoFontError,
    NoLetterError,
    lettering,
)
from publisher.model.statements.files import read_file
from publisher.model.statements.phrases import Phrases
from publisher.units import number

LARGEST_MM = 3000.0
"""How high or wide letters may be; no sheet of paper is larger."""

_EXAMPLE = 'letters, saying "Garden", 20 mm high'
_FONTS = (".ttf", ".otf")


class Letters(Struct, frozen=True):
    """Words about their middle: halfway along the ink, halfway up a capital."""

    regions: tuple[Region, ...]
    width_mm: float
    height_mm: float


def read_letters(bench: Bench, phrases: Phrases) -> Letters:
    """The words of the line, so high as a capital is, or so wide as they are all together."""
    said = phrases.quoted("saying")
    if said is None:
        raise phrases.missing("which words they are", f"{phrases.head} {_EXAMPLE}")
    if len(said.text) > MOST_LETTERS:
        raise refuse(
            "wrong-count",
            f"these are {len(said.text)} letters; more than {MOST_LETTERS} are not built",
            said.span,
            numbers=(("letters", float(len(said.text))), ("most", float(MOST_LETTERS))),
        )
    file = phrases.quoted("from file")
    high, wide = phrases.labelled("high"), phrases.labelled("wide")
    if high is not None and wide is not None:
        raise refuse(
            "said-twice", "how high they are and how wide; one follows from the other", wide.span
        )
    size = high or wide or phrases.bare()
    if size is None:
        raise phrases.missing("how high a capital is", f"{phrases.head} {_EXAMPLE}")
    mm = bench.length(bench.value(size))
    if mm > LARGEST_MM:
        raise refuse(
            "letters-too-large",
            f"letters so large go on no sheet; {number(LARGEST_MM, 0)} mm is the most",
            size.span,
            numbers=(("size_mm", mm), ("most_mm", LARGEST_MM)),
        )
    mm = bench.positive(bench.value(size), "size of the letters")
    by = phrases.by_after("spaced", "how far apart the letters are set", "spaced by 1 mm")
    spaced = 0.0 if by is None else bench.length(by)
    made = _made(bench, said, file, mm, wide is not None, spaced)
    dx, dy = -(made.left_mm + made.width_mm / 2.0), made.cap_mm / 2.0
    regions = tuple(translated(r, dx, dy) for r in made.regions)
    return Letters(regions, made.width_mm, made.cap_mm)


def _made(
    bench: Bench, said: Quoted, file: Quoted | None, mm: float, by_width: bool, spaced: float
) -> Lettering:
    beside = bench.shop.beside()
    face = beside.get("", b"") if file is None else read_file(bench, file, file.text, _FONTS)
    try:
        made = lettering(face, said.text, mm, mm if by_width else 0.0, spaced)
    except NoFontError as fault:
        span = said.span if file is None else file.span
        raise refuse("font-unreadable", str(fault), span) from None
    except NoLetterError as fault:
        raise refuse(
            "letter-not-in-face",
            f"the font has no letter ‘{fault}’",
            said.span,
            notes=('Leave it out, or name a font that has it: ‘from file "fonts/leaf.ttf"’',),
        ) from None
    if not made.regions:
        raise refuse("missing-phrase", "nothing is to be seen of these words", said.span)
    return made
