"""The workshop itself, and what lies in it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct, field

from publisher.diagnostics import Diagnostic, Place, Span, WayOut, nearest
from publisher.trade import Trade, read_trade
from publisher.workshop.beside import Beside
from publisher.workshop.choices import Choices
from publisher.workshop.data import folder_files, locate, places
from publisher.workshop.settings import FILE, Settings, key_span, read_settings

if TYPE_CHECKING:
    from publisher.drawing.theme import Theme

OWN_FORMS = "content/forms"
SHARED_FORMS = "shared/forms"


class Workshop(Struct, frozen=True):
    """A folder that holds ``site/site.toml``, its settings, and the data its patterns use.

    ``texts`` are the settings and shared files as read, by the name that findings use. ``forms``
    are the forms' texts in the same way: the designer's own first, of ``content/forms``.
    """

    root: Path
    settings: Settings
    trade: Trade
    texts: tuple[tuple[str, str], ...] = ()
    forms: Mapping[str, str] = field(default_factory=dict)

    @property
    def build(self) -> Path:
        """Where everything that is built goes."""
        return self.root / "build"

    def text(self, shown: str) -> str:
        """A file of ``texts`` by its shown name, "" where there is none."""
        return dict(self.texts).get(shown, "")


def find_root(start: Path) -> Path | None:
    """The nearest folder, from ``start`` upwards, that holds ``site/site.toml``."""
    here = start.resolve()
    for folder in (here, *here.parents):
        if (folder / FILE).is_file():
            return folder
    return None


def open_workshop(root: Path) -> tuple[Workshop, tuple[Diagnostic, ...]]:
    """Read the settings and the shared data; what is wrong with them comes beside them.

    A workshop's own ``shared/`` adds to what the package brings; of two entries with one name
    the workshop's counts.
    """
    wrong: list[Diagnostic] = []
    texts = {FILE: _read_text(root / FILE, FILE, wrong)}
    settings, wrong_settings = read_settings(texts[FILE])
    wrong.extend(wrong_settings)
    if _theme_folder(root, settings.theme) is None:
        wrong.append(_missing_theme(root, settings.theme, texts[FILE]))
    trade: Trade | None = None
    for place in reversed(places(root)):
        shared = {}
        for path in sorted((place / "shared").glob("*.toml")):
            shown = f"shared/{path.name}"
            shared[path.name] = texts[shown] = _read_text(path, shown, wrong)
        trade, wrong_trade = read_trade(shared, trade)
        wrong.extend(wrong_trade)
    known = trade or read_trade({})[0]
    said = {"cutting": settings.cutting, **dict(settings.makers)}
    wrong.extend(Choices(FILE, texts[FILE]).unknown(said, known))
    forms = _read_forms(root, wrong)
    return Workshop(root, settings, known, tuple(texts.items()), forms), tuple(wrong)


def _read_forms(root: Path, wrong: list[Diagnostic]) -> dict[str, str]:
    """Every form by shown path: the designer's own, then shared ones of the first place."""
    found: dict[str, str] = {}
    folders = [(root, OWN_FORMS), *((place, SHARED_FORMS) for place in places(root))]
    for place, folder in folders:
        for path in sorted((place / folder).glob("*.md")):
            shown = f"{folder}/{path.name}"
            if shown not in found:
                found[shown] = _read_text(path, shown, wrong)
    return found


def _read_text(path: Path, shown: str, wrong: list[Diagnostic]) -> str:
    try:
        return path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        span = Span(shown, 0, 0, error.object.count(b"\n", 0, error.start) + 1, 1)
        message = f"this file is not UTF-8: byte {error.start + 1} cannot be read"
        wrong.append(Diagnostic("not-utf-8", "error", message, (Place(span),)))
        return ""


def own_forms(workshop: Workshop) -> list[str]:
    """The forms that lie in the workshop itself, by shown path."""
    return [file for file in workshop.forms if (workshop.root / file).is_file()]


def pattern_file(name: str) -> str:
    """The pattern's source as shown to its designer."""
    return f"content/{name}/pattern.md"


def pattern_names(workshop: Workshop) -> tuple[str, ...]:
    """Every folder of ``content/`` that holds a ``pattern.md``, sorted."""
    content = workshop.root / "content"
    return tuple(sorted(path.parent.name for path in content.glob("*/pattern.md")))


def missing_pattern(workshop: Workshop, name: str) -> Diagnostic:
    """The finding for a name that no folder has."""
    names = pattern_names(workshop)
    near = nearest(name.replace(" ", "-"), names)
    ways_out = (WayOut(f"write ‘{near}’"),) if near else ()
    notes = (
        (f"content/ holds {', '.join(names)}.",) if names else ("There is none in content/ yet.",)
    )
    message = f"there is no pattern ‘{name}’"
    place = Place(Span(pattern_file(name), 0, 0, 1, 1))
    return Diagnostic("pattern-missing", "error", message, (place,), notes=notes, ways_out=ways_out)


def read_pattern(workshop: Workshop, name: str) -> bytes | None:
    """The bytes of ``pattern.md``; None where there is no such file."""
    path = workshop.root / pattern_file(name)
    if Path(name).name != name or not path.is_file():
        return None
    return path.read_bytes()


def read_companions(workshop: Workshop, name: str) -> dict[str, bytes]:
    """What lies beside ``pattern.md``: pictures and artwork, by path inside the folder."""
    files = folder_files(workshop.root / "content" / name)
    files.pop("pattern.md", None)
    return files


def read_own_pages(workshop: Workshop) -> dict[str, str]:
    """The workshop's own pages in Markdown, by the name of the page."""
    return {
        path.removesuffix(".md"): data.decode("utf-8")
        for path, data in folder_files(workshop.root / "site" / "pages").items()
        if path.endswith(".md")
    }


def read_theme(workshop: Workshop) -> dict[str, bytes] | None:
    """Every file of the workshop's theme by path inside its folder; None without the theme."""
    folder = _theme_folder(workshop.root, workshop.settings.theme)
    return None if folder is None else folder_files(folder)


def beside_of(workshop: Workshop, name: str) -> Beside:
    """The files of a pattern's folder, read when they are asked for, and the theme's font."""
    theme = locate(f"themes/{workshop.settings.theme}/theme.toml", workshop.root)
    return Beside(workshop.root / "content" / name, theme)


def look_of(workshop: Workshop) -> tuple[Theme, dict[str, bytes]]:
    """The workshop's theme, read, and its files."""
    from publisher.drawing.theme import parse_theme  # only a build draws

    files = read_theme(workshop)
    if files is None:
        raise FileNotFoundError(f"themes/{workshop.settings.theme}")
    return parse_theme(files["theme.toml"].decode("utf-8")), files


def _theme_folder(root: Path, theme: str) -> Path | None:
    if not theme or Path(theme).name != theme:
        return None
    folder = locate(f"themes/{theme}", root)
    return folder if folder is not None and folder.is_dir() else None


def _missing_theme(root: Path, theme: str, text: str) -> Diagnostic:
    found = {path.parent.name for place in places(root) for path in place.glob("themes/*/*.toml")}
    near = nearest(theme, found)
    return Diagnostic(
        "settings-wrong",
        "error",
        f"there is no theme ‘{theme}’",
        (Place(key_span(text, "theme")),),
        notes=(f"Here are {', '.join(sorted(found))}.",) if found else (),
        ways_out=(WayOut(f'write theme = "{near}"'),) if near else (),
    )
