"""Findings that no page can show as a pattern, each brought about in its own way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial

from msgspec.structs import replace

from publisher import booklet, bundle, cutfiles, proof, readback
from publisher.checks import run_checks
from publisher.diagnostics import Diagnostic
from publisher.drawing.theme import Theme, parse_theme
from publisher.geometry.path import Line, Path, polygon
from publisher.language import parse
from publisher.layout import lay_out
from publisher.model import build_pattern
from publisher.model.types import Pattern, Piece
from publisher.pipeline import Outcome, check_text, on_sheets
from publisher.printed import read_artwork
from publisher.source import read_document
from publisher.trade import read_trade
from publisher.workshop import missing_pattern, read_settings
from publisher.workshop.thorough import thoroughly
from tests.compiled import HEAD, ROOT, compile_text, workshop
from tests.handmade import envelope_pattern

CARD = """
```piece card, in paper
panels   down, 100 mm wide, valley: upper = 60 mm, lower = 60 mm
```

```step
fold     lower of card
```
"""


def _of_bytes(data: bytes) -> tuple[Diagnostic, ...]:
    return check_text(data, "content/trial/pattern.md", "trial", workshop().trade).diagnostics


def _of_body(body: str) -> tuple[Diagnostic, ...]:
    return compile_text(body).diagnostics


def _card() -> tuple[Outcome, Pattern]:
    outcome = compile_text(CARD)
    assert outcome.pattern is not None
    return outcome, outcome.pattern


def _checked(change: Callable[[Piece], Piece]) -> Iterable[Diagnostic]:
    """What the checks say of the card after something has gone wrong with its piece."""
    outcome, pattern = _card()
    assert outcome.story is not None
    wrong = replace(pattern, pieces=tuple(change(p) for p in pattern.pieces))
    results = run_checks(wrong, outcome.story, workshop().trade)
    return [r.finding for r in results if r.finding is not None]


def _crossed_outline(piece: Piece) -> Piece:
    bow = polygon([(0, 0), (100, 120), (100, 0), (0, 120)])
    return replace(piece, outline=replace(piece.outline, outer=bow), scores=())


def _long_score(piece: Piece) -> Piece:
    far = Path((Line((-20.0, 60.0), (100.0, 60.0)),), closed=False)
    return replace(piece, scores=tuple(replace(s, path=far) for s in piece.scores))


def _unknown_sheet() -> Iterable[Diagnostic]:
    return lay_out(_card()[1], workshop().trade, "a44")[1]


def _unknown_stock() -> Iterable[Diagnostic]:
    """As the model answers where the names of the trade were not given to the language."""
    text = HEAD.replace("{units}", "mm") + CARD.replace("in paper", "in cardboard")
    document, _ = read_document(text, "content/trial/pattern.md")
    assert document is not None
    program, _ = parse(document)
    return build_pattern(program, workshop().trade, "trial")[1]


def _long_list() -> Iterable[Diagnostic]:
    many = " and ".join(f"part {number}" for number in range(1, 60))
    edges = f"top and right and bottom and left of {many}"
    piece = f"panels across, 60 mm high, valley: 59 of part\nglue along {edges}, 5 mm wide"
    return _of_body(
        "```sizes\npart = 9 mm\n```\n\n```piece card, in paper\n" + piece + ", on back face\n```\n"
    )


def _strange_letter() -> Iterable[Diagnostic]:
    outcome = compile_text("A lucky sign: \N{CJK UNIFIED IDEOGRAPH-798F}.\n")
    assert outcome.pattern is not None
    return booklet.missing_letters(outcome.pattern, _theme())


def _theme() -> Theme:
    file = ROOT / "themes" / workshop().settings.theme / "theme.toml"
    return parse_theme(file.read_text("utf-8"))


def _written(change: Callable[[bytes], bytes | None]) -> Iterable[Diagnostic]:
    """What the readers say of the card's cut files after something has happened to the SVG."""
    outcome, pattern = _card()
    outcome = on_sheets(outcome, workshop().trade)
    files = {}
    for path, data in cutfiles.write_cut_files(pattern, outcome.sheets).items():
        kept = change(data) if path.endswith(".svg") else data
        if kept is not None:
            files[path] = kept
    return readback.measure_written(files, pattern, outcome.sheets)


def _with_front(line: str) -> Iterable[Diagnostic]:
    head = HEAD.replace("licence: personal\n", f"licence: personal\n{line}\n")
    return compile_text(CARD, head=head).diagnostics


def _shared(text: str) -> Iterable[Diagnostic]:
    return read_trade({"sheets.toml": text})[1]


TRAY = """
```sizes
stack = 80 x 60 x 18 mm
room  = 1.25 mm, from 1 mm to 9 mm
```

```piece tray, in card
panel    base, (width of stack + room) x (height of stack + 3 mm)
panel    front wall, on bottom of base, 20 mm deep, mountain by 90 degrees
panel    back wall, on top of base, 20 mm deep, mountain by 90 degrees
panel    left wall, on left of base, 20 mm deep, mountain by 90 degrees
panel    right wall, on right of base, 20 mm deep, mountain by 90 degrees
```

```fits
stack goes into tray with 1 mm to 6 mm to spare
```

```step
score    tray
turn     over tray
fold     each wall of tray
```
"""


SNUG = TRAY.replace("1.25 mm, from 1 mm to 9 mm", "0.3 mm").replace("1 mm to 6", "0.2 mm to 6")


LONG = """
```piece card, in card
panels   down, 150 mm wide, mountain: front = 110 mm, back = 110 mm
```

```step
score    card
turn     over card
fold     back of card
```
"""


def _thoroughly(code: str, body: str = TRAY) -> Iterable[Diagnostic]:
    found = thoroughly(compile_text(body), workshop().trade).diagnostics
    return [d for d in found if d.code == code]


ENTRY = """
[kitchen]
title = "Kitchen sheet"
width_mm = 200
height_mm = 300
margin_mm = 5
source = "own ruler"
"""

_DRAWINGS = {
    "drawing-empty": "<title>nothing</title>",
    "drawing-has-words": "<text>Fern</text>",
    "drawing-not-allowed": "<script>go()</script>",
    "drawing-open-line": '<path d="M0 0H9"/>',
    "drawing-part-missing": '<path id="stem" d="M0 0H9V9Z"/>',
    "drawing-too-large": '<path d="M0 0' + "L1 1L0 1" * 1100 + 'Z"/>',
    "drawing-unreadable": "<path",
}


def _drawing(inner: str) -> tuple[Diagnostic, ...]:
    part = "#stalk" if "stem" in inner else ""
    line = f'window artwork, from file "fern.svg{part}", 30 mm wide, at middle'
    body = f"```piece card, in card\noutline rectangle, 90 x 60 mm\n{line}\n```\n"
    svg = f'<svg xmlns="http://www.w3.org/2000/svg">{inner}</svg>'
    return compile_text(body, beside={"fern.svg": svg.encode()}).diagnostics


_SIZED = (
    HEAD.replace("{units}", "mm") + "```sizes\ndeep = 9 mm\nvariant mini: deep = 3 mm\n```\n"
).encode()

PROVOKED: Mapping[str, Callable[[], Iterable[Diagnostic]]] = {
    "artwork-doubtful": lambda: read_artwork(
        _card()[1], {"artwork/card.png": b"no picture"}, workshop().trade
    )[1],
    "bundle-damaged": lambda: bundle.verify(b"no zip at all"),
    **{code: partial(_drawing, inner) for code, inner in _DRAWINGS.items()},
    "empty-file": lambda: _of_bytes(b" \n"),
    "fails-in-range": lambda: _thoroughly("fails-in-range"),
    "fails-in-the-making": lambda: _thoroughly("fails-in-the-making", SNUG),
    "file-too-long": lambda: _of_bytes(b"card " * 300_000),
    "font-unreadable": lambda: (
        compile_text(
            "```piece sign, in card\noutline rectangle, 90 x 60 mm\ndraw letters, "
            'saying "Shed", from file "leaf.ttf", 9 mm high, at middle\n```\n',
            beside={"leaf.ttf": b"a leaf"},
        ).diagnostics
    ),
    "folds-across-grain": lambda: _thoroughly("folds-across-grain", LONG),
    "letter-not-in-face": _strange_letter,
    "line-too-long": lambda: _of_body(
        "```piece card, in paper\noutline rectangle" + ", 1 mm" * 2100 + "\n```\n"
    ),
    "list-too-long": _long_list,
    "not-utf-8": lambda: _of_bytes("title: Caf\u00e9".encode("latin-1")),
    "outline-not-simple": lambda: _checked(_crossed_outline),
    "pattern-missing": lambda: [missing_pattern(workshop(), "sliding-bocks")],
    "printed-figure-differs": lambda: readback.measure_booklets(
        {"box-a4.pdf": b"%PDF"}, readback.known(envelope_pattern(), (), (), (), ())
    ),
    "proof-not-in-theme": lambda: proof.missing_templates(_theme(), {})[:1],
    "ruler-breaks-fit": lambda: _thoroughly("ruler-breaks-fit"),
    "score-off-paper": lambda: _checked(_long_score),
    "settings-wrong": lambda: read_settings('titel = "Potting Shed Paper"')[1],
    "shared-file-wrong": lambda: _shared(ENTRY + "[kitchen"),
    "shared-key-unknown": lambda: _shared(ENTRY + "colour = 3"),
    "shared-source-missing": lambda: _shared(ENTRY.replace("source", "# source")),
    "shared-value-wrong": lambda: _shared(ENTRY.replace("200", "-200")),
    "sheet-unknown": _unknown_sheet,
    "small-part": lambda: _thoroughly("small-part", LONG.replace("150", "25").replace("110", "20")),
    "sum-too-long": lambda: _of_body("```sizes\nedge = 1 mm" + " + 1 mm" * 200 + "\n```\n"),
    "unknown-practice": lambda: _with_front("practice: tab depht least is 6 mm, because it is"),
    "unknown-stock": _unknown_stock,
    "unknown-variant": lambda: (
        check_text(
            _SIZED, "content/trial/pattern.md", "trial", workshop().trade, variant="mnii"
        ).diagnostics
    ),
    "waiver-not-needed": lambda: _with_front(
        "waive: tab-too-narrow in card, 2026-11-25, because clips hold it"
    ),
    "written-file-differs": lambda: _written(lambda data: data[: len(data) // 2]),
    "written-file-missing": lambda: _written(lambda _: None),
}
"""By code."""
