"""The proof sheet written: the same words and figures as PDF and as HTML."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from publisher.booklet.types import PaperName
from publisher.booklet.typeset import set_in_type
from publisher.checks.making_verdicts import METHOD
from publisher.checks.types import CheckResult
from publisher.drawing.theme import Theme
from publisher.model.types import Pattern
from publisher.proof.fits import Fit, fits_of
from publisher.proof.sketch import sketch_of

TEMPLATES = PDF, HTML = ("proof.typ", "proof.html")
"""Files of the theme."""


def proof_sheet(
    pattern: Pattern,
    checks: Iterable[CheckResult],
    theme: Theme,
    look: Mapping[str, bytes],
    workshop: str,
    paper: PaperName = "a4",
) -> dict[str, bytes]:
    """The files of the sheet by name. ``look`` are the theme's files.

    Raises KeyError where the theme has no template for it, and as the booklet does where a
    template is wrong.
    """
    from jinja2 import StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    every = tuple(checks)
    data = _data(pattern, every, theme, workshop, paper)
    pages = ImmutableSandboxedEnvironment(autoescape=True, undefined=StrictUndefined)
    html = pages.from_string(look[HTML].decode("utf-8")).render(**data)
    pdf = set_in_type(look[PDF].decode("utf-8"), {"proof": data}, theme, pattern.meta.date)
    return {
        f"{pattern.name}-proof.html": html.encode("utf-8"),
        f"{pattern.name}-proof.pdf": pdf,
    }


def _data(
    pattern: Pattern,
    checks: tuple[CheckResult, ...],
    theme: Theme,
    workshop: str,
    paper: PaperName,
) -> dict[str, Any]:
    fits = fits_of(checks, pattern.meta.first_unit)
    passed = sum(r.result == "pass" for r in checks)
    wide = [r.sentence for r in checks if r.code == "fails-in-range"]
    return {
        "title": pattern.meta.title,
        "version": pattern.meta.version,
        "date": pattern.meta.date,
        "workshop": workshop,
        "paper": paper,
        "count": f"{passed} of {len(checks)} checks pass",
        "fits": [_fit(fit, pattern, theme) for fit in fits],
        "ranges": wide,
        "method": METHOD,
        "look": {
            "colours": dict(theme.colours),
            "type": dict(theme.tables["type"]),
            "page": dict(theme.tables["page"]),
        },
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
