"""Where the type faces lie. The one place that knows; system fonts are never asked.

Families come as packages of static TrueType files, one package a family, named
``fontpkg-FAMILY``. The house families, both under the SIL Open Font License 1.1 without a
reserved name: Fira Sans for text (large open letters, tabular figures, fractions of any two
numbers) and Spectral for titles.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from importlib.util import find_spec
from pathlib import Path

TEXT_FAMILY = "Fira Sans"
TITLE_FAMILY = "Spectral"

# The style names of static files and the weight classes of OpenType's OS/2 table.
_WEIGHTS = {
    100: "Thin",
    200: "ExtraLight",
    300: "Light",
    400: "Regular",
    500: "Medium",
    600: "SemiBold",
    700: "Bold",
    800: "ExtraBold",
    900: "Black",
}


class FaceError(LookupError):
    """A theme asks for a family that is not installed or a face that the family lacks."""


@cache
def family_folder(family: str) -> Path:
    """The folder that holds the family's files.

    Raises:
        FaceError: the family's package is not installed.
    """
    package = "fontpkg_" + family.lower().replace(" ", "_")
    spec = find_spec(package)
    if spec is None or spec.origin is None:
        raise FaceError(f"the type family {family} is not installed")
    return Path(spec.origin).parent / "files"


@cache
def face_file(family: str, weight: int = 400, italic: bool = False) -> Path:
    """The static file of one face; ``weight`` is 100 to 900 in hundreds.

    Raises:
        FaceError: the family is not installed or has no such face.
    """
    style = _WEIGHTS.get(weight, "")
    if italic:
        style = "Italic" if style == "Regular" else f"{style}Italic"
    file = family_folder(family) / f"{family.replace(' ', '')}-{style}.ttf"
    if not file.is_file():
        raise FaceError(f"the type family {family} has no face {style or weight}")
    return file


def family_folders(families: Iterable[str]) -> tuple[Path, ...]:
    """The folders of several families, each once, in the order given."""
    return tuple(dict.fromkeys(family_folder(family) for family in families))
