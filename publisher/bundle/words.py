"""The two texts that lie on top: where to begin, and what one may do with it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping, Sequence

from publisher.bundle.types import BundleFile
from publisher.cutfiles import copies_words, score_words
from publisher.layout.types import Sheet
from publisher.model.types import Pattern, Piece
from publisher.trade import Cutting, Licence
from publisher.units import both_sizes

WIDTH = 76


def start_here(
    pattern: Pattern,
    sheets: Sequence[Sheet],
    files: Mapping[str, BundleFile],
    cutting: Cutting | None = None,
    maker: str = "",
) -> bytes:
    """START-HERE.txt, speaking only of what is in the bundle (``files``)."""
    listed = sorted(files)
    meta = pattern.meta
    parts = [
        f"{meta.title}\n{'=' * len(meta.title)}",
        _wrapped(meta.summary),
        f"Version {meta.version}, {meta.date}" + (f", by {meta.author}" if meta.author else ""),
        f"For the {maker}" if maker else "",
        _heading("Begin here"),
        _begin(listed),
        _wrapped(_scores(files)),
        _heading("What is in this folder"),
        _contents(listed),
        _heading("Check the size before you cut good paper"),
        _sizes(pattern),
        _heading("What to have ready"),
        _paper(sheets, (cutting.copies if cutting else None) or 1),
        _wrapped("What you may do with this pattern stands in LICENCE.txt."),
    ]
    return ("\n\n".join(part for part in parts if part) + "\n").encode()


def licence_text(pattern: Pattern, licence: Licence | None) -> bytes:
    """LICENCE.txt: the licence's own words, or its name where the shared data has no words."""
    meta = pattern.meta
    holder = f", by {meta.author}" if meta.author else ""
    head = f"{meta.title}, version {meta.version}, {meta.date}{holder}"
    if licence is None:
        return f"{head}\n\nLicence: {meta.licence}\n".encode()
    paragraphs = [_wrapped(text) for text in licence.text.split("\n\n") if text.strip()]
    return ("\n\n".join([head, licence.title, *paragraphs]) + "\n").encode()


def _heading(text: str) -> str:
    return f"{text}\n{'-' * len(text)}"


def _wrapped(text: str, indent: str = "") -> str:
    return textwrap.fill(
        " ".join(text.split()),
        WIDTH,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _listed(items: Iterable[str]) -> str:
    return "\n".join(_wrapped(f"- {item}", "  ") for item in items)


def _under(paths: Sequence[str], folder: str) -> list[str]:
    return [path for path in paths if path.startswith(f"{folder}/")]


def _begin(paths: Sequence[str]) -> str:
    said = []
    booklets = _under(paths, "instructions")
    if booklets:
        papers = [("-a4.pdf", "A4"), ("-letter.pdf", "Letter")]
        choice = ", or ".join(
            f"{path} if your printer holds {paper} paper"
            for ending, paper in papers
            for path in booklets
            if path.endswith(ending)
        )
        said.append(f"Open {choice or ' or '.join(booklets)}: it takes you through every step.")
    cut = _under(paths, "cut-files")
    if cut:
        said.append(
            "Then open the cut files. They hold the same sheets in each format: take the one "
            "that your machine or your program likes best."
        )
    printed = _under(paths, "templates")
    if printed:
        said.append(
            "No machine? Print the templates instead: they have every piece in true size, to cut "
            "with a knife."
        )
    return "\n\n".join(_wrapped(text) for text in said)


def _contents(paths: Sequence[str]) -> str:
    items = []
    if _under(paths, "instructions"):
        items.append("instructions: the booklet, to print or to read on a screen")
    formats = {
        "svg": "SVG, for cutting machines and drawing programs",
        "svg-72": "SVG for programs that open the first one too small",
        "svg-90": "SVG for programs that open the first one a little too small",
        "dxf": "DXF, for technical drawing programs and some cutting machines",
        "dxf-r12": "DXF for old programs",
        "pdf": "PDF, to print at true size and cut by hand",
        "png": "a picture, 300 dots to the inch",
    }
    for folder, what in formats.items():
        count = len(_under(paths, f"cut-files/{folder}"))
        if count:
            sheets = "one sheet" if count == 1 else f"{count} sheets"
            items.append(f"cut-files/{folder}: {sheets} as {what}")
    if _under(paths, "cut-files/pieces"):
        items.append("cut-files/pieces: the same, every piece in a file of its own")
    if _under(paths, "templates"):
        items.append("templates: the pieces in true size on A4 and Letter, to print")
    if _under(paths, "printed"):
        items.append("printed: pieces with a picture or a pattern on them, to print in colour")
    if _under(paths, "diagrams"):
        items.append("diagrams: every drawing of the booklet as a file of its own")
    if _under(paths, "pictures"):
        items.append("pictures: the finished thing")
    if _under(paths, "proof"):
        items.append("proof: what fits, by how much and for whom, on a sheet and on a page")
    items.append("LICENCE.txt: what you may do with this pattern")
    items.append("manifest.json: sizes, pieces, sheets and checks, for programs")
    return _listed(items)


def _size_line(piece: Piece, first: str) -> str:
    left, top, right, bottom = piece.bounds
    sizes = (right - left, bottom - top)
    # Plain text opens anywhere: no sign in it that an old program could not show.
    shown = both_sizes(sizes, first="in" if first == "in" else "mm").replace("×", "x")
    copies = f", {piece.copies} copies" if piece.copies > 1 else ""
    return f"{piece.name}: {shown}{copies}"


def _sizes(pattern: Pattern) -> str:
    lead = _wrapped(
        "Programs sometimes open a file larger or smaller than it was drawn. After opening, "
        "measure one piece across and down, at its widest. When you print, choose the actual "
        "size, 100 %, and measure one piece on the paper with a ruler."
    )
    lines = _listed(_size_line(piece, pattern.meta.first_unit) for piece in pattern.pieces)
    return f"{lead}\n\n{lines}"


def _scores(files: Mapping[str, BundleFile]) -> str:
    ways = {file.score_as for file in files.values()} - {""}
    return " ".join(score_words(way) for way in sorted(ways))


def _paper(sheets: Sequence[Sheet], copies: int) -> str:
    counts: dict[tuple[str, str], int] = {}
    for sheet in sheets:
        key = (sheet.stock.title, sheet.size.title)
        counts[key] = counts.get(key, 0) + 1
    papers = _listed(
        f"{stock}, {size}: {'one sheet' if count == 1 else f'{count} sheets'}"
        for (stock, size), count in counts.items()
    )
    often = copies_words(copies)
    return f"{_wrapped(often)}\n\n{papers}" if often else papers
