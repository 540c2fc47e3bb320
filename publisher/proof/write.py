"""The proof sheet written: the same words and figures as PDF and as HTML."""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from publisher.booklet.types import PaperName
from publisher.booklet.typeset import set_in_type
from publisher.checks.making_verdicts import METHOD
from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic
from publisher.drawing.theme import Theme
from publisher.drawing.webfaces import woff2
from publisher.model.types import Pattern
from publisher.proof.fits import Fit, fits_of
from publisher.proof.sketch import sketch_of

TEMPLATES = PDF, HTML = ("proof.typ", "proof.html")
"""Files of the theme."""
WEIGHTS = (400, 500, 700)
"""Of the text face that the page sets."""


class Part(Struct, frozen=True):
    """The pattern as it is written, or as one of its variants, and its checks."""

    pattern: Pattern
    checks: tuple[CheckResult, ...]


def missing_templates(theme: Theme, look: Mapping[str, bytes]) -> list[Diagnostic]:
    """What the theme lacks that a proof sheet needs."""
    return [
        Diagnostic("proof-not-in-theme", "error", f"the theme {theme.name} has no {file}")
        for file in TEMPLATES
        if file not in look
    ]


def proof_sheet(
    parts: Sequence[Part],
    theme: Theme,
    look: Mapping[str, bytes],
    workshop: str,
    papers: Sequence[PaperName] = ("a4",),
) -> dict[str, bytes]:
    """The files of the sheet by name: a page, and a PDF for each paper. The first of ``parts``
    is the pattern itself, each further one a variant of it. ``look`` are the theme's files.

    Raises KeyError where the theme has no template for it, and as the booklet does where a
    template is wrong.
    """
    from jinja2 import StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    pattern = parts[0].pattern
    data = _data(parts, theme, workshop)
    pages = ImmutableSandboxedEnvironment(autoescape=True, undefined=StrictUndefined)
    html = pages.from_string(look[HTML].decode("utf-8")).render(**data, faces=_faces(theme))
    files = {f"{pattern.name}-proof.html": html.encode("utf-8")}
    for paper in papers:
        said = {"proof": {**data, "paper": paper}}
        pdf = set_in_type(look[PDF].decode("utf-8"), said, theme, pattern.meta.date)
        ending = f"-{paper}" if len(papers) > 1 else ""
        files[f"{pattern.name}-proof{ending}.pdf"] = pdf
    return files


def _data(parts: Sequence[Part], theme: Theme, workshop: str) -> dict[str, Any]:
    pattern = parts[0].pattern
    return {
        "title": pattern.meta.title,
        "version": pattern.meta.version,
        "date": pattern.meta.date,
        "workshop": workshop,
        "parts": [_part(part, theme) for part in parts],
        "method": METHOD,
        "look": {
            "colours": dict(theme.colours),
            "type": dict(theme.tables["type"]),
            "page": dict(theme.tables["page"]),
        },
    }


def _part(part: Part, theme: Theme) -> dict[str, Any]:
    pattern, checks = part.pattern, part.checks
    passed = sum(r.result == "pass" for r in checks)
    variant = pattern.variant
    return {
        "name": f"{variant[:1].upper()}{variant[1:]}",
        "count": f"{passed} of {len(checks)} checks pass",
        "fits": [_fit(f, pattern, theme) for f in fits_of(checks, pattern.meta.first_unit)],
        "ranges": [r.sentence for r in checks if r.code == "fails-in-range"],
    }


def _fit(fit: Fit, pattern: Pattern, theme: Theme) -> dict[str, Any]:
    sketch = sketch_of(fit, pattern, theme)
    return {
        "subject": f"{fit.subject[:1].upper()}{fit.subject[1:]}",
        "sentence": fit.sentence,
        "holds": fit.holds,
        "svg": sketch.svg,
        "alt": sketch.alt,
        "sum": [list(term) for term in fit.sum],
        "bars": [
            {"what": b.what, "share": b.share, "ends": list(b.ends), "said": b.said}
            for b in fit.bars
        ],
        "makers": f"{fit.makers[:1].upper()}{fit.makers[1:]}." if fit.makers else "",
        "rulers": list(fit.rulers),
    }


def _faces(theme: Theme) -> list[dict[str, Any]]:
    """The faces that the page sets, carried in it: it stands for itself, wherever it lies."""
    table = theme.tables["type"]
    text, title, weight = str(table["text"]), str(table["title"]), int(table["title_weight"])
    wanted = (*((text, heavy) for heavy in WEIGHTS), (title, weight))
    return [
        {
            "family": family,
            "weight": heavy,
            "data": base64.b64encode(woff2(family, heavy, False)).decode("ascii"),
        }
        for family, heavy in wanted
    ]
