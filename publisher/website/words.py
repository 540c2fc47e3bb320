"""Text as markup: fractions set as such, a figure kept with its unit, links that lead nowhere
dangerous."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

_MEASURE = re.compile(
    r"(?:\d+ )?\d+/\d+(?: (?:in|inches)\b)?"
    r"|\d+(?:\.\d+)?(?: × \d+(?:\.\d+)?)* (?:mm|cm|in|g/m²|cm²|sq in)(?!\w)"
)
_FRACTION = re.compile(r"(\d+)/(\d+)")
_SCHEME = re.compile(r"[a-z][a-z0-9+.-]*:", re.IGNORECASE)
_SAFE_SCHEMES = ("http:", "https:", "mailto:")


def figures(text: str) -> Markup:
    """The text escaped; measures stay on one line, fractions carry the class ``fraction``."""
    parts: list[str] = []
    here = 0
    for found in _MEASURE.finditer(text):
        parts.append(str(escape(text[here : found.start()])))
        inner = _FRACTION.sub(r'<span class="fraction">\1/\2</span>', str(escape(found.group())))
        parts.append(f'<span class="measure">{inner}</span>')
        here = found.end()
    parts.append(str(escape(text[here:])))
    return Markup("".join(parts))


def safe_link(href: str) -> str:
    """The address, or "" where it would run something instead of leading somewhere."""
    bare = re.sub(r"[\x00-\x20]", "", href)
    scheme = _SCHEME.match(bare)
    if scheme and scheme.group().lower() not in _SAFE_SCHEMES:
        return ""
    return bare
