"""One style sheet: the theme's tokens as custom properties, its faces, then its rules."""

from __future__ import annotations

from publisher.drawing.webfaces import WebFont, web_fonts
from publisher.website.types import SiteLook


def fonts_of(look: SiteLook) -> tuple[WebFont, ...]:
    """The faces the site sets, from the theme's [type]."""
    table = look.theme.tables["type"]
    return web_fonts(str(table["text"]), str(table["title"]), int(table["title_weight"]))


def style_sheet(look: SiteLook) -> str:
    """The text of ``style.css``; type sizes become rem of the theme's second size."""
    return "\n".join([*_faces(look), *_tokens(look), look.css])


def _faces(look: SiteLook) -> list[str]:
    return [
        "@font-face {\n"
        f'  font-family: "{font.family}";\n'
        f"  font-weight: {font.weight};\n"
        f"  font-style: {'italic' if font.italic else 'normal'};\n"
        "  font-display: swap;\n"
        f'  src: url("fonts/{font.file}") format("woff2");\n'
        "}"
        for font in fonts_of(look)
    ]


def _tokens(look: SiteLook) -> list[str]:
    tables = look.theme.tables
    lines = [":root {"]
    lines += [f"  --{name}: {colour};" for name, colour in look.theme.colours.items()]
    body = float(tables["type"]["sizes_pt"][1])
    for name, size in zip(_SIZES, tables["type"]["sizes_pt"], strict=True):
        lines.append(f"  --size-{name}: {size / body:.3f}rem;")
    lines.append(f'  --text-face: "{tables["type"]["text"]}", sans-serif;')
    lines.append(f'  --title-face: "{tables["type"]["title"]}", serif;')
    lines.append(f"  --title-weight: {tables['type']['title_weight']};")
    for name, value in tables["site"].items():
        stem, _, unit = name.rpartition("_")
        lines.append(f"  --{stem.replace('_', '-')}: {value}{unit};")
    return [*lines, "}", ""]


_SIZES = ("small", "body", "lead", "head", "display")
