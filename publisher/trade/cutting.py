"""What may be chosen about sheets, cut files and the bundle, and the words in which it is said.

The same keys and words serve a pattern's front matter and a workshop's settings. What is not
said anywhere is left to the stages.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct
from msgspec.structs import asdict, replace

FORMATS = ("svg", "svg-72", "svg-90", "dxf", "dxf-r12", "pdf", "png")
"""Every format that a cut file can have."""

MOST_COPIES = 100
MOST_MM = 100.0


class Cutting(Struct, frozen=True):
    """Choices; "", None and () where nothing is said.

    ``copies`` is how often the whole pattern is laid. ``scores`` is "groups", "dashes" or
    "drawn"; ``formats`` come beside the plain ones. ``pieces`` is "on sheets" or "alone too",
    ``edges`` "apart" or "shared", ``overcut`` "no" or "yes", ``proof`` "apart" or "in the bundle".
    """

    sheet: str = ""
    copies: int | None = None
    gap_mm: float | None = None
    margin_mm: float | None = None
    machine: str = ""
    scores: str = ""
    formats: tuple[str, ...] = ()
    pieces: str = ""
    edges: str = ""
    overcut: str = ""
    proof: str = ""


class Key(Struct, frozen=True):
    """What a key takes. ``words`` are its only values, where it has such a list."""

    name: str
    wants: str
    words: tuple[str, ...] = ()
    fits: Callable[[str], bool] = bool


def _copies(said: str) -> int | None:
    plain = said.isascii() and said.isdigit() and len(said) <= 3
    return int(said) if plain and 1 <= int(said) <= MOST_COPIES else None


def _length(said: str) -> float | None:
    """ "2 mm", "1/8 in"; None for anything else."""
    from publisher.units import figures_in  # few patterns say one

    found = figures_in(said)
    if len(found) != 1 or found[0].start != 0 or found[0].end != len(said) or found[0].hedge:
        return None
    return found[0].mm if 0.0 <= found[0].mm <= MOST_MM else None


def _formats(said: str) -> tuple[str, ...] | None:
    named = [word.strip() for word in said.lower().split(",")]
    return tuple(f for f in FORMATS if f in named) if set(named) <= set(FORMATS) else None


KEYS: tuple[Key, ...] = (
    Key("sheet", "the name of a sheet size"),
    Key(
        "copies",
        f"how many times the whole pattern is laid, 1 to {MOST_COPIES}",
        fits=lambda said: _copies(said) is not None,
    ),
    Key("gap", "a length, such as 2 mm", fits=lambda said: _length(said) is not None),
    Key("margin", "a length, such as 5 mm", fits=lambda said: _length(said) is not None),
    Key("machine", "the name of a machine"),
    Key("scores", "groups, dashes or drawn", words=("groups", "dashes", "drawn")),
    Key(
        "formats",
        f"some of {', '.join(FORMATS)}, with commas between them",
        fits=lambda said: _formats(said) is not None,
    ),
    Key("pieces", "on sheets or alone too", words=("on sheets", "alone too")),
    Key("edges", "apart or shared", words=("apart", "shared")),
    Key("overcut", "no or yes", words=("no", "yes")),
    Key("proof", "in the bundle or apart", words=("in the bundle", "apart")),
)


def read_cutting(said: Mapping[str, str]) -> Cutting:
    """The choices, from values that fit their keys; other keys are passed over."""
    return Cutting(
        sheet=said.get("sheet", ""),
        copies=_copies(said.get("copies", "")),
        gap_mm=_length(said.get("gap", "")),
        margin_mm=_length(said.get("margin", "")),
        machine=said.get("machine", ""),
        scores=said.get("scores", ""),
        formats=_formats(said["formats"]) or () if "formats" in said else (),
        pieces=said.get("pieces", ""),
        edges=said.get("edges", ""),
        overcut=said.get("overcut", ""),
        proof=said.get("proof", ""),
    )


def chosen(*choices: Cutting) -> Cutting:
    """Several choices as one: what is said later counts."""
    found = Cutting()
    for choice in choices:
        said = {k: v for k, v in asdict(choice).items() if v not in ("", None, ())}
        found = replace(found, **said)
    return found
